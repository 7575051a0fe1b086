//! Writes calls of the template's functions. Text goes in as string literals only, in which just
//! four characters mean anything; nothing that a designer writes is ever code.

use super::source_map::SourceMap;
use crate::diagnostic::Place;

/// A growing Typst file with the way back to the designer's files.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Emitter {
    /// The file so far.
    pub text: String,
    /// Where its parts come from.
    pub map: SourceMap,
}

impl Emitter {
    /// Writes `code` of our own. Never text from outside.
    pub fn code(&mut self, code: &'static str) {
        self.text.push_str(code);
    }

    /// Writes a number.
    pub fn number(&mut self, number: usize) {
        self.text.push_str(&number.to_string());
    }

    /// Writes a length in mm to a hundredth.
    pub fn millimetres(&mut self, length: f64) {
        let length = if length.is_finite() { length } else { 0.0 };
        self.text.push_str(&format!("{length:.2}mm"));
    }

    /// Writes `words` as a string literal.
    pub fn literal(&mut self, words: &str) {
        self.text.push('"');
        for character in words.chars() {
            match character {
                '\\' => self.text.push_str("\\\\"),
                '"' => self.text.push_str("\\\""),
                '\n' => self.text.push_str("\\n"),
                '\r' => self.text.push_str("\\r"),
                '\t' => self.text.push_str("\\t"),
                _ => self.text.push(character),
            }
        }
        self.text.push('"');
    }

    /// What is written next comes from `place`.
    pub fn from(&mut self, place: &Place) {
        self.map.push(self.text.len(), place.clone());
    }

    /// Writes words as running text; those with figures may hold measures.
    pub fn words(&mut self, words: &str) {
        let words = &with_spots(words);
        let measured = words.contains(|c: char| c.is_ascii_digit());
        self.code(if measured { "measured(" } else { "words(" });
        if measured {
            self.literal(&with_fractions(words));
        } else {
            self.literal(words);
        }
        self.code("); ");
    }

    /// Writes a content block `{ … }`; `[]` if `inside` writes nothing.
    pub fn block<T>(&mut self, inside: impl FnOnce(&mut Self) -> T) -> T {
        let start = self.text.len();
        self.code("{ ");
        let result = inside(self);
        if self.text.len() == start + 2 {
            self.text.truncate(start);
            self.code("[]");
        } else {
            self.code("}");
        }
        result
    }
}

/// `words` with a letter that stands for a spot of a figure kept to what follows, as in `(A in figure 3)`: a line
/// that ended behind it would part it from what it is a spot of.
fn with_spots(words: &str) -> String {
    let mut result = String::with_capacity(words.len());
    for letter in words.chars() {
        let mut last = result.chars().rev();
        let spot = last.next().is_some_and(char::is_uppercase) && last.next() == Some('(');
        result.push(if letter == ' ' && spot {
            '\u{a0}'
        } else {
            letter
        });
    }
    result
}

/// `words` with the slash of a fraction before `in` replaced by U+2044, which the template sets as a
/// vulgar fraction: `1 3/16 in`. Other slashes stay.
fn with_fractions(words: &str) -> String {
    let mut result = String::with_capacity(words.len());
    let mut rest = words;
    while let Some(at) = rest.find('/') {
        let (before, after) = (&rest[..at], &rest[at + 1..]);
        let digits = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        result.push_str(before);
        let whole = result.trim_end_matches(|c: char| c.is_ascii_digit());
        let top = result.len() - whole.len();
        let alone = !whole.ends_with(['/', '.', ',', '\u{2044}']);
        let fraction = (1..=3).contains(&top)
            && (1..=3).contains(&digits)
            && alone
            && in_follows(&after[digits..]);
        result.push(if fraction { '\u{2044}' } else { '/' });
        rest = after;
    }
    result.push_str(rest);
    result
}

fn in_follows(text: &str) -> bool {
    let unit = text
        .strip_prefix([' ', '\u{a0}', '\u{202f}', '-'])
        .unwrap_or_default();
    unit.strip_prefix("inches")
        .or_else(|| unit.strip_prefix("inch"))
        .or_else(|| unit.strip_prefix("in"))
        .is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_four_characters_are_escaped() {
        let mut emitter = Emitter::default();
        emitter.literal("#panic() $x$ \\u{41} \"a\"\n\r\t*é*");
        assert_eq!(emitter.text, r##""#panic() $x$ \\u{41} \"a\"\n\r\t*é*""##);
    }

    #[test]
    fn a_spot_keeps_with_what_follows() {
        assert_eq!(
            with_spots("So (A in figure 3), at A in (a) part B (Bb in C)"),
            "So (A\u{a0}in figure 3), at A in (a) part B (Bb in C)"
        );
    }

    #[test]
    fn a_slash_before_inches_makes_a_fraction() {
        assert_eq!(with_fractions("1 3/16 in, 1/2 inch"), "1 3⁄16 in, 1⁄2 inch");
        assert_eq!(with_fractions("a 1/4-in hem"), "a 1⁄4-in hem");
    }

    #[test]
    fn other_slashes_stay() {
        for text in [
            "3/16",
            "and/or 2",
            "1/2/3 in",
            "http://a/1/2 inside",
            "1/2 into",
            "9/1000000 in",
        ] {
            assert_eq!(with_fractions(text), text);
        }
    }

    #[test]
    fn an_empty_block_is_empty_content() {
        let mut emitter = Emitter::default();
        emitter.block(|_| ());
        emitter.block(|e| e.words("a"));
        assert_eq!(emitter.text, "[]{ words(\"a\"); }");
    }
}
