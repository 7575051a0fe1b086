//! The texts of two editions: chapters, steps, and words of the design.

use crate::edition::record::{ChapterRecord, Content, LanguageText, SectionRecord};
use std::collections::BTreeSet;

/// What became of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// It is new.
    Added,
    /// It is there no more.
    Removed,
    /// It differs.
    Changed,
}

impl Kind {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Added => "added",
            Self::Removed => "removed",
            Self::Changed => "changed",
        }
    }
}

/// A text that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextChange {
    /// The language's tag.
    pub language: String,
    /// The chapter; none for words of the design.
    pub chapter: Option<String>,
    /// Number of the step, in the booklet that has it, from 1.
    pub step: Option<usize>,
    /// Head of the section or the step, or the key of the words.
    pub head: String,
    /// What became of it.
    pub kind: Kind,
}

/// The texts that differ, in the languages that both have.
pub(super) fn texts(old: &Content, new: &Content) -> Vec<TextChange> {
    let mut changes = Vec::new();
    for text in &new.text {
        let Some(before) = old.text.iter().find(|t| t.language == text.language) else {
            continue;
        };
        words(before, text, &mut changes);
        chapters(before, text, &mut changes);
    }
    changes
}

fn words(old: &LanguageText, new: &LanguageText, changes: &mut Vec<TextChange>) {
    let keys: BTreeSet<&String> = old.words.keys().chain(new.words.keys()).collect();
    for key in keys {
        let kind = match (old.words.get(key), new.words.get(key)) {
            (None, _) => Kind::Added,
            (_, None) => Kind::Removed,
            (a, b) if a == b => continue,
            _ => Kind::Changed,
        };
        changes.push(TextChange {
            language: new.language.clone(),
            chapter: None,
            step: None,
            head: key.clone(),
            kind,
        });
    }
}

/// A section with its chapter and the number of its step.
struct Section<'a> {
    chapter: &'a ChapterRecord,
    step: Option<usize>,
    section: &'a SectionRecord,
}

fn sections(text: &LanguageText) -> Vec<Section<'_>> {
    let mut steps = 0;
    let mut all = Vec::new();
    for chapter in &text.chapters {
        for section in &chapter.sections {
            let is_step = chapter.steps && !section.head.is_empty();
            steps += usize::from(is_step);
            all.push(Section {
                chapter,
                step: is_step.then_some(steps),
                section,
            });
        }
    }
    all
}

/// Sections are known by chapter and head; one whose head alone was changed is known by its text.
fn chapters(old: &LanguageText, new: &LanguageText, changes: &mut Vec<TextChange>) {
    let (before, after) = (sections(old), sections(new));
    let mut left: Vec<&Section<'_>> = before.iter().collect();
    let mut rest: Vec<&Section<'_>> = Vec::new();
    let change = |section: &Section<'_>, kind| TextChange {
        language: new.language.clone(),
        chapter: Some(section.chapter.chapter.clone()),
        step: section.step,
        head: section.section.head.clone(),
        kind,
    };
    let mut found = Vec::new();
    let head = |s: &Section<'_>| (s.chapter.chapter.clone(), s.section.head.clone());
    for section in &after {
        match left.iter().position(|other| head(other) == head(section)) {
            Some(at) => {
                let other = left.remove(at);
                if other.section.text != section.section.text {
                    found.push((section, Kind::Changed));
                }
            }
            None => rest.push(section),
        }
    }
    for section in rest {
        let own = &section.section.text;
        let same = |other: &&Section<'_>| !own.is_empty() && other.section.text == *own;
        let kind = match left.iter().position(same) {
            Some(at) => {
                left.remove(at);
                Kind::Changed
            }
            None => Kind::Added,
        };
        found.push((section, kind));
    }
    let place = |section: &Section<'_>| {
        after
            .iter()
            .position(|other| std::ptr::eq(other.section, section.section))
    };
    found.sort_by_key(|(section, _)| place(section));
    changes.extend(
        found
            .into_iter()
            .map(|(section, kind)| change(section, kind)),
    );
    changes.extend(
        left.into_iter()
            .map(|section| change(section, Kind::Removed)),
    );
}
