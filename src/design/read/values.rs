//! Single values: text, yes and no, counts, words of a choice, lengths and formulas.

use super::letters;
use super::node::{Entry, Kind, Node, Value};
use super::{Reading, Use, names};
use crate::design::{Dimension, Formula, Quantity};
use crate::diagnostic::{Diagnostic, Place};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;

/// No length of a design is longer than this, mm: ten metres. Larger ones are slips of the unit.
const LONGEST: f64 = 10_000.0;

impl Reading<'_> {
    /// Reports an error.
    pub fn error(
        &mut self,
        code: &'static str,
        place: &Place,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.diagnostics
            .push(Diagnostic::error(code, Some(place), message).remedy(remedy));
    }

    /// Reports each key that an earlier entry has already.
    pub fn duplicates(&mut self, entries: &[Entry]) {
        let mut first: BTreeMap<&str, usize> = BTreeMap::new();
        for entry in entries {
            if let Some(line) = first.get(entry.key.as_str()) {
                let message = format!("‘{}’ stands here a second time", entry.key);
                let remedy = format!("it stands in line {line} already; keep one of them");
                self.error("duplicate-key", &entry.place, message, remedy);
            } else {
                first.insert(&entry.key, entry.place.line);
            }
        }
    }

    /// The entries of a group whose keys are names that the designer gives, each once, with good
    /// names only. `what` is one of them: `a cloth`.
    pub fn named<'n>(&mut self, node: &'n Node, what: &str) -> Vec<&'n Entry> {
        let Kind::Mapping(entries) = &node.kind else {
            let message = format!("a group of names is wanted here, not {}", node.words());
            let colon = node
                .scalar()
                .is_some_and(|scalar| scalar.text.contains(':'));
            let remedy = match colon {
                true => "put a space behind the colon: ‘seam: 1/4 in’".to_string(),
                false => format!("give each its own line, indented: the name of {what}, a colon"),
            };
            self.error("wrong-type", &node.place, message, remedy);
            return Vec::new();
        };
        self.duplicates(entries);
        let (mut good, mut seen) = (Vec::new(), BTreeSet::new());
        for entry in entries {
            if seen.insert(&entry.key) && self.good_name(&entry.key, &entry.place, what) {
                good.push(entry);
            }
        }
        good
    }

    /// Whether `name` can be the name of `what`; reports it if not.
    pub fn good_name(&mut self, name: &str, place: &Place, what: &str) -> bool {
        match names::fault(name) {
            None => true,
            Some(why) => {
                let message = format!("‘{name}’ cannot be the name of {what}: {why}");
                self.error("bad-name", place, message, "choose another name");
                false
            }
        }
    }

    /// Reports it if a design has more of something than is computed: `what` are they, the last place that of
    /// the first that is too many.
    pub fn not_too_many<'p>(
        &mut self,
        what: &str,
        most: usize,
        places: impl IntoIterator<Item = &'p Place>,
    ) {
        let Some(place) = places.into_iter().nth(most) else {
            return;
        };
        let message = format!("the design has more than {most} {what}");
        let remedy = format!("take {what} away from here on, or make several designs of it");
        self.error("too-large", place, message, remedy);
    }

    /// The items of a list; a single value counts as a list of one.
    pub fn list<'n>(&mut self, node: &'n Node) -> Vec<&'n Node> {
        match &node.kind {
            Kind::List(items) => items.iter().collect(),
            _ => vec![node],
        }
    }

    /// Text on one or several lines, without space at its ends.
    pub fn text(&mut self, node: &Node, what: &str) -> Option<String> {
        self.bounded(node, what, letters::PASSAGE)
    }

    /// Words of at most so many letters, which a reader finds again: a sign alone is none.
    pub fn short_text(&mut self, node: &Node, what: &str, most: usize) -> Option<String> {
        let text = self.bounded(node, what, most)?;
        if !text.contains(char::is_alphanumeric) {
            let message = format!("{what} has neither a letter nor a digit");
            let remedy = "write words that can be read aloud, or take the line away";
            self.error("empty-value", &node.place, message, remedy);
            return None;
        }
        let words = text.split(|letter: char| !letter.is_alphanumeric());
        let longest = words.map(|word| word.chars().count()).max();
        if let Some(letters) = longest.filter(|letters| *letters > letters::WORD) {
            let most = letters::WORD;
            let message = format!("{what} has a word of {letters} letters; lines hold {most}");
            let remedy = "part it by a blank or a hyphen";
            self.error("text-too-long", &node.place, message, remedy);
            return None;
        }
        Some(text)
    }

    /// The same of at most so many letters, whatever it holds.
    pub fn bounded(&mut self, node: &Node, what: &str, most: usize) -> Option<String> {
        let Some(scalar) = node.scalar() else {
            self.wrong_type(
                node,
                what,
                "text",
                "put it in quotation marks if it holds : or { or [",
            );
            return None;
        };
        let text = scalar.text.trim();
        if text.is_empty() {
            let message = format!("{what} is empty");
            self.error(
                "empty-value",
                &node.place,
                message,
                "write the text, or take the line away",
            );
            return None;
        }
        let letters = text.chars().count();
        if letters > most {
            let message = format!("{what} has {letters} letters; it may have {most}");
            let remedy = "write fewer words here, and the others in a chapter";
            self.error("text-too-long", &node.place, message, remedy);
            return None;
        }
        Some(text.to_string())
    }

    /// `yes` or `no`.
    pub fn yes_no(&mut self, node: &Node, what: &str) -> Option<bool> {
        let answer = node.scalar().and_then(|scalar| match scalar.value {
            Value::Truth(truth) => Some(truth),
            _ if scalar.text == "yes" => Some(true),
            _ if scalar.text == "no" => Some(false),
            _ => None,
        });
        if answer.is_none() {
            self.wrong_type(node, what, "yes or no", "write yes, or no");
        }
        answer
    }

    /// A whole number within `range`.
    pub fn count(&mut self, node: &Node, what: &str, range: RangeInclusive<u32>) -> Option<u32> {
        let number = node.scalar().and_then(|scalar| match scalar.value {
            Value::Number(number) if number.fract() == 0.0 => Some(number),
            _ => None,
        });
        let Some(number) = number else {
            self.wrong_type(
                node,
                what,
                "a whole number",
                "write a number without unit, such as 2",
            );
            return None;
        };
        let (least, most) = (*range.start(), *range.end());
        if number < f64::from(least) || number > f64::from(most) {
            let message = format!("{what} is {number}; it must be from {least} to {most}");
            self.error("out-of-range", &node.place, message, "change the number");
            return None;
        }
        Some(number as u32)
    }

    /// One of a few words, with what each stands for.
    pub fn choice<T: Copy>(&mut self, node: &Node, what: &str, words: &[(&str, T)]) -> Option<T> {
        let text = self.text(node, what)?;
        let found = words.iter().find(|(word, _)| *word == text);
        if found.is_none() {
            let options: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.unknown("unknown-word", &node.place, &text, what, &options);
        }
        found.map(|(_, value)| *value)
    }

    /// Reports that `word` is none of `options`.
    pub fn unknown(
        &mut self,
        code: &'static str,
        place: &Place,
        word: &str,
        what: &str,
        options: &[&str],
    ) {
        let message = format!("‘{word}’ is not known as {what}");
        self.error(code, place, message, names::suggestion(word, options));
    }

    /// Reports that `node` is not what it should be.
    pub fn wrong_type(&mut self, node: &Node, what: &str, wanted: &str, remedy: &str) {
        let message = format!("{what} is {}, but {wanted} is wanted", node.words());
        self.error("wrong-type", &node.place, message, remedy);
    }

    /// A formula that must come to `wanted`; names and dimensions are checked once everything is
    /// read.
    pub fn formula(&mut self, node: &Node, what: &str, wanted: Dimension) -> Option<Formula> {
        let formula = self.unchecked_formula(node, what, wanted)?;
        self.uses.push(Use {
            formula: formula.clone(),
            wanted: Some(wanted),
            size: self.size,
        });
        Some(formula)
    }

    /// A formula for a length that must not be negative (`zero` tells whether it may be 0).
    pub fn positive(&mut self, node: &Node, what: &str, zero: bool) -> Option<Formula> {
        let formula = self.formula(node, what, Dimension::Length)?;
        self.within_reach(&formula, what, zero);
        Some(formula)
    }

    /// A formula of any dimension: a measure.
    pub fn measure(&mut self, node: &Node, what: &str) -> Option<Formula> {
        let formula = self.unchecked_formula(node, what, Dimension::Length)?;
        self.uses.push(Use {
            formula: formula.clone(),
            wanted: None,
            size: self.size,
        });
        Some(formula)
    }

    fn unchecked_formula(&mut self, node: &Node, what: &str, wanted: Dimension) -> Option<Formula> {
        let Some(scalar) = node.scalar() else {
            let remedy = "write a value such as 3/16 in or 4.5 mm, or a formula";
            self.wrong_type(node, what, wanted.words(), remedy);
            return None;
        };
        match Formula::parse(&scalar.text, &node.place) {
            Ok(formula) => Some(formula),
            Err(diagnostic) => {
                self.diagnostics.push(diagnostic);
                None
            }
        }
    }

    fn within_reach(&mut self, formula: &Formula, what: &str, zero: bool) -> bool {
        let Some(quantity) = formula.fixed().filter(|q| q.dimension == Dimension::Length) else {
            return true;
        };
        let mm = quantity.value;
        let text = formula.text.trim();
        let message = if mm < 0.0 {
            format!("{what} is ‘{text}’, less than nothing")
        } else if mm == 0.0 && !zero {
            format!("{what} is ‘{text}’; it must be more than nothing")
        } else if mm > LONGEST {
            format!("{what} is ‘{text}’, more than 10 m")
        } else {
            return true;
        };
        self.error(
            "out-of-range",
            &formula.place,
            message,
            "check the number and its unit",
        );
        false
    }

    /// A length in mm, more than 0, that hangs on no name.
    pub fn length(&mut self, node: &Node, what: &str) -> Option<f64> {
        let formula = self.fixed(node, what, Dimension::Length)?;
        if !self.within_reach(&formula, what, false) {
            return None;
        }
        formula.fixed().map(|quantity| quantity.value)
    }

    /// An angle in degrees that hangs on no name.
    pub fn angle(&mut self, node: &Node, what: &str) -> Option<f64> {
        let formula = self.fixed(node, what, Dimension::Angle)?;
        formula.fixed().map(|quantity| quantity.value)
    }

    /// A share (46 %) or a ratio (1.8) within `range`.
    pub fn ratio(&mut self, node: &Node, what: &str, range: RangeInclusive<f64>) -> Option<f64> {
        let text = node.scalar().map_or("", |scalar| scalar.text.trim());
        let number = Quantity::parse(text).ok();
        let number = number.filter(|q| q.dimension == Dimension::Number);
        let Some(number) = number else {
            let remedy = "write a share such as 46 %, or a ratio such as 1.8";
            self.wrong_type(node, what, "a share or a ratio", remedy);
            return None;
        };
        if range.contains(&number.value) {
            return Some(number.value);
        }
        let (least, most) = (range.start(), range.end());
        let message = format!("{what} is {text}; it must be from {least} to {most}");
        self.error("out-of-range", &node.place, message, "change the number");
        None
    }

    /// A value of this dimension, positive or negative, that hangs on no name: mm, mm² or degrees. Told where it
    /// is none, or a length above 10 m.
    pub fn signed(&mut self, node: &Node, what: &str, wanted: Dimension) -> Option<f64> {
        let formula = self.fixed(node, what, wanted)?;
        if wanted == Dimension::Length && formula.fixed()?.value.abs() > LONGEST {
            let message = format!("{what} is ‘{}’, more than 10 m", formula.text.trim());
            let remedy = "check the number and its unit";
            self.error("out-of-range", &formula.place, message, remedy);
            return None;
        }
        formula.fixed().map(|quantity| quantity.value)
    }

    fn fixed(&mut self, node: &Node, what: &str, wanted: Dimension) -> Option<Formula> {
        let formula = self.unchecked_formula(node, what, wanted)?;
        if let Some(name) = formula.names().first() {
            let message = format!("{what} cannot hang on ‘{name}’: it is the same in all sizes");
            self.error(
                "formula",
                &formula.place,
                message,
                "write a value with its unit",
            );
            return None;
        }
        if let Err(diagnostic) = formula.check(&crate::design::formula::NoNames, wanted) {
            self.diagnostics.push(diagnostic);
            return None;
        }
        if let Err(why) = formula.quantity(&crate::design::formula::NoNames) {
            self.error("formula", &formula.place, why, "correct the formula");
            return None;
        }
        Some(formula)
    }
}
