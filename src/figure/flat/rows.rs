//! Rows of stitches: along edges, along a line of the piece, and round one that will be cut open.
//! Millimetres.

use super::find::{Finder, nearest};
use super::plan::{Group, Plan};
use super::ply::Ply;
use super::request::{FlatRequest, Named, Opening, Stitching};
use super::row_ends::{but_at_notch, led_on, to_cut_edge};
use super::stitch::Look;
use super::target::target;
use super::threads::{place_on, reached};
use super::worked::{Insets, Inside, Row};
use crate::geometry::{Edge, curve};
use crate::piece::MarkKind;
use crate::plates::ink::path_of;
use kurbo::{BezPath, ParamCurve, Point, Vec2};

/// Parts of a row that differ by no more, mm, are alike.
const NEAR_ALIKE: f64 = 0.01;

/// Adds all rows that are asked for; `None` after a report.
pub(super) fn add(plan: &mut Plan, asked: &FlatRequest, finder: &mut Finder) -> Option<()> {
    let mut whole = true;
    let mut rounds = Vec::new();
    for stitching in &asked.stitching {
        if let Some(line) = &stitching.round {
            let round = round_line(plan, stitching, line, finder);
            whole &= round.is_some();
            rounds.extend(round);
        }
    }
    for stitching in asked.stitching.iter().filter(|row| row.round.is_none()) {
        let opening = asked.opening.as_ref();
        whole &= stitched(plan, stitching, opening, &rounds, finder).is_some();
    }
    whole.then_some(())
}

/// What is sewn round on a ply, a closed path in its axes.
struct Round {
    ply: [usize; 2],
    within: BezPath,
}

/// The edges named, or all of the piece.
pub(super) fn edges(ply: &Ply, named: &[Named], finder: &mut Finder) -> Option<Vec<Edge>> {
    if named.is_empty() {
        return Some(ply.piece.outline.edges().to_vec());
    }
    let found = named
        .iter()
        .map(|name| finder.edge(&ply.piece, name).cloned());
    found.collect()
}

fn stitched(
    plan: &mut Plan,
    asked: &Stitching,
    opening: Option<&Opening>,
    rounds: &[Round],
    finder: &mut Finder,
) -> Option<()> {
    let [g, p] = target(plan, asked.piece.as_ref(), asked.edges.first(), finder)?;
    let ply = plan.groups[g].plies[p].clone();
    if let Some(line) = &asked.line {
        return along_line(plan, [g, p], line, asked.look, finder);
    }
    let inside = match &asked.inside {
        Some(formula) => finder.length(formula)?,
        None => 0.0,
    };
    let gap = match opening {
        Some(opening) => Some((opening.edge.text.clone(), finder.length(&opening.length)?)),
        None => None,
    };
    let own = rounds.iter().filter(|round| round.ply == [g, p]);
    let without: Vec<BezPath> = own.map(|round| round.within.clone()).collect();
    let insets = Insets::default();
    let inset = insets.inside(&ply.piece.outline, inside);
    let (mut sewn, mut open) = (Vec::new(), BezPath::new());
    for edge in edges(&ply, &asked.edges, finder)? {
        let moved = inset.as_ref().and_then(|outline| outline.edge(&edge.name));
        let Some(line) = moved.map(|edge| edge.curve.clone()) else {
            let message = format!(
                "No line of stitching fits so far inside edge ‘{}’",
                edge.name
            );
            finder.wrong(&asked.place, message, "Make the distance smaller.");
            return None;
        };
        let (line, rest) = match &asked.up_to {
            Some(notch) => up_to(&ply, (&edge, line), notch, finder)?,
            None => (line, BezPath::new()),
        };
        let part = part_with(&plan.groups[g], &ply, &line);
        let led_on = led_on(&ply, &edge, &asked.edges, asked.ends);
        let led_on = but_at_notch(led_on, &line, &rest);
        if inside > 0.0 {
            let row = Inside::new((&part, &insets), &edge, inside, &without).led_on(led_on);
            plan.groups[g].rows.push(row.row(line, asked.look));
            continue;
        }
        let line = to_cut_edge(line, &ply.surface, led_on);
        let parts = parts(&line, gap.as_ref().filter(|(name, _)| *name == edge.name));
        sewn.push(edge.name.clone());
        open.extend(rest);
        if let [(_, from), (to, _)] = parts[..] {
            open.extend(curve::part(&line, from, to, 1e-4));
        }
        for (from, to) in parts {
            let path = part.onto * part.own(curve::part(&line, from, to, 1e-4));
            if !path.is_empty() {
                plan.groups[g].rows.push(Row::new(path, asked.look));
            }
        }
    }
    if !sewn.is_empty() {
        replace_seam_line(&mut plan.groups[g], p, &sewn, open);
    }
    Some(())
}

/// The longer part of a line along an edge, from one end of it to a notch of the edge, and the rest of it; the
/// whole line of an edge that has not this notch. `None` after a report if the piece has it on no edge.
fn up_to(
    ply: &Ply,
    (edge, line): (&Edge, BezPath),
    notch: &Named,
    finder: &mut Finder,
) -> Option<(BezPath, BezPath)> {
    if finder.notch(ply, notch)?.edge != edge.name {
        return Some((line, BezPath::new()));
    }
    let (at, _) = place_on(ply, edge, notch, finder)?;
    let whole = curve::length(&line, 1e-4);
    let at = reached(&line, edge.station(at).point);
    let [first, last] =
        [[0.0, at], [at, whole]].map(|[from, to]| curve::part(&line, from, to, 1e-4));
    Some(if at > whole / 2.0 {
        (first, last)
    } else {
        (last, first)
    })
}

