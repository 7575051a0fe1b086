//! A piece in its place on a page: the files of its drawing's parts, and the layers of the finished PDF
//! that they and its words are on.

use super::composer::Composer;
use super::drawing::Drawing;
use super::nested::Nest;
use super::nested_groups::all_are_named;
use super::sheet::{PlacedPart, PlacedPiece};
use super::{Label, words};
use crate::diagnostic::Diagnostic;
use crate::language::Words;
use crate::piece::{Piece, SizedPieces};
use kurbo::Vec2;

/// Names of the layers of all plates of these sizes.
pub fn layers(sizes: &[SizedPieces], words: &Words) -> Vec<String> {
    let mut layers: Vec<String> = Vec::new();
    if sizes.len() > 1 {
        layers.extend(sizes.iter().map(|s| words.size(&s.title)));
    }
    let has_allowance = |piece: &Piece| piece.allowances.iter().any(|a| *a >= 1e-6);
    if sizes.iter().flat_map(|s| &s.pieces).any(has_allowance) {
        layers.push(words.get("plates.allowances").to_string());
    }
    layers
}

impl Composer<'_> {
    /// Path of a piece's drawing among the files, without its ending.
    pub(super) fn file(&self, nest: &Nest<'_>) -> String {
        let first = nest.members[0].size;
        let key = words::file_name(&self.sizes[first].size);
        // two keys may become one name; the number keeps them apart
        let twin = self.sizes[..first]
            .iter()
            .any(|s| words::file_name(&s.size) == key);
        let key = match (nest.is_nested(), twin) {
            // no size is called so: names of files have no underscores
            (true, _) => format!("_nested-{}", first + 1),
            (false, true) => format!("{key}-{}", first + 1),
            (false, false) => key,
        };
        let name = words::file_name(&nest.piece().key);
        format!("/plates/{key}/{:02}-{name}", nest.piece().number)
    }

    /// The piece in place, its parts among the files.
    pub(super) fn placed(
        &mut self,
        nest: &Nest<'_>,
        drawing: &Drawing,
        names: &[Label],
        by: Vec2,
    ) -> PlacedPiece {
        let stem = self.file(nest);
        let several = self.sizes.len() > 1;
        let allowances = self.layers.len().saturating_sub(1);
        let mut parts = Vec::new();
        for part in drawing.parts() {
            let file = format!("{stem}{}.svg", part.suffix);
            let mut layers: Vec<usize> = part.size.into_iter().filter(|_| several).collect();
            layers.extend(part.allowance.then_some(allowances));
            self.files.insert(file.clone(), part.svg);
            let alt = part.alt;
            parts.push(PlacedPart { file, alt, layers });
        }
        let sizes = nest.members.iter();
        PlacedPiece {
            sizes: sizes.map(|m| self.sizes[m.size].size.clone()).collect(),
            piece: nest.piece().key.clone(),
            parts,
            names: names.iter().map(|n| n.clone().moved(by)).collect(),
            place: drawing.bounds() + by,
            cut: drawing.cut_box() + by,
            rings: drawing.rings(by),
        }
    }

    /// The layer of what is said of the whole piece: its size's, unless it has several.
    pub(super) fn layer(&self, nest: &Nest<'_>) -> Option<usize> {
        let several = self.sizes.len() > 1;
        (several && !nest.is_nested()).then_some(nest.members[0].size)
    }

    /// Says so if a nested size has no name beside its lines: all would be dashes to be counted.
    pub(super) fn check_names(&mut self, nest: &Nest<'_>, names: &[Label]) {
        if nest.is_nested() && !all_are_named(nest, names) {
            let piece = nest.piece();
            let message = format!(
                "some names of {} on {} found no room clear of all lines",
                nest.words(),
                piece.title
            );
            let said = Diagnostic::warning("label-without-room", Some(&piece.place), message);
            self.notes
                .push(said.remedy("Shorten the titles of the sizes."));
        }
    }

    pub(super) fn unlabelled(&mut self, piece: &Piece) {
        self.notes.push(
            Diagnostic::warning(
                "label-without-room",
                Some(&piece.place),
                format!(
                    "the label of {} found no room clear of all lines",
                    piece.title
                ),
            )
            .remedy("Shorten the piece's title and note."),
        );
    }
}

/// The label on `layer`, unless it is on one already.
pub fn on_layer(label: Label, layer: Option<usize>) -> Label {
    let size = label.size.or(layer);
    Label { size, ..label }
}
