//! Whether a seam is sewn twice.

use super::super::lexicon::Lexicon;
use super::super::names::Mention;
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::seams::seam_names;
use super::words_have;
use crate::diagnostic::Diagnostics;

/// Two sentences that sew one seam, each by its name, and neither says that it is sewn again or speaks of
/// other pieces: the lining may have seams of the same name. Silent in a language without the list `sews`.
pub(super) fn seams(subject: &Subject, said: &mut Diagnostics) {
    if subject.lexicon.list("sews").is_empty() {
        return;
    }
    let names = seam_names(subject);
    let pieces = subject.piece_names();
    let mut sewn: Vec<Option<usize>> = vec![None; subject.design.seams.len()];
    for at in subject.text.steps().filter(|at| !at.sentence.is_head) {
        let words = &at.sentence.words;
        let says = |list: &str| words_have(subject.lexicon, list, words);
        let step = at.section.step.unwrap_or(0);
        if says("again") || says("each") || says("left to the reader") || says("not") {
            continue;
        }
        let strangers = |number: usize| {
            let seam = &subject.design.seams[number];
            let own = [&seam.join.piece, &seam.to.piece];
            let mut all = at
                .section
                .sentences
                .iter()
                .flat_map(|s| pieces.find(&s.words));
            all.any(|mention| !own.contains(&&subject.design.pieces[mention.of].key))
        };
        for mention in names.find(words) {
            if !is_object(subject.lexicon, words, &mention) || strangers(mention.of) {
                continue;
            }
            match sewn[mention.of] {
                Some(earlier) => tell(subject, at, &mention, earlier, said),
                None => sewn[mention.of] = Some(step),
            }
        }
    }
}

/// Whether a sentence says to sew just this: `sew the right side`, alone or in a row of seams.
fn is_object(lexicon: &Lexicon, words: &[Word], seam: &Mention) -> bool {
    let is = |list: &str, word: &Word| lexicon.has_word(list, &word.lower);
    let before = seam.from.checked_sub(1);
    let is_the = before.is_some_and(|at| is("the", &words[at]));
    let begins = words.iter().position(|word| is("sews", word));
    let first = begins.filter(|at| *at <= 1);
    let last = &words[seam.to - 1];
    let behind = words.get(seam.to);
    let of_cloth = behind.is_some_and(|word| is("sides of cloth", word));
    // what stands between is a row of seams, nothing that is sewn on to it
    let row = first.is_some_and(|at| {
        let mut between = words[at + 1..seam.from].iter();
        between.all(|word| !is("sewn on to", word))
    });
    let several = seam.to - seam.from > 1 && last.lower == last.noun;
    is_the && row && several && !of_cloth
}

fn tell(subject: &Subject, at: At<'_>, seam: &Mention, earlier: usize, said: &mut Diagnostics) {
    let name = &subject.design.seams[seam.of].name;
    let message = format!("the seam ‘{name}’ is sewn here, and in step {earlier} before");
    let remedy = "sew each seam once, or say that it is sewn again";
    said.push(warning("seam-twice", &at.place(seam.from), message, remedy));
}
