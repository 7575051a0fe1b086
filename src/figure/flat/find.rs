//! Names of a figure looked up in the pieces of the size drawn. What is not there is told at the
//! name, with the nearest that is.

use super::notch_seen::NotchSeen;
use super::ply::{Ply, mark_spot};
use super::request::{Named, Shown, Side, Spot, SpotKind};
use crate::design::{Design, Dimension, Formula};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::draft::Values;
use crate::figure::Tint;
use crate::geometry::Edge;
use crate::geometry::probe::is_inside;
use crate::piece::{Piece, SizedPieces, WalkedSeam};
use kurbo::{Point, Shape};

/// What names are looked up in, and where mistakes go.
pub(super) struct Finder<'a, 'd> {
    pub(super) design: &'a Design,
    pub(super) sized: &'a SizedPieces,
    pub(super) values: &'a Values,
    pub(super) said: &'d mut Diagnostics,
}

/// `The nearest is ‘…’.`, or what there is if nothing is near.
pub(crate) fn nearest<'n>(name: &str, known: impl Iterator<Item = &'n str>) -> String {
    let best = known
        .map(|other| (strsim::damerau_levenshtein(name, other), other))
        .min();
    best.map_or_else(
        || "There is none.".to_string(),
        |(_, other)| format!("The nearest is ‘{other}’."),
    )
}

impl<'a> Finder<'a, '_> {
    /// Tells a mistake of the block.
    pub(super) fn wrong(&mut self, place: &Place, message: String, remedy: impl Into<String>) {
        let said = Diagnostic::error("figure-block", Some(place), message);
        self.said.push(said.remedy(remedy));
    }

    pub(super) fn piece(&mut self, named: &Named) -> Option<&'a Piece> {
        let sized = self.sized;
        let found = sized.pieces.iter().find(|p| p.key == named.text);
        if found.is_none() {
            let keys = sized.pieces.iter().map(|p| p.key.as_str());
            let message = format!(
                "A figure names a piece ‘{}’, which the design has not",
                named.text
            );
            let remedy = nearest(&named.text, keys);
            self.wrong(&named.place, message, remedy);
        }
        found
    }

    pub(super) fn seam(&mut self, named: &Named) -> Option<&'a WalkedSeam> {
        let sized = self.sized;
        let found = sized.seams.iter().find(|seam| seam.name == named.text);
        if found.is_none() {
            let names = sized.seams.iter().map(|seam| seam.name.as_str());
            let message = format!(
                "A figure names a seam ‘{}’, which the design has not",
                named.text
            );
            let remedy = nearest(&named.text, names);
            self.wrong(&named.place, message, remedy);
        }
        found
    }

    pub(super) fn edge<'p>(&mut self, piece: &'p Piece, named: &Named) -> Option<&'p Edge> {
        let found = piece.outline.edge(&named.text);
        if found.is_none() {
            let names = piece.outline.edges().iter().map(|e| e.name.as_str());
            let message = format!("{} has no edge ‘{}’", piece.title, named.text);
            let remedy = nearest(&named.text, names);
            self.wrong(&named.place, message, remedy);
        }
        found
    }

    /// The notch of a piece with this name.
    pub(super) fn notch<'p>(&mut self, ply: &'p Ply, named: &Named) -> Option<&'p NotchSeen> {
        let found = ply.notches.iter().find(|n| n.name == named.text);
        if found.is_none() {
            let names = ply.notches.iter().map(|n| n.name.as_str());
            let message = format!("{} has no notch ‘{}’", ply.piece.title, named.text);
            let remedy = nearest(&named.text, names);
            self.wrong(&named.place, message, remedy);
        }
        found
    }

    /// The value of a length, at least zero mm.
    pub(super) fn length(&mut self, formula: &Formula) -> Option<f64> {
        match formula.evaluate(self.values, Dimension::Length) {
            Ok(length) if length >= 0.0 => Some(length),
            Ok(_) => {
                let message = "A length in a figure is less than nothing".to_string();
                self.wrong(&formula.place, message, "Give a length of zero or more.");
                None
            }
            Err(message) => {
                let remedy = "Check the length and the measures it names.";
                self.wrong(&formula.place, message, remedy);
                None
            }
        }
    }

    /// The tints of a piece: right side and the side that is up.
    pub(super) fn tints(&mut self, shown: &Shown, piece: &Piece) -> Option<[Tint; 2]> {
        let key = match &shown.cloth {
            Some(named) => {
                if !piece.cuts.iter().any(|cut| cut.material == named.text) {
                    let keys = piece.cuts.iter().map(|cut| cut.material.as_str());
                    let message = format!("{} is not cut from ‘{}’", piece.title, named.text);
                    let remedy = nearest(&named.text, keys);
                    self.wrong(&named.place, message, remedy);
                    return None;
                }
                Some(named.text.as_str())
            }
            None => piece.cuts.first().map(|cut| cut.material.as_str()),
        };
        let right = key.map_or(Tint::Right, |key| right_side(self.design, key));
        let side = shown.side.unwrap_or(Side::Right);
        Some([right, side.tint(right)])
    }

    /// Where a place of the ply lies, in the piece's axes, if the ply has it.
    pub(super) fn spot(&mut self, ply: &Ply, spot: &Spot) -> Option<Point> {
        match &spot.what {
            SpotKind::Edge(name) => {
                let edge = self.edge(&ply.piece, name)?;
                let outward = edge.station(edge.length() / 2.0);
                Some(outward.point)
            }
            SpotKind::Notch(name) => {
                let notch = self.notch(ply, name)?;
                Some(notch.point + notch.outward * notch.allowance)
            }
            SpotKind::Corner([a, b]) => self.corner(&ply.piece, a, b),
            SpotKind::Mark(name) => self.mark(&ply.piece, name),
            SpotKind::Piece(_) => Some(middle(ply)),
        }
    }

    fn corner(&mut self, piece: &Piece, a: &Named, b: &Named) -> Option<Point> {
        let (first, second) = (self.edge(piece, a)?, self.edge(piece, b)?);
        let meets = [(first, second), (second, first)]
            .into_iter()
            .find(|(x, y)| x.end().distance(y.start()) < 1e-3);
        if meets.is_none() {
            let message = format!(
                "The edges ‘{}’ and ‘{}’ of {} do not meet",
                a.text, b.text, piece.title
            );
            let remedy = "Name two edges that follow each other.";
            self.wrong(&a.place, message, remedy);
        }
        meets.map(|(x, _)| x.end())
    }

    fn mark(&mut self, piece: &Piece, named: &Named) -> Option<Point> {
        let words = |mark: &crate::piece::Mark| mark_names(mark).any(|w| w == named.text);
        let found = piece.marks.iter().find(|mark| words(mark));
        if found.is_none() {
            let names: Vec<String> = piece.marks.iter().flat_map(mark_names).collect();
            let message = format!("{} has no mark ‘{}’", piece.title, named.text);
            let remedy = nearest(&named.text, names.iter().map(String::as_str));
            self.wrong(&named.place, message, remedy);
        }
        found.and_then(mark_spot)
    }
}

