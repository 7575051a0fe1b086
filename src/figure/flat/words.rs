//! The sentences that flat figures make of themselves: what each shows for those who do not see it,
//! and what its letters mean. The words are those of the table, group `flat`.

use super::request::TurnedIn;
use super::stitch::Look;
use crate::figure::LONGEST;
use crate::figure::Tint;
use crate::language::Words;
use crate::plates::words::TIED;

/// What a figure is of.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Subject {
    /// Pieces side by side.
    Apart(Vec<String>),
    /// Pieces right sides together.
    Together(Vec<String>),
    /// A piece on another.
    On([String; 2]),
    /// Edges side by side: piece and edge, twice, and how many pairs of notches meet.
    Joined([String; 4], usize),
    /// Edges sewn, right sides together.
    Sewn([String; 4]),
    /// A piece before it is folded, after, or both; and whether it is turned over then.
    Fold(String, [bool; 2], bool),
    /// An edge turned in, with elastic or not.
    Hem(String, String, TurnedIn),
}

/// One thing more that is seen.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Feature {
    Stitches(Look, Vec<String>),
    Opening(String, bool),
    Trimmed(Vec<String>, bool),
    Gathered(String),
    /// By the key of its sentence: the trim and the edge.
    Strip(&'static str, String, String),
    Detail(String),
    Letters(Vec<(String, String)>),
    Tints(Vec<Tint>),
}

pub(super) fn subject(subject: &Subject, words: &Words) -> String {
    let say = |key: &str, places: &[(&str, &str)]| said(words, key, places);
    match subject {
        Subject::Apart(names) => say("apart", &[("pieces", &words.joined(names))]),
        Subject::Together(names) => {
            let key = if names.len() == 1 {
                "twice together"
            } else {
                "together"
            };
            say(key, &[("pieces", &words.joined(names))])
        }
        Subject::On([upper, lower]) => say("laid on", &[("upper", upper), ("lower", lower)]),
        Subject::Joined([a, edge, b, other], pairs) => {
            let pieces = if a == b {
                a.clone()
            } else {
                words.joined(&[a, b])
            };
            let key = if *pairs > 0 {
                "joined with notches"
            } else {
                "joined"
            };
            let same = a == b && edge == other;
            let key = if same { "joined to itself" } else { key };
            say(
                key,
                &[("pieces", &pieces), ("edge", edge), ("other edge", other)],
            )
        }
        Subject::Sewn([a, edge, b, other]) => {
            let key = if a == b { "sewn folded" } else { "sewn" };
            say(
                key,
                &[
                    ("upper", a),
                    ("edge", edge),
                    ("lower", b),
                    ("other edge", other),
                ],
            )
        }
        Subject::Fold(piece, states, over) => {
            let key = match (states, over) {
                ([true, false], _) => "before folding",
                ([false, _], false) => "folded",
                ([false, _], true) => "folded and turned",
                (_, false) => "folding",
                (_, true) => "folding and turning",
            };
            say(key, &[("piece", piece)])
        }
        Subject::Hem(piece, edge, turned) => {
            let key = turned_in(*turned);
            say(key, &[("piece", piece), ("edge", edge)])
        }
    }
}

/// The key of what is said of an edge that is turned in.
fn turned_in(turned: TurnedIn) -> &'static str {
    match (turned.elastic, turned.twice) {
        (true, _) => "casing",
        (false, true) => "hem twice",
        (false, false) => "hem",
    }
}

/// The sentence `flat.KEY`.
fn said(words: &Words, key: &str, places: &[(&str, &str)]) -> String {
    let places: Vec<(&str, &dyn std::fmt::Display)> = places
        .iter()
        .map(|(name, value)| (*name, value as &dyn std::fmt::Display))
        .collect();
    words.say(&format!("flat.{key}"), &places)
}

pub(super) fn feature(feature: &Feature, words: &Words) -> String {
    let say = |key: &str, places: &[(&str, &str)]| said(words, key, places);
    let edges = |names: &[String]| match names {
        [] => words.get("flat.all round").to_string(),
        all => words.joined(all),
    };
    match feature {
        Feature::Stitches(look, names) => {
            let stitch = words.named("stitches", look.words());
            let key = if names.is_empty() {
                "stitched round"
            } else {
                "stitched"
            };
            say(key, &[("stitch", stitch), ("edges", &edges(names))])
        }
        Feature::Opening(edge, turn) => {
            let key = if *turn { "turned through" } else { "opening" };
            say(key, &[("edge", edge)])
        }
        Feature::Trimmed(names, corners) => {
            let key = if *corners {
                "corners trimmed"
            } else {
                "allowance trimmed"
            };
            say(key, &[("edges", &edges(names))])
        }
        Feature::Gathered(edge) => say("gathered", &[("edge", edge)]),
        Feature::Strip(key, trim, edge) => say(key, &[("trim", trim), ("edge", edge)]),
        Feature::Detail(what) => say("detail", &[("what", what)]),
        Feature::Letters(letters) => {
            let each = letters
                .iter()
                .map(|(letter, what)| format!("{letter} {what}"));
            each.collect::<Vec<_>>().join(", ")
        }
        Feature::Tints(tints) => {
            let each: Vec<&str> = tints.iter().filter_map(|t| tint(*t, words)).collect();
            words.joined(&each)
        }
    }
}

fn tint(tint: Tint, words: &Words) -> Option<&str> {
    match tint {
        Tint::Right => None,
        Tint::Wrong => Some(words.get("flat.wrong side")),
        Tint::Lining => Some(words.get("flat.lining")),
        Tint::Stiffener => Some(words.get("flat.stiffener")),
    }
}

/// A piece with what is seen of it: wrong side up, mirrored, its allowances turned in.
pub(super) fn seen(title: &str, facts: [bool; 3], words: &Words) -> String {
    let keys = ["seen wrong", "seen mirrored", "seen finished"];
    let told = facts.iter().zip(keys).filter(|(is, _)| **is);
    told.fold(title.to_string(), |piece, (_, key)| {
        said(words, key, &[("piece", &piece)])
    })
}

/// What a letter stands for, unless the designer says.
pub(super) fn edge(name: &str, words: &Words) -> String {
    said(words, "edge", &[("name", name)])
}

/// As [`edge`].
pub(super) fn notch(name: &str, words: &Words) -> String {
    said(words, "notch", &[("name", name)])
}

/// As [`edge`].
pub(super) fn corner(a: &str, b: &str, words: &Words) -> String {
    said(words, "corner", &[("edge", a), ("other edge", b)])
}

/// After the caption: what the letters mean; no line ends between a letter and what it stands for.
pub(super) fn legend(letters: &[(String, String)]) -> String {
    let each = letters
        .iter()
        .map(|(letter, what)| format!("{letter}:{TIED}{what}"));
    format!("{}.", each.collect::<Vec<_>>().join("; "))
}

/// After the caption: to what an allowance is trimmed.
pub(super) fn trimmed(length: &str, words: &Words) -> String {
    said(words, "trimmed to", &[("length", length)])
}

/// The whole description: as many features as find room, the subject always.
pub(super) fn whole(subject_words: &str, features: &[String]) -> String {
    let mut text = subject_words.to_string();
    for feature in features {
        if text.chars().count() + feature.chars().count() + 3 <= LONGEST {
            text.push_str("; ");
            text.push_str(feature);
        }
    }
    if text.chars().count() >= LONGEST {
        text = text.chars().take(LONGEST - 2).collect::<String>() + "…";
    }
    text + "."
}
