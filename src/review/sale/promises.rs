//! Whether the words for the cover, and what the design makes, agree with its pieces and sizes.

use super::super::names::stands;
use super::super::text::words;
use super::super::{Subject, warning};
use super::claims::{other_materials, promised_sizes, sizes};
use crate::diagnostic::Diagnostics;

pub(in crate::review) fn about(subject: &Subject, said: &mut Diagnostics) {
    let about = &subject.prose.about;
    let found = words(about, subject.lexicon, |at| at);
    let place = subject.text_place("about", about);
    if let Some((promised, _)) = promised_sizes(subject, &found)
        && promised != sizes(subject)
    {
        let message = format!(
            "the cover promises {promised} sizes, and there are {}",
            sizes(subject)
        );
        let remedy = "correct ‘about:’, or add the sizes";
        said.push(warning("about-disagrees", &place, message, remedy));
    }
    let lexicon = subject.lexicon;
    for trim in other_materials(subject, &found) {
        let message = format!("the cover speaks of ‘{trim}’, which is on no list of materials");
        said.push(warning(
            "about-disagrees",
            &place,
            message,
            "correct ‘about:’, or the lists",
        ));
    }
    let machine = subject.design.tools.iter().any(|tool| {
        let words = lexicon.phrase(tool);
        let only = words
            .words
            .iter()
            .any(|w| lexicon.has_word("machine", &w.lower));
        only && !words.words.iter().any(|w| lexicon.has_word("or", &w.lower))
    });
    let by_hand = super::super::names::has(lexicon.list("no machine"), &found);
    let stitch = subject
        .design
        .thread
        .as_ref()
        .is_some_and(|t| t.stitch.by_machine());
    if machine && by_hand && stitch {
        let message = "the cover says that it is sewn by hand, and the list has a sewing machine";
        said.push(warning(
            "about-disagrees",
            &place,
            message.into(),
            "correct ‘about:’, or ‘tools:’",
        ));
    }
}

/// What the design makes: for two pairs there are twice the pieces of one.
pub(in crate::review) fn makes(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let makes = &subject.design.makes;
    let found = words(makes, lexicon, |at| at);
    let Some(number) = found.first().and_then(|word| lexicon.number(&word.lower)) else {
        return;
    };
    let is_pair = (0..found.len()).any(|at| {
        lexicon
            .list("pairs")
            .iter()
            .any(|phrase| stands(phrase, &found, at))
    });
    let needed = if is_pair { 2 * number } else { number };
    let cut: Vec<(&str, u32)> = subject
        .design
        .pieces
        .iter()
        .filter(|piece| !piece.cuts.is_empty())
        .map(|piece| {
            (
                piece.title.as_str(),
                piece.cuts.iter().map(|cut| cut.count).sum(),
            )
        })
        .collect();
    // a long strip may be cut once and parted, so one piece may be fewer
    let enough = cut.iter().filter(|(_, count)| *count >= needed).count();
    if needed > 1 && !cut.is_empty() && enough == 0 {
        let listed: Vec<String> = cut
            .iter()
            .map(|(title, count)| format!("{count} {title}"))
            .collect();
        let message = format!(
            "it says that it makes ‘{makes}’, and cuts only {}",
            listed.join(", ")
        );
        let remedy =
            "correct ‘makes:’, or the numbers under ‘cut:’, which are for all that it makes";
        said.push(warning(
            "makes-disagrees",
            &subject.text_place("makes", makes),
            message,
            remedy,
        ));
    }
}
