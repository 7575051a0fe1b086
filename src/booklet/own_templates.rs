//! The design's own templates. They are programs and may work without end, which nothing but the end of
//! pressfoot can stop: so it is known which of them are being set, for whoever keeps watch.

use super::source_map::line_column;
use crate::diagnostic::{Diagnostic, Place, SourceText};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use typst::syntax::{self, LinkedNode, SyntaxKind};

/// The files that replace those of the house.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OwnTemplates {
    /// The design's folder, as messages name it.
    pub folder: String,
    /// Each by its file name.
    pub files: BTreeMap<String, Arc<SourceText>>,
}

/// A typesetting that uses a design's own templates and goes on.
#[derive(Debug, Clone)]
pub struct UnderWay {
    /// No other has the same.
    pub number: u64,
    templates: OwnTemplates,
}

static UNDER_WAY: Mutex<Vec<UnderWay>> = Mutex::new(Vec::new());

/// A typesetting has begun; it is done when this is dropped.
pub(super) struct Begun(Option<u64>);

/// Says that a typesetting with these templates begins. One without any always comes to an end.
pub(super) fn begin(templates: &OwnTemplates) -> Begun {
    static NUMBER: AtomicU64 = AtomicU64::new(0);
    if templates.files.is_empty() {
        return Begun(None);
    }
    let number = NUMBER.fetch_add(1, Ordering::Relaxed);
    let templates = templates.clone();
    let mut all = UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner);
    all.push(UnderWay { number, templates });
    Begun(Some(number))
}

impl Drop for Begun {
    fn drop(&mut self) {
        let mut all = UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner);
        all.retain(|one| Some(one.number) != self.0);
    }
}

/// The typesettings with own templates that go on at this moment.
pub fn under_way() -> Vec<UnderWay> {
    let all = UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner);
    all.clone()
}

impl UnderWay {
    #[cfg(test)]
    pub(crate) fn numbered(number: u64) -> Self {
        let templates = OwnTemplates::default();
        Self { number, templates }
    }

    /// The design's folder, as messages name it.
    pub fn folder(&self) -> &str {
        &self.templates.folder
    }

    /// That it does not come to an end, at the first loop of its templates. `what` it has done meanwhile
    /// stands in the message, and so do all loops.
    pub fn endless(&self, what: &str) -> Diagnostic {
        let shown: Vec<String> = self.templates.files.values().map(|s| shown(s)).collect();
        let message = format!(
            "The booklet is not set yet, and {what}. What works without end can only be a template of the \
             design's own, {}, so pressfoot has ended.",
            shown.join(", ")
        );
        let remedy = "Look for a loop over too much, or a function that calls itself without end; or take the \
                      file out of `template/`. Other designs can be built by their names meanwhile.";
        let told = Diagnostic::error("template-endless", self.place().as_ref(), message);
        told.remedy(remedy)
    }

    /// The first loop, or the beginning of the first file.
    fn place(&self) -> Option<Place> {
        let sources = || self.templates.files.values();
        let looped = sources().find_map(|source| Some((source, *loops(&source.text).first()?)));
        let (source, (line, column)) = looped.or_else(|| Some((sources().next()?, (1, 1))))?;
        Some(Place {
            source: source.clone(),
            line,
            column,
        })
    }
}

/// The path of a template, with the lines of its first loops.
fn shown(source: &SourceText) -> String {
    let mut lines: Vec<usize> = loops(&source.text).iter().map(|(line, _)| *line).collect();
    lines.dedup();
    let more = if lines.len() > LISTED { ", …" } else { "" };
    let listed: Vec<String> = lines.iter().take(LISTED).map(usize::to_string).collect();
    match listed.len() {
        0 => format!("`{}` (which has no loop)", source.path),
        1 => format!("`{}` (with a loop in line {})", source.path, listed[0]),
        _ => format!(
            "`{}` (with loops in lines {}{more})",
            source.path,
            listed.join(", ")
        ),
    }
}

/// So many loops of a template are listed.
const LISTED: usize = 12;

/// Line and column of each loop of a template.
fn loops(text: &str) -> Vec<(usize, usize)> {
    fn below(node: &LinkedNode<'_>, text: &str, found: &mut Vec<(usize, usize)>) {
        if matches!(node.kind(), SyntaxKind::ForLoop | SyntaxKind::WhileLoop) {
            found.push(line_column(text, node.offset()));
        }
        node.children().for_each(|child| below(&child, text, found));
    }
    let mut found = Vec::new();
    below(&LinkedNode::new(&syntax::parse(text)), text, &mut found);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(files: &[(&str, &str)]) -> OwnTemplates {
        let source = |(name, text): &(&str, &str)| {
            let source = SourceText {
                path: format!("template/{name}"),
                text: (*text).to_string(),
            };
            ((*name).to_string(), Arc::new(source))
        };
        OwnTemplates {
            folder: "designs/pouch".into(),
            files: files.iter().map(source).collect(),
        }
    }

    fn mine(templates: &OwnTemplates) -> Vec<UnderWay> {
        let mut all = under_way();
        all.retain(|one| one.templates == *templates);
        all
    }

    #[test]
    fn what_is_set_with_own_templates_is_known_until_it_is_done() {
        let templates = own(&[("cover.typ", "#let cover = none")]);
        assert!(mine(&templates).is_empty());
        let begun = begin(&templates);
        assert_eq!(mine(&templates).len(), 1);
        drop(begun);
        assert!(mine(&templates).is_empty());
        let house = OwnTemplates::default();
        let _begun = begin(&house);
        assert!(
            mine(&house).is_empty(),
            "the house's templates come to an end"
        );
    }

    #[test]
    fn loops_are_named() {
        let text = "#let sprig = {\n  for i in range(9) [a]\n}\n#while true [b]\n";
        let templates = own(&[("cover.typ", "// for ever\n"), ("ornament.typ", text)]);
        let _begun = begin(&templates);
        let told = mine(&templates)[0].endless("2 minutes have passed");
        let place = told.place.expect("a place");
        assert_eq!(place.source.path, "template/ornament.typ");
        assert_eq!((place.line, place.column), (2, 3));
        let named = "own, `template/cover.typ` (which has no loop), `template/ornament.typ` (with loops in \
                     lines 2, 4), so";
        assert!(told.message.contains(named), "{}", told.message);
    }

    #[test]
    fn without_a_loop_the_first_file_is_named() {
        let templates = own(&[("key.typ", "#let f(n) = f(n + 1)")]);
        let _begun = begin(&templates);
        let place = mine(&templates)[0].place().expect("a place");
        assert_eq!(
            (place.source.path.as_str(), place.line),
            ("template/key.typ", 1)
        );
    }
}
