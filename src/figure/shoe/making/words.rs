//! What a picture of a shoe in the making shows, in words, for those who do not see it.

use super::super::part as look;
use super::part;
use super::state::{Seen, State, Step};
use crate::figure::drawing::{Face, LineDrawing, LineKind, Tag};

/// The words are no longer than this.
const LONGEST: usize = 250;

impl Step {
    /// What the picture shows, as far as that is known before it is drawn.
    #[must_use]
    pub fn words(self) -> String {
        format!("{}, {}.", subject(self.state), seen(self.seen()))
    }
}

/// The words: subject, side, view, then what has a line in the picture, then what its tints mean.
pub(super) fn alt(step: Step, drawing: &LineDrawing) -> String {
    let tagged = |tag: Tag| drawing.lines.iter().any(|line| line.tag == tag);
    let face = |face: Face| drawing.regions.iter().any(|region| region.face == face);
    let strap = drawing
        .lines
        .iter()
        .any(|line| line.kind == LineKind::Strap);
    let button = drawing
        .lines
        .iter()
        .any(|line| line.kind == LineKind::Button);
    let clauses = [
        (tagged(part::PIN_HEAD), "pinned"),
        (tagged(part::SEWN), "the seam round the sole dashed"),
        (tagged(part::SEAM_LINE), "the seam line dashed"),
        (
            tagged(part::THREADS),
            "two rows of easing thread round the toe",
        ),
        (tagged(part::NOTCH), "notches and ticks on the edge"),
        (tagged(part::OPENED), "the side seam pressed open"),
        (strap && !tagged(part::STRAP), "strap over the instep"),
        (tagged(part::ELASTIC), "a little of its elastic shows"),
        (button, "a button on it"),
        (tagged(look::GATHERS), "back gathered on an elastic"),
        (!drawing.arrows.is_empty(), arrow(step.state)),
        (face(Face::Wrong), "the wrong side is hatched"),
        (face(Face::Stiffener), "the stiffener has a grid"),
        (face(Face::Lining), "the lining is dotted"),
    ];
    let mut words = format!("{}, {}", subject(step.state), seen(step.seen()));
    let mut join = ": ";
    for (_, clause) in clauses.into_iter().filter(|(shown, _)| *shown) {
        if words.len() + join.len() + clause.len() < LONGEST {
            words.push_str(join);
            words.push_str(clause);
            join = ", ";
        }
    }
    words.push('.');
    words
}

fn subject(state: State) -> &'static str {
    match state {
        State::Stiffener => "Stiffener on the inside of the right sole",
        State::Sole => "Right sole, its right side up",
        State::Upper => "Upper of the right shoe, its wrong side out",
        State::Easing => "Upper of the right shoe, its wrong side out, the toe eased",
        State::ToeOnTheSole => "Toe piece of the right shoe on its sole, right sides together",
        State::HeelOnTheSole => "Heel piece of the right shoe round its sole, the toe sewn on",
        State::UpperOnTheSole => "Upper of the right shoe on its sole, right sides together",
        State::Sewn => "Right shoe sewn round, its wrong side out",
        State::Trimmed => "Right shoe, its wrong side out, the allowances trimmed",
        State::Turning => "Right shoe, its wrong side out, about to be turned",
        State::Turned => "Right shoe, turned right side out",
        State::LiningSole => "Lining sole on its way into the right shoe",
        State::Lining => "Lining, its wrong side out, on its way into the right shoe",
        State::Strap => "Strap standing at the inner side seam of the right shoe",
        State::Elastic => "Right shoe, the strap's elastic inside the outer side seam",
        State::Button => "Finished right shoe",
        State::Gathers => "Finished right shoe",
        State::Slit => "Right shoe, its throat slit open",
        State::Ribbons => "Upper of the right shoe, a ribbon sewn over each side seam",
    }
}

fn seen(seen: Seen) -> &'static str {
    match seen {
        Seen::Outer => "from the front outside",
        Seen::Inner => "from the front, the inner side nearer",
        Seen::Back => "from the back outside",
        Seen::Above => "from above, toe up",
    }
}

fn arrow(state: State) -> &'static str {
    match state {
        State::Turning => "an arrow leads out of the opening over the heel",
        _ => "an arrow leads into the opening",
    }
}
