//! Words of which a key takes one: for the schema of the files. What the reader takes is its own matter; a
//! test asks it.

use super::super::fit_spec::FitChange;
use super::super::form::Form;
use super::super::shoe_spec::ClosureSpec;
use super::super::thread::Stitch;
use super::super::trim::TrimKind;

/// Words of a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Choice {
    /// In the order in which the reader tells them.
    pub words: Vec<&'static str>,
    /// Whether the key takes something else too, such as an angle or a length.
    pub open: bool,
}

/// The words that the key at `path` takes; `None` if it takes any.
pub(super) fn choice(path: &str) -> Option<Choice> {
    let closed = |words: &[&'static str]| (words.to_vec(), false);
    let open = |words: &[&'static str]| (words.to_vec(), true);
    let (words, open) = match path {
        "paper" => open(&[
            "a4", "letter", "either", "a3", "legal", "tabloid", "a2", "a1", "a0",
        ]),
        "forms" => (Form::ALL.map(Form::words).to_vec(), false),
        "plates.sizes" => closed(&["side by side", "nested"]),
        "lengths.first" => closed(&["metric", "inch"]),
        "lengths.other" => closed(&["brackets", "none"]),
        "cloth.CLOTH.sides" => closed(&["alike", "right and wrong"]),
        "cloth.CLOTH.pieces lie" => closed(&["either way", "one way"]),
        "cloth.CLOTH.lay" => closed(&["single", "double"]),
        "cloth.CLOTH.stretch" => closed(&["none", "across", "along", "both ways"]),
        "cloth.CLOTH.selvedge" | "cloth.CLOTH.spacing" | "seams.SEAM.easing" => open(&["none"]),
        "trims.TRIM.kind" => (firsts(&TrimKind::WORDS), false),
        "thread.stitch" | "thread.also.LINE.stitch" | "seams.SEAM.stitch" => {
            (firsts(&Stitch::WORDS), false)
        }
        "shoe.closure" => (firsts(&ClosureSpec::ALL), false),
        "shoe.drafted from" => closed(&["form", "strips"]),
        "fit.change" => (firsts(&FitChange::ALL), false),
        "fit.side" => closed(&["inner", "outer"]),
        "pieces.PIECE.corners" | "pieces.PIECE.corners.all" => {
            open(&["mitre", "round", "chamfer", "square", "folded"])
        }
        "pieces.PIECE.allowance" | "pieces.PIECE.allowance.all" => open(&["none"]),
        "pieces.PIECE.grain" => open(&["none", "lengthwise", "crosswise", "bias"]),
        "pieces.PIECE.lines.kind" => closed(&["placement", "stitching", "fold"]),
        "cutting.notches" => open(&["slits", "triangles", "marked"]),
        "seams.SEAM.direction" => closed(&["opposite", "same"]),
        "foot.tracing.unit" => closed(&["mm", "cm", "in"]),
        "foot.tracing.inner side" => closed(&["left", "right"]),
        "booklet.kind" => closed(&["text", "steps"]),
        "booklet.part" => closed(&["make ready", "make", "look up"]),
        _ => return None,
    };
    Some(Choice { words, open })
}

fn firsts<T>(pairs: &[(&'static str, T)]) -> Vec<&'static str> {
    pairs.iter().map(|(word, _)| *word).collect()
}
