//! Words of the trade by which a text is understood: verbs, tools, materials, numbers. Tables of
//! `templates/words/review.*.yaml`, lists by name; an entry is a word or a few.

use rust_stemmers::{Algorithm, Stemmer};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// What is known of one language.
struct Known {
    language: &'static str,
    /// Its lists.
    table: &'static str,
    /// Its common words.
    common: &'static str,
    /// How its endings go.
    endings: Algorithm,
}

/// The languages whose words are known, English first.
const KNOWN: [Known; 2] = [
    Known {
        language: "en",
        table: include_str!("../../templates/words/review.en.yaml"),
        common: include_str!("../../templates/words/common.en.txt"),
        endings: Algorithm::English,
    },
    Known {
        language: "de",
        table: include_str!("../../templates/words/review.de.yaml"),
        common: include_str!("../../templates/words/common.de.txt"),
        endings: Algorithm::German,
    },
];

static LEXICONS: [LazyLock<Lexicon>; 2] = [
    LazyLock::new(|| Lexicon::read(&KNOWN[0])),
    LazyLock::new(|| Lexicon::read(&KNOWN[1])),
];
static OTHER: LazyLock<Lexicon> = LazyLock::new(Lexicon::default);

/// The words of one language.
#[derive(Debug, Default)]
pub(super) struct Lexicon {
    endings: Option<Algorithm>,
    plurals: Plurals,
    lists: BTreeMap<String, Vec<Phrase>>,
    numbers: BTreeMap<String, u32>,
    /// Signs of units by their names.
    units: BTreeMap<String, String>,
    /// Words of the house's texts and those that are common.
    common: BTreeSet<&'static str>,
}

/// How a language makes its plurals, where only their endings go and no others. Empty lists where a noun is found
/// by its stem.
#[derive(Debug, Default)]
struct Plurals {
    /// Nouns in `f`, in whose plural stands `ves`.
    in_f: Vec<String>,
    /// Endings that lose `es`.
    in_es: Vec<String>,
    /// Endings in `s` that are none of a plural.
    none: Vec<String>,
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
        let primary = tag.split('-').next().unwrap_or_default();
        let at = KNOWN.iter().position(|known| known.language == primary);
        match at {
            Some(at) => &LEXICONS[at],
            None => &OTHER,
        }
    }

    /// The tags of the languages whose words are known.
    pub fn languages() -> [&'static str; 2] {
        KNOWN.map(|known| known.language)
    }

    fn read(known: &Known) -> Self {
        let mut lists: BTreeMap<String, Vec<String>> =
            serde_yaml::from_str(known.table).unwrap_or_default();
        let mut plurals = |name: &str| lists.remove(name).unwrap_or_default();
        let plurals = Plurals {
            in_f: plurals("nouns in f"),
            in_es: plurals("plurals in es"),
            none: plurals("no plurals"),
        };
        let lines = known.common.lines();
        let words = lines.filter(|line| !line.starts_with('#'));
        let mut lexicon = Self {
            endings: Some(known.endings),
            plurals,
            common: words.flat_map(str::split_whitespace).collect(),
            ..Self::default()
        };
        for (key, list) in lists {
            if key == "numbers" {
                let numbers = list.into_iter().zip(1..);
                lexicon.numbers = numbers.collect();
                continue;
            }
            if key == "names of units" {
                let entries = list.iter().filter_map(|entry| entry.split_once('='));
                let named = entries.flat_map(|(sign, names)| {
                    let names = names.split(',').map(|name| name.trim().to_string());
                    names.map(|name| (name, sign.trim().to_string()))
                });
                lexicon.units = named.collect();
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

    /// Whether the language has this habit, of the list `habits`.
    pub fn has_habit(&self, habit: &str) -> bool {
        let mut habits = self.list("habits").iter();
        habits.any(|phrase| phrase.text == habit)
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

    /// The sign of the unit that has this name: `mm` of `millimetres`.
    pub fn sign_of_unit(&self, name: &str) -> Option<&str> {
        self.units.get(name).map(String::as_str)
    }

    /// Whether a word is a common one of the language, or in a text of the house.
    pub fn is_common(&self, lower: &str) -> bool {
        self.common.contains(lower)
    }

    /// A word in small letters without its endings.
    pub fn stem(&self, lower: &str) -> String {
        match self.endings {
            Some(endings) => Stemmer::create(endings).stem(lower).into_owned(),
            None => lower.to_string(),
        }
    }

    /// A noun in small letters in the singular. Where the table has plurals only their ending goes: a lining
    /// is no line.
    pub fn noun(&self, lower: &str) -> String {
        match self.plurals.in_es.is_empty() {
            true => self.stem(lower),
            false => self.plurals.singular(lower),
        }
    }
}

impl Plurals {
    /// `leaves` is `leaf`, `pouches` is `pouch`.
    fn singular(&self, lower: &str) -> String {
        if let Some(stem) = lower.strip_suffix("ves") {
            let whole = format!("{stem}f");
            if self.in_f.contains(&whole) {
                return whole;
            }
        }
        if let Some(stem) = lower.strip_suffix("ies")
            && stem.len() > 2
        {
            return format!("{stem}y");
        }
        let ends = |list: &[String]| list.iter().any(|end| lower.ends_with(end.as_str()));
        if ends(&self.in_es) {
            return lower[..lower.len() - 2].to_string();
        }
        match lower.len() > 3 && lower.ends_with('s') && !ends(&self.none) {
            true => lower[..lower.len() - 1]
                .trim_end_matches(['\'', '’'])
                .to_string(),
            false => lower.to_string(),
        }
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
    fn units_have_names_and_languages_habits() {
        let [english, german] = ["en", "de"].map(Lexicon::of);
        assert_eq!(english.sign_of_unit("feet"), Some("ft"));
        assert_eq!(german.sign_of_unit("zoll"), Some("in"));
        assert!(english.has_habit("plural shows") && !english.has_habit("compounds"));
        assert!(german.has_habit("compounds") && !german.has_habit("plural shows"));
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
