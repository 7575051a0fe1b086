//! All pieces of one size, finished, and their seams walked.

use super::context::Context;
use super::model::{Cut, Piece, SizedPieces};
use super::{grain, mark, mirrored, notch, seam, seen};
use crate::design::{Design, PieceSpec, Size};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::{CutPiece, Draft};

/// Finishes every piece that was drafted and walks every seam between finished pieces.
pub fn finish(
    design: &Design,
    size: &Size,
    draft: &Draft,
    diagnostics: &mut Diagnostics,
) -> SizedPieces {
    let mut pieces = Vec::new();
    for (index, spec) in design.pieces.iter().enumerate() {
        let Some(drafted) = draft.pieces.get(&spec.key) else {
            continue;
        };
        let context = Context {
            spec,
            size,
            draft,
            drafted,
            is_sewn: is_sewn(design, spec),
        };
        pieces.extend(context.piece(index + 1, diagnostics));
    }
    notch::carry(design, &mut pieces, diagnostics);
    let seams = seam::walk_all(design, size, draft, &pieces, diagnostics);
    let sized = SizedPieces {
        size: size.key.clone(),
        title: size.title.clone(),
        words: size.words.clone(),
        pieces,
        seams,
    };
    let mut sized = mirrored::of_one_foot(sized, design, size, diagnostics);
    seen::tell(&mut sized, design, size);
    sized
}

fn is_sewn(design: &Design, spec: &PieceSpec) -> bool {
    let mut ends = design.seams.iter().flat_map(|seam| [&seam.join, &seam.to]);
    ends.any(|end| end.piece == spec.key)
}

impl Context<'_> {
    fn piece(&self, number: usize, diagnostics: &mut Diagnostics) -> Option<Piece> {
        let outline = &self.drafted.outline;
        self.check_fold(diagnostics);
        let CutPiece {
            allowances,
            cut_line,
        } = self.drafted.cut.clone()?;
        let notches = notch::of_piece(self, &allowances, diagnostics);
        let marks = mark::of_piece(self, diagnostics);
        let common = self.spec.common_point.as_ref();
        let common_point = common.and_then(|spec| mark::point(self, spec, diagnostics));
        let cut = |c: &crate::design::CutSpec| Cut {
            material: c.cloth.clone(),
            count: c.count,
            mirrored: c.mirrored,
        };
        Some(Piece {
            key: self.spec.key.clone(),
            number,
            title: self.spec.title.clone(),
            note: self.spec.note.clone(),
            outline: outline.clone(),
            grain: grain::line(outline, self.spec.grain, &marks),
            grain_within: self.spec.grain_within,
            common_point,
            cut_line,
            allowances,
            fold: self.spec.on_fold.as_ref().map(|(edge, _)| edge.clone()),
            notches,
            marks,
            cuts: self.spec.cuts.iter().map(cut).collect(),
            place: self.spec.place.clone(),
        })
    }

    /// A length in this size, mm; `None` after a report.
    pub(super) fn length(
        &self,
        formula: &crate::design::Formula,
        diagnostics: &mut Diagnostics,
    ) -> Option<f64> {
        let values = &self.draft.values;
        let missing = |name: &&str| crate::design::formula::Scope::value(values, name).is_none();
        if formula.names().iter().any(missing) {
            return None;
        }
        match formula.evaluate(values, crate::design::Dimension::Length) {
            Ok(value) => Some(value),
            Err(message) => {
                let message = format!("{message}, in size {}", self.size.title);
                let remedy = "check the formula and the measures it uses";
                diagnostics.push(
                    Diagnostic::error("formula-value", Some(&formula.place), message)
                        .remedy(remedy),
                );
                None
            }
        }
    }

    /// An edge that lies on the fold of the cloth must be straight: one that bulges by more than
    /// a tenth of a millimetre would open into a dart.
    fn check_fold(&self, diagnostics: &mut Diagnostics) {
        let Some((name, place)) = &self.spec.on_fold else {
            return;
        };
        let Some(edge) = self.drafted.outline.edge(name) else {
            return;
        };
        let chord = edge.start().distance(edge.end());
        if edge.length() - chord > 0.1 {
            let message = format!(
                "Edge {name} of {} lies on the fold but is not straight: it is {:.1} mm long and \
                 its ends are {chord:.1} mm apart",
                self.spec.title,
                edge.length()
            );
            let said = Diagnostic::error("fold-curved", Some(place), message)
                .remedy("Draw the edge on the fold as one straight line.");
            diagnostics.push(said);
        }
    }
}
