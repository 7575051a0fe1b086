//! Trims and notions as a design describes them: what is bought and sewn on, not cut from cloth.
//! Millimetres and grams.

use super::cloth::Price;
use super::formula::Formula;
use super::quantity;
use crate::diagnostic::Place;
use crate::geometry::units::INCH;
use crate::language::Words;

/// A trim or notion.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// Key, e.g. `elastic`.
    pub key: String,
    /// As printed.
    pub name: String,
    /// What kind of thing it is.
    pub kind: TrimKind,
    /// Width or diameter, mm; of a bias strip the width it is cut.
    pub width: Option<f64>,
    /// Whether the width is printed in lignes too (buttons).
    pub lignes: bool,
    /// Length of each without what joins its ends, if it is cut from a length.
    pub length: Option<Formula>,
    /// What is added to the length of each for joining its ends.
    pub join: Option<Formula>,
    /// How much longer or shorter each may be cut, mm; that of its kind unless given.
    pub tolerance: Option<f64>,
    /// How many for what the design `makes`.
    pub count: u32,
    /// Small hard part that must be named in the caution (button, bead, buckle, eyelet).
    pub small_part: bool,
    /// What it costs.
    pub price: Option<Price>,
    /// What it weighs.
    pub weight: Option<TrimWeight>,
    /// Words for the materials list.
    pub note: Option<String>,
    /// Where it is declared.
    pub place: Place,
}

/// What a trim weighs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TrimWeight {
    /// Each one, g.
    Each(f64),
    /// A metre of it, g.
    PerMetre(f64),
}

/// A kind of trim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TrimKind {
    /// Elastic, flat or round.
    Elastic,
    /// Ribbon, tape or lace.
    Ribbon,
    /// Cord or string.
    Cord,
    /// A strip cut on the bias of cloth.
    BiasStrip,
    /// A button.
    Button,
    /// A bead.
    Bead,
    /// An eyelet.
    Eyelet,
    /// A buckle.
    Buckle,
    /// A snap fastener.
    Snap,
    /// Anything else.
    Other,
}

/// The bore of the cylinder into which small parts fit, mm: 1 1/4 in (16 CFR 1501.4, EN 71-1; the
/// values in inches govern).
const BORE: f64 = 1.25 * INCH;

/// Its depth at the deepest side, mm: 2 1/4 in (as [`BORE`]).
const DEPTH: f64 = 2.25 * INCH;

