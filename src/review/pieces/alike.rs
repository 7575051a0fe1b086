//! Things that are alike and should not be, or that should be and are not: sizes, trims, eyelets, notches,
//! uses of an edge.

use super::{Made, One, Said};
use crate::design::{EdgeRef, TrimKind};
use crate::diagnostic::Level;
use crate::geometry::Outline;
use crate::piece::MarkKind;
use std::collections::BTreeMap;

/// Outlines whose corners and handles lie nearer than this are the same, mm.
const SAME: f64 = 0.01;

/// An eyelet may be larger or smaller than its mark by this share before it does not fit (from judgement).
const EYELET: f64 = 0.25;

/// Notches nearer than this are cut as one, mm: a snip of small scissors is as wide (common practice).
const NEAR: f64 = 1.5;

/// Lengths that differ by less than this share are equal: rounding makes as much.
const EQUAL: f64 = 0.005;

/// A length is mistyped that is so many times another, or a share of it.
const FAR: f64 = 2.0;

/// Cloth so many times as thick as its kind usually is, or as thin, has its measure in another unit.
const THICK: f64 = 6.0;

/// Two sizes whose pieces are all the same are one size, or one was copied and not changed.
pub(super) fn sizes(made: &Made, said: &mut Said) {
    let sizes: Vec<_> = made.design.sizes.iter().zip(made.sizes).collect();
    for (number, (size, sized)) in sizes.iter().enumerate() {
        let is_same =
            |(other, other_sized): &&(&crate::design::Size, &crate::piece::SizedPieces)| {
                let all = sized.pieces.iter().zip(&other_sized.pieces);
                other.declared != size.declared
                    && sized.pieces.len() == other_sized.pieces.len()
                    && all.into_iter().all(|(a, b)| same(&a.outline, &b.outline))
            };
        if let Some((other, _)) = sizes[..number].iter().find(is_same) {
            let message = format!(
                "Sizes {} and {} have the same pieces",
                other.title, size.title
            );
            let remedy = "Give each size its own foot or measures, or take one of them away.";
            said.tell(
                Level::Warning,
                "sizes-alike",
                &size.key,
                (&size.place, message, remedy),
            );
        }
    }
}

fn same(a: &Outline, b: &Outline) -> bool {
    let (a, b) = (a.path(), b.path());
    let points = |path: &kurbo::BezPath| -> Vec<kurbo::Point> {
        path.segments()
            .flat_map(|segment| {
                let cubic = segment.to_cubic();
                [cubic.p0, cubic.p1, cubic.p2]
            })
            .collect()
    };
    let (a, b) = (points(&a), points(&b));
    a.len() == b.len() && a.iter().zip(&b).all(|(p, q)| p.distance(*q) < SAME)
}

/// A trim grows with its sizes: one that is longest or shortest in a size between is mistyped.
pub(super) fn trims(made: &Made, said: &mut Said) {
    let areas: Vec<f64> = made
        .sizes
        .iter()
        .map(|sized| sized.pieces.iter().map(super::shape::area).sum())
        .collect();
    let way = |values: &[f64], at: usize| {
        let (a, b) = (values[at], values[at + 1]);
        match (b - a).abs() <= EQUAL * a.abs().max(b.abs()) {
            true => 0,
            false => (b - a).signum() as i32,
        }
    };
    for trim in &made.design.trims {
        let length = |draft: &crate::draft::Draft| {
            let formula = trim.length.as_ref()?;
            formula
                .evaluate(&draft.values, crate::design::Dimension::Length)
                .ok()
        };
        let lengths: Option<Vec<f64>> = made.drafts.iter().map(length).collect();
        let Some(lengths) = lengths.filter(|lengths| lengths.len() == areas.len()) else {
            continue;
        };
        let against = (0..lengths.len().saturating_sub(1))
            .find(|at| way(&lengths, *at) * way(&areas, *at) < 0);
        let with =
            (0..lengths.len().saturating_sub(1)).any(|at| way(&lengths, at) * way(&areas, at) > 0);
        // one that goes the other way in all sizes may be meant so, but hardly by so much
        let far = |at: &usize| {
            let ratio = lengths[*at] / lengths[at + 1];
            !(1.0 / FAR..=FAR).contains(&ratio)
        };
        let Some(at) = against.filter(|at| with || far(at)) else {
            continue;
        };
        let [before, size] = [at, at + 1].map(|i| &made.design.sizes[i].title);
        let message = format!(
            "{} is {:.1} mm in {before} and {:.1} mm in {size}, while the pieces change the other way",
            trim.name,
            lengths[at],
            lengths[at + 1]
        );
        let remedy = "Check the lengths of each size, or write one formula for all.";
        said.tell(
            Level::Warning,
            "trim-order",
            &trim.key,
            (&trim.place, message, remedy),
        );
    }
}

