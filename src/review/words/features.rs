//! Words that ask for what the design lacks: notches, the bias, a fold, a sewing machine, a needle of the size
//! that is listed.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::Lexicon;
use super::super::names::first_of;
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::words_have;
use crate::design::GrainSpec;
use crate::diagnostic::Diagnostics;

/// The grain of a piece on the bias lies within this of 45°, degrees.
const ABOUT: f64 = 15.0;

/// ‘Notch to notch’ where no piece has one, or neither edge of the seam that is named.
pub(super) fn notches(subject: &Subject, said: &mut Diagnostics) {
    let seams = super::seams::seam_names(subject);
    let pieces = || subject.sizes.iter().flat_map(|size| &size.pieces);
    let any = pieces().any(|piece| !piece.notches.is_empty());
    for at in subject.text.steps() {
        let words = &at.sentence.words;
        let Some(place) = asked(subject, &at, "notch to notch") else {
            continue;
        };
        let named = seams.find(words);
        // the figure of the step may show the seam that is meant, and its words name another one besides
        let figures = at.section.figures.iter();
        let shown = figures.filter_map(|figure| {
            let mut seams = subject.design.seams.iter();
            seams.position(|seam| Some(&seam.name) == figure.seam.as_ref())
        });
        let without = named
            .iter()
            .map(|mention| mention.of)
            .chain(shown)
            .all(|seam| {
                let seam = &subject.design.seams[seam];
                let ends = [&seam.join, &seam.to];
                !pieces().any(|piece| {
                    let mut notches = piece.notches.iter();
                    notches.any(|notch| {
                        let here = |end: &&crate::design::EdgeRef| {
                            end.piece == piece.key && end.edge == notch.edge
                        };
                        ends.iter().any(here)
                    })
                })
            });
        if any && (named.is_empty() || !without) {
            continue;
        }
        let message = match any {
            true => format!(
                "the text matches notches, and the seam ‘{}’ has none",
                subject.design.seams[named[0].of].name
            ),
            false => "the text matches notches, and no piece has one".to_string(),
        };
        let remedy = "give the edges their ‘notches:’, or say otherwise how they meet";
        said.push(warning("notch-missing", &at.place(place), message, remedy));
        return;
    }
}

/// A piece that the text lays on the bias, with a grain line that is not.
pub(super) fn bias(subject: &Subject, said: &mut Diagnostics) {
    let names = subject.piece_names();
    for at in subject.text.all().filter(|at| !at.sentence.is_head) {
        let Some(place) = asked(subject, &at, "on the bias") else {
            continue;
        };
        let mut before = names.find(&at.sentence.words).into_iter().rev();
        let Some(piece) = before.find(|mention| mention.to <= place) else {
            continue;
        };
        let spec = &subject.design.pieces[piece.of];
        let GrainSpec::Angle(angle) = spec.grain else {
            continue;
        };
        if (angle.rem_euclid(90.0) - 45.0).abs() > ABOUT {
            let message = format!(
                "the text has ‘{}’ on the bias, and its grain line is not",
                spec.title
            );
            let remedy = "write ‘grain: bias’ for the piece, or change the text";
            said.push(warning(
                "grain-disagrees",
                &at.place(place),
                message,
                remedy,
            ));
        }
    }
}

/// A note ‘on the fold’ on the label of a piece that is drawn whole.
pub(super) fn fold(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    for piece in &subject.design.pieces {
        let note = piece.note.as_deref().unwrap_or_default();
        let words = super::super::text::words(note, lexicon, |at| at);
        let Some((_, at)) = first_of(lexicon.list("on the fold"), &words) else {
            continue;
        };
        let is_cut = words_have(lexicon, "cut", &words) || words.len() <= 4;
        if piece.on_fold.is_none() && is_cut && !denied(lexicon, &words, at) {
            let message = format!(
                "the note of ‘{}’ speaks of a fold, and the piece is drawn whole",
                piece.title
            );
            let remedy = "write ‘on fold: EDGE’ for the piece, or change its note";
            said.push(warning("fold-missing", &piece.place, message, remedy));
        }
    }
}

