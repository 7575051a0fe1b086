//! The number of an edition: three figures, of which the first tells of sizes or pieces that went, the
//! middle one of geometry and materials, the last of words.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// A number such as `1.2.0`; a later edition is greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Version(pub [u32; 3]);

/// How much an edition differs from the one before, least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Nothing that is printed.
    Nothing,
    /// Words, pictures or the look.
    Words,
    /// Pieces, seams or materials.
    Geometry,
    /// Sizes or pieces are there no more.
    Removed,
}

impl Change {
    /// What changed, in words for the designer.
    pub fn reason(self) -> &'static str {
        match self {
            Self::Nothing => "nothing that is printed changed",
            Self::Words => "words or pictures changed",
            Self::Geometry => "pieces, seams or materials changed",
            Self::Removed => "sizes or pieces were left out",
        }
    }
}

impl Version {
    /// The number of the first edition, where a design says none.
    pub const FIRST: Self = Self([1, 0, 0]);

    /// The number that `text` writes; `None` if it is not three numbers of at most six figures.
    pub fn parse(text: &str) -> Option<Self> {
        let figure = |part: &str| {
            let sound = (1..=6).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
            part.parse::<u32>().ok().filter(|_| sound)
        };
        let parts: Vec<u32> = text.split('.').map(figure).collect::<Option<_>>()?;
        Some(Self(parts.try_into().ok()?))
    }

    /// The number for an edition that differs from this one by `change`.
    pub fn after(self, change: Change) -> Self {
        let [first, middle, last] = self.0;
        Self(match change {
            Change::Nothing | Change::Words => [first, middle, last + 1],
            Change::Geometry => [first, middle + 1, 0],
            Change::Removed => [first + 1, 0, 0],
        })
    }
}

impl fmt::Display for Version {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [first, middle, last] = self.0;
        write!(out, "{first}.{middle}.{last}")
    }
}

impl Serialize for Version {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Version {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let wrong = || serde::de::Error::custom(format!("‘{text}’ is no number of an edition"));
        Self::parse(&text).ok_or_else(wrong)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_three_figures_and_are_ordered_by_their_worth() {
        let of = |text| Version::parse(text);
        assert_eq!(of("1.10.3"), Some(Version([1, 10, 3])));
        assert!(of("1.10.0") > of("1.9.9") && of("2.0.0") > of("1.99.99"));
        for wrong in [
            "1.0",
            "1.0.0.0",
            "1.0.x",
            "",
            "1..0",
            "1.0.-1",
            "1.0.1000000",
            "+1.0.0",
        ] {
            assert_eq!(of(wrong), None, "{wrong}");
        }
        assert_eq!(
            of("01.2.0").map(|v| v.to_string()).as_deref(),
            Some("1.2.0")
        );
    }

    #[test]
    fn the_figure_that_rises_tells_how_much_changed() {
        let last = Version([1, 4, 2]);
        assert_eq!(last.after(Change::Words), Version([1, 4, 3]));
        assert_eq!(last.after(Change::Geometry), Version([1, 5, 0]));
        assert_eq!(last.after(Change::Removed), Version([2, 0, 0]));
    }
}
