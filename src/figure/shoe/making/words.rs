//! What a picture of a shoe in the making shows, in words, for those who do not see it.

use super::super::part as look;
use super::part;
use super::state::{Seen, State, Step};
use crate::design::FootSide;
use crate::figure::LONGEST;
use crate::figure::drawing::{Face, LineDrawing, LineKind, Tag};
use crate::language::Words;

impl Step {
    /// What the picture shows, as far as that is known before it is drawn.
    #[must_use]
    pub fn words(self, only: Option<FootSide>, words: &Words) -> String {
        let subject = subject(self.state, only, words);
        format!("{subject}, {}.", words.get(seen(self.seen())))
    }
}

/// The words: subject, side, view, then what has a line in the picture, then what its tints mean.
pub(super) fn alt(
    (step, only): (Step, Option<FootSide>),
    drawing: &LineDrawing,
    words: &Words,
) -> String {
    let tagged = |tag: Tag| drawing.lines.iter().any(|line| line.tag == tag);
    let face = |face: Face| drawing.regions.iter().any(|region| region.face == face);
    let strap = drawing
        .lines
        .iter()
        .any(|line| line.kind == LineKind::Strap);
    let button = drawing
        .lines
        .iter()
        .any(|line| line.kind == LineKind::Button && line.tag != look::BOW);
    let ribbons = matches!(step.state, State::RibbonsOver | State::Bow);
    let over = !tagged(part::STRAP) && !ribbons;
    let clauses = [
        (tagged(part::PIN_HEAD), "making.pinned"),
        (tagged(part::SEWN), "making.seam round"),
        (tagged(part::SEAM_LINE), "making.seam line"),
        (tagged(part::THREADS), "making.threads"),
        (tagged(part::PUCKERS), "making.puckers"),
        (tagged(part::NOTCH), "making.notches"),
        (tagged(part::OPENED), "making.opened"),
        (tagged(look::BOW), "making.tied"),
        (strap && over, "making.over"),
        (tagged(part::ELASTIC), "making.elastic shows"),
        (button, "making.on it"),
        (tagged(look::BUTTON_MARK), "making.button mark"),
        (tagged(look::GATHERS), "making.gathered"),
        (!drawing.arrows.is_empty(), arrow(step.state)),
        (face(Face::Wrong), "making.wrong side"),
        (face(Face::Stiffener), "making.grid"),
        (face(Face::Lining), "making.dotted"),
    ];
    let subject = subject(step.state, only, words);
    let mut said = format!("{subject}, {}", words.get(seen(step.seen())));
    let mut join = ": ";
    for (_, clause) in clauses.into_iter().filter(|(shown, _)| *shown) {
        let clause = words.get(clause);
        if said.len() + join.len() + clause.len() < LONGEST {
            said.push_str(join);
            said.push_str(clause);
            join = ", ";
        }
    }
    said.push('.');
    said
}

/// What is drawn; the right shoe unless it is for the left foot only.
fn subject(state: State, only: Option<FootSide>, words: &Words) -> String {
    let side = only.unwrap_or(FootSide::Right).words();
    let foot = format!("making.foot {side}");
    let foot = words.get(&foot);
    words.say(key(state), &[("foot", &foot)])
}

fn key(state: State) -> &'static str {
    match state {
        State::Stiffener => "making.stiffener",
        State::Sole => "making.sole",
        State::Upper => "making.upper",
        State::Easing => "making.easing",
        State::Pressed => "making.pressed",
        State::ToeOnTheSole => "making.toe on the sole",
        State::HeelOnTheSole => "making.heel on the sole",
        State::UpperOnTheSole => "making.upper on the sole",
        State::Sewn => "making.sewn",
        State::Trimmed => "making.trimmed",
        State::Turning => "making.turning",
        State::Turned => "making.turned",
        State::LiningSole => "making.lining sole",
        State::Lining => "making.lining",
        State::Strap => "making.strap",
        State::Elastic => "making.elastic",
        State::Button => "making.button",
        State::Gathers => "making.gathers",
        State::Slit => "making.slit",
        State::Ribbons => "making.ribbons",
        State::RibbonsOver => "making.ribbons over",
        State::Bow => "making.bow",
    }
}

fn seen(seen: Seen) -> &'static str {
    match seen {
        Seen::Outer => "making.seen outer",
        Seen::Inner => "making.seen inner",
        Seen::Back => "making.seen back",
        Seen::Above => "making.seen above",
    }
}

fn arrow(state: State) -> &'static str {
    match state {
        State::Turning => "making.arrow out",
        _ => "making.arrow in",
    }
}