/// The words of a mark, and the word of its kind.
pub(super) fn mark_names(mark: &crate::piece::Mark) -> impl Iterator<Item = String> {
    use crate::piece::MarkKind;
    let kind = match mark.kind {
        MarkKind::Hole { .. } => "hole",
        MarkKind::Eyelet { .. } => "eyelet",
        MarkKind::Button { .. } => "button",
        MarkKind::Buttonhole { .. } => "buttonhole",
        MarkKind::Line { .. } => "line",
    };
    mark.words.clone().into_iter().chain([kind.to_string()])
}

/// A point well inside the surface: its middle, or the nearest of a grid to it that lies inside.
fn middle(ply: &Ply) -> Point {
    let bounds = ply.surface.bounding_box();
    let centre = bounds.center();
    let steps = 12;
    let grid = (0..steps * steps).map(|i| {
        let share = |n: usize| (n as f64 + 0.5) / f64::from(steps as u32);
        Point::new(
            bounds.x0 + share(i % steps) * bounds.width(),
            bounds.y0 + share(i / steps) * bounds.height(),
        )
    });
    let inside = std::iter::once(centre)
        .chain(grid)
        .filter(|p| is_inside(&ply.surface, *p));
    inside
        .min_by(|a, b| a.distance(centre).total_cmp(&b.distance(centre)))
        .unwrap_or(centre)
}

/// How the right side of a cloth is tinted: by what it is cut for.
fn right_side(design: &Design, key: &str) -> Tint {
    let cloth = design.cloth.iter().find(|cloth| cloth.key == key);
    let words = cloth.map_or_else(String::new, |cloth| {
        let kind = cloth.kind.as_deref().unwrap_or_default();
        format!("{key} {} {kind}", cloth.name).to_lowercase()
    });
    let any = |names: &[&str]| names.iter().any(|name| words.contains(name));
    if any(&["interfacing", "stiffener", "fusible"]) {
        Tint::Stiffener
    } else if key.contains("lining") {
        Tint::Lining
    } else {
        Tint::Right
    }
}
