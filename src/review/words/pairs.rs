//! Whether of each thing there are two for a pair.

use super::super::names::has;
use super::super::text::words;
use super::super::{Subject, warning};
use crate::diagnostic::Diagnostics;

/// What is made as one pair takes an even number of each piece, and of each trim that is cut to a length or
/// counted.
pub(super) fn even(subject: &Subject, said: &mut Diagnostics) {
    let makes = words(&subject.design.makes, subject.lexicon, |at| at);
    let one = makes
        .iter()
        .find_map(|word| subject.lexicon.number(&word.lower));
    if one != Some(1) || !has(subject.lexicon.list("pairs"), &makes) {
        return;
    }
    let remedy = "give each of the two its own: count what is cut for both";
    for piece in &subject.design.pieces {
        let count: u32 = piece.cuts.iter().map(|cut| cut.count).sum();
        if count % 2 == 1 {
            let message = format!("of ‘{}’ {count} are cut for a pair", piece.title);
            said.push(warning("pair-uneven", &piece.place, message, remedy));
        }
    }
    for trim in &subject.design.trims {
        let is_counted = trim.length.is_some() || trim.kind != crate::design::TrimKind::Other;
        if trim.count % 2 == 1 && is_counted {
            let message = format!("of ‘{}’ there are {} for a pair", trim.name, trim.count);
            said.push(warning("pair-uneven", &trim.place, message, remedy));
        }
    }
}
