//! A formula's text cut into words: values, names, signs. Columns count characters.

use super::super::quantity::{Fault, Quantity, literal, unknown_unit};

/// One word of a formula.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Token {
    /// What it is.
    pub kind: Kind,
    /// Characters before it.
    pub at: usize,
}

/// Kinds of words.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    /// A value with its unit.
    Value(Quantity),
    /// A dotted name or a function's name; runs of spaces in it are single.
    Name(String),
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
    /// `(`
    Open,
    /// `)`
    Close,
    /// `,`
    Comma,
    /// After the last word.
    End,
}

/// The words of `text`, with an [`Kind::End`] after the last.
///
/// # Errors
/// A character that no formula has, a number that is none, a word where a unit should stand.
pub(super) fn tokens(text: &str) -> Result<Vec<Token>, Fault> {
    let mut tokens: Vec<Token> = Vec::new();
    let (mut byte, mut at, mut depth) = (0, 0, 0usize);
    while let Some(first) = text[byte..].chars().next() {
        let rest = &text[byte..];
        let (kind, bytes) = if first.is_whitespace() {
            (None, first.len_utf8())
        } else if let Some(kind) = sign(first) {
            depth = match kind {
                Kind::Open => depth + 1,
                Kind::Close => depth.saturating_sub(1),
                _ => depth,
            };
            (Some(kind), first.len_utf8())
        } else if first.is_alphabetic() || first == '_' {
            if let Some(Kind::Value(_)) = tokens.last().map(|t| &t.kind) {
                return Err(word_after_value(text, rest, at));
            }
            let (name, bytes) = name(rest, at)?;
            (Some(Kind::Name(name)), bytes)
        } else {
            let literal = literal(rest, depth == 0).map_err(|fault| located(fault, first, at))?;
            (Some(Kind::Value(literal.quantity)), literal.bytes)
        };
        if let Some(kind) = kind {
            tokens.push(Token { kind, at });
        }
        at += rest[..bytes].chars().count();
        byte += bytes;
    }
    let kind = Kind::End;
    tokens.push(Token { kind, at });
    Ok(tokens)
}

fn sign(character: char) -> Option<Kind> {
    Some(match character {
        '+' => Kind::Plus,
        '-' | '\u{2212}' => Kind::Minus,
        '*' | '×' | '·' => Kind::Times,
        '/' | '÷' => Kind::Over,
        '(' => Kind::Open,
        ')' => Kind::Close,
        ',' => Kind::Comma,
        _ => return None,
    })
}

/// A value's fault moved to its place; a character that begins no value is said to be strange.
fn located(mut fault: Fault, first: char, at: usize) -> Fault {
    if first == '…' {
        return Fault::new("formula", at, "nothing is filled in yet".to_string())
            .remedy("write a value in the place of ‘…’, such as 12 mm");
    }
    if fault.at == 0 && !first.is_ascii_digit() && fault.code == "formula" {
        let message = format!("‘{first}’ has no meaning in a formula");
        return Fault::new("formula", at, message)
            .remedy("formulas are made of values, names, + - * / and parentheses");
    }
    fault.at += at;
    fault
}

/// `5 mn` is a misspelt unit; `5 mm strap` lacks a sign.
fn word_after_value(text: &str, rest: &str, at: usize) -> Fault {
    let before = text[..text.len() - rest.len()].trim_end();
    let word: String = rest.chars().take_while(|c| c.is_alphanumeric()).collect();
    let dotted = rest[word.len()..].starts_with(['.', '(']);
    if before.ends_with(|c: char| c.is_ascii_digit()) && !dotted {
        return unknown_unit(&word, at);
    }
    let message = format!("a sign is missing before ‘{word}’");
    Fault::new("formula", at, message).remedy("write + - * or / between two values")
}

/// A dotted name at the start of `text`, and its bytes. A hyphen between letters belongs to it.
fn name(text: &str, at: usize) -> Result<(String, usize), Fault> {
    let mut name = String::new();
    let mut bytes = 0;
    loop {
        let rest = &text[bytes..];
        let Some(next) = rest.chars().next() else {
            break;
        };
        let after = rest[next.len_utf8()..].chars().next();
        if next.is_alphanumeric() || next == '_' {
            name.push(next);
            bytes += next.len_utf8();
        } else if next == '-' && after.is_some_and(char::is_alphabetic) {
            name.push('-');
            bytes += 1;
        } else if next == '.' {
            if !after.is_some_and(char::is_alphanumeric) {
                let place = at + text[..bytes].chars().count() + 1;
                let message = format!("after ‘{name}.’ a name is missing");
                return Err(Fault::new("formula", place, message)
                    .remedy("write the name without spaces round the dot: foot.length"));
            }
            name.push('.');
            bytes += 1;
        } else if next.is_whitespace() {
            let word = rest.trim_start();
            if !word.starts_with(char::is_alphanumeric) {
                break;
            }
            name.push(' ');
            bytes += rest.len() - word.len();
        } else {
            break;
        }
    }
    Ok((name, bytes))
}
