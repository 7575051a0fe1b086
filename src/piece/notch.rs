//! Notches: on their own edge, and carried over a seam to the partner's edge.

use super::context::Context;
use super::model::{Notch, Piece};
use super::seam::partner_distance;
use crate::design::{Design, NotchAt, NotchSpec, ShapeSpec, ShoePart};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::DraftedNotch;
use crate::geometry::Outline;
use kurbo::Vec2;

/// The notches that the piece itself declares.
pub(super) fn of_piece(
    context: &Context,
    allowances: &[f64],
    diagnostics: &mut Diagnostics,
) -> Vec<Notch> {
    let outline = &context.drafted.outline;
    let mut list = Vec::new();
    for spec in &context.spec.notches {
        let Some(length) = outline.edge(&spec.edge).map(|e| e.length()) else {
            continue;
        };
        let Some(at) = along(context, &spec.at, length, diagnostics) else {
            continue;
        };
        if !(-1e-6..=length + 1e-6).contains(&at) {
            let message = format!(
                "Notch {} of {} would stand at {at:.1} mm, but edge {} is {length:.1} mm long in \
                 size {}",
                spec.name, context.spec.title, spec.edge, context.size.title
            );
            diagnostics.push(
                Diagnostic::error("notch-off-edge", Some(&spec.place), message)
                    .remedy("Give a share, or a length that the edge has."),
            );
            continue;
        }
        list.extend(notch(outline, allowances, spec, at));
    }
    for drafted in drafted(context) {
        let edges = outline.edges().iter();
        let index = edges.enumerate().find(|(_, e)| e.name == drafted.edge);
        let named = context.spec.notches.iter().any(|n| n.name == drafted.name);
        let Some((index, _)) = index.filter(|_| !named) else {
            continue;
        };
        list.extend(
            stand(outline, allowances, index, drafted.at).map(|notch| Notch {
                name: drafted.name.clone(),
                centre: drafted.centre,
                count: drafted.count,
                ..notch
            }),
        );
    }
    list
}

/// The notches of the draft. Those of a lining sole meet the lining's; where it is turned and laid in they
/// meet nothing, and go with the edge to its back.
fn drafted<'a>(context: &Context<'a>) -> &'a [DraftedNotch] {
    let lining_sole = matches!(
        context.spec.shape,
        ShapeSpec::Shoe {
            part: ShoePart::LiningSole,
            ..
        }
    );
    match lining_sole && !context.is_sewn {
        true => &[],
        false => &context.drafted.notches,
    }
}

/// The distance from the start of an edge of this length, mm.
pub(super) fn along(
    context: &Context,
    at: &NotchAt,
    length: f64,
    diagnostics: &mut Diagnostics,
) -> Option<f64> {
    match at {
        NotchAt::Share(share) => Some(share * length),
        NotchAt::FromStart(formula) => context.length(formula, diagnostics),
        NotchAt::FromEnd(formula) => context.length(formula, diagnostics).map(|l| length - l),
    }
}

fn notch(outline: &Outline, allowances: &[f64], spec: &NotchSpec, at: f64) -> Option<Notch> {
    let index = outline.edges().iter().position(|e| e.name == spec.edge)?;
    stand(outline, allowances, index, at).map(|notch| Notch {
        name: spec.name.clone(),
        centre: spec.centre,
        count: spec.count,
        ..notch
    })
}

/// A plain notch on edge `index` at `at` mm from its start.
fn stand(outline: &Outline, allowances: &[f64], index: usize, at: f64) -> Option<Notch> {
    let edge = outline.edges().get(index)?;
    let station = edge.station(at);
    let outward = Vec2::new(station.tangent.y, -station.tangent.x);
    Some(Notch {
        name: String::new(),
        edge: edge.name.clone(),
        at,
        point: station.point,
        outward,
        allowance: *allowances.get(index)?,
        centre: false,
        count: 1,
    })
}

/// Puts every notch that is to be carried on the partner's edge of each seam its edge is in. A
/// notch of the same name that already stands there is left alone.
pub(super) fn carry(design: &Design, pieces: &mut [Piece], diagnostics: &mut Diagnostics) {
    for spec in &design.pieces {
        for notch_spec in spec.notches.iter().filter(|n| n.carry) {
            let edge = (spec.key.as_str(), notch_spec.edge.as_str());
            let mut carried = false;
            for seam in &design.seams {
                let ends = [&seam.join, &seam.to].map(|e| (e.piece.as_str(), e.edge.as_str()));
                let other = match ends {
                    [a, b] if a == edge => b,
                    [a, b] if b == edge => a,
                    _ => continue,
                };
                carried = true;
                put_over(pieces, edge, other, seam.same_way, notch_spec);
            }
            if !carried {
                let message = format!(
                    "Notch {} of {} is to be carried over, but edge {} is in no seam",
                    notch_spec.name, spec.title, notch_spec.edge
                );
                diagnostics.push(
                    Diagnostic::error("notch-no-seam", Some(&notch_spec.place), message)
                        .remedy("Declare the seam, or leave out ‘carry’."),
                );
            }
        }
    }
}

fn put_over(
    pieces: &mut [Piece],
    from: (&str, &str),
    to: (&str, &str),
    same_way: bool,
    spec: &NotchSpec,
) {
    let find = |key: &str| pieces.iter().position(|p| p.key == key);
    let (Some(a), Some(b)) = (find(from.0), find(to.0)) else {
        return;
    };
    let Some(notch) = pieces[a]
        .notches
        .iter()
        .find(|n| n.name == spec.name)
        .cloned()
    else {
        return;
    };
    let lengths = (pieces[a].outline.edge(from.1), pieces[b].outline.edge(to.1));
    let (Some(own), Some(other)) = (lengths.0.map(|e| e.length()), lengths.1.map(|e| e.length()))
    else {
        return;
    };
    let at = partner_distance(notch.at, own, other, same_way);
    let partner = &pieces[b];
    if partner
        .notches
        .iter()
        .any(|n| n.name == notch.name && n.edge == to.1)
    {
        return;
    }
    let index = partner.outline.edges().iter().position(|e| e.name == to.1);
    let placed = index.and_then(|i| stand(&partner.outline, &partner.allowances, i, at));
    if let Some(placed) = placed {
        pieces[b].notches.push(Notch {
            name: notch.name,
            centre: notch.centre,
            count: notch.count,
            ..placed
        });
    }
}
