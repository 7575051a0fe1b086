//! Diagnostics for people: level, code and message, the place with its line of the file, and what
//! to do. Nothing is printed here.

use super::{Diagnostic, Diagnostics, Level, Place};
use unicode_width::UnicodeWidthChar;

/// Messages are broken at this many characters, so that they can be read on any terminal.
const WIDTH: usize = 100;

/// At most this many characters of a line of the file are shown, round the column.
const EXCERPT: usize = 100;

/// How diagnostics are shown.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Style<'s> {
    /// With colours (ANSI escapes).
    pub colour: bool,
    /// Put before every path, e.g. `designs/harvest-bar-shoe`; may be empty.
    pub folder: &'s str,
}

/// A list is cut after this many: nobody reads on, and most of them follow from the first.
const LISTED: usize = 100;

/// The first hundred diagnostics, sorted by place, with an empty line after each.
pub fn list(diagnostics: &Diagnostics, style: Style<'_>) -> String {
    let sorted = diagnostics.sorted();
    let more = sorted.len().saturating_sub(LISTED);
    let mut out = String::new();
    for diagnostic in sorted.into_iter().take(LISTED) {
        out.push_str(&format(diagnostic, style));
        out.push('\n');
    }
    if more > 0 {
        out.push_str(&format!("and {more} more\n\n"));
    }
    out
}

