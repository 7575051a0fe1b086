//! How much a YAML text holds once its aliases are written out, told before any of it is kept: a file of a
//! few hundred kilobytes can stand for gigabytes. Every YAML text of a folder is weighed before it is read.

use saphyr_parser::{Event, Parser, Span, StrInput};
use serde::de::DeserializeOwned;
use std::collections::BTreeMap;

/// Lists and mappings may be nested this deep. A design needs eight.
const DEPTH: usize = 48;

/// What a text may hold, counting each time what aliases repeat.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limit {
    values: usize,
    bytes: usize,
}

impl Limit {
    /// A file that a designer writes: ten times the values of the largest design, or a tracing of six
    /// thousand points, and four times the bytes that such a file may have.
    pub const WRITTEN: Self = Self {
        values: 20_000,
        bytes: 4 << 20,
    };

    /// The file of an edition: twice the bytes that it may have, and as many values.
    pub const EDITION: Self = Self {
        values: 2_000_000,
        bytes: 16 << 20,
    };
}

/// Why a text is not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fault {
    /// `too-large`, or `yaml` where the text is none or not what is wanted.
    pub code: &'static str,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is wrong, in words that end no sentence.
    pub words: String,
}

/// What `text` says, if it holds no more than `limit`.
///
/// # Errors
/// It holds more, is no YAML, or says something else.
pub(crate) fn read<T: DeserializeOwned>(text: &str, limit: Limit) -> Result<T, Fault> {
    weigh(text, limit)?;
    serde_yaml::from_str(text).map_err(|error| {
        let at = error.location();
        let words = error.to_string();
        Fault {
            code: "yaml",
            line: at.as_ref().map_or(1, serde_yaml::Location::line).max(1),
            column: at.as_ref().map_or(1, serde_yaml::Location::column).max(1),
            words: words.split(" at line ").next().unwrap_or_default().into(),
        }
    })
}

/// Whether `text` holds no more than `limit`. What stands behind a mistake cannot be weighed: there may be no
/// aliases.
///
/// # Errors
/// It holds more, with the place of the value that is too much; or it is no YAML and may have aliases.
pub(crate) fn weigh(text: &str, limit: Limit) -> Result<(), Fault> {
    let mut scales = Scales {
        limit,
        open: Vec::new(),
        anchors: BTreeMap::new(),
        all: Weight::default(),
    };
    for event in Parser::new(StrInput::new(text)) {
        match event {
            Ok((event, span)) => scales.event(&event, &span)?,
            Err(error) if text.contains('&') && text.contains('*') => {
                return Err(Fault {
                    code: "yaml",
                    line: error.marker().line().max(1),
                    column: error.marker().col() + 1,
                    words: "the text is no YAML from here on".into(),
                });
            }
            // whoever reads it says what is wrong with it
            Err(_) => return Ok(()),
        }
    }
    Ok(())
}

/// What a value holds, itself counted.
#[derive(Debug, Clone, Copy, Default)]
struct Weight {
    depth: usize,
    values: usize,
    bytes: usize,
}

impl Weight {
    fn take(&mut self, part: Self) {
        self.values = self.values.saturating_add(part.values);
        self.bytes = self.bytes.saturating_add(part.bytes);
    }
}

struct Scales {
    limit: Limit,
    /// Lists and mappings that are not complete, each with the number of its anchor, 0 for none.
    open: Vec<(usize, Weight)>,
    anchors: BTreeMap<usize, Weight>,
    all: Weight,
}

impl Scales {
    fn event(&mut self, event: &Event<'_>, span: &Span) -> Result<(), Fault> {
        let one = Weight {
            values: 1,
            ..Weight::default()
        };
        match event {
            Event::Scalar(text, _, anchor, _) => {
                let bytes = text.len();
                self.add(*anchor, Weight { bytes, ..one }, Weight::default(), span)
            }
            Event::SequenceStart(anchor, _) | Event::MappingStart(anchor, _) => {
                self.open.push((*anchor, one));
                match self.open.len() > DEPTH {
                    true => Err(too_large(
                        span,
                        format!("lists and keys are nested more than {DEPTH} deep here"),
                    )),
                    false => Ok(()),
                }
            }
            Event::SequenceEnd | Event::MappingEnd => match self.open.pop() {
                // what stands in it was counted as it came
                Some((anchor, whole)) => {
                    let inside = Weight {
                        values: whole.values - 1,
                        ..whole
                    };
                    self.add(anchor, whole, inside, span)
                }
                None => Ok(()),
            },
            Event::Alias(anchor) => match self.anchors.get(anchor).copied() {
                Some(weight) => self.add(0, weight, Weight::default(), span),
                None => Ok(()),
            },
            _ => Ok(()),
        }
    }

    /// Adds a value that is complete, of which `counted` was counted already.
    fn add(
        &mut self,
        anchor: usize,
        weight: Weight,
        counted: Weight,
        span: &Span,
    ) -> Result<(), Fault> {
        self.all.take(Weight {
            values: weight.values.saturating_sub(counted.values),
            bytes: weight.bytes.saturating_sub(counted.bytes),
            depth: 0,
        });
        let Limit { values, bytes } = self.limit;
        if self.all.values > values || self.open.len() + weight.depth > DEPTH {
            return Err(too_large(
                span,
                format!(
                    "the file holds more than {values} values, or values nested more than {DEPTH} deep"
                ),
            ));
        }
        if self.all.bytes > bytes {
            let words = format!("the words of the file have more than {} MB", bytes >> 20);
            return Err(too_large(span, words));
        }
        if anchor > 0 {
            self.anchors.insert(anchor, weight);
        }
        if let Some((_, parent)) = self.open.last_mut() {
            parent.depth = parent.depth.max(weight.depth + 1);
            parent.take(weight);
        }
        Ok(())
    }
}

/// What helps against a text that is too large.
pub(crate) const REMEDY: &str = "take out what the design does not need; aliases count each time";

fn too_large(span: &Span, words: String) -> Fault {
    Fault {
        code: "too-large",
        line: span.start.line().max(1),
        column: span.start.col() + 1,
        words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> Option<(&'static str, usize, usize)> {
        let fault = weigh(text, Limit::WRITTEN).err()?;
        Some((fault.code, fault.line, fault.column))
    }

    #[test]
    fn aliases_count_with_the_words_that_they_repeat() {
        let word = "a".repeat(600_000);
        let text =
            |aliases: usize| format!("a: &x {word}\nb: [{}]\n", vec!["*x"; aliases].join(", "));
        assert_eq!(fault(&text(5)), None);
        // the sixth alias is too much: with the word itself, seven times 600 kB
        assert_eq!(fault(&text(7)), Some(("too-large", 2, 25)));
        let lists = format!(
            "a: &x [{}]\nb: [{}]\n",
            vec!["x"; 999].join(", "),
            vec!["*x"; 20].join(", ")
        );
        assert_eq!(fault(&lists).map(|fault| fault.0), Some("too-large"));
    }

    #[test]
    fn a_list_counts_once_and_not_again_at_its_end() {
        let list = |values: usize| format!("[{}]", vec!["x"; values].join(", "));
        assert_eq!(fault(&list(19_999)), None);
        assert_eq!(fault(&list(20_000)).map(|fault| fault.0), Some("too-large"));
    }

    #[test]
    fn a_mistake_does_not_hide_what_stands_behind_it() {
        assert_eq!(fault("a: [1\nb: 2\n"), None, "told by the reader");
        assert_eq!(
            fault("a: }\nb: &x 1\nc: *x\n").map(|fault| fault.0),
            Some("yaml")
        );
    }
}
