//! Whether the text counts more of a piece or trim than the lists have, or too few where it is cut.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::Phrase;
use super::super::names::{Mention, Names, stands_in_any_form};
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::words_have;
use crate::diagnostic::Diagnostics;

/// ‘The four linings’ where two are cut, ‘one lining’ where two are listed.
pub(super) fn pieces(subject: &Subject, said: &mut Diagnostics) {
    // in German ‘ein’ is an article before it is a number
    if !subject.lexicon.has_habit("one counts") {
        return;
    }
    let names = subject.piece_names();
    let cloths = subject.cloth_names();
    let mut told = Vec::new();
    for at in plain_sentences(subject) {
        let words = &at.sentence.words;
        let cuts = words_have(subject.lexicon, "cut", words);
        for piece in names.find(words) {
            let spec = &subject.design.pieces[piece.of];
            let total: u32 = spec.cuts.iter().map(|cut| cut.count).sum();
            let Some(count) = number_before(subject, words, &piece).filter(|_| total > 0) else {
                continue;
            };
            let too_many = !cuts && count > total && is_plural(words, &piece);
            let too_few = count == 1
                && total > 1
                && cuts
                && spec.cuts.len() == 1
                && cut_from_its_cloth(subject, words, &piece, &cloths)
                && !is_cut_again(subject, at);
            if (too_many || too_few) && !told.contains(&piece.of) {
                told.push(piece.of);
                let message = format!(
                    "the text speaks of {count} of ‘{}’, and the list has {total}",
                    spec.title
                );
                let remedy = "change the number in the text, or in the piece's ‘cut:’";
                let place = at.place(piece.from);
                said.push(warning("count-disagrees", &place, message, remedy));
            }
        }
    }
}

/// ‘The four buttons’ where one is listed.
pub(super) fn trims(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.has_habit("plural shows") {
        return;
    }
    let lexicon = subject.lexicon;
    let nouns: Vec<Option<String>> = subject
        .design
        .trims
        .iter()
        .map(|trim| super::super::names::head_noun(&trim.name, lexicon))
        .collect();
    let mut names = Names::default();
    for (number, noun) in nouns.iter().enumerate() {
        let alone = nouns.iter().filter(|other| *other == noun).count() == 1;
        if let Some(noun) = noun.as_ref().filter(|_| alone) {
            names.add(noun, number, lexicon);
        }
    }
    let mut told = Vec::new();
    for at in plain_sentences(subject) {
        let words = &at.sentence.words;
        for mention in names.find(words) {
            let Some(trim) = subject.design.trims.get(mention.of) else {
                continue;
            };
            let count = number_before(subject, words, &mention);
            let Some(count) = count.filter(|_| trim.kind.is_hard() && is_plural(words, &mention))
            else {
                continue;
            };
            if count > trim.count && !told.contains(&mention.of) {
                told.push(mention.of);
                let message = format!(
                    "the text speaks of {count} of ‘{}’, and the list has {}",
                    trim.name, trim.count
                );
                let remedy = "change the number in the text, or the ‘count:’ of the trim";
                let place = at.place(mention.from);
                said.push(warning("count-disagrees", &place, message, remedy));
            }
        }
    }
}

/// Sentences of steps that ask for what they name. Those of a pair, or of each, count otherwise.
fn plain_sentences<'s>(subject: &'s Subject) -> impl Iterator<Item = At<'s>> {
    let lexicon = subject.lexicon;
    let steps = subject.text.steps().filter(|at| !at.sentence.is_head);
    steps.filter(move |at| {
        let words = &at.sentence.words;
        let has = |list: &str| words_have(lexicon, list, words);
        // what is joined to ‘each other’ is not counted for each
        let each = has("each") && !has("each other");
        !left_to_the_reader(lexicon, words) && !each && !has("pair")
    })
}

/// A number right before a name, or before it with ‘of the’ or one adjective between.
fn number_before(subject: &Subject, words: &[Word], name: &Mention) -> Option<u32> {
    let lexicon = subject.lexicon;
    let before = &words[name.from.saturating_sub(2)..name.from];
    let parted = words[name.from].parted || before.last().is_some_and(|word| word.parted);
    let single = |word: &Word| match lexicon.has_word("single", &word.lower) {
        true => Some(1),
        false => lexicon.number(&word.lower),
    };
    let next = before.last().and_then(single);
    let far = before.first().filter(|_| before.len() == 2);
    let adjective = before
        .last()
        .is_some_and(|word| !lexicon.has_word("no adjective", &word.lower));
    let found = next.or(far.filter(|_| adjective && !parted).and_then(single));
    found.filter(|_| !words[name.from].parted && !denied(lexicon, words, name.from))
}

fn is_plural(words: &[Word], name: &Mention) -> bool {
    let last = &words[name.to - 1];
    last.lower != last.noun
}

/// Whether ‘from’ and the cloth of a piece follow right behind it.
fn cut_from_its_cloth(subject: &Subject, words: &[Word], piece: &Mention, cloths: &Names) -> bool {
    let behind = &words[piece.to..];
    let cloth = cloths.find(behind).into_iter().next();
    cloth.is_some_and(|cloth| {
        let between = &behind[..cloth.from];
        let from = words_have(subject.lexicon, "from", between);
        let key = &subject.design.cloth[cloth.of].key;
        let cuts = &subject.design.pieces[piece.of].cuts;
        from && between.len() <= 2 && cuts.iter().any(|cut| cut.cloth == *key)
    })
}

/// Whether the step has it cut again, through several layers, or for one of two things.
fn is_cut_again(subject: &Subject, at: At<'_>) -> bool {
    let [again, no_time] = ["again", "no time"].map(|list| subject.lexicon.list(list));
    let mut sentences = at.section.sentences.iter();
    sentences.any(|sentence| {
        let stands = |list: &[Phrase], from: usize| {
            let mut phrases = list.iter();
            phrases.any(|phrase| stands_in_any_form(phrase, &sentence.words, from))
        };
        // half the allowance is no half of the cloth
        (0..sentence.words.len()).any(|from| stands(again, from) && !stands(no_time, from))
    })
}