/// How many errors and warnings there are: `2 errors, 1 warning`; empty if there are none.
pub fn summary(diagnostics: &Diagnostics) -> String {
    let counted = |level, one: &str| match diagnostics.count(level) {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {one}s")),
    };
    let parts = [
        counted(Level::Error, "error"),
        counted(Level::Warning, "warning"),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// One diagnostic, each line ended.
///
/// ```text
/// error no-unit: ‘5’ has no unit; a length is wanted here
///   at design.yaml:12:15
///   12 |     width: 5
///      |            ^
///   > Write 5 mm or 5 in.
/// ```
pub fn format(diagnostic: &Diagnostic, style: Style<'_>) -> String {
    let level = diagnostic.level.word();
    let head = format!("{level} {}: ", diagnostic.code);
    let message = wrapped(&format!("{head}{}", diagnostic.message), "  ");
    let (first, rest) = message.split_at(head.len().min(message.len()));
    let mut out = paint(first, colour(diagnostic.level), style);
    out.push_str(rest);
    if let Some(place) = &diagnostic.place {
        let path = path(place, style);
        let at = format!("  at {path}:{}:{}\n", place.line, place.column);
        out.push_str(&paint(&at, FAINT, style));
        out.push_str(&excerpt(place, style));
    }
    if let Some(page) = diagnostic.page {
        out.push_str(&format!("  on page {page}\n"));
    }
    if !diagnostic.remedy.is_empty() {
        let remedy = format!("  > {}", diagnostic.remedy);
        out.push_str(&wrapped(&remedy, "    "));
    }
    out
}

impl Level {
    /// The level in a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

const FAINT: &str = "\u{1B}[2m";
const PLAIN: &str = "\u{1B}[0m";

fn colour(level: Level) -> &'static str {
    match level {
        Level::Note => "\u{1B}[1m",
        Level::Warning => "\u{1B}[1;33m",
        Level::Error => "\u{1B}[1;31m",
    }
}

fn paint(text: &str, colour: &str, style: Style<'_>) -> String {
    if style.colour {
        format!("{colour}{text}{PLAIN}")
    } else {
        text.to_string()
    }
}

fn path(place: &Place, style: Style<'_>) -> String {
    let folder = style.folder.trim_end_matches('/');
    let path = &place.source.path;
    // what designs share lies beside them
    let (folder, path) = match (path.starts_with("_shared/"), folder.rsplit_once('/')) {
        (false, _) => (folder, path.clone()),
        (true, Some((above, _))) => (above, path.clone()),
        (true, None) => ("..", path.clone()),
    };
    if style.folder.is_empty() {
        path
    } else {
        format!("{folder}/{path}")
    }
}

/// The line of the file with a caret below the column; nothing if the file has no such line.
fn excerpt(place: &Place, style: Style<'_>) -> String {
    let mut lines = place.source.text.lines();
    let Some(line) = lines.nth(place.line.saturating_sub(1)) else {
        return String::new();
    };
    let (shown, before) = window(line, place.column);
    let number = place.line.to_string();
    let gap = " ".repeat(number.len());
    let caret = paint("^", colour(Level::Error), style);
    let bar = paint("|", FAINT, style);
    let line = format!("  {number} {bar} {shown}");
    format!(
        "{}\n  {gap} {bar} {}{caret}\n",
        line.trim_end(),
        " ".repeat(before)
    )
}

/// The part of `line` round `column` as it is shown, and how many cells stand before the column.
fn window(line: &str, column: usize) -> (String, usize) {
    let total = line.chars().count();
    let target = column.saturating_sub(1).min(total);
    let start = if total <= EXCERPT {
        0
    } else {
        target.saturating_sub(EXCERPT / 2).min(total - EXCERPT)
    };
    let (mut shown, mut before) = (String::new(), 0);
    if start > 0 {
        shown.push('…');
        before += 1;
    }
    let visible = line.chars().enumerate().skip(start).take(EXCERPT);
    for (number, character) in visible {
        let (text, cells) = cell(character);
        shown.push_str(&text);
        if number < target {
            before += cells;
        }
    }
    if start + EXCERPT < total {
        shown.push('…');
    }
    (shown, before)
}

/// A character as it is shown, with the cells it takes: tabs as four spaces, control characters as
/// a middle dot, combining characters without a cell of their own.
fn cell(character: char) -> (String, usize) {
    match character {
        '\t' => ("    ".into(), 4),
        _ if is_unseen(character) => ("·".into(), 1),
        _ => (character.to_string(), character.width().unwrap_or(0)),
    }
}

/// Whether `character` would move the cursor, or turn the direction of the text.
fn is_unseen(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{200E}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// `text` broken between words at [`WIDTH`], later lines behind `indent`; each line ended.
/// Control characters are shown as a middle dot.
fn wrapped(text: &str, indent: &str) -> String {
    let clean: String = text
        .chars()
        .map(|c| if is_unseen(c) { '·' } else { c })
        .collect();
    let lead = clean.len() - clean.trim_start().len();
    let mut out = clean[..lead].to_string();
    let mut column = lead;
    for (number, word) in clean[lead..].split(' ').enumerate() {
        let length = word.chars().count();
        if number > 0 && column + 1 + length > WIDTH {
            out.push('\n');
            out.push_str(indent);
            column = indent.len();
        } else if number > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::super::SourceText;
    use super::*;
    use proptest::prelude::*;
    use std::sync::Arc;

    fn at(text: &str, line: usize, column: usize) -> Place {
        Place {
            source: Arc::new(SourceText {
                path: "design.yaml".into(),
                text: text.into(),
            }),
            line,
            column,
        }
    }

    fn shown(text: &str, line: usize, column: usize) -> String {
        let place = at(text, line, column);
        let diagnostic = Diagnostic::error("no-unit", Some(&place), "‘5’ has no unit");
        format(&diagnostic.remedy("write 5 mm"), Style::default())
    }

    #[test]
    fn a_diagnostic_shows_message_place_line_and_remedy() {
        assert_eq!(
            shown("title: x\n  width: 5\n", 2, 10),
            "error no-unit: ‘5’ has no unit.\n  at design.yaml:2:10\n  \
             2 |   width: 5\n    |          ^\n  > Write 5 mm.\n"
        );
    }

    #[test]
    fn the_folder_stands_before_the_path_and_colours_only_if_asked_for() {
        let place = at("a", 1, 1);
        let diagnostic = Diagnostic::warning("no-unit", Some(&place), "M.").on_page(3);
        let style = Style {
            colour: false,
            folder: "designs/purse/",
        };
        let plain = format(&diagnostic, style);
        assert!(plain.contains("at designs/purse/design.yaml:1:1\n"));
        assert!(plain.contains("  on page 3\n"));
        assert!(!plain.contains('\u{1B}'));
        let coloured = format(
            &diagnostic,
            Style {
                colour: true,
                ..style
            },
        );
        assert!(coloured.starts_with("\u{1B}[1;33mwarning no-unit: \u{1B}[0mM."));
    }

    #[test]
    fn tabs_and_combining_characters_keep_the_caret_below_its_column() {
        // e + combining acute takes one cell, a tab four.
        let text = shown("\te\u{301}x", 1, 4);
        assert!(text.contains("1 |     e\u{301}x\n    |      ^\n"), "{text}");
        // a wide character (East Asian Width W) takes two cells
        assert!(shown("布x", 1, 2).contains("    |   ^\n"));
    }

    #[test]
    fn a_long_line_is_cut_round_the_column() {
        let line = format!("{}X{}", "a".repeat(300), "b".repeat(300));
        let text = shown(&line, 1, 301);
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[2].starts_with("  1 | …") && lines[2].ends_with('…'));
        let caret = lines[3].chars().position(|c| c == '^');
        assert_eq!(lines[2].chars().position(|c| c == 'X'), caret);
    }

    #[test]
    fn long_messages_are_broken_between_words() {
        let diagnostic = Diagnostic::error("no-unit", None, "word ".repeat(60).trim().to_string());
        let text = format(&diagnostic, Style::default());
        assert!(text.lines().all(|line| line.chars().count() <= 100));
        assert!(text.lines().count() >= 3);
    }

    #[test]
    fn a_line_that_is_not_there_is_left_out() {
        assert!(!shown("one line", 7, 1).contains('|'));
    }

    #[test]
    fn summaries_count() {
        let mut all = Diagnostics::default();
        assert_eq!(summary(&all), "");
        all.push(Diagnostic::error("no-unit", None, "m"));
        all.push(Diagnostic::error("no-unit", None, "n"));
        all.push(Diagnostic::warning("no-unit", None, "m"));
        assert_eq!(summary(&all), "2 errors, 1 warning");
    }

    proptest! {
        #[test]
        fn no_text_and_no_place_panics(text in "(?s).{0,200}", line in 0usize..9, column in 0usize..300) {
            shown(&text, line, column);
        }

        #[test]
        fn control_characters_never_reach_the_terminal(text in "[\u{0}-\u{1F}\u{7F}-\u{9F}a-c]{0,40}") {
            let diagnostic = Diagnostic::error("no-unit", Some(&at(&text, 1, 1)), text.clone());
            let shown = format(&diagnostic, Style::default());
            prop_assert!(shown.chars().all(|c| c == '\n' || !c.is_control()));
        }
    }
}
