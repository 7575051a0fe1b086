//! Whether the text is written to its end: no note of the designer to herself, no sentence that breaks
//! off.

use super::super::lexicon::Lexicon;
use super::super::names::first_of;
use super::super::text::Word;
use super::super::{Subject, error, warning};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};

/// Signs that stand for what is still to be written.
const SIGNS: [&str; 5] = ["???", "[…]", "[...]", "<…>", "XX mm"];

/// Signs that are nothing else.
const CERTAIN: [&str; 4] = ["TODO", "FIXME", "TBD", "LOREM IPSUM"];

/// Shorter paragraphs without an end are labels.
const SHORTEST: usize = 4;

pub(super) fn unfinished(subject: &Subject, said: &mut Diagnostics) {
    let remedy = "write what is to stand there, or take it away";
    let found = |raw: &str, words: &[Word]| sign(subject.lexicon, raw, words);
    for at in subject.text.all() {
        let sentence = at.sentence;
        if let Some((sign, told)) = found(&sentence.raw, &sentence.words) {
            let message = format!("the text is not finished: ‘{sign}’ stands in it");
            said.push(told("text-unfinished", &at.place(0), message, remedy));
        }
        let breaks_off = sentence.closes_paragraph && !sentence.ended && !sentence.is_head;
        if breaks_off
            && sentence.words.len() >= SHORTEST
            && !sentence.raw.ends_with(['\u{fffc}', ',', ';'])
            && !asks_for_a_note(&sentence.raw)
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
        if let Some((sign, told)) = found(&text, &words) {
            let message = format!("‘{path}’ is not finished: ‘{sign}’ stands in it");
            let place = subject.text_place(&path, &text);
            said.push(told("text-unfinished", &place, message, remedy));
        }
    }
}

/// Whether a sentence ends with the mark of a footnote that is not written; that is told of the mark.
fn asks_for_a_note(raw: &str) -> bool {
    raw.ends_with(']') && raw.contains("[^")
}

/// Makes a message of its level.
type Told = fn(&'static str, &Place, String, &str) -> Diagnostic;

/// What of a text is a note of the designer, and how sure that is: capitals are, a common word is not.
fn sign(lexicon: &Lexicon, raw: &str, words: &[Word]) -> Option<(String, Told)> {
    let list = lexicon.list("unfinished");
    let phrase = first_of(list, words).map(|(number, at)| {
        let text = list[number].text.to_uppercase();
        let is_sure =
            CERTAIN.contains(&text.as_str()) && (text.contains(' ') || words[at].text == text);
        (text, if is_sure { error as Told } else { warning })
    });
    let sign = SIGNS.iter().find(|sign| raw.contains(**sign));
    phrase.or(sign.map(|sign| ((*sign).to_string(), warning as Told)))
}
