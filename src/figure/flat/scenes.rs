//! How the pieces of a figure lie: side by side, on each other, along a seam. Millimetres.

use super::find::Finder;
use super::lying::lying;
use super::plan::{Group, Plan};
use super::ply::Ply;
use super::request::{Named, Scene, Shown, Side};
use super::{fold, hem, seam};
use crate::figure::Tint;
use crate::piece::{MarkKind, Piece};
use kurbo::{Affine, Shape};

/// The groups of a scene; `None` after a report.
pub(super) fn plan(scene: &Scene, finder: &mut Finder) -> Option<Plan> {
    match scene {
        Scene::Apart(shown) => apart(shown, finder),
        Scene::Together(shown) => together(shown, finder),
        Scene::On {
            piece,
            ground,
            line,
        } => on(piece, ground, line, finder),
        Scene::Seam {
            name,
            together,
            stitch,
        } => seam::plan(name, *together, *stitch, finder),
        Scene::Fold {
            piece,
            along,
            states,
            over,
        } => fold::plan(piece, along, (*states, *over), finder),
        Scene::Hem {
            piece,
            edge,
            stitch,
            turned,
        } => hem::plan(piece, edge, stitch.as_ref(), *turned, finder),
    }
}

fn apart(shown: &[Shown], finder: &mut Finder) -> Option<Plan> {
    let groups: Vec<Group> = shown
        .iter()
        .filter_map(|one| {
            let (ply, right) = lying(one, finder, one.opened)?;
            Some(with_rim(ply, one, right))
        })
        .collect();
    (groups.len() == shown.len()).then(|| Plan {
        groups,
        ..Plan::default()
    })
}

/// A piece; wrong side up with its allowances turned in, they are seen as a rim, if it has the same all
/// round.
fn with_rim(ply: Ply, shown: &Shown, right: Tint) -> Group {
    let allowance = ply.piece.allowances.first().copied().unwrap_or(0.0);
    let same = |other: &f64| (other - allowance).abs() < 1e-6;
    let all_round = allowance > 0.0 && ply.piece.allowances.iter().all(same);
    let turned = shown.finished && shown.side == Some(Side::Wrong) && all_round;
    let inner = ply.piece.outline.inset(allowance);
    let Some(inner) = inner.ok().filter(|_| turned && ply.piece.fold.is_none()) else {
        return Group::of(ply);
    };
    let rim = Ply {
        tint: Side::Right.tint(right),
        marks: Vec::new(),
        rounds: Vec::new(),
        ..ply.clone()
    };
    let mut group = Group::of(rim);
    group.plies.push(Ply {
        surface: inner.path(),
        notches: Vec::new(),
        below: true,
        ..ply
    });
    group
}

/// One piece on the other, right sides together, a corner of the upper one turned back.
fn together(shown: &[Shown], finder: &mut Finder) -> Option<Plan> {
    let lower = shown.first()?;
    let (mut below, _) = lying(lower, finder, lower.opened)?;
    below.below = true;
    let upper = match shown.get(1) {
        Some(upper) => upper.clone(),
        None => second_of(lower, &below.piece),
    };
    let piece = finder.piece(&upper.piece)?;
    let [right, _] = finder.tints(&upper, piece)?;
    let (ply, _) = lying(
        &Shown {
            side: lower.side,
            ..upper.clone()
        },
        finder,
        upper.opened,
    )?;
    let (a, b) = (ply.outline().bounding_box(), below.outline().bounding_box());
    let shift = Affine::translate(b.center() - a.center());
    let side = lower.side.unwrap_or(Side::Right);
    let over = Ply {
        tint: side.other().tint(right),
        ..ply.moved(shift)
    };
    let mut group = Group::of(below);
    group.plies.push(over);
    group.under = Some(side.tint(right));
    if shown.len() > 1 {
        group.number = None;
    }
    Some(Plan {
        groups: vec![group],
        ..Plan::default()
    })
}

/// The second of a piece that is cut twice: from the next of its cloths, if it has several.
fn second_of(shown: &Shown, piece: &Piece) -> Shown {
    let cloth = piece.cuts.get(1).map(|cut| Named {
        text: cut.material.clone(),
        place: shown.piece.place.clone(),
    });
    Shown {
        cloth: cloth.or_else(|| shown.cloth.clone()),
        ..shown.clone()
    }
}

/// A piece laid on another where a line of that one says.
fn on(piece: &Shown, ground: &Shown, line: &Named, finder: &mut Finder) -> Option<Plan> {
    let (mut below, _) = lying(ground, finder, ground.opened)?;
    let (upper, _) = lying(piece, finder, piece.opened)?;
    below.below = true;
    let paths = below
        .piece
        .marks
        .iter()
        .filter_map(|mark| match &mark.kind {
            MarkKind::Line { path, .. } => Some((mark.words.as_deref().unwrap_or(""), path)),
            _ => None,
        });
    let paths: Vec<_> = paths.collect();
    let Some((_, path)) = paths.iter().find(|(words, _)| *words == line.text) else {
        let message = format!("{} has no line ‘{}’", below.piece.title, line.text);
        let names = paths.iter().map(|(words, _)| *words);
        let remedy = super::find::nearest(&line.text, names);
        finder.wrong(&line.place, message, remedy);
        return None;
    };
    let target = (below.onto * *path).bounding_box().center();
    // on a line lies what is finished: its allowance is turned in, or it has none
    let turned_in = upper.finished();
    let own = turned_in.outline().bounding_box().center();
    let mut group = Group::of(below);
    group
        .plies
        .push(turned_in.moved(Affine::translate(target - own)));
    group.number = None;
    Some(Plan {
        groups: vec![group],
        ..Plan::default()
    })
}
