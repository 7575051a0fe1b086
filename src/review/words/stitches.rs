//! Whether the steps sew with the stitch for which thread was counted.

use super::super::names::stands_in_any_form;
use super::super::{Subject, warning};
use super::words_have;
use crate::design::Stitch;
use crate::diagnostic::Diagnostics;
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

/// Whether the design itself names the stitch of its seams.
fn says_its_stitch(subject: &Subject) -> bool {
    let own = subject.design.original.as_deref().unwrap_or(subject.design);
    let source = &own.source.text;
    let after = source.split_once("\nthread:").map(|(_, after)| after);
    after.is_some_and(|after| {
        let group = after.split("\n\n").next().unwrap_or_default();
        group.contains("stitch:")
    })
}
