//! Sentences made of words and values: places in braces, lists, rows of numbers, numbers in words,
//! dates.

use super::{Places, Words};

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Day {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

/// `text` with the values of its places, `{cloth}`. A place without a value stays as it is.
pub fn filled(text: &str, places: Places<'_>) -> String {
    let mut result = String::with_capacity(text.len() + 16);
    let mut rest = text;
    while let Some(open) = rest.find('{') {
        let (before, after) = rest.split_at(open);
        result.push_str(before);
        let value = after.find('}').and_then(|close| {
            let name = &after[1..close];
            let (_, value) = places.iter().find(|(known, _)| *known == name)?;
            Some((value, close + 1))
        });
        match value {
            Some((value, end)) => {
                result.push_str(&value.to_string());
                rest = &after[end..];
            }
            None => {
                result.push('{');
                rest = &after[1..];
            }
        }
    }
    result + rest
}

/// The names of a text's places, in order.
pub fn places(text: &str) -> Vec<&str> {
    let parts = text.split('{').skip(1);
    parts
        .filter_map(|part| part.split_once('}').map(|(name, _)| name))
        .collect()
}

impl Words {
    /// `one` to `twelve`, then figures.
    pub fn number(&self, n: usize) -> String {
        let words = self.list("language.numbers").get(n);
        words.map_or_else(|| n.to_string(), String::clone)
    }

    /// `a`, `a and b`, `a, b and c`.
    pub fn joined<T: AsRef<str>>(&self, items: &[T]) -> String {
        match items {
            [] => String::new(),
            [one] => one.as_ref().to_string(),
            [first @ .., last] => {
                let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
                let (first, last) = (first.join(", "), last.as_ref());
                self.say("language.and", &[("first", &first), ("last", &last)])
            }
        }
    }

    /// `1, 2 and 5 to 9`, of whole numbers: three or more in a row are told by the first and the last.
    pub fn ranges(&self, mut numbers: Vec<usize>) -> String {
        numbers.sort_unstable();
        numbers.dedup();
        let rows = numbers.chunk_by(|a, b| a + 1 == *b);
        let texts: Vec<String> = rows
            .flat_map(|row| match row {
                [first, _, .., last] => {
                    vec![self.say("language.to", &[("first", first), ("last", last)])]
                }
                few => few.iter().map(ToString::to_string).collect(),
            })
            .collect();
        self.joined(&texts)
    }

    /// `28 November 2026`, `28. November 2026`.
    pub fn date(&self, day: Day) -> String {
        let months = self.list("language.months");
        let month = months.get(usize::from(day.month).saturating_sub(1));
        self.say(
            "language.date",
            &[
                ("day", &day.day),
                ("month", &month.map_or("", String::as_str)),
                ("year", &day.year),
            ],
        )
    }

    /// A date written year first, as [`Words::date`] prints it; as it stands if it is none.
    pub fn day(&self, text: &str) -> String {
        let numbers: Vec<i32> = text.split('-').filter_map(|p| p.parse().ok()).collect();
        let part = |at: usize| numbers.get(at).and_then(|n| u8::try_from(*n).ok());
        match (numbers.first(), part(1), part(2)) {
            (Some(year), Some(month), Some(day)) => self.date(Day {
                year: *year,
                month,
                day,
            }),
            _ => text.to_string(),
        }
    }

    /// `Size Large`; a title that already speaks of a size stays as it is.
    pub fn size(&self, title: &str) -> String {
        match self.is_size(title) {
            true => title.to_string(),
            false => self.say("size.head", &[("title", &title)]),
        }
    }

    /// `size Large`, `one size`: as it stands inside a sentence.
    pub fn size_inside(&self, title: &str) -> String {
        if !self.is_size(title) {
            return self.say("size.inside", &[("title", &title)]);
        }
        // in a language that writes the word with a small letter
        match self.get("size.inside").starts_with(char::is_lowercase) {
            true => with_first(title, |first| first.to_lowercase().collect()),
            false => title.to_string(),
        }
    }

    /// `Size Small`, `Sizes Small and Large`.
    pub fn sizes(&self, titles: &[&str]) -> String {
        match titles {
            [one] => self.size(one),
            several => self.say("size.heads", &[("titles", &self.joined(several))]),
        }
    }

    /// `size Small` or `sizes Small, Medium and Large`, as it stands inside a sentence.
    pub fn sizes_inside(&self, titles: &[&str]) -> String {
        match titles {
            [one] => self.size_inside(one),
            several => self.say("size.insides", &[("titles", &self.joined(several))]),
        }
    }

    fn is_size(&self, title: &str) -> bool {
        title.to_lowercase().contains(self.get("size.word"))
    }
}

/// `text` with a capital at the front.
pub fn capital(text: &str) -> String {
    with_first(text, |first| first.to_uppercase().collect())
}

/// `text` with its first letter changed.
pub fn with_first(text: &str, change: impl Fn(char) -> String) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(change).unwrap_or_default();
    first + letters.as_str()
}
