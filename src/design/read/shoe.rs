//! `shoe` of a design: what is decided about a shoe besides the foot.

use super::Reading;
use super::fields::Fields;
use super::node::{Kind, Node};
use crate::design::{ClosureSpec, Dimension, Formula, LookSpec, ShoeSpec, ShoeWay};
use crate::diagnostic::Place;
use std::ops::RangeInclusive;

/// Where the lines of a shoe run unless given (proportions from judgement; ease, allowance and trim
/// common practice).
pub(super) mod usual {
    /// Round the traced foot (common practice for small shoes).
    pub(in crate::design::read) const EASE: &str = "1/8 in";
    pub(super) const ALLOWANCE: &str = "3/16 in";
    pub(super) const TRIM: &str = "1/16 in";
    pub(super) const THROAT: &str = "0.64 * foot.length";
    pub(super) const LOW_POINT: &str = "0.33 * foot.length";
    pub(super) const INNER_HEIGHT: &str = "0.17 * foot.length";
    pub(super) const OUTER_HEIGHT: &str = "0.165 * foot.length";
    pub(super) const BACK_HEIGHT: &str = "0.25 * foot.length";
    /// From the heel (from judgement).
    pub(in crate::design::read) const SIDE_MARK: &str = "0.45 * foot.length";
    /// How steeply the topline falls, degrees (from judgement).
    pub(super) const THROAT_ANGLE: f64 = 35.0;
    /// Of an elastic, stretched against slack (common practice: braided elastic).
    pub(super) const STRETCH: f64 = 1.8;
    /// A share of the foot's length from the heel (from judgement).
    pub(super) const STRAP_AT: f64 = 0.46;
    /// A share of the foot's length (from judgement).
    pub(super) const BACK_SPAN: f64 = 0.45;
}

/// The design's `shoe`, if it has one.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Option<ShoeSpec> {
    let entry = fields.entry("shoe")?;
    reading.shoe = Some(entry.place.clone());
    let place = entry.place.clone();
    let fields = Fields::of(&entry.value, "shoe", "the shoe", reading)?.at(&place);
    let mut shoe = Shoe {
        fields,
        place,
        reading,
    };
    let spec = shoe.spec();
    let Shoe {
        fields, reading, ..
    } = shoe;
    fields.finish(reading);
    spec
}

/// The group `shoe` that is being read.
struct Shoe<'n, 'r, 'f> {
    fields: Fields<'n>,
    place: Place,
    reading: &'r mut Reading<'f>,
}

