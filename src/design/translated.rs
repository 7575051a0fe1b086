//! A design with the texts of another language in their places. Nothing but texts differs, so that pieces
//! and amounts are the same in every language.

use super::model::{Design, FootSide};
use super::piece_spec::MarkKindSpec;
use super::translation::Translation;
use crate::language::Words;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Calls `visit` with the path and the text of everything that can be translated, in the order of the
/// guide.
pub fn each_text(design: &mut Design, visit: &mut dyn FnMut(&str, &mut String)) {
    visit("title", &mut design.title);
    visit("about", &mut design.about);
    visit("makes", &mut design.makes);
    let head = [
        ("series", &mut design.series),
        ("skill", &mut design.skill),
        ("age", &mut design.age),
        ("terms", &mut design.terms),
        ("contact", &mut design.contact),
        ("by", &mut design.by),
    ];
    for (key, text) in head {
        option(key, text, visit);
    }
    for size in &mut design.sizes {
        let below = format!("sizes.{}", size.declared);
        visit(&format!("{below}.title"), &mut size.title);
        option(&format!("{below}.words"), &mut size.words, visit);
    }
    supplies(design, visit);
    for (kind, text) in &mut design.look_up.care {
        visit(&format!("care.{}", kind.key()), text);
    }
    for measure in &mut design.finished {
        visit(&format!("finished.{}", measure.key), &mut measure.name);
    }
    for (index, entry) in design.look_up.editions.iter_mut().enumerate() {
        visit(&format!("editions.{index}.changed"), &mut entry.changed);
    }
    for (index, entry) in design.look_up.faults.iter_mut().enumerate() {
        visit(&format!("faults.{index}.wrong"), &mut entry.wrong);
        visit(&format!("faults.{index}.do"), &mut entry.mend);
    }
    for (index, entry) in design.fit.iter_mut().enumerate() {
        visit(&format!("fit.{index}.why"), &mut entry.why);
    }
    for piece in &mut design.pieces {
        let below = format!("pieces.{}", piece.key);
        visit(&format!("{below}.title"), &mut piece.title);
        option(&format!("{below}.note"), &mut piece.note, visit);
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for mark in &mut piece.marks {
            let key = list_of(&mark.kind);
            let index = counts.entry(key).or_default();
            let path = format!("{below}.{key}.{index}.words");
            option(&path, &mut mark.words, visit);
            *index += 1;
        }
    }
}

/// The list of a piece that marks of this kind stand in.
fn list_of(kind: &MarkKindSpec) -> &'static str {
    match kind {
        MarkKindSpec::Hole { .. } => "holes",
        MarkKindSpec::Eyelet { .. } => "eyelets",
        MarkKindSpec::Button { .. } => "buttons",
        MarkKindSpec::Buttonhole { .. } => "buttonholes",
        MarkKindSpec::Line { .. } => "lines",
    }
}

/// What is bought.
fn supplies(design: &mut Design, visit: &mut dyn FnMut(&str, &mut String)) {
    for cloth in &mut design.cloth {
        let below = format!("cloth.{}", cloth.key);
        visit(&format!("{below}.name"), &mut cloth.name);
        option(&format!("{below}.note"), &mut cloth.note, visit);
    }
    for trim in &mut design.trims {
        let below = format!("trims.{}", trim.key);
        visit(&format!("{below}.name"), &mut trim.name);
        option(&format!("{below}.note"), &mut trim.note, visit);
    }
    if let Some(thread) = &mut design.thread {
        visit("thread.name", &mut thread.name);
        option("thread.note", &mut thread.note, visit);
    }
    for (index, tool) in design.tools.iter_mut().enumerate() {
        visit(&format!("tools.{index}"), tool);
    }
}

fn option(path: &str, text: &mut Option<String>, visit: &mut dyn FnMut(&str, &mut String)) {
    if let Some(text) = text {
        visit(path, text);
    }
}

impl Design {
    /// The design with the texts of `translation`; what is not translated stays as it is. Sizes that are
    /// for one foot keep their side.
    pub fn in_language(&self, translation: &Translation) -> Self {
        let mut design = self.clone();
        let words = &translation.words;
        for size in &mut design.sizes {
            size.title = size.declared_title();
        }
        for cloth in &mut design.cloth {
            cloth.kind = Some(cloth.kind_words().to_string());
        }
        self.translate_usual(&mut design, words);
        each_text(&mut design, &mut |path, text| {
            if let Some(translated) = translation.texts.get(path) {
                text.clone_from(translated);
            }
        });
        for size in &mut design.sizes {
            let side = match size.only {
                None => continue,
                Some(FootSide::Left) => "size.left",
                Some(FootSide::Right) => "size.right",
            };
            size.title = words.say(side, &[("title", &size.title)]);
        }
        design.language.clone_from(&translation.language);
        design.words = words.clone();
        design.lengths = translation.lengths;
        design.look_up.glossary.clone_from(&translation.glossary);
        design.chapters.clone_from(&translation.chapters);
        if let Some(source) = &translation.source {
            design.source = source.clone();
        }
        design.translations = Vec::new();
        design.original = Some(Arc::new(self.clone()));
        design
    }

    /// What the design leaves to the program's words.
    fn translate_usual(&self, design: &mut Design, words: &Words) {
        if self.makes == self.words.get("materials.one") {
            design.makes = words.get("materials.one").to_string();
        }
        if let Some(thread) = &mut design.thread
            && thread.name == self.words.get("materials.sewing thread")
        {
            thread.name = words.get("materials.sewing thread").to_string();
        }
    }
}
