//! Words of the trade by which a text is understood: verbs, tools, materials, numbers. Tables of
//! `templates/words/review.*.yaml`, lists by name; an entry is a word or a few.

use rust_stemmers::{Algorithm, Stemmer};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// Tables by language.
const TABLES: [(&str, &str); 2] = [
    ("en", include_str!("../../templates/words/review.en.yaml")),
    ("de", include_str!("../../templates/words/review.de.yaml")),
];

/// Common words by language.
const COMMON: [(&str, &str); 2] = [
    ("en", include_str!("../../templates/words/common.en.txt")),
    ("de", include_str!("../../templates/words/common.de.txt")),
];

static EN: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::read("en"));
static DE: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::read("de"));
static OTHER: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::read(""));

/// The words of one language.
#[derive(Debug, Default)]
pub(super) struct Lexicon {
    /// The language; empty if its words are not known.
    pub language: &'static str,
    lists: BTreeMap<String, Vec<Phrase>>,
    numbers: BTreeMap<String, u32>,
    /// Words of the house's texts and those that are common.
    common: BTreeSet<&'static str>,
}

/// One or more words, as nouns in the singular and as stems.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Phrase {
    /// As it is written.
    pub text: String,
    pub words: Vec<PhraseWord>,
}

/// A word of a phrase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PhraseWord {
    pub lower: String,
    pub noun: String,
    pub stem: String,
}

impl Lexicon {
    /// The words of a language, by its tag.
    pub fn of(tag: &str) -> &'static Self {
        match tag.split('-').next() {
            Some("en") => &EN,
            Some("de") => &DE,
            _ => &OTHER,
        }
    }

    fn read(language: &'static str) -> Self {
        let mut lexicon = Self {
            language,
            ..Self::default()
        };
        let table = TABLES.iter().find(|(key, _)| *key == language);
        let Some((_, table)) = table else {
            return lexicon;
        };
        let common = COMMON.iter().filter(|(key, _)| *key == language);
        let lines = common.flat_map(|(_, text)| text.lines());
        let words = lines.filter(|line| !line.starts_with('#'));
        lexicon.common = words.flat_map(str::split_whitespace).collect();
        let lists: BTreeMap<String, Vec<String>> = serde_yaml::from_str(table).unwrap_or_default();
        for (key, list) in lists {
            if key == "numbers" {
                let numbers = list.into_iter().zip(1..);
                lexicon.numbers = numbers.collect();
                continue;
            }
            let phrases = list.iter().map(|text| lexicon.phrase(text)).collect();
            lexicon.lists.insert(key, phrases);
        }
        lexicon
    }

    /// Whether anything is known of the language.
    pub fn is_known(&self) -> bool {
        !self.lists.is_empty()
    }

    /// A list of the table.
    pub fn list(&self, name: &str) -> &[Phrase] {
        self.lists.get(name).map_or(&[], Vec::as_slice)
    }

    /// Whether a list has just this word, in small letters and in no other form.
    pub fn has_word(&self, name: &str, lower: &str) -> bool {
        let mut words = self.list(name).iter().map(|phrase| phrase.words.as_slice());
        words.any(|words| matches!(words, [word] if word.lower == lower))
    }

    /// The words of `text`.
    pub fn phrase(&self, text: &str) -> Phrase {
        let words = text.split(|c: char| !c.is_alphanumeric() && c != '\'');
        let words = words.filter(|word| !word.is_empty()).map(|word| {
            let lower = word.to_lowercase();
            PhraseWord {
                noun: self.noun(&lower),
                stem: self.stem(&lower),
                lower,
            }
        });
        Phrase {
            text: text.to_string(),
            words: words.collect(),
        }
    }

    /// What a word or figures count.
    pub fn number(&self, word: &str) -> Option<u32> {
        let written = self.numbers.get(word).copied();
        written.or_else(|| word.parse().ok())
    }

    /// Whether a word is a common one of the language, or in a text of the house.
    pub fn is_common(&self, lower: &str) -> bool {
        self.common.contains(lower)
    }

    /// A word in small letters without its endings.
    pub fn stem(&self, lower: &str) -> String {
        let algorithm = match self.language {
            "de" => Algorithm::German,
            "en" => Algorithm::English,
            _ => return lower.to_string(),
        };
        Stemmer::create(algorithm).stem(lower).into_owned()
    }

    /// A noun in small letters in the singular. In English only the ending of the plural goes: a lining is
    /// no line.
    pub fn noun(&self, lower: &str) -> String {
        match self.language {
            "en" => singular(lower),
            _ => self.stem(lower),
        }
    }
}

/// English plurals: `leaves` is `leaf`, `pouches` is `pouch`.
fn singular(lower: &str) -> String {
    const F: [&str; 8] = [
        "leaf", "half", "scarf", "calf", "loaf", "wolf", "sheaf", "hoof",
    ];
    if let Some(stem) = lower.strip_suffix("ves") {
        let whole = format!("{stem}f");
        if F.contains(&whole.as_str()) {
            return whole;
        }
    }
    if let Some(stem) = lower.strip_suffix("ies")
        && stem.len() > 2
    {
        return format!("{stem}y");
    }
    for ending in ["sses", "shes", "ches", "xes", "zzes"] {
        if lower.ends_with(ending) {
            return lower[..lower.len() - 2].to_string();
        }
    }
    let is_plural = lower.len() > 3
        && lower.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| lower.ends_with(end));
    match is_plural {
        true => lower[..lower.len() - 1]
            .trim_end_matches(['\'', '’'])
            .to_string(),
        false => lower.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nouns_lose_the_plural_and_nothing_else() {
        let english = Lexicon::of("en");
        for (word, noun) in [
            ("linings", "lining"),
            ("leaves", "leaf"),
            ("pouches", "pouch"),
            ("sleeves", "sleeve"),
            ("patches", "patch"),
            ("bodies", "body"),
            ("toes", "toe"),
            ("canvas", "canva"),
            ("press", "press"),
            ("sizes", "size"),
        ] {
            assert_eq!(english.noun(word), noun);
        }
        // Snowball's sample vocabulary: Knöpfe and Knopf share their stem
        let german = Lexicon::of("de-CH");
        assert_eq!(german.noun("knöpfe"), german.noun("knopf"));
    }

    #[test]
    fn numbers_are_read_in_words_and_figures() {
        assert_eq!(Lexicon::of("en").number("twelve"), Some(12));
        assert_eq!(Lexicon::of("de").number("zwei"), Some(2));
        assert_eq!(Lexicon::of("fr").number("7"), Some(7));
        assert!(!Lexicon::of("fr").is_known());
    }

    #[test]
    fn both_tables_have_the_same_lists() {
        let keys = |language: &str| {
            let keys = Lexicon::of(language).lists.keys().cloned();
            keys.collect::<Vec<String>>()
        };
        assert_eq!(keys("en"), keys("de"));
        assert!(keys("en").len() > 20);
    }
}
