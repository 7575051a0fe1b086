//! What is done to the pieces of a scene: an opening with the work turned through it, allowances cut
//! down, an edge drawn up on threads; stitching is done by [`rows`]. Millimetres.

use super::arrow::{Kind, straight};
use super::find::Finder;
use super::hem::beside;
use super::plan::{Arrow, Group, Plan};
use super::ply::{Ply, round};
use super::request::{FlatRequest, Gather, Named, Opening, Trim};
use super::rows::{self, Row, edges};
use super::stitch::Look;
use super::strip;
use crate::design::Stitch;
use crate::geometry::{Corner, Edge, curve, cut_line};
use kurbo::{BezPath, Point, Shape, Vec2};

/// How near a trimmed edge keeps to its distance, mm.
const NEAR: f64 = 0.01;
/// A mitre runs out to this many allowances.
const MITRE: f64 = 4.0;
/// Gathering threads lie at these shares of the allowance.
const THREADS: [f64; 2] = [0.3, 0.65];
/// They hang out by this share of their length.
const TAILS: f64 = 0.1;

/// Adds all that is asked for; `None` after a report.
pub(super) fn add(plan: &mut Plan, asked: &FlatRequest, finder: &mut Finder) -> Option<()> {
    let mut whole = true;
    for trim in &asked.trims {
        whole &= trimmed(plan, trim, finder).is_some();
    }
    whole &= rows::add(plan, asked, finder).is_some();
    if let Some(opening) = &asked.opening {
        whole &= opened(plan, opening, finder).is_some();
    }
    if let Some(gather) = &asked.gather {
        whole &= gathered(plan, gather, finder).is_some();
    }
    if let Some(strip) = &asked.strip {
        whole &= strip::add(plan, strip, finder).is_some();
    }
    whole.then_some(())
}

/// The group and ply meant: the one of the piece, or the uppermost that has the edge.
pub(super) fn target(
    plan: &Plan,
    piece: Option<&Named>,
    edge: Option<&Named>,
    finder: &mut Finder,
) -> Option<[usize; 2]> {
    let plies = || {
        let groups = plan.groups.iter().enumerate().rev();
        groups.flat_map(|(g, group)| {
            let plies = group.plies.iter().enumerate().rev();
            plies.map(move |(p, ply)| ([g, p], ply))
        })
    };
    if let Some(named) = piece {
        let found = plies().find(|(_, ply)| ply.piece.key == named.text);
        if found.is_none() {
            let keys: Vec<String> = plies().map(|(_, ply)| ply.piece.key.clone()).collect();
            let message = format!("Piece ‘{}’ is not in this figure", named.text);
            let remedy = super::find::nearest(&named.text, keys.iter().map(String::as_str));
            finder.wrong(&named.place, message, remedy);
        }
        return found.map(|(at, _)| at);
    }
    let has = |ply: &Ply| edge.is_none_or(|named| ply.piece.outline.edge(&named.text).is_some());
    let found = plies().find(|(_, ply)| has(ply)).or_else(|| plies().next());
    found.map(|(at, _)| at)
}

/// The arrow out of an opening; an opening longer than its edge is told.
fn opened(plan: &mut Plan, opening: &Opening, finder: &mut Finder) -> Option<()> {
    let [g, p] = target(plan, None, Some(&opening.edge), finder)?;
    let ply = plan.groups[g].plies[p].clone();
    let edge = finder.edge(&ply.piece, &opening.edge)?;
    let length = finder.length(&opening.length)?;
    if length > edge.length() {
        let message = format!(
            "An opening of {length:.1} mm does not fit edge ‘{}’, which is {:.1} mm long",
            edge.name,
            edge.length()
        );
        finder.wrong(&opening.length.place, message, "Make it shorter.");
        return None;
    }
    if opening.turn {
        let station = edge.station(edge.length() / 2.0);
        let outward = Vec2::new(station.tangent.y, -station.tangent.x);
        let bounds = ply.surface.bounding_box();
        let reach = bounds.width().min(bounds.height());
        let [from, to] = [-0.3, 0.28].map(|share| station.point + outward * (share * reach));
        plan.groups[g].arrows.push(Arrow {
            path: ply.onto * straight(from, to),
            kind: Kind::Broad,
        });
    }
    Some(())
}

/// Cuts allowances down on every ply of the piece.
fn trimmed(plan: &mut Plan, asked: &Trim, finder: &mut Finder) -> Option<()> {
    let [g, p] = target(plan, asked.piece.as_ref(), asked.edges.first(), finder)?;
    let ply = &plan.groups[g].plies[p];
    let key = ply.piece.key.clone();
    let rest = match &asked.to {
        Some(formula) => Some(finder.length(formula)?),
        None => None,
    };
    let names: Vec<String> = edges(ply, &asked.edges, finder)?
        .into_iter()
        .map(|edge| edge.name)
        .collect();
    for group in &mut plan.groups {
        for ply in group.plies.iter_mut().filter(|ply| ply.piece.key == key) {
            cut_down(ply, &names, rest, asked, finder)?;
        }
    }
    Some(())
}

