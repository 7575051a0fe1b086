//! The states of a shoe in the making, by the words of a `figure` block.

use super::super::super::drawing::View;
use crate::design::{ClosureSpec, Design, ShapeSpec, ShoePart, ShoeWay};

/// A state.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// The sole with its stiffener, seen from inside.
    Stiffener,
    /// The sole, its right side up, ready for the upper.
    Sole,
    /// The upper sewn to a ring, its wrong side out, the side seams open.
    Upper,
    /// The same with the easing threads drawn up.
    Easing,
    /// The same when its fullness is pressed away: the threads stay in.
    Pressed,
    /// The toe piece alone pinned to the sole.
    ToeOnTheSole,
    /// The toe sewn on, the heel piece pinned round.
    HeelOnTheSole,
    /// The ring pinned to the sole all round.
    UpperOnTheSole,
    /// Sewn round, the wrong side out.
    Sewn,
    /// The allowances trimmed.
    Trimmed,
    /// About to be turned.
    Turning,
    /// Turned.
    Turned,
    /// The lining sole on its way in.
    LiningSole,
    /// The upper's lining on its way in, its wrong side out.
    Lining,
    /// The strap pinned at the inner side seam, standing up.
    Strap,
    /// The strap carried over, its elastic at the outer side seam.
    Elastic,
    /// The same with its button.
    Button,
    /// The back gathered on its elastic.
    Gathers,
    /// The throat slit open.
    Slit,
    /// Ribbons sewn on over the side seams of the ring.
    Ribbons,
    /// The ribbons drawn over the closed slit.
    RibbonsOver,
    /// The ribbons tied in a bow.
    Bow,
}

/// From where a state is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seen {
    /// From the front, the outer side nearer.
    Outer,
    /// From the front, the inner side nearer.
    Inner,
    /// From the back, the outer side nearer.
    Back,
    /// From above, the toe up.
    Above,
}

/// What a `figure` block asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// The state.
    pub state: State,
    /// From where; as suits the state unless given.
    pub seen: Option<Seen>,
    /// Whether the row of stitching along the topline is sewn by then.
    pub topline_sewn: bool,
    /// Whether the fullness of the toe is pressed away by then.
    pub pressed: bool,
}

impl State {
    /// Whether the shoe is finished in it.
    pub(super) fn is_finished(self) -> bool {
        matches!(self, State::Button | State::Gathers | State::Bow)
    }

    /// The tints in which it shows cloth: `lining` has dots, `stiffener` a grid.
    #[must_use]
    pub fn tints(self) -> &'static [&'static str] {
        match self {
            State::Stiffener => &["stiffener"],
            State::LiningSole | State::Lining => &["lining"],
            _ => &[],
        }
    }

    /// All states by their words, in the order of work.
    pub const ALL: [(&'static str, State); 22] = [
        ("stiffener", State::Stiffener),
        ("sole", State::Sole),
        ("upper", State::Upper),
        ("ribbons", State::Ribbons),
        ("easing", State::Easing),
        ("pressed", State::Pressed),
        ("toe on the sole", State::ToeOnTheSole),
        ("heel on the sole", State::HeelOnTheSole),
        ("upper on the sole", State::UpperOnTheSole),
        ("sewn", State::Sewn),
        ("trimmed", State::Trimmed),
        ("turning", State::Turning),
        ("turned", State::Turned),
        ("lining sole", State::LiningSole),
        ("lining", State::Lining),
        ("strap", State::Strap),
        ("elastic", State::Elastic),
        ("button", State::Button),
        ("gathers", State::Gathers),
        ("slit", State::Slit),
        ("ribbons over", State::RibbonsOver),
        ("bow", State::Bow),
    ];
}

impl Seen {
    /// All by their words.
    pub const ALL: [(&'static str, Seen); 4] = [
        ("outer side", Seen::Outer),
        ("inner side", Seen::Inner),
        ("back", Seen::Back),
        ("above", Seen::Above),
    ];
}

/// The states that a design has, by their words: none without a shoe over a form.
#[must_use]
pub fn states(design: &Design) -> Vec<(&'static str, State)> {
    let Some(shoe) = design
        .shoe
        .as_ref()
        .filter(|shoe| shoe.way == ShoeWay::Form)
    else {
        return Vec::new();
    };
    let part = |wanted: ShoePart| {
        let of =
            |shape: &ShapeSpec| matches!(shape, ShapeSpec::Shoe { part, .. } if *part == wanted);
        design.pieces.iter().any(|piece| of(&piece.shape))
    };
    let strapped = shoe.closure == ClosureSpec::ElasticStrap && shoe.look.strap.is_some();
    let has = |state: State| match state {
        State::Stiffener => part(ShoePart::Stiffener),
        State::LiningSole => part(ShoePart::LiningSole),
        State::Lining => part(ShoePart::ToeLining) && part(ShoePart::HeelLining),
        State::Strap | State::Elastic => strapped,
        State::Button => strapped && shoe.look.button,
        State::Gathers => shoe.closure == ClosureSpec::BackElastic,
        State::RibbonsOver | State::Bow => {
            shoe.closure == ClosureSpec::Tie && shoe.look.strap.is_some()
        }
        State::Slit | State::Ribbons => shoe.closure == ClosureSpec::Tie,
        _ => true,
    };
    State::ALL
        .into_iter()
        .filter(|(_, state)| has(*state))
        .collect()
}

impl Step {
    /// From where it is seen unless it is said.
    #[must_use]
    pub fn seen(self) -> Seen {
        self.seen.unwrap_or(match self.state {
            State::Strap | State::Stiffener => Seen::Inner,
            State::Gathers => Seen::Back,
            State::Slit => Seen::Above,
            _ => Seen::Outer,
        })
    }

    /// Its direction in the scene, which is a mirror's if the shoe is wrong side out.
    pub(super) fn view(self, inside_out: bool) -> View {
        let (azimuth, elevation) = match self.seen() {
            Seen::Outer => (-self.aside(), self.elevation()),
            Seen::Inner => (self.aside(), self.elevation()),
            Seen::Back => (-150.0, 30.0),
            Seen::Above => (180.0, 89.9),
        };
        let azimuth = if inside_out { -azimuth } else { azimuth };
        View { azimuth, elevation }
    }

    /// What goes inside at a side seam is seen nearly square to it: further from the toe it would seem to
    /// stand beside the seam.
    fn aside(self) -> f64 {
        match self.state {
            State::Strap => 84.0,
            State::Elastic | State::Button => 76.0,
            _ => 52.0,
        }
    }

    /// What lies low is seen from higher up.
    fn elevation(self) -> f64 {
        match self.state {
            State::Turned
            | State::Strap
            | State::Elastic
            | State::Button
            | State::RibbonsOver
            | State::Bow => 27.0,
            State::Slit => 42.0,
            _ => 38.0,
        }
    }
}
