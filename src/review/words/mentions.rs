//! Whether the steps speak of every piece.

use super::super::text::Section;
use super::super::{Subject, warning};
use super::words_have;
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

/// Each piece is named in the steps, and not only where it is cut.
pub(super) fn pieces(subject: &Subject, said: &mut Diagnostics) {
    if !subject.text.has_steps() || !subject.lexicon.is_known() {
        return;
    }
    let told = told(subject);
    for (number, piece) in subject.design.pieces.iter().enumerate() {
        let title = &piece.title;
        let mut others = subject.design.pieces.iter().enumerate();
        // which of two pieces of one title is meant nobody can tell; that is told of their titles
        let shares = others.any(|(other, piece)| other != number && piece.title == *title);
        if told.worked.contains(&number) || shares {
            continue;
        }
        if told.named.contains(&number) {
            if !told.shown.contains(&number) && subject.design.pieces.len() > 1 {
                let message =
                    format!("the steps have ‘{title}’ cut, and never say what becomes of it");
                let remedy = "say in a step where it is sewn, laid or glued";
                said.push(warning("piece-unmentioned", &piece.place, message, remedy));
            }
            continue;
        }
        let message = format!("no step names the piece ‘{title}’");
        let remedy = "say in a step what is done with it, by its name";
        said.push(warning("piece-unmentioned", &piece.place, message, remedy));
    }
}

/// Numbers of pieces, by how the text speaks of them.
#[derive(Default)]
struct Told {
    /// In steps.
    named: BTreeSet<usize>,
    /// In sentences of steps that do not only cut.
    worked: BTreeSet<usize>,
    /// In figures of steps.
    shown: BTreeSet<usize>,
}

fn told(subject: &Subject) -> Told {
    let names = subject.piece_names();
    let mut told = Told::default();
    for at in subject.text.steps() {
        let mentions = subject.pieces_in(&names, at.sentence);
        let numbers = || mentions.iter().map(|mention| mention.of);
        told.named.extend(numbers());
        if !cuts(subject, at.section) {
            told.worked.extend(numbers());
        }
    }
    for (_, section) in subject.text.sections().filter(|(_, s)| s.step.is_some()) {
        for figure in &section.figures {
            told.shown
                .extend(figure.pieces.iter().filter_map(|key| subject.piece(key)));
            for sentence in &figure.caption {
                let mentions = subject.pieces_in(&names, sentence);
                told.named.extend(mentions.iter().map(|mention| mention.of));
            }
        }
    }
    told
}

/// Whether a step cuts and does nothing else.
fn cuts(subject: &Subject, section: &Section) -> bool {
    let head = section.sentences.iter().find(|sentence| sentence.is_head);
    head.is_some_and(|head| {
        words_have(subject.lexicon, "cut", &head.words)
            && !words_have(subject.lexicon, "join", &head.words)
    })
}