fn cut_down(
    ply: &mut Ply,
    names: &[String],
    rest: Option<f64>,
    asked: &Trim,
    finder: &mut Finder,
) -> Option<()> {
    let outline = &ply.piece.outline;
    let mut allowances = ply.piece.allowances.clone();
    let own = ply.piece.allowances.iter();
    for ((edge, left), own) in outline.edges().iter().zip(&mut allowances).zip(own) {
        if let (true, Some(rest)) = (names.contains(&edge.name), rest) {
            if rest > *own + 1e-9 && !asked.edges.is_empty() {
                let message = format!(
                    "Edge ‘{}’ has an allowance of {own:.1} mm and cannot be trimmed to {rest:.1} mm",
                    edge.name
                );
                finder.wrong(&asked.place, message, "Give a smaller length.");
                return None;
            }
            *left = rest.min(*own);
        }
    }
    let corner = match asked.corners {
        true => Corner::Chamfer,
        false => Corner::Mitre { limit: MITRE },
    };
    let corners = vec![corner; allowances.len()];
    let Ok(path) = cut_line(outline, &allowances, &corners, NEAR) else {
        let message = format!(
            "The allowance of {} cannot be drawn trimmed",
            ply.piece.title
        );
        finder.wrong(&asked.place, message, "Give another length.");
        return None;
    };
    ply.cut_off = Some(std::mem::replace(&mut ply.surface, path));
    for notch in &mut ply.notches {
        let index = outline.edges().iter().position(|e| e.name == notch.edge);
        if let Some(left) = index.and_then(|i| allowances.get(i)) {
            notch.allowance = *left;
        }
    }
    ply.notches.retain(|notch| notch.allowance > 1e-6);
    Some(())
}

/// Two threads in the allowance, hanging out at both ends, and arrows that say that the cloth is
/// pushed together between.
fn gathered(plan: &mut Plan, asked: &Gather, finder: &mut Finder) -> Option<()> {
    let [g, p] = target(plan, asked.piece.as_ref(), Some(&asked.edge), finder)?;
    let ply = plan.groups[g].plies[p].clone();
    let edge = finder.edge(&ply.piece, &asked.edge)?.clone();
    let index = ply
        .piece
        .outline
        .edges()
        .iter()
        .position(|e| e.name == edge.name)?;
    let allowance = ply.piece.allowances.get(index).copied().unwrap_or(0.0);
    let [from, to] = match &asked.between {
        None => [0.0, edge.length()],
        Some(names) => {
            let mut ends = [0.0, 0.0];
            for (end, name) in ends.iter_mut().zip(names) {
                *end = place_on(&ply, &edge, name, finder)?;
            }
            ends.sort_by(f64::total_cmp);
            ends
        }
    };
    let group = &mut plan.groups[g];
    let tail = TAILS * (to - from);
    for share in THREADS {
        let line = beside(&edge, -share * allowance);
        let part = curve::part(&line, from, to, 1e-3);
        let look = Look::Seam(Stitch::Running);
        tails(group, &ply, &part, tail);
        let path = ply.onto * part;
        group.rows.push(Row::new(path, look));
    }
    push_together(group, &ply, &edge, [from, to], allowance);
    plan.swings = true;
    Some(())
}

/// How far along the edge a notch stands.
fn place_on(ply: &Ply, edge: &Edge, name: &Named, finder: &mut Finder) -> Option<f64> {
    let notch = finder.notch(ply, name)?;
    if notch.edge != edge.name {
        let message = format!("Notch ‘{}’ is not on edge ‘{}’", name.text, edge.name);
        let remedy = format!("It stands on ‘{}’.", notch.edge);
        finder.wrong(&name.place, message, remedy);
        return None;
    }
    let on = ply.piece.notches.iter().find(|n| n.name == name.text)?;
    Some(on.at)
}

fn tails(group: &mut Group, ply: &Ply, part: &BezPath, tail: f64) {
    let ends = part.segments().next().zip(part.segments().last());
    let Some((first, last)) = ends else {
        return;
    };
    let out = [
        (
            kurbo::ParamCurve::start(&first),
            -curve::tangent(&first, 0.0),
        ),
        (kurbo::ParamCurve::end(&last), curve::tangent(&last, 1.0)),
    ];
    for (at, way) in out {
        let path = straight(at, at + way * tail);
        group.lines.push((ply.onto * path, round(0.35)));
    }
}

fn push_together(group: &mut Group, ply: &Ply, edge: &Edge, ends: [f64; 2], allowance: f64) {
    let [from, to] = ends;
    let length = to - from;
    let outside = |at: f64| -> Point {
        let station = edge.station(at);
        let outward = Vec2::new(station.tangent.y, -station.tangent.x);
        station.point + outward * (allowance + 0.09 * length)
    };
    for (start, end) in [(0.2, 0.38), (0.8, 0.62)] {
        let path = straight(outside(from + start * length), outside(from + end * length));
        group.arrows.push(Arrow {
            path: ply.onto * path,
            kind: Kind::Plain,
        });
    }
}