/// A seam that the text sews on the machine where all thread is counted for stitches by hand, and a needle for a
/// machine that nothing is sewn on.
pub(super) fn machine(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let design = subject.design;
    let Some(thread) = &design.thread else {
        return;
    };
    let lines = thread.also.iter().filter_map(|line| line.stitch);
    let seams = design.seams.iter().filter_map(|seam| seam.stitch);
    let mut all = lines.chain(seams).chain([thread.stitch]);
    if !super::stitches::says_its_stitch(subject) || all.any(|stitch| stitch.by_machine()) {
        return;
    }
    let by_machine = subject
        .text
        .steps()
        .filter(|at| !at.sentence.is_head)
        .find_map(|at| {
            let words = &at.sentence.words;
            let has = |list: &str| words_have(lexicon, list, words);
            let place = asked(subject, &at, "by machine").filter(|_| has("sew"));
            let place = place.filter(|_| !has("with one's hand"))?;
            Some(at.place(place))
        });
    let stitch = thread.stitch.words();
    if let Some(place) = by_machine {
        let message = format!(
            "the step sews on the machine, and the thread is counted for a {stitch}, which is sewn \
             by hand"
        );
        let remedy = "name the stitch of the machine under ‘thread:’, or sew by hand";
        said.push(warning("stitch-disagrees", &place, message, remedy));
        return;
    }
    let machine = |words: &[Word]| words_have(lexicon, "machine", words);
    let told = subject.text.all().any(|at| machine(&at.sentence.words));
    let words_of = |tool: &str| super::super::text::words(tool, lexicon, |at| at);
    for tool in design.tools.iter().filter(|_| !told) {
        if words_have(lexicon, "machine needle", &words_of(tool)) {
            let message = format!(
                "the list has ‘{tool}’, and all is sewn by hand: the thread is counted for a {stitch}"
            );
            let remedy = "list a needle for sewing by hand, or name the stitch of the machine";
            let place = subject.place_below("tools", tool);
            said.push(warning("needle-disagrees", &place, message, remedy));
        }
    }
}

/// A needle of another size than those that are listed.
pub(super) fn needles(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let mut listed: Vec<String> = Vec::new();
    for tool in &subject.design.tools {
        let words = super::super::text::words(tool, lexicon, |at| at);
        if words.iter().any(|word| is_needle(lexicon, word)) {
            let numbers = words.iter().filter(|word| is_number(&word.lower));
            // 80/12 is one size in two systems
            let sizes = numbers.flat_map(|w| w.lower.split('/').chain([w.lower.as_str()]));
            listed.extend(sizes.map(str::to_string));
        }
    }
    listed.sort();
    listed.dedup();
    for at in subject.text.steps().filter(|_| !listed.is_empty()) {
        let words = &at.sentence.words;
        let sized = (0..words.len()).find(|n| {
            let size = lexicon.has_word("needle size", &words[*n].lower);
            let next = words.get(n + 1);
            let number = next.is_some_and(|next| !next.parted && is_number(&next.lower));
            let around = &words[n.saturating_sub(2)..(n + 4).min(words.len())];
            size && number && around.iter().any(|word| is_needle(lexicon, word))
        });
        let Some(number) = sized.map(|n| n + 1) else {
            continue;
        };
        let word = &words[number];
        let is_asked = !denied(lexicon, words, number) && !left_to_the_reader(lexicon, words);
        if is_asked && !listed.contains(&word.lower) {
            let message = format!(
                "the step asks for a needle of size {}, and the list has {}",
                word.text,
                listed.join(", ")
            );
            let remedy = "name the needle of the list, or add this one to ‘tools:’";
            said.push(warning(
                "needle-disagrees",
                &at.place(number),
                message,
                remedy,
            ));
        }
    }
}

fn is_needle(lexicon: &Lexicon, word: &Word) -> bool {
    let mut needles = lexicon.list("needle").iter();
    needles.any(|needle| needle.words[0].noun == word.noun)
}

fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit()) && !word.ends_with(char::is_alphabetic)
}

/// Where a sentence first has a phrase of a list that is neither denied nor left to the reader.
fn asked(subject: &Subject, at: &At<'_>, list: &str) -> Option<usize> {
    let lexicon = subject.lexicon;
    let words = &at.sentence.words;
    let (_, place) = first_of(lexicon.list(list), words)?;
    let is_asked = !denied(lexicon, words, place) && !left_to_the_reader(lexicon, words);
    is_asked.then_some(place)
}
