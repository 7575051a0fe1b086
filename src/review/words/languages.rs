//! A design in several languages says the same in all of them.

use super::super::lexicon::{Lexicon, Phrase};
use super::super::text::{Chapter, Section};
use super::super::{Subject, error, warning};
use super::{seams, side_by_side};
use crate::design::ChapterKind;
use crate::diagnostic::{Diagnostics, Place};

/// Fewer small words of another language may stand in a name.
const FEWEST: usize = 2;

/// A sentence in another language than its chapter's. A chapter that is not translated was told before.
pub(super) fn mixed(subject: &Subject, said: &mut Diagnostics) {
    let language = subject
        .design
        .language
        .split('-')
        .next()
        .unwrap_or_default();
    if !Lexicon::languages().contains(&language) {
        return;
    }
    let small = |other: &str| Lexicon::of(other).list("function words");
    let count = |words: &[super::Word], list: &[Phrase]| {
        let is_small = |word: &&super::Word| list.iter().any(|p| p.words[0].lower == word.lower);
        words.iter().filter(is_small).count()
    };
    let is_translated = |chapter: &Chapter| match &subject.design.original {
        None => true,
        Some(own) => !own
            .chapters
            .iter()
            .any(|c| c.source == chapter.filled.sources[0]),
    };
    let is_foreign = |words: &[super::Word]| {
        let others = Lexicon::languages()
            .into_iter()
            .filter(|other| *other != language);
        let foreign = others.map(|other| count(words, small(other))).max();
        foreign.unwrap_or(0) >= FEWEST && count(words, small(language)) == 0
    };
    let mut tell = |what: &str, place: &Place| {
        let message = format!("{what} is in another language than its chapter");
        said.push(warning("language-mixed", place, message, "translate it"));
    };
    for at in subject.text.all() {
        if is_translated(at.chapter) && is_foreign(&at.sentence.words) {
            tell("a sentence", &at.place(0));
        }
    }
    for (chapter, section) in subject.text.sections() {
        for figure in section.figures.iter().filter(|_| is_translated(chapter)) {
            if figure
                .caption
                .iter()
                .any(|sentence| is_foreign(&sentence.words))
            {
                tell("a caption", &figure.place);
            }
        }
    }
}

/// The chapters of steps of a design in another language have as many steps, and each step the same values.
/// Whether all is translated, with all its steps.
pub(in crate::review) fn compare(own: &Subject, other: &Subject, said: &mut Diagnostics) -> bool {
    let mut whole = true;
    for (chapter, translated) in own.text.chapters.iter().zip(&other.text.chapters) {
        let same_file = chapter.filled.sources.first() == translated.filled.sources.first();
        whole &= !same_file;
        if same_file {
            continue;
        }
        if chapter.kind != ChapterKind::Steps {
            let [own, other] = [chapter, translated].map(|chapter| {
                let sections = chapter.sections.iter();
                sections.map(|section| section.cautions).sum()
            });
            let place = translated.filled.place(0);
            side_by_side::cautions(own, other, ("chapter", &place), said);
            continue;
        }
        let [steps, others] = [chapter, translated].map(|chapter| {
            let sections = chapter.sections.iter();
            sections
                .filter(|section| section.step.is_some())
                .collect::<Vec<_>>()
        });
        if steps.len() != others.len() {
            let message = format!(
                "the chapter ‘{}’ has {} steps, and {} in the language ‘{}’",
                chapter.title,
                steps.len(),
                others.len(),
                other.design.language
            );
            let remedy = "give both the same steps, in the same order";
            let place = first_difference(&steps, &others, translated);
            said.push(error("language-steps-differ", &place, message, remedy));
            whole = false;
            continue;
        }
        for (step, translated_step) in steps.iter().zip(&others) {
            values(chapter, step, translated, translated_step, said);
            seams::in_translation((own, step), (other, translated, translated_step), said);
            let here = (other, translated, *translated_step);
            side_by_side::steps((own, chapter, step), here, said);
        }
    }
    whole
}