/// Stitches take the place of the seam line, but along edges that are not `sewn` and where it stays `open`.
fn replace_seam_line(group: &mut Group, p: usize, sewn: &[String], mut open: BezPath) {
    let piece = group.plies[p].piece.clone();
    let unsewn = piece.outline.edges().iter();
    for edge in unsewn.filter(|edge| !sewn.contains(&edge.name)) {
        open.extend(&edge.curve);
    }
    for (index, part) in group.plies.iter_mut().enumerate() {
        if index == p || (is_part(part) && part.piece.key == piece.key) {
            part.seam_line = part.own(open.clone());
        }
    }
}

/// Whether it is a part of a piece that is folded.
fn is_part(ply: &Ply) -> bool {
    !ply.parted.is_empty()
}

/// Of a piece that is folded, the part with most of a line, the uppermost of two alike: where the
/// line crosses the fold, one row goes through both.
pub(super) fn part_with(group: &Group, ply: &Ply, line: &BezPath) -> Ply {
    let parts = group.plies.iter().filter(|part| is_part(part));
    let of_piece = parts.filter(|part| part.piece.key == ply.piece.key);
    let lengths = of_piece.map(|part| (curve::length(&part.own(line.clone()), 1e-4), part));
    let longest = lengths.reduce(|a, b| if b.0 > a.0 - NEAR_ALIKE { b } else { a });
    longest.map_or_else(|| ply.clone(), |(_, part)| part.clone())
}

/// From where to where a seam is sewn along an edge, which may have an opening so long in its middle.
fn parts(line: &BezPath, gap: Option<&(String, f64)>) -> Vec<(f64, f64)> {
    let whole = curve::length(line, 1e-4);
    let Some((_, length)) = gap else {
        return vec![(0.0, whole)];
    };
    let (open, middle) = (length.min(whole) / 2.0, whole / 2.0);
    vec![(0.0, middle - open), (middle + open, whole)]
}

/// A row round a line that begins at an edge and will be cut open: beside it, across its end, and back.
fn round_line(
    plan: &mut Plan,
    asked: &Stitching,
    line: &Named,
    finder: &mut Finder,
) -> Option<Round> {
    let at = target(plan, asked.piece.as_ref(), None, finder)?;
    let ply = plan.groups[at[0]].plies[at[1]].clone();
    let path = lines_named(&ply, line, finder)?.into_iter().next()?;
    let by = match &asked.inside {
        Some(formula) => finder.length(formula)?,
        None => 0.0,
    };
    let ends = from_edge(&ply, &path)?;
    let [mouth, end] = ends;
    if by <= 0.0 || mouth.distance(end) < 1e-6 {
        let message = format!("No row can be drawn round ‘{}’", line.text);
        let remedy = "Say at ‘inside’ how far the row stands from the line.";
        finder.wrong(&asked.place, message, remedy);
        return None;
    }
    let along = (end - mouth).normalize();
    let across = Vec2::new(-along.y, along.x) * by;
    let far = end + along * by;
    let row = path_of(&[mouth + across, far + across, far - across, mouth - across]);
    let group = &mut plan.groups[at[0]];
    group.rows.push(Row::new(ply.onto * &row, asked.look));
    let out = along * (2.0 * by);
    let mut within = path_of(&[
        mouth + across - out,
        far + across,
        far - across,
        mouth - across - out,
    ]);
    within.close_path();
    Some(Round { ply: at, within })
}

/// The ends of a line, that nearer to an edge of the piece first.
fn from_edge(ply: &Ply, path: &BezPath) -> Option<[Point; 2]> {
    let segments: Vec<_> = path.segments().collect();
    let ends = [segments.first()?.start(), segments.last()?.end()];
    let edges = ply.piece.outline.edges().iter();
    let points: Vec<Point> = edges.flat_map(|e| curve::spread(&e.curve, 200)).collect();
    let off = |at: Point| {
        points
            .iter()
            .map(|p| p.distance(at))
            .fold(f64::MAX, f64::min)
    };
    let [a, b] = ends;
    Some(if off(a) > off(b) { [b, a] } else { ends })
}

/// The lines of a ply with these words, at least one; `None` after a report.
fn lines_named(ply: &Ply, line: &Named, finder: &mut Finder) -> Option<Vec<BezPath>> {
    let lines = ply.piece.marks.iter().filter_map(|mark| match &mark.kind {
        MarkKind::Line { path, .. } => Some((mark.words.as_deref().unwrap_or("line"), path)),
        _ => None,
    });
    let lines: Vec<_> = lines.collect();
    let named = lines.iter().filter(|(words, _)| *words == line.text);
    let found: Vec<BezPath> = named.map(|(_, path)| (*path).clone()).collect();
    if found.is_empty() {
        let message = format!("{} has no line ‘{}’", ply.piece.title, line.text);
        let remedy = nearest(&line.text, lines.iter().map(|(words, _)| *words));
        finder.wrong(&line.place, message, remedy);
        return None;
    }
    Some(found)
}

/// Stitches along all lines of the piece with these words.
fn along_line(
    plan: &mut Plan,
    [g, p]: [usize; 2],
    line: &Named,
    look: Look,
    finder: &mut Finder,
) -> Option<()> {
    let ply = plan.groups[g].plies[p].clone();
    for line in lines_named(&ply, line, finder)? {
        // stitches take the place of the printed line
        plan.groups[g].plies[p]
            .marks
            .retain(|(path, _)| *path != line);
        plan.groups[g].rows.push(Row::new(ply.onto * line, look));
    }
    Some(())
}
