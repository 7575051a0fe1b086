//! Whether the text is written to its end: no note of the designer to herself, no sentence that breaks
//! off.

use super::super::names::first_of;
use super::super::{Subject, error, warning};
use crate::diagnostic::Diagnostics;

/// Signs that stand for what is still to be written.
const SIGNS: [&str; 5] = ["???", "[…]", "[...]", "<…>", "XX mm"];

/// Shorter paragraphs without an end are labels.
const SHORTEST: usize = 4;

pub(super) fn unfinished(subject: &Subject, said: &mut Diagnostics) {
    let remedy = "write what is to stand there, or take it away";
    let list = subject.lexicon.list("unfinished");
    let found = |raw: &str, words: &[super::Word]| {
        let phrase = first_of(list, words).map(|(number, _)| list[number].text.to_uppercase());
        let sign = SIGNS.iter().find(|sign| raw.contains(**sign));
        phrase.or(sign.map(|sign| (*sign).to_string()))
    };
    for at in subject.text.all() {
        let sentence = at.sentence;
        if let Some(sign) = found(&sentence.raw, &sentence.words) {
            let message = format!("the text is not finished: ‘{sign}’ stands in it");
            said.push(error("text-unfinished", &at.place(0), message, remedy));
        }
        let breaks_off = sentence.closes_paragraph && !sentence.ended && !sentence.is_head;
        if breaks_off
            && sentence.words.len() >= SHORTEST
            && !sentence.raw.ends_with(['\u{fffc}', ',', ';'])
        {
            let last = sentence.words.last().map_or("", |word| word.text.as_str());
            let message = format!("a paragraph breaks off after ‘{last}’");
            let remedy = "finish the sentence, or close it with a full stop";
            said.push(warning(
                "text-unfinished",
                &at.place(sentence.words.len() - 1),
                message,
                remedy,
            ));
        }
    }
    for (path, text) in subject.own_texts() {
        let words = super::super::text::words(&text, subject.lexicon, |at| at);
        if let Some(sign) = found(&text, &words) {
            let message = format!("‘{path}’ is not finished: ‘{sign}’ stands in it");
            let place = subject.text_place(&path, &text);
            said.push(error("text-unfinished", &place, message, remedy));
        }
    }
}
