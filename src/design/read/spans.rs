//! Which lines of a YAML text each key takes up with its value, so that a part of a file can be exchanged and
//! everything else, comments too, stays as it is written.

use saphyr_parser::{Event, Parser, Span, StrInput};
use std::ops::Range;

/// Keys of one level, in order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Level {
    /// Whether they stand between braces, so that several may share a line.
    pub in_braces: bool,
    /// The keys.
    pub keys: Vec<KeyLines>,
}

/// A key with the lines that it and its value take up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct KeyLines {
    /// The key.
    pub key: String,
    /// Its lines, counted from 0; no comment that follows it on lines of its own.
    pub lines: Range<usize>,
    /// The keys below it, if its value has any.
    pub below: Level,
}

impl Level {
    /// The lines of `key`.
    pub fn key(&self, key: &str) -> Option<&KeyLines> {
        self.keys.iter().find(|known| known.key == key)
    }
}

/// The keys of a text of one mapping, with those below them. `None` if it is none, or no YAML.
pub(crate) fn of_text(text: &str) -> Option<Level> {
    let lines: Vec<&str> = text.lines().collect();
    let mut open: Vec<Open> = Vec::new();
    for event in Parser::new(StrInput::new(text)) {
        let (event, span) = event.ok()?;
        let start = span.start.line().checked_sub(1)?;
        let first = lines
            .get(start)
            .and_then(|line| line.chars().nth(span.start.col()));
        let ended = match event {
            Event::MappingStart(..) => {
                open.push(Open::mapping(start, first == Some('{')));
                continue;
            }
            Event::SequenceStart(..) => {
                open.push(Open::list(start, first == Some('[')));
                continue;
            }
            Event::Scalar(text, ..) => Ended {
                word: Some(text.into_owned()),
                lines: start..last_line(&span)?.max(start),
                is_nothing: span.start.index() == span.end.index(),
                level: Level::default(),
            },
            Event::Alias(_) => Ended {
                word: None,
                lines: start..start,
                is_nothing: false,
                level: Level::default(),
            },
            Event::MappingEnd | Event::SequenceEnd => {
                let mut ended = open.pop()?;
                if ended.in_braces {
                    ended.last = last_line(&span)?;
                }
                if open.is_empty() {
                    return ended.is_mapping.then_some(ended.level());
                }
                ended.ended()
            }
            _ => continue,
        };
        open.last_mut()?.take(ended);
    }
    None
}

/// The line on which something ends, from 0: one that ends at the beginning of a line ends before it.
fn last_line(span: &Span) -> Option<usize> {
    let line = span.end.line().checked_sub(1)?;
    let is_before = span.end.col() == 0 && span.end.line() > span.start.line();
    Some(if is_before {
        line.saturating_sub(1)
    } else {
        line
    })
}

/// A value that is read to its end.
struct Ended {
    /// The word itself, of a single value.
    word: Option<String>,
    /// Its first and its last line.
    lines: Range<usize>,
    /// Whether nothing is written.
    is_nothing: bool,
    level: Level,
}

/// A mapping or a list that is not at its end.
struct Open {
    is_mapping: bool,
    in_braces: bool,
    first: usize,
    last: usize,
    /// The key whose value comes next, with its line.
    key: Option<(String, usize)>,
    keys: Vec<KeyLines>,
}

impl Open {
    fn mapping(first: usize, in_braces: bool) -> Self {
        Self {
            is_mapping: true,
            in_braces,
            first,
            last: first,
            key: None,
            keys: Vec::new(),
        }
    }

    fn list(first: usize, in_braces: bool) -> Self {
        Self {
            is_mapping: false,
            ..Self::mapping(first, in_braces)
        }
    }

    fn take(&mut self, ended: Ended) {
        let last = match (&self.key, ended.is_nothing) {
            // nothing is said to stand where the next thing does
            (Some((_, line)), true) => *line,
            _ => ended.lines.end,
        };
        self.last = self.last.max(last);
        if !self.is_mapping {
            return;
        }
        match self.key.take() {
            None => self.key = Some((ended.word.unwrap_or_default(), ended.lines.start)),
            Some((key, line)) => self.keys.push(KeyLines {
                key,
                lines: line..last + 1,
                below: ended.level,
            }),
        }
    }

    fn level(self) -> Level {
        Level {
            in_braces: self.in_braces,
            keys: self.keys,
        }
    }

    fn ended(self) -> Ended {
        Ended {
            word: None,
            lines: self.first..self.last,
            is_nothing: false,
            level: self.level(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str) -> Vec<(String, Range<usize>)> {
        let level = of_text(text).expect("a mapping");
        let keys = level.keys.into_iter();
        keys.map(|key| (key.key, key.lines)).collect()
    }

    /// Counted by hand.
    #[test]
    fn each_key_ends_where_its_value_does() {
        let text = "# said\nname: doll\n\"tracing\":\n  points: [\n    [1, 2],\n  ]\n  # of the tracing\n# further\n\
                    measures: {a: 1 mm,\n  b: 2 mm} # end\nnothing:\nother foot:\n  tracing:\n    path: \"M 0 0\n      \
                    L 1 1\"\n\n# the end\n";
        let found = lines(text);
        let wanted = [
            ("name", 1..2),
            ("tracing", 2..6),
            ("measures", 8..10),
            ("nothing", 10..11),
            ("other foot", 11..15),
        ];
        let wanted = wanted.map(|(key, lines)| (key.to_string(), lines));
        assert_eq!(found, wanted);
        let level = of_text(text).expect("a mapping");
        let other = &level.key("other foot").expect("there").below;
        assert_eq!(
            other.key("tracing").map(|key| key.lines.clone()),
            Some(12..15)
        );
        assert!(level.key("measures").is_some_and(|key| key.below.in_braces));
        assert!(!level.in_braces && !other.in_braces);
    }

    #[test]
    fn what_is_no_mapping_has_no_keys() {
        for text in ["", "- a\n- b\n", "word\n", "a: [\n", "a: b: c\n"] {
            assert_eq!(of_text(text), None, "{text}");
        }
        assert!(of_text("{a: 1, b: 2}\n").is_some_and(|level| level.in_braces));
    }
}
