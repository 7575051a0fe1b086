//! Whether the steps cut as many lengths of a trim as the list has, and how many pieces they count in all.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::Lexicon;
use super::super::names::{Names, has, head_noun};
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::words_have;
use crate::diagnostic::{Diagnostics, Place};

/// ‘Cut two lengths of cord’ where the list has one. Several steps may cut it, each a part.
pub(super) fn counts(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let names = trim_names(subject);
    let mut cut: Vec<Vec<(u32, Place)>> = vec![Vec::new(); subject.design.trims.len()];
    for at in subject
        .text
        .steps()
        .filter(|at| !at.sentence.is_head && asks_once(subject, at))
    {
        let words = &at.sentence.words;
        let has = |list: &str| words_have(subject.lexicon, list, words);
        if !has("cut") && !has("cut away") {
            continue;
        }
        for mention in names.find(words) {
            if denied(subject.lexicon, words, mention.from) {
                continue;
            }
            if let Some(count) = number_before(subject.lexicon, words, mention.from) {
                cut[mention.of].push((count, at.place(mention.from)));
            }
        }
    }
    for (trim, cut) in subject.design.trims.iter().zip(cut) {
        let sum: u32 = cut.iter().map(|(count, _)| *count).sum();
        let fits = sum == trim.count || cut.iter().any(|(count, _)| *count == trim.count);
        let Some((count, place)) = cut.first().filter(|_| !fits) else {
            continue;
        };
        let message = format!(
            "the step has {count} of ‘{}’ cut, and the list {}",
            trim.name, trim.count
        );
        let remedy = "change the number in the step, or the ‘count:’ of the trim";
        said.push(warning("count-disagrees", place, message, remedy));
    }
}

/// The trims by their names, and by their nouns where no other has the same.
fn trim_names(subject: &Subject) -> Names {
    let lexicon = subject.lexicon;
    let mut names = Names::default();
    let trims = &subject.design.trims;
    let nouns: Vec<Option<String>> = trims.iter().map(|t| head_noun(&t.name, lexicon)).collect();
    for (number, trim) in trims.iter().enumerate() {
        names.add(&trim.name, number, lexicon);
    }
    let is_own = subject.design.original.is_none();
    for (number, trim) in trims.iter().enumerate().filter(|_| is_own) {
        names.add(&trim.key, number, lexicon);
    }
    for (number, noun) in nouns.iter().enumerate() {
        let alone = nouns.iter().filter(|other| *other == noun).count() == 1;
        if let Some(noun) = noun.as_ref().filter(|_| alone) {
            names.add(noun, number, lexicon);
        }
    }
    names
}

/// Whether a sentence has a thing done once, not for each of several or by halves. An ‘each’ at the end of a clause
/// tells how long each one is.
fn asks_once(subject: &Subject, at: &At<'_>) -> bool {
    let lexicon = subject.lexicon;
    let words = &at.sentence.words;
    let each = (0..words.len()).any(|n| {
        let next = words.get(n + 1);
        has(lexicon.list("each"), &words[n..=n]) && next.is_some_and(|next| !next.parted)
    });
    let has = |list: &str| words_have(lexicon, list, words);
    !each && !has("pair") && !has("again") && !left_to_the_reader(lexicon, words)
}

/// A number before the thing at `thing`: right before it, with one adjective between, or before ‘lengths of’.
fn number_before(lexicon: &Lexicon, words: &[Word], thing: usize) -> Option<u32> {
    let is = |list: &str, at: usize| words_have(lexicon, list, &words[at..=at]);
    let mut end = thing;
    let is_of = |word: &Word| lexicon.has_word("of a length", &word.lower);
    if end > 0 && is_of(&words[end - 1]) {
        end -= 1;
        if !end.checked_sub(1).is_some_and(|at| is("lengths", at)) {
            return None;
        }
    }
    if end > 0 && is("lengths", end - 1) {
        end -= 1;
    }
    for at in (end.saturating_sub(2)..end).rev() {
        let behind = words.get(at + 1)?;
        let number = lexicon.number(&words[at].lower);
        if let Some(number) = number.filter(|_| !behind.parted) {
            // in German ‘ein’ is an article before it is a number
            return Some(number).filter(|n| *n > 1 || lexicon.has_habit("one counts"));
        }
        let small = lexicon.has_word("function words", &words[at].lower);
        if small || words[at].parted || behind.parted {
            return None;
        }
    }
    None
}

/// ‘Five pieces make the bag’ where four are cut.
pub(super) fn all_pieces(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let pieces = &subject.design.pieces;
    let cut = |cuts: &[crate::design::CutSpec]| cuts.iter().map(|cut| cut.count).sum::<u32>();
    let each: Vec<u32> = pieces.iter().map(|piece| cut(&piece.cuts)).collect();
    if each.is_empty() || each.contains(&0) {
        return;
    }
    let sum: u32 = each.iter().sum();
    for at in subject.text.steps().filter(|at| !at.sentence.is_head) {
        let words = &at.sentence.words;
        for (number, word) in words.iter().enumerate().skip(1) {
            let count = lexicon.number(&words[number - 1].lower);
            let general = lexicon.list("pieces in general");
            let Some(count) =
                count.filter(|_| !word.parted && has(general, &words[number..=number]))
            else {
                continue;
            };
            let next = words.get(number + 1);
            let of = next.is_some_and(|next| !next.parted && lexicon.has_word("from", &next.lower));
            if of || count <= sum || left_to_the_reader(lexicon, words) {
                continue;
            }
            let message = format!("the text counts {count} pieces, and {sum} are cut");
            let remedy = "change the number in the text, or the ‘cut:’ of the pieces";
            said.push(warning(
                "count-disagrees",
                &at.place(number),
                message,
                remedy,
            ));
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::text::words;

    #[test]
    fn a_number_stands_before_a_thing_or_before_lengths_of_it() {
        let count = |language: &str, text: &str| {
            let lexicon = Lexicon::of(language);
            let words = words(text, lexicon, |at| at);
            number_before(lexicon, &words, words.len() - 1)
        };
        assert_eq!(count("en", "Cut two lengths of cord"), Some(2));
        assert_eq!(count("en", "Cut one waist tape"), Some(1));
        assert_eq!(count("en", "Cut two and fold the tape"), None);
        assert_eq!(count("en", "Cut 30 cm of cord"), None);
        assert_eq!(count("de", "Zwei Stücke Gurtband"), Some(2));
        assert_eq!(count("de", "Zwei Stücke vom Gurtband"), Some(2));
        assert_eq!(count("de", "Ein Stück Gurtband"), None);
    }
}
