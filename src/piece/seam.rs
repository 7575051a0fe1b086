//! Walking a seam: one edge laid along another, length against length, notch against notch, and
//! the corners at both ends (common practice: "walking the seam").

use super::model::{Notch, Piece, WalkedSeam};
use crate::design::formula::Scope;
use crate::design::{Design, Dimension, EasingSpec, SeamSpec, ShapeSpec, ShoePart, Size, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use std::f64::consts::PI;

/// Edges that differ by more than this, mm, do not match: about the width of a pencil line's edge,
/// and what a careful sewer can still make good without noticing.
pub const GAP_ALLOWED: f64 = 0.1;

/// Walks every seam whose two pieces were finished; mismatches go to `diagnostics`.
pub fn walk_all(
    design: &Design,
    size: &Size,
    draft: &Draft,
    pieces: &[Piece],
    diagnostics: &mut Diagnostics,
) -> Vec<WalkedSeam> {
    let mut list = Vec::new();
    for spec in &design.seams {
        let find = |key: &str| pieces.iter().find(|p| p.key == key);
        let (Some(from), Some(to)) = (find(&spec.join.piece), find(&spec.to.piece)) else {
            continue;
        };
        let Some(seam) = walk(design, spec, from, to, draft, diagnostics) else {
            continue;
        };
        report(design, size, spec, &seam, [from, to], diagnostics);
        list.push(seam);
    }
    list
}

/// Distance on the partner's edge, from its start, of what lies `at` mm along an edge of length
/// `own`: easing is taken as spread evenly.
pub fn partner_distance(at: f64, own: f64, other: f64, same_way: bool) -> f64 {
    let share = if own > 0.0 { at / own } else { 0.0 };
    if same_way {
        share * other
    } else {
        (1.0 - share) * other
    }
}

/// The name of the fullness that the shoe's draft gives a toe piece: its own for the lining's.
fn fullness_of(design: &Design, piece: &str) -> &'static str {
    let spec = design.pieces.iter().find(|spec| spec.key == piece);
    match spec.map(|spec| &spec.shape) {
        Some(ShapeSpec::Shoe {
            part: ShoePart::ToeLining,
            ..
        }) => "lining fullness",
        _ => "fullness",
    }
}

/// Lays edge on edge. `None` if an edge is missing or an easing formula has no value.
fn walk(
    design: &Design,
    spec: &SeamSpec,
    from: &Piece,
    to: &Piece,
    draft: &Draft,
    diagnostics: &mut Diagnostics,
) -> Option<WalkedSeam> {
    let length_from = from.outline.edge(&spec.join.edge)?.length();
    let length_to = to.outline.edge(&spec.to.edge)?.length();
    let excess = length_from - length_to;
    let (least, most) = match &spec.easing {
        EasingSpec::None => (0.0, 0.0),
        EasingSpec::FromShoe => {
            let figures = &draft.shoe.as_ref()?.figures;
            let fullness = figures
                .get(fullness_of(design, &spec.join.piece))
                .copied()?;
            (fullness, fullness)
        }
        EasingSpec::Percent(a, b) => (a / 100.0 * length_to, b / 100.0 * length_to),
        EasingSpec::Length(formula) => {
            if formula
                .names()
                .iter()
                .any(|n| draft.values.value(n).is_none())
            {
                return None;
            }
            match formula.evaluate(&draft.values, Dimension::Length) {
                Ok(length) => (length, length),
                Err(message) => {
                    let said = Diagnostic::error("formula-value", Some(&formula.place), message);
                    diagnostics.push(said.remedy("check the formula and the measures it uses"));
                    return None;
                }
            }
        }
    };
    let gap = (least - excess).max(excess - most).max(0.0);
    Some(WalkedSeam {
        name: spec.name.clone(),
        from: (spec.join.piece.clone(), spec.join.edge.clone()),
        to: (spec.to.piece.clone(), spec.to.edge.clone()),
        length_from,
        length_to,
        eased: [least, most],
        easing_percent: if length_to > 0.0 {
            excess / length_to * 100.0
        } else {
            0.0
        },
        gap,
        wants_longer: least - excess > excess - most,
        end_angles: end_angles(spec, from, to),
        notch_pairs: notch_pairs(spec, from, to, length_from, length_to),
    })
}

/// The corner of `from` and the corner of `to` that come together at each end of the seam, summed,
/// in degrees, the start of `from` first. 180 means that the neighbouring edges run on smoothly.
fn end_angles(spec: &SeamSpec, from: &Piece, to: &Piece) -> [f64; 2] {
    let own = corner_angles(from, &spec.join.edge);
    let other = corner_angles(to, &spec.to.edge);
    let [at_start, at_end] = if spec.same_way {
        other
    } else {
        [other[1], other[0]]
    };
    [own[0] + at_start, own[1] + at_end]
}

/// Inner angles of the outline at the start and the end of an edge, degrees.
fn corner_angles(piece: &Piece, edge: &str) -> [f64; 2] {
    let edges = piece.outline.edges();
    let Some(index) = edges.iter().position(|e| e.name == edge) else {
        return [0.0; 2];
    };
    let before = &edges[(index + edges.len() - 1) % edges.len()];
    let after = &edges[(index + 1) % edges.len()];
    let inner = |a: kurbo::Vec2, b: kurbo::Vec2| (PI - a.cross(b).atan2(a.dot(b))).to_degrees();
    [
        inner(before.end_tangent(), edges[index].start_tangent()),
        inner(edges[index].end_tangent(), after.start_tangent()),
    ]
}

