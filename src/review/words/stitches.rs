//! Whether the steps sew with the stitch for which thread was counted.

use super::super::names::stands_in_any_form;
use super::super::text::{Section, Sentence};
use super::super::{Subject, warning};
use super::words_have;
use crate::booklet::FigureRequest;
use crate::design::{Dimension, Stitch};
use crate::diagnostic::Diagnostics;
use crate::draft::Values;
use crate::figure::flat::request::Stitching;
use std::collections::BTreeSet;

/// A stitch that a step sews a seam with, and that neither the thread nor a seam of the design has. What
/// closes a gap, gathers, or is drawn out again takes little thread, and is not asked for.
pub(super) fn as_the_thread(subject: &Subject, said: &mut Diagnostics) {
    let design = subject.design;
    let Some(thread) = design.thread.as_ref().filter(|_| says_its_stitch(subject)) else {
        return;
    };
    let lines = thread.also.iter().filter_map(|line| line.stitch);
    let seams = design.seams.iter().filter_map(|seam| seam.stitch);
    let known: BTreeSet<Stitch> = lines.chain(seams).chain([thread.stitch]).collect();
    let lexicon = subject.lexicon;
    let called = lexicon.list("stitches").iter().filter_map(|entry| {
        let (name, words) = entry.text.split_once('=')?;
        let stitch = Stitch::WORDS
            .iter()
            .find(|(known, _)| *known == name.trim())?
            .1;
        let phrases = words.split(',').map(|words| lexicon.phrase(words));
        Some((stitch, phrases.collect::<Vec<_>>()))
    });
    let mut told = BTreeSet::new();
    // a lining is slip-stitched in, an edge whipped, whatever the seams are sewn with
    let passing = |stitch: &Stitch| matches!(stitch, Stitch::Slip | Stitch::Whipstitch);
    for (stitch, phrases) in called.filter(|(s, _)| !known.contains(s) && !passing(s)) {
        for at in subject.text.steps() {
            let words = &at.sentence.words;
            if words_have(lexicon, "passing stitches", words) || words_have(lexicon, "not", words) {
                continue;
            }
            let here = |from: &usize| phrases.iter().any(|p| stands_in_any_form(p, words, *from));
            let Some(from) = (0..words.len()).find(here) else {
                continue;
            };
            if told.insert(stitch) {
                let message = format!(
                    "the step sews with a {}, and the thread is counted for a {}",
                    stitch.words(),
                    thread.stitch.words()
                );
                let remedy = "name the stitch of the step under ‘thread:’, or sew as it says";
                said.push(warning(
                    "stitch-disagrees",
                    &at.place(from),
                    message,
                    remedy,
                ));
            }
        }
    }
}

/// A row that a figure draws so far inside a turned edge that it does not catch the allowance behind it.
/// Named measures are judged with the pieces; a row that no word calls one along an edge may be a casing,
/// or hold layers together.
pub(super) fn within_the_allowance(subject: &Subject, said: &mut Diagnostics) {
    if subject.design.original.is_some() {
        return; // what is drawn is the same in every language
    }
    let asked = subject.prose.figures.iter();
    let rows = asked.flat_map(|figure| {
        let rows = figure.flat.iter().flat_map(|flat| &flat.stitching);
        rows.map(move |row| (figure, row))
    });
    for (figure, row) in rows {
        let Some(formula) = row.inside.as_ref().filter(|f| f.names().is_empty()) else {
            continue;
        };
        let piece = row.piece.as_ref().map(|piece| &piece.text);
        let piece = piece.or(figure.pieces.first());
        let (Some(piece), true) = (piece, runs_along_an_edge(subject, figure)) else {
            continue;
        };
        let Ok(inside) = formula.evaluate(&Values::default(), Dimension::Length) else {
            continue;
        };
        let Some(deep) = deepest(subject, piece, row).filter(|deep| inside > deep + 0.05) else {
            continue;
        };
        let message = format!(
            "the row, {inside:.1} mm from the edge, does not catch the allowance, which is {deep:.1} mm deep"
        );
        let remedy = "sew the row nearer to the edge, or give more allowance";
        said.push(warning(
            "stitch-outside-allowance",
            &formula.place,
            message,
            remedy,
        ));
    }
}

/// Whether the step of a figure speaks of a row along an edge.
fn runs_along_an_edge(subject: &Subject, figure: &FigureRequest) -> bool {
    let here = |section: &&Section| section.figures.iter().any(|f| f.place == figure.place);
    let mut sections = subject.text.sections().map(|(_, section)| section);
    let section = sections.find(here);
    let sentences = section.iter().flat_map(|section| &section.sentences);
    let words = &subject.design.words;
    let text = |sentence: &Sentence| {
        let words = sentence.words.iter().map(|word| word.lower.as_str());
        words.collect::<Vec<_>>().join(" ")
    };
    let caption = figure.caption.iter().cloned();
    let mut said = sentences.map(text).chain(caption);
    said.any(|text| words.knows("known.edge row", &text))
}

/// The deepest allowance along the edges of a row, mm; none if one of them has none.
fn deepest(subject: &Subject, piece: &str, row: &Stitching) -> Option<f64> {
    let pieces = subject.sizes.iter().flat_map(|size| &size.pieces);
    let mut deepest: Option<f64> = None;
    for piece in pieces.filter(|one| one.key == piece) {
        let edges = piece.outline.edges().iter().zip(&piece.allowances);
        for (edge, allowance) in edges {
            let meant = row.edges.is_empty() || row.edges.iter().any(|e| e.text == edge.name);
            let fold = piece.fold.as_deref() == Some(edge.name.as_str());
            if !meant || fold {
                continue;
            }
            if *allowance < 1e-6 {
                return None;
            }
            deepest = Some(deepest.map_or(*allowance, |most| most.max(*allowance)));
        }
    }
    deepest
}

/// Whether the design itself names the stitch of its seams.
pub(super) fn says_its_stitch(subject: &Subject) -> bool {
    let own = subject.design.original.as_deref().unwrap_or(subject.design);
    let source = &own.source.text;
    let after = source.split_once("\nthread:").map(|(_, after)| after);
    after.is_some_and(|after| {
        let group = after.split("\n\n").next().unwrap_or_default();
        group.contains("stitch:")
    })
}
