//! Steps drawn flat from the pieces themselves: pieces and their sides, a seam and which edge goes to
//! which, folding, turning, stitching, trimming, gathering, a place drawn larger.
//!
//! [`draw`] takes what a figure is asked to show ([`request`]) and the finished pieces of one size;
//! [`scenes`] lays them, [`extras`] works on them, [`plan`] draws them, [`notes`] adds letters and
//! the circle. Nothing is at true scale, and every figure says its scale. The drawings carry no words
//! but letters and numbers, as outlines; all sentences are made in [`words`].

mod arrow;
mod board;
mod extras;
mod find;
mod fit;
mod fold;
mod half;
mod hem;
mod lying;
mod notch_seen;
mod notes;
mod numbers;
mod plan;
mod ply;
pub mod request;
mod row_ends;
mod rows;
mod scenes;
mod seam;
mod stitch;
mod strip;
mod strip_along;
mod target;
#[cfg(test)]
mod tests;
mod threads;
mod told;
mod words;
mod worked;

pub(crate) use find::nearest;
pub use request::FlatRequest;
pub use stitch::Look;

use super::{Figure, Tint};
use crate::design::Design;
use crate::diagnostic::Diagnostics;
use crate::draft::Values;
use crate::piece::SizedPieces;
use board::Board;
use find::Finder;
use kurbo::{Point, Vec2};
use plan::{Placed, Plan};
use std::collections::BTreeSet;

/// Room beside the words of a step, and of a figure as wide as the text, mm.
const ROOM: [f64; 2] = [62.0, 60.0];
const WIDE_ROOM: [f64; 2] = [118.0, 66.0];

/// Room round the drawing that letters take, mm.
const LETTER_ROOM: f64 = 6.0;

/// Rounds in which a drawing that came out larger than its room is made smaller.
const ROUNDS: usize = 4;

/// A flat figure with what its caption says besides the designer's words.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatFigure {
    /// The drawing.
    pub figure: Figure,
    /// Sentences after the caption: what letters mean, to what an allowance is trimmed.
    pub after: Vec<String>,
    /// Which tints it shows: `wrong`, `lining`, `stiffener`; and `cut off` where an old edge is drawn.
    pub tints: Vec<&'static str>,
    /// The numbers of pieces that stand in it, in ascending order.
    pub numbers: Vec<usize>,
}

/// Draws what is asked for from the pieces of one size. `values` are the measures of the size;
/// `wide` takes the width of the text instead of the field beside a step; letters and numbers are `larger`
/// than usual by this factor. `None` after a report: a name that is not there, a length that has no value, edges that do not lie flat.
pub fn draw(
    asked: &FlatRequest,
    design: &Design,
    (sized, values): (&SizedPieces, &Values),
    (wide, larger): (bool, f64),
    said: &mut Diagnostics,
) -> Option<FlatFigure> {
    let mut finder = Finder {
        design,
        sized,
        values,
        said,
    };
    let mut plan = scenes::plan(&asked.scene, &mut finder)?;
    extras::add(&mut plan, asked, &mut finder)?;
    show_lettered_marks(&mut plan, asked);
    if asked.stitching.is_empty() && asked.trims.is_empty() {
        turn_corners_back(&mut plan);
    }
    plan.crowded = asked.detail.is_some();
    plan.more = larger - 1.0;
    let whole = if wide { WIDE_ROOM } else { ROOM };
    let whole = Vec2::new(whole[0], whole[1]);
    let mut room = whole;
    let (mut board, mut scale) = compose(asked, &plan, room, &mut finder)?;
    for _ in 0..ROUNDS {
        let over = board.size() - whole;
        if over.x <= 0.0 && over.y <= 0.0 {
            break;
        }
        // letters and arrows stand out of the pieces; the pieces make room for them
        room -= Vec2::new(over.x.max(0.0), over.y.max(0.0)) * 1.05;
        room = Vec2::new(room.x.max(8.0), room.y.max(8.0));
        (board, scale) = compose(asked, &plan, room, &mut finder)?;
    }
    let (alt, after) = told::told(asked, &plan, &mut finder);
    let size = board.size();
    let figure = Figure {
        svg: board.svg(),
        width: size.x,
        height: size.y,
        alt,
        scale,
    };
    let mut plies = plan.groups.iter().flat_map(|group| &group.plies);
    let cut_off = plies.any(|ply| ply.cut_off.is_some()).then_some("cut off");
    let tints = told::tints(&plan).into_iter().filter_map(tint_key);
    let numbers: BTreeSet<usize> = plan
        .groups
        .iter()
        .filter_map(|group| group.number)
        .collect();
    Some(FlatFigure {
        figure,
        after,
        tints: tints.chain(cut_off).collect(),
        numbers: numbers.into_iter().collect(),
    })
}

