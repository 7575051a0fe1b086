//! Plural forms of whole numbers: the categories of Unicode CLDR ("Language Plural Rules", cardinal
//! rules for integers, UTS #35 part 3).

use super::primary;

/// A form of a word that goes with some numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plural {
    /// As in `1 page`.
    One,
    /// For two.
    Two,
    /// For few, in Slavic languages.
    Few,
    /// For many.
    Many,
    /// For all others; every word has it.
    Other,
}

impl Plural {
    /// All.
    pub const ALL: [Self; 5] = [Self::One, Self::Two, Self::Few, Self::Many, Self::Other];

    /// As a table of words calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::One => "one",
            Self::Two => "two",
            Self::Few => "few",
            Self::Many => "many",
            Self::Other => "other",
        }
    }
}

/// The form that goes with `n` in the language `tag`. A language that is not listed has two, like
/// English.
pub fn of(tag: &str, n: usize) -> Plural {
    let (units, tens) = (n % 10, n % 100);
    let few = (2..=4).contains(&units) && !(12..=14).contains(&tens);
    match primary(tag) {
        "ja" | "ko" | "zh" | "th" | "vi" | "id" => Plural::Other,
        "fr" | "pt" if n <= 1 => Plural::One,
        "cs" | "sk" if (2..=4).contains(&n) => Plural::Few,
        "pl" if n != 1 && few => Plural::Few,
        "pl" if n != 1 => Plural::Many,
        "ru" | "uk" | "be" => match units {
            1 if tens != 11 => Plural::One,
            _ if few => Plural::Few,
            _ => Plural::Many,
        },
        "sl" => match tens {
            1 => Plural::One,
            2 => Plural::Two,
            3 | 4 => Plural::Few,
            _ => Plural::Other,
        },
        _ if n == 1 => Plural::One,
        _ => Plural::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Integer samples of CLDR's chart "Language Plural Rules", from memory.
    #[test]
    fn forms_are_those_of_cldr() {
        use Plural::{Few, Many, One, Other, Two};
        let samples: [(&str, &[(usize, Plural)]); 6] = [
            ("en", &[(0, Other), (1, One), (2, Other), (21, Other)]),
            ("de-AT", &[(0, Other), (1, One), (2, Other), (101, Other)]),
            ("fr", &[(0, One), (1, One), (2, Other)]),
            (
                "pl",
                &[(1, One), (2, Few), (5, Many), (12, Many), (22, Few)],
            ),
            (
                "ru",
                &[(1, One), (11, Many), (21, One), (24, Few), (0, Many)],
            ),
            ("sl", &[(1, One), (102, Two), (3, Few), (5, Other)]),
        ];
        for (tag, forms) in samples {
            for (n, form) in forms {
                assert_eq!(of(tag, *n), *form, "{tag} {n}");
            }
        }
    }
}
