//! Whether a piece is cut before it is sewn.

use super::super::names::{Names, has};
use super::super::text::At;
use super::super::{Subject, warning};
use super::words_have;
use crate::diagnostic::Diagnostics;

/// The first sentence that cuts a piece, or all of them, stands before the first one that sews it. Only
/// a sentence that names the cloth, or stands in a step that is called so, cuts a piece out; other ones may
/// cut it open.
pub(super) fn cut_before_sewn(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let names = subject.piece_names();
    let cloths = subject.cloth_names();
    let steps: Vec<At<'_>> = subject
        .text
        .steps()
        .filter(|at| !at.sentence.is_head)
        .collect();
    for (number, piece) in subject.design.pieces.iter().enumerate() {
        let mentions = |at: &At<'_>| {
            names
                .find(&at.sentence.words)
                .iter()
                .any(|m| m.of == number)
        };
        let cut = steps.iter().position(|at| {
            cuts_all(subject, at) || (mentions(at) && cuts_out(subject, at, &cloths))
        });
        let sewn = steps
            .iter()
            .position(|at| mentions(at) && sews(subject, at));
        let (Some(cut), Some(sewn)) = (cut, sewn) else {
            continue;
        };
        if sewn < cut && steps[sewn].section.step < steps[cut].section.step {
            let [earlier, later] = [sewn, cut].map(|i| steps[i].section.step.unwrap_or(0));
            let message = format!(
                "‘{}’ is sewn in step {earlier}, and cut only in step {later}",
                piece.title
            );
            let remedy = "put the step that cuts it before the one that sews it";
            said.push(warning(
                "sewn-before-cut",
                &steps[sewn].place(0),
                message,
                remedy,
            ));
            // the same steps in the wrong order are told once
            return;
        }
    }
}

fn cuts_all(subject: &Subject, at: &At<'_>) -> bool {
    has(subject.lexicon.list("cut all"), &at.sentence.words)
}

fn cuts_out(subject: &Subject, at: &At<'_>, cloths: &Names) -> bool {
    let lexicon = subject.lexicon;
    let head = at
        .section
        .sentences
        .iter()
        .find(|sentence| sentence.is_head);
    let called_so = head.is_some_and(|head| words_have(lexicon, "cut", &head.words));
    words_have(lexicon, "cut", &at.sentence.words)
        && (called_so || !cloths.find(&at.sentence.words).is_empty())
}

fn sews(subject: &Subject, at: &At<'_>) -> bool {
    words_have(subject.lexicon, "join", &at.sentence.words)
        && !words_have(subject.lexicon, "cut", &at.sentence.words)
}