impl TrimKind {
    /// Each kind with the word for it.
    pub const WORDS: [(&'static str, Self); 10] = [
        ("elastic", Self::Elastic),
        ("ribbon", Self::Ribbon),
        ("cord", Self::Cord),
        ("bias strip", Self::BiasStrip),
        ("button", Self::Button),
        ("bead", Self::Bead),
        ("eyelet", Self::Eyelet),
        ("buckle", Self::Buckle),
        ("snap", Self::Snap),
        ("other", Self::Other),
    ];

    /// The kind that a trim's `name` tells by its noun, in the language of `words`: the last words before
    /// `with`, `for` and the like. `button thread` is no button. Of several kinds it is the one that is
    /// told by most letters: a `Druckknopf` is no button.
    #[must_use]
    pub fn named(name: &str, words: &Words) -> Option<Self> {
        let noun = noun(name, words);
        let told = |(word, kind): (&str, Self)| {
            let letters = letters_told(&noun, words.list(&format!("known.{word}")))?;
            Some((letters, kind))
        };
        let found = Self::WORDS.into_iter().filter_map(told);
        found
            .max_by_key(|(letters, _)| *letters)
            .map(|(_, kind)| kind)
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        let known = Self::WORDS.iter().find(|(_, kind)| *kind == self);
        known.map_or("other", |(word, _)| word)
    }

    /// How exactly a length of it is cut unless the design says otherwise, mm: elastic most
    /// exactly, because the fit hangs on it: 1/32 in, ribbon 1/16 in, the others 1/8 in (common
    /// practice, from memory).
    #[must_use]
    pub fn tolerance(self) -> f64 {
        let parts = match self {
            Self::Elastic => 32.0,
            Self::Ribbon => 16.0,
            _ => 8.0,
        };
        INCH / parts
    }

    /// Whether a thing of this kind is hard, so that it can be a small part. Fabric, yarn, elastic and
    /// string are exempt (16 CFR 1501.4(b)(2)), and ribbon as fabric.
    #[must_use]
    pub fn is_hard(self) -> bool {
        matches!(
            self,
            Self::Button | Self::Bead | Self::Eyelet | Self::Buckle | Self::Snap
        )
    }

    /// Whether a hard thing `width` mm across fits the small-parts cylinder in some position. What is
    /// round fits if it is no wider than the bore. Of a buckle one side alone is known: it may lie from
    /// the foot of the low side to the top of the high one.
    #[must_use]
    pub fn fits_small_parts(self, width: f64) -> bool {
        let reach = match self {
            Self::Buckle => BORE.hypot(DEPTH),
            _ => BORE,
        };
        self.is_hard() && width <= reach + 1e-9
    }
}

/// Whether a trim's `name` tells by its noun that it is thread, cloth or the like, which is no small part
/// whatever kind it is of.
#[must_use]
pub fn is_soft(name: &str, words: &Words) -> bool {
    letters_told(&noun(name, words), words.list("known.soft")).is_some()
}

/// The noun of a name with what stands before it, in small letters: nothing behind a comma, no words such
/// as `with` and what follows them, no size.
fn noun(name: &str, words: &Words) -> String {
    let name = name.to_lowercase();
    let first = name.split([',', ';', ':', '(']).next().unwrap_or_default();
    let behind = words.list("known.behind a noun");
    let parts = first.split(|c: char| !c.is_alphanumeric());
    let parts = parts.filter(|part| !part.is_empty());
    let mut noun: Vec<&str> = parts
        .take_while(|part| !behind.iter().any(|word| word == part))
        .collect();
    let is_number = |part: &&str| part.starts_with(|c: char| c.is_ascii_digit());
    // lignes are written with a capital
    let is_unit = |part: &&str| *part == "l" || quantity::unit(part).is_some();
    while let Some(at) = noun.iter().rposition(is_number)
        && noun[at + 1..].iter().all(is_unit)
    {
        noun.truncate(at);
    }
    noun.join(" ")
}

/// How many letters at the end of `noun` are one of `called`, as words of their own. What begins with a
/// hyphen may end a longer word too: `-knopf`.
fn letters_told(noun: &str, called: &[String]) -> Option<usize> {
    let one = noun.strip_suffix('s').unwrap_or(noun);
    let ends = |called: &&String| {
        let (word, joined) = match called.strip_prefix('-') {
            Some(word) => (word, true),
            None => (called.as_str(), false),
        };
        let before = [noun, one].into_iter();
        let mut before = before.filter_map(|noun| noun.strip_suffix(word));
        before.any(|before| joined || before.is_empty() || before.ends_with(' '))
    };
    let found = called.iter().filter(ends);
    found
        .map(|called| called.trim_start_matches('-').len())
        .max()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_noun_of_a_name_tells_the_kind() {
        for (name, kind) in [
            ("shank button", Some(TrimKind::Button)),
            ("glass beads", Some(TrimKind::Bead)),
            ("brass eyelet with washer", Some(TrimKind::Eyelet)),
            ("cotton tape for the waist", Some(TrimKind::Ribbon)),
            ("soft flat elastic", Some(TrimKind::Elastic)),
            ("sew-on snap", Some(TrimKind::Snap)),
            ("press studs", Some(TrimKind::Snap)),
            ("bias strip of the lining", Some(TrimKind::BiasStrip)),
            ("button thread", None),
            ("buttonhole twist", None),
            ("thread in the colour of the button", None),
            ("wooden bead, 8 mm", Some(TrimKind::Bead)),
            ("two-hole button 12 mm (corozo)", Some(TrimKind::Button)),
        ] {
            assert_eq!(TrimKind::named(name, &Words::of("en")), kind, "{name}");
        }
        for (word, kind) in TrimKind::WORDS {
            assert_eq!(kind.words(), word);
        }
    }

    #[test]
    fn german_nouns_end_longer_words() {
        for (name, kind) in [
            ("Knopf mit Öse, 12 mm", Some(TrimKind::Button)),
            ("Holzperle, 8 mm", Some(TrimKind::Bead)),
            ("zwei flache Perlmuttknöpfe 14 L", Some(TrimKind::Button)),
            ("Druckknopf zum Annähen", Some(TrimKind::Snap)),
            ("Gurtschnalle", Some(TrimKind::Buckle)),
            ("Messingöse mit Scheibe", Some(TrimKind::Eyelet)),
            ("weiches Gummiband", Some(TrimKind::Elastic)),
            ("Baumwollband für die Taille", Some(TrimKind::Ribbon)),
            ("Schrägband aus dem Futter", Some(TrimKind::BiasStrip)),
            ("Knopflochgarn", None),
            ("Garn in der Farbe des Knopfs", None),
        ] {
            assert_eq!(TrimKind::named(name, &Words::of("de")), kind, "{name}");
        }
        assert!(is_soft("Knopflochgarn", &Words::of("de")));
        assert!(is_soft("skein of embroidery thread", &Words::of("en")));
        assert!(!is_soft("Glöckchen", &Words::of("de")));
    }

    #[test]
    fn what_fits_the_cylinder_of_one_and_a_quarter_inches_is_a_small_part() {
        // 16 CFR 1501.4, figure 1: 1.25 in across, 1 to 2.25 in deep; the inch values govern.
        let inch = |inches: f64| inches * INCH;
        assert!(TrimKind::Button.fits_small_parts(inch(1.25)));
        assert!(!TrimKind::Button.fits_small_parts(inch(1.26)));
        // the metric figure of the rule, 31.7 mm, is the smaller one
        assert!(TrimKind::Bead.fits_small_parts(31.74));
        // a flat buckle lies slantwise: √(1.25² + 2.25²) = 2.574 in
        assert!(TrimKind::Buckle.fits_small_parts(inch(2.57)));
        assert!(!TrimKind::Buckle.fits_small_parts(inch(2.58)));
        assert!(!TrimKind::Elastic.fits_small_parts(4.0));
    }
}
