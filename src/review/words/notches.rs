//! Whether double and triple notches are cut in some piece.

use super::super::names::first_of;
use super::super::{Subject, warning};
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

pub(super) fn as_many(subject: &Subject, said: &mut Diagnostics) {
    let pieces = subject.sizes.iter().flat_map(|size| &size.pieces);
    let counts: BTreeSet<u32> = pieces
        .flat_map(|p| p.notches.iter().map(|n| n.count))
        .collect();
    for (list, count) in [("double notch", 2), ("triple notch", 3)] {
        if counts.contains(&count) {
            continue;
        }
        let phrases = subject.lexicon.list(list);
        let found = subject.text.all().find_map(|at| {
            let (number, word) = first_of(phrases, &at.sentence.words)?;
            Some((at.place(word), &phrases[number].text))
        });
        if let Some((place, words)) = found {
            let message = format!("the text speaks of a {words}, and no piece has one");
            let remedy = "give the notches their ‘count:’, or speak of single ones";
            said.push(warning("notch-count-disagrees", &place, message, remedy));
        }
    }
}