impl Shoe<'_, '_, '_> {
    fn spec(&mut self) -> Option<ShoeSpec> {
        let ways = [("form", ShoeWay::Form), ("strips", ShoeWay::Strips)];
        let way = self.word("drafted from", "a way to draft", &ways);
        let required = self.fields.require("cloth", self.reading);
        let cloth = required.and_then(|node| self.cloth_of(node, "‘cloth’"));
        let lining = self.cloth("lining");
        let sole = self.cloth("sole").or_else(|| cloth.clone());
        let ease = self.length("ease", usual::EASE);
        let allowance = self.length("allowance", usual::ALLOWANCE);
        let trim = self.length("trim to", usual::TRIM);
        let throat = self.length("throat", usual::THROAT);
        let low_point = self.length("low point", usual::LOW_POINT);
        let side_heights = self.sides("side height", [usual::INNER_HEIGHT, usual::OUTER_HEIGHT]);
        let back_height = self.length("back height", usual::BACK_HEIGHT);
        let side_marks = self.sides("side mark", [usual::SIDE_MARK; 2]);
        let closure = self.word("closure", "a closure", &ClosureSpec::ALL);
        let angle = self.fields.take("throat angle", self.reading);
        let angle = angle.and_then(|node| self.reading.angle(node, "‘throat angle’"));
        let seam_lean = self.optional_length("seam lean");
        let fullness = self.optional_length("fullness");
        let easing_limit = self.number("easing limit", 0.0..=0.5);
        let edge_thickness = self.optional_length("topline thickness");
        let foot_gives = self.number("foot gives", 0.0..=0.5);
        let stretch = self.number("elastic stretch", 1.0..=4.0);
        let strap_at = self.number("strap at", 0.3..=0.65);
        let back_span = self.number("gathered back", 0.1..=1.0);
        let look = self.look();
        Some(ShoeSpec {
            way: way.unwrap_or(ShoeWay::Form),
            cloth: cloth?,
            lining,
            sole: sole?,
            ease: ease?,
            allowance: allowance?,
            trim: trim?,
            throat: throat?,
            throat_angle: angle.unwrap_or(usual::THROAT_ANGLE),
            low_point: low_point?,
            side_heights: side_heights?,
            back_height: back_height?,
            side_marks: side_marks?,
            seam_lean,
            fullness,
            easing_limit,
            closure: closure.unwrap_or(ClosureSpec::Open),
            foot_gives: foot_gives.unwrap_or(0.0),
            edge_thickness,
            stretch: stretch.unwrap_or(usual::STRETCH),
            strap_at: strap_at.unwrap_or(usual::STRAP_AT),
            back_span: back_span.unwrap_or(usual::BACK_SPAN),
            look,
            place: self.place.clone(),
        })
    }

    fn word<T: Copy>(&mut self, key: &'static str, what: &str, words: &[(&str, T)]) -> Option<T> {
        let node = self.fields.take(key, self.reading)?;
        self.reading.choice(node, what, words)
    }

    fn cloth(&mut self, key: &'static str) -> Option<String> {
        let node = self.fields.take(key, self.reading)?;
        self.cloth_of(node, &format!("‘{key}’"))
    }

    fn cloth_of(&mut self, node: &Node, what: &str) -> Option<String> {
        let key = self.reading.text(node, what)?;
        let cloths = self.reading.cloths.clone();
        if cloths.contains(&key) {
            return Some(key);
        }
        let options: Vec<&str> = cloths.iter().map(String::as_str).collect();
        let remedy = match options.as_slice() {
            [] => "describe it under ‘cloth:’ first".to_string(),
            _ => super::names::suggestion(&key, &options),
        };
        let message = format!("there is no cloth ‘{key}’");
        self.reading
            .error("unknown-cloth", &node.place, message, remedy);
        None
    }

    fn optional_length(&mut self, key: &'static str) -> Option<Formula> {
        let node = self.fields.take(key, self.reading)?;
        self.reading
            .formula(node, &format!("‘{key}’"), Dimension::Length)
    }

    fn length(&mut self, key: &'static str, usual: &str) -> Option<Formula> {
        match self.fields.take(key, self.reading) {
            Some(node) => self.reading.positive(node, &format!("‘{key}’"), true),
            None => self.usual(usual),
        }
    }

    /// A length for both sides, or one for each.
    fn sides(&mut self, key: &'static str, usual: [&str; 2]) -> Option<[Formula; 2]> {
        let Some(node) = self.fields.take(key, self.reading) else {
            let [inner, outer] = usual.map(|text| self.usual(text));
            return Some([inner?, outer?]);
        };
        if !matches!(node.kind, Kind::Mapping(_)) {
            let both = self.reading.positive(node, &format!("‘{key}’"), true)?;
            return Some([both.clone(), both]);
        }
        let group = if key == "side height" {
            "shoe.side height"
        } else {
            "shoe.side mark"
        };
        let mut fields = Fields::of(node, group, format!("‘{key}’"), self.reading)?;
        let inner = fields.require("inner", self.reading);
        let inner = inner.and_then(|node| self.reading.positive(node, "‘inner’", true));
        let outer = fields.require("outer", self.reading);
        let outer = outer.and_then(|node| self.reading.positive(node, "‘outer’", true));
        fields.finish(self.reading);
        Some([inner?, outer?])
    }

    fn usual(&mut self, text: &str) -> Option<Formula> {
        match Formula::parse(text, &self.place) {
            Ok(formula) => Some(formula),
            Err(diagnostic) => {
                self.reading.diagnostics.push(diagnostic);
                None
            }
        }
    }

    fn number(&mut self, key: &'static str, range: RangeInclusive<f64>) -> Option<f64> {
        let node = self.fields.take(key, self.reading)?;
        self.reading.ratio(node, &format!("‘{key}’"), range)
    }

    fn look(&mut self) -> LookSpec {
        let mut look = LookSpec {
            strap: None,
            button: false,
            topstitch: true,
        };
        let Some(node) = self.fields.take("drawn with", self.reading) else {
            return look;
        };
        let what = "‘drawn with’";
        let Some(mut fields) = Fields::of(node, "shoe.drawn with", what, self.reading) else {
            return look;
        };
        let strap = fields.take("strap", self.reading);
        look.strap = strap.and_then(|node| self.reading.positive(node, "‘strap’", false));
        let button = fields.take("button", self.reading);
        let button = button.and_then(|node| self.reading.yes_no(node, "‘button’"));
        let stitch = fields.take("topstitching", self.reading);
        let stitch = stitch.and_then(|node| self.reading.yes_no(node, "‘topstitching’"));
        fields.finish(self.reading);
        look.button = button.unwrap_or(false);
        look.topstitch = stitch.unwrap_or(true);
        look
    }
}
