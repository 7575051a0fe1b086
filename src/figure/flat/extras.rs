//! What is done to the pieces of a scene: an opening with the work turned through it, allowances cut
//! down; stitching is done by [`rows`], an edge drawn up on threads by [`threads`]. Millimetres.

use super::arrow::{Kind, straight};
use super::find::Finder;
use super::plan::{Arrow, Plan};
use super::ply::Ply;
use super::request::{FlatRequest, Opening, StripLies, Trim};
use super::rows::{self, edges};
use super::target::target;
use super::{strip, strip_along, threads};
use crate::geometry::{Corner, cut_line};
use kurbo::{Shape, Vec2};

/// How near a trimmed edge keeps to its distance, mm.
const NEAR: f64 = 0.01;
/// A mitre runs out to this many allowances.
const MITRE: f64 = 4.0;

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
        whole &= threads::add(plan, gather, finder).is_some();
    }
    if let Some(strip) = &asked.strip {
        let laid = match &strip.lies {
            StripLies::Over(out) => strip::add(plan, (strip, out), &asked.stitching, finder),
            StripLies::Along(along) => strip_along::add(plan, (strip, along), finder),
        };
        whole &= laid.is_some();
    }
    whole.then_some(())
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
