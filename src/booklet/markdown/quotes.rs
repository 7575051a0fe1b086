//! Quotation marks and dashes by language. The reader of Markdown makes English ones of straight marks;
//! those are replaced, and what the designer herself wrote as a curved mark stays as it is.

use crate::language::Words;
use comrak::nodes::{Node, NodeValue};
use std::borrow::Cow;

/// Marks that Markdown makes of straight ones, with signs of the same length in bytes that stand for the
/// designer's own while the text is read.
const SHIELDED: [(char, char); 6] = [
    ('“', '\u{e001}'),
    ('”', '\u{e002}'),
    ('‘', '\u{e003}'),
    ('’', '\u{e004}'),
    ('–', '\u{e005}'),
    ('—', '\u{e006}'),
];

/// Whether the language has other marks than those that Markdown makes.
fn differs(words: &Words) -> bool {
    let quotes = words.quotes();
    let english = quotes.double == ["“", "”"] && quotes.single == ["‘", "’"];
    !english || words.get("language.dash") != "—"
}

/// `text` with the designer's own curved marks hidden; of the same length.
pub(super) fn shielded<'t>(text: &'t str, words: &Words) -> Cow<'t, str> {
    if !differs(words) {
        return Cow::Borrowed(text);
    }
    let hidden = |c: char| {
        SHIELDED
            .iter()
            .find(|(own, _)| *own == c)
            .map_or(c, |s| s.1)
    };
    Cow::Owned(text.chars().map(hidden).collect())
}

fn shown(text: &str) -> String {
    let own = |c: char| {
        SHIELDED
            .iter()
            .find(|(_, hidden)| *hidden == c)
            .map_or(c, |s| s.0)
    };
    text.chars().map(own).collect()
}

/// Puts the marks of the language into the text below `root`, and the designer's own back.
pub(super) fn set<'a>(root: Node<'a>, words: &Words) {
    if !differs(words) {
        return;
    }
    let mut marks = Marks {
        words,
        open: 0,
        before: ' ',
    };
    for node in root.descendants() {
        let value = &mut node.data_mut().value;
        match value {
            NodeValue::Text(text) => *text = marks.text(text).into(),
            NodeValue::Code(code) => code.literal = shown(&code.literal),
            NodeValue::CodeBlock(code) => code.literal = shown(&code.literal),
            NodeValue::HtmlInline(html) => *html = shown(html),
            NodeValue::HtmlBlock(html) => html.literal = shown(&html.literal),
            NodeValue::Link(link) | NodeValue::Image(link) => {
                link.url = shown(&link.url);
                link.title = shown(&link.title);
            }
            NodeValue::FootnoteDefinition(note) => note.name = shown(&note.name),
            NodeValue::FootnoteReference(note) => note.name = shown(&note.name),
            NodeValue::SoftBreak | NodeValue::LineBreak => marks.before = ' ',
            NodeValue::Emph | NodeValue::Strong | NodeValue::Strikethrough => {}
            // a quotation ends with its paragraph
            _ => (marks.open, marks.before) = (0, ' '),
        }
    }
}

/// The marks of a paragraph as it is read.
struct Marks<'w> {
    words: &'w Words,
    /// Single quotations that are open.
    open: usize,
    before: char,
}

impl Marks<'_> {
    fn text(&mut self, text: &str) -> String {
        let quotes = self.words.quotes();
        let mut set = String::with_capacity(text.len());
        let mut letters = text.chars().peekable();
        while let Some(letter) = letters.next() {
            match letter {
                '“' => set.push_str(&quotes.double[0]),
                '”' => set.push_str(&quotes.double[1]),
                '‘' => {
                    self.open += 1;
                    set.push_str(&quotes.single[0]);
                }
                '’' => {
                    let inside = self.before.is_alphanumeric()
                        && letters.peek().is_some_and(|next| next.is_alphanumeric());
                    match self.open {
                        open if open > 0 && !inside => {
                            self.open -= 1;
                            set.push_str(&quotes.single[1]);
                        }
                        _ => set.push('’'),
                    }
                }
                '—' => set.push_str(self.words.get("language.dash")),
                other => set.push_str(&shown(&other.to_string())),
            }
            self.before = letter;
        }
        set
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::booklet::markdown::options;
    use comrak::Arena;

    fn marked(text: &str, language: &str) -> String {
        let (arena, words) = (Arena::new(), Words::of(language));
        let text = shielded(text, &words);
        let root = comrak::parse_document(&arena, &text, &options());
        set(root, &words);
        let texts = root
            .descendants()
            .filter_map(|node| match &node.data().value {
                NodeValue::Text(text) => Some(text.to_string()),
                NodeValue::Code(code) => Some(code.literal.clone()),
                _ => None,
            });
        texts.collect()
    }

    #[test]
    fn german_text_has_german_marks() {
        // DIN 5008 and CLDR: „ “ and ‚ ‘; the dash within a sentence is the shorter one.
        let text = "Er sagte: \"Das *ist* 'gut' so\" --- und ging's durch.";
        assert_eq!(
            marked(text, "de"),
            "Er sagte: „Das ist ‚gut‘ so“ – und ging’s durch."
        );
        assert_eq!(
            marked(text, "en"),
            "Er sagte: “Das ist ‘gut’ so” — und ging’s durch."
        );
    }

    #[test]
    fn marks_that_were_written_stay() {
        assert_eq!(
            marked("„so“ und “so” und ’n — `\"a“`", "de"),
            "„so“ und “so” und ’n — \"a“"
        );
    }
}
