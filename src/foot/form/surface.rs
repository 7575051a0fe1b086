//! A surface over a sole's outline: every point of the feather edge carries a section line that
//! rises to the ridge. Both the foot and the shoe are such surfaces. Millimetres, the foot's axes.

use super::feather_edge::{FeatherEdge, FootSide};
use super::section;
use crate::geometry::pchip::Pchip;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// A surface over an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// The outline at the foot of the surface.
    pub edge: FeatherEdge,
    /// x below which section lines begin to fan round the heel, and above which round the toe.
    pub fans: [f64; 2],
    /// Height of the ridge over x.
    pub ridge: Pchip,
    /// y of the ridge over x.
    pub centre: Pchip,
    /// Exponent a of the section at a foot point's x.
    pub plan: Pchip,
    /// Exponent b of the section at a foot point's x; the same as a unless given.
    pub rise: Option<Pchip>,
}

/// One section line, from the feather edge to the ridge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionLine<'a> {
    form: &'a Form,
    /// On the feather edge.
    pub base: Point,
    /// Below the ridge.
    pub foot: Point,
    plan: f64,
    rise: f64,
}

impl Form {
    /// x of the foot point of the section line that begins at x on the feather edge: x itself
    /// between the fans, drawn together towards both ends so that the lines fan round them.
    #[must_use]
    pub fn foot_of(&self, x: f64) -> f64 {
        let [heel, toe] = self.fans;
        if x > toe {
            let reach = self.edge.front() - toe;
            let k = ((x - toe) / reach).min(1.0);
            toe + reach * (k - 0.5 * k * k)
        } else if x < heel {
            let reach = heel - self.edge.back();
            let k = ((heel - x) / reach).min(1.0);
            heel - reach * (k - 0.5 * k * k)
        } else {
            x
        }
    }

    /// x on the feather edge of the section line whose foot point lies at x: the inverse of
    /// [`Form::foot_of`].
    #[must_use]
    pub fn base_of(&self, x: f64) -> f64 {
        let [heel, toe] = self.fans;
        let back = |share: f64| 1.0 - (1.0 - 2.0 * share).max(0.0).sqrt();
        if x > toe {
            let reach = self.edge.front() - toe;
            toe + reach * back((x - toe) / reach)
        } else if x < heel {
            let reach = heel - self.edge.back();
            heel - reach * back((heel - x) / reach)
        } else {
            x
        }
    }

    /// Height of the ridge at x, mm.
    #[must_use]
    pub fn height(&self, x: f64) -> f64 {
        self.ridge.at(x)
    }

    /// Both exponents of the section whose foot point lies at x.
    #[must_use]
    pub fn exponents(&self, x: f64) -> (f64, f64) {
        let a = self.plan.at(x);
        (a, self.rise.as_ref().map_or(a, |rise| rise.at(x)))
    }

    /// The section line that begins at `distance` mm from the toe along `side`.
    #[must_use]
    pub fn section(&self, side: FootSide, distance: f64) -> SectionLine<'_> {
        let base = self.edge.at(side, distance);
        let x = self.foot_of(base.x);
        let (plan, rise) = self.exponents(x);
        SectionLine {
            form: self,
            base,
            foot: Point::new(x, self.centre.at(x)),
            plan,
            rise,
        }
    }

    /// The point of the surface on the section line that begins at `distance` mm from the toe along
    /// `side`; `place` goes from 0 at the feather edge to 1 on the ridge.
    #[must_use]
    pub fn point(&self, side: FootSide, distance: f64, place: f64) -> Vec3 {
        self.section(side, distance).point(place)
    }

    /// How far `side` lies from the ridge's foot point at x, mm; between the fans.
    #[must_use]
    pub fn half_width(&self, side: FootSide, x: f64) -> f64 {
        (self.edge.across(side, x) - self.centre.at(x)).abs()
    }

    /// A tape upright round the section at x, mm; between the fans, where sections are plane.
    #[must_use]
    pub fn girth(&self, x: f64) -> f64 {
        let halves = FootSide::BOTH.map(|side| self.half_width(side, x));
        let (a, b) = self.exponents(x);
        section::girth(halves, self.height(x), a, b)
    }
}

impl SectionLine<'_> {
    /// The point at `place`, from 0 at the feather edge to 1 on the ridge. The height is that of the
    /// ridge beside the point itself, not beside the line's foot, which leaves no crease in the fans.
    #[must_use]
    pub fn point(&self, place: f64) -> Vec3 {
        let (across, up) = section::quarter(self.plan, self.rise, place);
        let plan = self.foot + across * (self.base - self.foot);
        Vec3::new(plan.x, plan.y, self.form.height(plan.x) * up)
    }
}
