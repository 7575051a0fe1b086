//! Whether a step says what its own figure draws: which sides lie together, on which side a piece is laid, with
//! which stitch it is sewn. What the text does not say is never missed.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::Phrase;
use super::super::names::{has, stands_in_any_form};
use super::super::text::{Chapter, Figure, Section, Sentence};
use super::super::{Subject, warning};
use crate::diagnostic::{Diagnostics, Place};
use crate::figure::flat::request::{Scene, Side};
use std::collections::BTreeSet;

const REMEDY: &str = "say what the figure draws, or change the figure";

/// ‘Wrong sides together’ above a figure of right sides together.
pub(super) fn together(subject: &Subject, said: &mut Diagnostics) {
    for (chapter, section) in subject.text.sections() {
        for figure in section.figures.iter().filter(|f| lie_together(f)) {
            let text = spoken(subject, (chapter, section), "wrong sides together");
            let right = |sentence: &Sentence| speaks(subject, "right sides together", sentence);
            let wrong = |sentence: &Sentence| speaks(subject, "wrong sides together", sentence);
            let text = text.filter(|_| !section.body().any(right));
            let caption = figure.caption.iter().any(wrong) && !figure.caption.iter().any(right);
            let caption = caption.then(|| figure.place.clone());
            if let Some(place) = text.or(caption) {
                let message = "the text has wrong sides together, and the figure draws right \
                               sides together";
                said.push(warning("figure-disagrees", &place, message.into(), REMEDY));
            }
        }
    }
}

fn lie_together(figure: &Figure) -> bool {
    figure.flat().is_some_and(|flat| {
        matches!(
            flat.scene,
            Scene::Together(_) | Scene::Seam { together: true, .. }
        )
    })
}

/// ‘On the right side’ above a figure that lays a piece on the wrong side, or the other way round.
pub(super) fn side(subject: &Subject, said: &mut Diagnostics) {
    for (chapter, section) in subject.text.sections() {
        for figure in &section.figures {
            let Some(Scene::On { ground, .. }) = figure.flat().map(|flat| &flat.scene) else {
                continue;
            };
            let (drawn, other, words) = match ground.side {
                Some(Side::Wrong) => ("on the wrong side", "on the right side", ["right", "wrong"]),
                Some(Side::Right) => ("on the right side", "on the wrong side", ["wrong", "right"]),
                None => continue,
            };
            let says_both = section.body().any(|s| speaks(subject, drawn, s));
            let place = spoken(subject, (chapter, section), other).filter(|_| !says_both);
            if let Some(place) = place {
                let message = format!(
                    "the step lays the piece on the {} side, and its figure draws the {} side up",
                    words[0], words[1]
                );
                said.push(warning("figure-disagrees", &place, message, REMEDY));
            }
        }
    }
}

/// A step that names one stitch, and a figure that names another: only where the step has a single figure, and
/// the sentence does not speak of another seam.
pub(super) fn stitch(subject: &Subject, said: &mut Diagnostics) {
    let stitches = stitches(subject);
    let seams = super::seams::seam_names(subject);
    for (chapter, section) in subject.text.sections() {
        let [figure] = section.figures.as_slice() else {
            continue;
        };
        let [drawn] = figure.stitches.as_slice() else {
            continue;
        };
        if sewn_beside(figure) {
            continue;
        }
        let mut named: BTreeSet<&str> = BTreeSet::new();
        let mut first: Option<Place> = None;
        for sentence in section.body() {
            let words = &sentence.words;
            let elsewhere = seams.find(words).iter().any(|mention| {
                let name = &subject.design.seams[mention.of].name;
                figure.seam.as_ref() != Some(name)
            });
            for (name, phrases) in &stitches {
                let here = |at: &usize| phrases.iter().any(|p| stands_in_any_form(p, words, *at));
                let Some(at) = (0..words.len()).find(here) else {
                    continue;
                };
                named.insert(name);
                let asked = !elsewhere
                    && !denied(subject.lexicon, words, at)
                    && !left_to_the_reader(subject.lexicon, words);
                if asked && first.is_none() {
                    first = Some(chapter.filled.place(words[at].at));
                }
            }
        }
        let mut only = named.iter();
        if let (Some(name), None, Some(place)) = (only.next(), only.next(), first)
            && name != drawn
        {
            let message = format!("the step sews with a {name}, and its figure shows a {drawn}");
            said.push(warning("stitch-disagrees", &place, message, REMEDY));
        }
    }
}

/// Whether a figure sews a seam without naming its stitch: then the rows that it names beside it are those of
/// earlier steps.
fn sewn_beside(figure: &Figure) -> bool {
    figure.flat().is_some_and(|flat| {
        matches!(
            flat.scene,
            Scene::Seam {
                together: true,
                stitch: None,
                ..
            }
        )
    })
}

/// The stitches that words can name, each with its phrases, in the words of the design.
fn stitches<'s>(subject: &'s Subject) -> Vec<(&'s str, Vec<Phrase>)> {
    let lexicon = subject.lexicon;
    let lists = lexicon.list("stitches").iter();
    let named = lists.filter_map(|entry| {
        let (name, words) = entry.text.split_once('=')?;
        let phrases = words.split(',').map(|words| lexicon.phrase(words));
        Some((name.trim(), phrases.collect()))
    });
    let tacking = ("tacking stitch", lexicon.list("tacking").to_vec());
    named.chain([tacking]).collect()
}

/// Whether a sentence has a phrase of a list.
fn speaks(subject: &Subject, list: &str, sentence: &Sentence) -> bool {
    has(subject.lexicon.list(list), &sentence.words)
}

/// Where the running text of a section first has a phrase of a list that is neither denied nor left to the reader.
fn spoken(
    subject: &Subject,
    (chapter, section): (&Chapter, &Section),
    list: &str,
) -> Option<Place> {
    let lexicon = subject.lexicon;
    section.body().find_map(|sentence| {
        let words = &sentence.words;
        let (_, at) = super::super::names::first_of(lexicon.list(list), words)?;
        let asked = !denied(lexicon, words, at) && !left_to_the_reader(lexicon, words);
        asked.then(|| chapter.filled.place(words[at].at))
    })
}
