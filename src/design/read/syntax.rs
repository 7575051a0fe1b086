//! Text that is no YAML: what the designer most likely did, in plain words, and where.

use crate::diagnostic::{Diagnostic, Place};

/// Lines before the reported one that are searched for the cause: a parser often notices a mistake
/// only at the next line that fits nowhere.
const LOOK_BACK: usize = 3;

/// A diagnostic for `text`, which a parser gave up at `line` and `column` (from 1).
pub(super) fn explain(
    text: &str,
    line: usize,
    column: usize,
    place: &dyn Fn(usize, usize) -> Place,
) -> Diagnostic {
    let lines: Vec<&str> = text.lines().collect();
    let line = line.clamp(1, lines.len().max(1));
    let first = line.saturating_sub(LOOK_BACK).max(1);
    let content = |number: usize| lines.get(number - 1).copied().unwrap_or("");
    // a parser may stop at the value before a tab
    let tabbed = (first..=line + 1).find_map(|number| Some((number, tab(content(number))?)));
    let caused = || {
        let mut back = (first..=line).rev();
        back.find_map(|number| Some((number, cause(content(number))?)))
    };
    if let Some((number, cause)) = tabbed.or_else(caused) {
        let at = place(number, cause.column);
        return Diagnostic::error("yaml", Some(&at), cause.message).remedy(cause.remedy);
    }
    let brackets = brackets(&lines, line);
    if let Some((number, cause)) = brackets.fault {
        let at = place(number, cause.column);
        return Diagnostic::error("yaml", Some(&at), cause.message).remedy(cause.remedy);
    }
    let width = content(line).chars().count();
    let at = place(line, column.clamp(1, width + 1));
    let (message, remedy) = if brackets.open_here {
        (
            "the values between these brackets cannot be read from here on",
            "put a comma between the values, and quotation marks round a value that holds a comma, \
             a bracket or a colon",
        )
    } else {
        (
            "the file cannot be read from here on",
            "keys of one group stand exactly below each other, each with a colon and a space; \
             compare the indents of this line and of the lines before it",
        )
    };
    Diagnostic::error("yaml", Some(&at), message).remedy(remedy)
}

/// A diagnostic for the first character that may not stand in YAML (YAML 1.2.2, production
/// `c-printable`), if there is one. The parsers tell of such a character without its place.
pub(super) fn unprintable(text: &str, place: &dyn Fn(usize, usize) -> Place) -> Option<Diagnostic> {
    let is_wrong = |c: char| {
        (c.is_control() && !matches!(c, '\t' | '\n' | '\r' | '\u{85}'))
            || matches!(c, '\u{FFFE}' | '\u{FFFF}')
    };
    let (byte, character) = text.char_indices().find(|(_, c)| is_wrong(*c))?;
    let before = &text[..byte];
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    let at = place(
        before.matches('\n').count() + 1,
        column_of(&text[start..], byte - start),
    );
    let message = format!(
        "an unseen control character (U+{:04X}) stands here",
        u32::from(character)
    );
    Some(
        Diagnostic::error("yaml", Some(&at), message)
            .remedy("delete it; it is most often pasted from another program"),
    )
}

/// A usual mistake in one line.
struct Cause {
    column: usize,
    message: &'static str,
    remedy: &'static str,
}

fn cause(line: &str) -> Option<Cause> {
    let content = without_comment(line);
    colon_in_value(content)
        .or_else(|| no_space_after_colon(content))
        .or_else(|| strange_start(content))
        .or_else(|| open_quotation(content))
}

fn column_of(line: &str, byte: usize) -> usize {
    line[..byte].chars().count() + 1
}

fn without_comment(line: &str) -> &str {
    let cut = line.find(" #").unwrap_or(line.len());
    if line.trim_start().starts_with('#') {
        ""
    } else {
        &line[..cut]
    }
}

fn tab(line: &str) -> Option<Cause> {
    let indent = line.len() - line.trim_start().len();
    let byte = line[..indent].find('\t')?;
    Some(Cause {
        column: column_of(line, byte),
        message: "this line is indented with a tab",
        remedy: "indent with spaces only: two for each step inward",
    })
}

/// The value of `key: value` in a line, with its byte offset.
fn value(line: &str) -> Option<(usize, &str)> {
    let colon = line.find(": ")?;
    let rest = &line[colon + 2..];
    let start = colon + 2 + (rest.len() - rest.trim_start().len());
    let value = line[start..].trim_end();
    (!value.is_empty()).then_some((start, value))
}