/// An eyelet fits the hole that is marked for it.
pub(super) fn eyelets(one: &One, said: &mut Said) {
    let bought = one
        .design
        .trims
        .iter()
        .filter(|t| t.kind == TrimKind::Eyelet);
    let bought: Vec<_> = bought
        .filter_map(|trim| Some((trim, trim.width?)))
        .collect();
    let marks = one.sized.pieces.iter().flat_map(|piece| {
        let eyelets = piece.marks.iter().filter_map(|mark| match mark.kind {
            MarkKind::Eyelet { diameter, .. } => Some(diameter),
            _ => None,
        });
        eyelets.map(move |diameter| (piece, diameter))
    });
    for (piece, diameter) in marks {
        let fits = |(_, width): &&(_, f64)| (width - diameter).abs() <= EYELET * diameter;
        let Some((trim, width)) = bought.first().filter(|_| !bought.iter().any(|b| fits(&b)))
        else {
            continue;
        };
        let message = format!(
            "{} is {width:.1} mm across, the hole marked for it on {} is {diameter:.1} mm{}",
            trim.name,
            piece.title,
            one.inside()
        );
        let remedy = "Mark the hole as large as the eyelet, or buy others.";
        said.tell(
            Level::Warning,
            "eyelet-size",
            &piece.key,
            (&trim.place, message, remedy),
        );
    }
}

/// Two notches of an edge are told from each other; two at one place are told where they are read.
pub(super) fn notches(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        for (number, notch) in piece.notches.iter().enumerate() {
            let before = piece.notches[..number].iter();
            let near = before
                .filter(|other| other.edge == notch.edge)
                .find(|other| (SAME..NEAR).contains(&(other.at - notch.at).abs()));
            let Some(other) = near else {
                continue;
            };
            let message = format!(
                "The notches ‘{}’ and ‘{}’ of {} stand {:.1} mm apart{}",
                other.name,
                notch.name,
                piece.title,
                (other.at - notch.at).abs(),
                one.inside()
            );
            let remedy = "Keep one of them, or move them apart: so near they are cut as one.";
            said.tell(
                Level::Warning,
                "notches-near",
                &piece.key,
                (&spec.place, message, remedy),
            );
        }
    }
}

/// No edge is in more seams than there are pieces of it.
pub(super) fn uses(made: &Made, said: &mut Said) {
    let mut uses: BTreeMap<(&str, &str), Vec<&crate::design::SeamSpec>> = BTreeMap::new();
    for seam in &made.design.seams {
        let of = |at: &'_ EdgeRef| (at.piece.clone(), at.edge.clone());
        let both = of(&seam.join) == of(&seam.to);
        uses.entry((&seam.join.piece, &seam.join.edge))
            .or_default()
            .push(seam);
        if !both {
            uses.entry((&seam.to.piece, &seam.to.edge))
                .or_default()
                .push(seam);
        }
    }
    for ((key, edge), seams) in uses {
        let Some(piece) = made.design.pieces.iter().find(|piece| piece.key == key) else {
            continue;
        };
        let cut: u32 = piece.cuts.iter().map(|cut| cut.count).sum();
        let Some(last) = seams
            .last()
            .filter(|_| cut > 0 && seams.len() > cut as usize)
        else {
            continue;
        };
        let names: Vec<String> = seams
            .iter()
            .map(|seam| format!("‘{}’", seam.name))
            .collect();
        let message = format!(
            "The edge ‘{edge}’ of {} is in {} seams, {}, and {cut} of the piece is cut",
            piece.title,
            seams.len(),
            names.join(" and ")
        );
        let remedy = "Name in each seam the edge that is sewn there.";
        said.tell(
            Level::Warning,
            "edge-in-seams",
            &format!("{key} {edge}"),
            (&last.place, message, remedy),
        );
    }
}

/// Cloth is about as thick as its kind.
pub(super) fn thickness(made: &Made, said: &mut Said) {
    for cloth in &made.design.cloth {
        let kind = crate::design::ClothKind::named(cloth.kind_words());
        let (Some(thickness), Some(kind)) = (cloth.thickness, kind) else {
            continue;
        };
        let usual = kind.facts().thickness;
        if thickness <= usual * THICK && thickness >= usual / THICK {
            continue;
        }
        let message = format!(
            "{} is said to be {thickness:.1} mm thick; such cloth is about {usual:.1} mm",
            cloth.name
        );
        let remedy = "Measure a stack of ten layers and divide by ten.";
        said.tell(
            Level::Warning,
            "cloth-thickness",
            &cloth.key,
            (&cloth.place, message, remedy),
        );
    }
}