/// Where the steps of a translation part from those of the original: by the values that they name.
fn first_difference(own: &[&Section], other: &[&Section], chapter: &Chapter) -> Place {
    let figures = |section: &Section| -> Vec<Option<String>> {
        section
            .figures
            .iter()
            .map(|figure| figure.name.clone())
            .collect()
    };
    let mut pairs = own.iter().zip(other);
    let at = pairs.position(|(a, b)| figures(a) != figures(b));
    let section = other.get(at.unwrap_or(other.len().saturating_sub(1)));
    section.map_or_else(|| chapter.filled.place(0), |section| section.place(chapter))
}

/// Tells of the first value of a step that the other language has not.
fn values(
    own: &Chapter,
    step: &Section,
    other: &Chapter,
    translated: &Section,
    said: &mut Diagnostics,
) {
    let [mut missing, mut extra] = [asked(own, step), asked(other, translated)];
    let shared: Vec<String> = missing
        .iter()
        .filter(|name| extra.contains(name))
        .cloned()
        .collect();
    missing.retain(|name| !shared.contains(name));
    extra.retain(|name| !shared.contains(name));
    if missing.is_empty() != extra.is_empty() {
        // what only stands in another step of the chapter is said all the same
        let [all_own, all_other] = [own, other].map(|chapter| {
            let steps = chapter.sections.iter();
            steps
                .flat_map(|step| asked(chapter, step))
                .collect::<Vec<String>>()
        });
        missing.retain(|name| !all_other.contains(name));
        extra.retain(|name| !all_own.contains(name));
    }
    if missing.is_empty() && extra.is_empty() {
        return;
    }
    let quoted = |names: &[String]| {
        let quoted: Vec<String> = names.iter().map(|name| format!("‘{name}’")).collect();
        quoted.join(", ")
    };
    let message = match (missing.as_slice(), extra.as_slice()) {
        (missing, []) => format!(
            "this step names {} in the other language only",
            quoted(missing)
        ),
        ([], extra) => format!(
            "this step names {}, and not so in the other language",
            quoted(extra)
        ),
        (missing, extra) => format!(
            "this step names {} where the other language names {}",
            quoted(extra),
            quoted(missing)
        ),
    };
    let remedy = "name the same values in both languages";
    // a value may be left out in one language for a reason; another in its place cannot be right
    let told = match missing.is_empty() || extra.is_empty() {
        true => warning,
        false => error,
    };
    said.push(told(
        "language-values-differ",
        &translated.place(other),
        message,
        remedy,
    ));
}

/// Names of the values that a step prints, each once: what stands in the braces, without filters.
fn asked(chapter: &Chapter, step: &Section) -> Vec<String> {
    let mut sections = chapter.sections.iter();
    let end = sections
        .find(|section| section.at > step.at)
        .map_or(usize::MAX, |next| next.at);
    let inside = |offset: usize| offset >= step.at && offset < end;
    let anchors = chapter
        .filled
        .anchors
        .iter()
        .filter(|a| a.fixed && inside(a.offset));
    let mut names: Vec<String> = Vec::new();
    for anchor in anchors {
        let Some(source) = chapter.filled.sources.get(anchor.file) else {
            continue;
        };
        let line = source
            .text
            .lines()
            .nth(anchor.line.saturating_sub(1))
            .unwrap_or_default();
        let tag: String = line.chars().skip(anchor.column.saturating_sub(1)).collect();
        let inner = tag
            .strip_prefix("{{")
            .and_then(|rest| rest.split("}}").next());
        let name = inner.map(|inner| {
            inner
                .split('|')
                .next()
                .unwrap_or_default()
                .trim()
                .to_string()
        });
        if let Some(name) = name.filter(|name| is_measured(name) && !names.contains(name)) {
            names.push(name);
        }
    }
    names.sort();
    names
}

/// Whether a name is that of a length or a number; words may stand in one language alone, and figures are
/// looked at in each.
fn is_measured(name: &str) -> bool {
    let words = [".title", ".name", ".note"];
    let others = ["design.", "figure."];
    !words.iter().any(|end| name.ends_with(end))
        && !others.iter().any(|start| name.starts_with(start))
}