fn is_quoted_or_group(value: &str) -> bool {
    value.starts_with(['"', '\'', '[', '{', '|', '>'])
}

fn colon_in_value(line: &str) -> Option<Cause> {
    let (start, value) = value(line)?;
    if is_quoted_or_group(value) {
        return None;
    }
    let inner = value
        .find(": ")
        .or_else(|| value.ends_with(':').then(|| value.len() - 1))?;
    Some(Cause {
        column: column_of(line, start + inner),
        message: "this value has a colon in it",
        remedy: "put the whole value in quotation marks: \"…\"",
    })
}

fn no_space_after_colon(line: &str) -> Option<Cause> {
    let trimmed = line.trim_start().trim_start_matches("- ");
    let start = line.len() - trimmed.len();
    if is_quoted_or_group(trimmed) || trimmed.contains(": ") {
        return None;
    }
    let colon = trimmed.find(':')?;
    let key = &trimmed[..colon];
    let after = trimmed[colon + 1..].chars().next()?;
    let word = key
        .chars()
        .all(|c| c.is_alphanumeric() || c == ' ' || c == '-');
    if !word || after.is_whitespace() || after == '/' {
        return None;
    }
    Some(Cause {
        column: column_of(line, start + colon),
        message: "a space is missing after this colon",
        remedy: "write ‘key: value’, with a space after the colon",
    })
}

fn strange_start(line: &str) -> Option<Cause> {
    let (start, value) = value(line)?;
    if !value.starts_with(['*', '&', '%', '@', '`', '|', '>', '!']) {
        return None;
    }
    Some(Cause {
        column: column_of(line, start),
        message: "a value cannot begin with this sign",
        remedy: "put the whole value in quotation marks: \"…\"",
    })
}

fn open_quotation(line: &str) -> Option<Cause> {
    let (start, value) = value(line)?;
    let mark = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    let (message, remedy) = match value[1..].find(mark) {
        None => (
            "this quotation mark is never closed",
            "add the closing quotation mark at the end of the value",
        ),
        Some(end) if end + 2 < value.len() => (
            "something stands after the closing quotation mark of this value",
            "put the whole value in quotation marks, or none of it",
        ),
        Some(_) => return None,
    };
    Some(Cause {
        column: column_of(line, start),
        message,
        remedy,
    })
}

/// What the brackets of a text tell.
struct Brackets {
    /// The first that closes nothing, up to the line asked for, or the first that is never closed.
    fault: Option<(usize, Cause)>,
    /// Whether a bracket is open at the beginning of the line asked for.
    open_here: bool,
}

/// Looks through all brackets that stand where values begin, outside quotation marks and comments.
fn brackets(lines: &[&str], here: usize) -> Brackets {
    let mut open: Vec<(usize, usize, char)> = Vec::new();
    let (mut quoted, mut open_here) = (None, false);
    for (number, line) in lines.iter().enumerate().map(|(n, line)| (n + 1, line)) {
        open_here |= number == here && !open.is_empty();
        let mut before = ' ';
        for (column, character) in line.chars().enumerate().map(|(n, c)| (n + 1, c)) {
            let begins = before.is_whitespace() || matches!(before, '[' | '{' | ',');
            match (quoted, character) {
                (Some(mark), _) if character == mark && before != '\\' => quoted = None,
                (Some(_), _) => {}
                (None, '#') if before.is_whitespace() => break,
                (None, '"' | '\'') if begins => quoted = Some(character),
                (None, '[' | '{') if begins => open.push((number, column, character)),
                (None, ']' | '}') if !open.is_empty() => {
                    let wanted = if character == ']' { '[' } else { '{' };
                    let fits = open.pop().is_some_and(|(_, _, opening)| opening == wanted);
                    if !fits && number <= here {
                        let cause = Cause {
                            column,
                            message: "this bracket does not close the one that was opened last",
                            remedy: "every [ needs its ], every { its }",
                        };
                        return Brackets {
                            fault: Some((number, cause)),
                            open_here,
                        };
                    }
                }
                _ => {}
            }
            before = character;
        }
    }
    let fault = open.first().map(|(number, column, _)| {
        let cause = Cause {
            column: *column,
            message: "this bracket is never closed",
            remedy: "add the missing ] or }, and a comma between the values",
        };
        (*number, cause)
    });
    Brackets { fault, open_here }
}
