//! Whether a caption names the seam and the size that its figure draws.

use super::super::names::stands;
use super::super::text::{Figure, Sentence};
use super::super::{Subject, warning};
use crate::design::Size;
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

/// A caption of another seam than the one that is drawn. A name that holds the other is no contradiction: the
/// inner side seam of the lining may be called an inner side seam.
pub(super) fn seams(subject: &Subject, said: &mut Diagnostics) {
    let names = super::seams::seam_names(subject);
    let seams = &subject.design.seams;
    for figure in figures(subject) {
        let drawn = figure.seam.as_ref();
        let drawn = drawn.and_then(|name| seams.iter().position(|seam| seam.name == *name));
        let (Some(drawn), Some(caption)) = (drawn, figure.caption.first()) else {
            continue;
        };
        let mentions = names.find(&caption.words);
        let named: BTreeSet<usize> = mentions.iter().map(|mention| mention.of).collect();
        let own = subject.lexicon.phrase(&seams[drawn].name);
        let says_own = own
            .words
            .iter()
            .all(|word| caption.words.iter().any(|other| other.noun == word.noun));
        if named.is_empty() || named.contains(&drawn) || says_own {
            continue;
        }
        let told: Vec<String> = named
            .iter()
            .map(|n| format!("‘{}’", seams[*n].name))
            .collect();
        let message = format!(
            "the caption names the seam {}, and the figure draws ‘{}’",
            told.join(", "),
            seams[drawn].name
        );
        let remedy = "change the caption, or the figure's ‘seam:’";
        said.push(warning("caption-disagrees", &figure.place, message, remedy));
    }
}

/// A caption that names a size by its title beside the word, and a figure of another size.
pub(super) fn sizes(subject: &Subject, said: &mut Diagnostics) {
    let sizes = &subject.design.sizes;
    for figure in figures(subject) {
        let Some(request) = &figure.request else {
            continue;
        };
        let drawn = match &request.size {
            Some(key) => sizes.iter().find(|size| size.key == *key),
            None => sizes.first(),
        };
        let named: Vec<&Size> = figure
            .caption
            .iter()
            .flat_map(|sentence| named_sizes(subject, sentence))
            .collect();
        let Some(drawn) = drawn else {
            continue;
        };
        let fits = |size: &&Size| size.declared == drawn.declared;
        if let Some(other) = named.first().filter(|_| !named.iter().any(fits)) {
            let message = format!(
                "the caption names size ‘{}’, and the figure draws size ‘{}’",
                other.declared_title(),
                drawn.declared_title()
            );
            let remedy = "change the caption, or the figure's ‘size:’";
            said.push(warning("caption-disagrees", &figure.place, message, remedy));
        }
    }
}

/// All figures that are drawn.
fn figures<'s>(subject: &'s Subject) -> impl Iterator<Item = &'s Figure> {
    let sections = subject.text.sections();
    let figures = sections.flat_map(|(_, section)| &section.figures);
    figures.filter(|figure| figure.drawn)
}

/// Sizes whose titles stand beside the word ‘size’.
fn named_sizes<'s>(subject: &'s Subject, sentence: &Sentence) -> Vec<&'s Size> {
    let lexicon = subject.lexicon;
    let words = &sentence.words;
    let is_size = |at: usize| {
        let mut list = lexicon.list("size").iter();
        at < words.len() && list.any(|phrase| stands(phrase, words, at))
    };
    let sizes = subject.design.sizes.iter();
    let named = sizes.filter(|size| {
        // a size for one foot has its side behind its title
        let title = lexicon.phrase(&size.declared_title());
        let long = title.words.len();
        let mut places = (0..words.len()).filter(|at| stands(&title, words, *at));
        long > 0
            && places.any(|at| {
                let before = at.checked_sub(1).is_some_and(is_size) && !words[at].parted;
                let behind = is_size(at + long) && !words[at + long].parted;
                before || behind
            })
    });
    named.collect()
}