/// Notches that meet: those of the same name, the others in their order along the seam. The
/// distance is what remains after the easing is spread evenly.
fn notch_pairs(
    spec: &SeamSpec,
    from: &Piece,
    to: &Piece,
    length_from: f64,
    length_to: f64,
) -> Vec<(String, String, f64)> {
    let on = |piece: &Piece, edge: &str| -> Vec<Notch> {
        piece
            .notches
            .iter()
            .filter(|n| n.edge == edge)
            .cloned()
            .collect()
    };
    let mut own = on(from, &spec.join.edge);
    own.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut others = on(to, &spec.to.edge);
    others.sort_by(|a, b| a.at.total_cmp(&b.at));
    if !spec.same_way {
        others.reverse();
    }
    let place = |n: &Notch| partner_distance(n.at, length_from, length_to, spec.same_way);
    let mut pairs = Vec::new();
    own.retain(|notch| {
        let Some(index) = others.iter().position(|o| o.name == notch.name) else {
            return true;
        };
        let partner = others.remove(index);
        pairs.push((
            notch.name.clone(),
            partner.name.clone(),
            (place(notch) - partner.at).abs(),
        ));
        false
    });
    for (notch, partner) in own.iter().zip(&others) {
        let apart = (place(notch) - partner.at).abs();
        pairs.push((notch.name.clone(), partner.name.clone(), apart));
    }
    pairs
}

/// What to do about a seam that does not match.
fn remedy(spec: &SeamSpec, seam: &WalkedSeam, print: &dyn Fn(f64) -> String) -> String {
    let excess = seam.length_from - seam.length_to;
    let join = &spec.join.edge;
    match spec.easing {
        EasingSpec::None if excess > 0.0 => format!(
            "Make the edges equal, or declare an easing that covers {} ({:.1} %).",
            print(excess),
            seam.easing_percent
        ),
        EasingSpec::None => format!(
            "Make the edges equal; if {join} is to be stretched, or {} eased, change ‘join’ and \
             ‘to’ and declare an easing that covers {}.",
            spec.to.edge,
            print(-excess)
        ),
        _ => {
            let way = if seam.wants_longer {
                "longer"
            } else {
                "shorter"
            };
            format!(
                "With that easing {join} should be {} {way}: change it, or the easing.",
                print(seam.gap)
            )
        }
    }
}

fn report(
    design: &Design,
    size: &Size,
    spec: &SeamSpec,
    seam: &WalkedSeam,
    pieces: [&Piece; 2],
    diagnostics: &mut Diagnostics,
) {
    let print = |mm: f64| printed::plain(&printed::both(mm, design.lengths));
    if seam.gap > GAP_ALLOWED {
        let [from, to] = [(pieces[0], &spec.join.edge), (pieces[1], &spec.to.edge)]
            .map(|(piece, edge)| format!("{}, edge {edge}", piece.title));
        let declared = match spec.easing {
            EasingSpec::None => "no easing is declared",
            _ => "the declared easing does not explain it",
        };
        let message = format!(
            "Seam {} does not match in size {}: {from}, is {:.2} mm long and {to}, is {:.2} mm \
             ({:+.2} mm, {:+.1} %); {declared}",
            spec.name,
            size.title,
            seam.length_from,
            seam.length_to,
            seam.length_from - seam.length_to,
            seam.easing_percent
        );
        let remedy = remedy(spec, seam, &print);
        diagnostics
            .push(Diagnostic::error("seam-length", Some(&spec.place), message).remedy(remedy));
    }
    let eased = !matches!(spec.easing, EasingSpec::None);
    for (own, other, apart) in &seam.notch_pairs {
        if *apart > GAP_ALLOWED && !eased && seam.gap <= GAP_ALLOWED {
            let message = format!(
                "On seam {}, size {}, notch {own} of {} and notch {other} of {} are {apart:.2} mm \
                 apart when the edges are laid together",
                spec.name, size.title, pieces[0].title, pieces[1].title
            );
            diagnostics.push(
                Diagnostic::error("notch-apart", Some(&spec.place), message)
                    .remedy("Give one of them ‘carry: yes’ and leave the other out."),
            );
        }
    }
    report_counts(size, spec, pieces, diagnostics);
}

/// A notch nearer than this to the end of its edge, mm, marks the corner where the seam begins or
/// ends and needs no partner.
const CORNER_NOTCH: f64 = 0.5;

/// Notches without a partner: the two edges carry different numbers of them.
fn report_counts(size: &Size, spec: &SeamSpec, pieces: [&Piece; 2], diagnostics: &mut Diagnostics) {
    let count = |piece: &Piece, edge: &str| {
        let length = piece.outline.edge(edge).map_or(0.0, |e| e.length());
        let on_edge =
            |n: &&Notch| n.edge == *edge && n.at > CORNER_NOTCH && n.at < length - CORNER_NOTCH;
        piece.notches.iter().filter(on_edge).count()
    };
    let counts = [
        count(pieces[0], &spec.join.edge),
        count(pieces[1], &spec.to.edge),
    ];
    if counts[0] == counts[1] {
        return;
    }
    let notches = |count: usize| match count {
        0 => "no notch".to_string(),
        1 => "1 notch".to_string(),
        many => format!("{many} notches"),
    };
    let message = format!(
        "On seam {}, size {}, {} has {} and {} has {}.",
        spec.name,
        size.title,
        pieces[0].title,
        notches(counts[0]),
        pieces[1].title,
        notches(counts[1])
    );
    diagnostics.push(
        Diagnostic::warning("notch-alone", Some(&spec.place), message)
            .remedy("Carry each notch over the seam with ‘carry: yes’."),
    );
}