/// What the key calls a tint; `None` for white.
fn tint_key(tint: Tint) -> Option<&'static str> {
    match tint {
        Tint::Wrong => Some("wrong"),
        Tint::Lining => Some("lining"),
        Tint::Stiffener => Some("stiffener"),
        _ => None,
    }
}

/// The drawing at the largest scale that finds room, and the scale.
fn compose(
    asked: &FlatRequest,
    plan: &Plan,
    room: Vec2,
    finder: &mut Finder,
) -> Option<(Board, f64)> {
    let mut left = room;
    if !asked.letters.is_empty() {
        left -= Vec2::new(LETTER_ROOM, LETTER_ROOM / 2.0) * plan.larger();
    }
    let circle = 2.0 * notes::LARGE + notes::APART;
    let (mut placed, mut below) = (plan.placed(left), false);
    if asked.detail.is_some() {
        let beside = plan.placed(left - Vec2::new(circle, 0.0));
        let under = plan.placed(left - Vec2::new(0.0, circle));
        below = under.scale > beside.scale;
        placed = if below { under } else { beside };
    }
    let board = finished(asked, plan, &placed, below, finder)?;
    Some((board, placed.scale))
}

fn finished(
    asked: &FlatRequest,
    plan: &Plan,
    placed: &Placed,
    below: bool,
    finder: &mut Finder,
) -> Option<Board> {
    let detail = match &asked.detail {
        Some(detail) => {
            let at = notes::on_paper(plan, placed, &detail.spot, finder)?;
            let drawn = plan.draw(placed, &plan.numbers(placed, &[])).bounds()?;
            Some(notes::DetailPlace::new(drawn, detail, (at, below)))
        }
        None => None,
    };
    let ways = detail
        .iter()
        .flat_map(notes::DetailPlace::lines)
        .collect::<Vec<_>>();
    let numbers = plan.numbers(placed, &ways);
    let mut board = plan.draw(placed, &numbers);
    let mut letters: Vec<(&request::Letter, Point)> = Vec::new();
    for letter in &asked.letters {
        let at = notes::on_paper(plan, placed, &letter.spot, finder)?;
        letters.push((letter, at));
    }
    let mut taken = plan.round_signs(placed, &numbers);
    if let Some(detail) = &detail {
        let larger = plan.magnified(placed, detail.map());
        taken.push(notes::detail(&mut board, detail, larger));
    }
    notes::letters(&mut board, &letters, &taken, plan.larger());
    Some(board)
}

/// Marks that a letter names are seen on either side of the cloth: where it has the wrong side up, that
/// is where they are drawn.
fn show_lettered_marks(plan: &mut Plan, asked: &FlatRequest) {
    let named: Vec<&str> = asked
        .letters
        .iter()
        .filter_map(|letter| match &letter.spot.what {
            request::SpotKind::Mark(name) => Some(name.text.as_str()),
            _ => None,
        })
        .collect();
    for ply in plan.groups.iter_mut().flat_map(|group| &mut group.plies) {
        let marks = &ply.piece.marks;
        let mut words = marks.iter().flat_map(find::mark_names);
        ply.marked |= words.any(|words| named.contains(&words.as_str()));
    }
}

/// Shows what lies between two plies that are not sewn yet.
fn turn_corners_back(plan: &mut Plan) {
    for group in &mut plan.groups {
        let Some(under) = group.under else {
            continue;
        };
        if let Some(upper) = group.plies.pop() {
            group.plies.extend(fold::corner_back(&upper, under));
        }
    }
}
