//! `new`: a design folder that builds and proofs at once, with comments that explain each key.

use super::args::{New, Start};
use super::asking::{asked, asked_for};
use super::schema::SCHEMA_FOLDER;
use super::{Fault, schema};
use crate::cli::screen::Screen;
use crate::diagnostic::Diagnostics;
use crate::folder::{DesignFolder, start};
use crate::pipeline::{self, Options};
use std::path::Path;

/// A file of a starting design: its path below the folder and its text.
type StartFile = (&'static str, &'static str);

/// The file of the foot that a shoe starts with.
const FOOT: &str = "feet/doll.yaml";

/// What stands where a designer has not said her name, or her address, yet: the review tells of it.
const UNSAID: [&str; 2] = ["your name here", "your address here"];

macro_rules! starter {
    ($kind:literal, $path:literal) => {
        (
            $path,
            include_str!(concat!("../../templates/starters/", $kind, "/", $path)),
        )
    };
}

const SHOE: [StartFile; 3] = [
    starter!("shoe", "design.yaml"),
    starter!("shoe", "booklet/10-making.md"),
    starter!("shoe", "feet/doll.yaml"),
];
const OUTLINES: [StartFile; 3] = [
    starter!("outlines", "design.yaml"),
    starter!("outlines", "booklet/10-making.md"),
    starter!("outlines", "drawings/pieces.svg"),
];
const FLAT: [StartFile; 2] = [
    starter!("flat", "design.yaml"),
    starter!("flat", "booklet/10-making.md"),
];

pub(super) fn new(wanted: &New, screen: &mut Screen) -> Result<bool, Fault> {
    checked_name(&wanted.name)?;
    let folder = wanted.from.join(&wanted.name);
    // before anything is asked: answers given in vain are given once
    start::may_be_begun(&folder).map_err(|why| Fault(why.to_string()))?;
    let kind = kind(wanted, screen)?;
    if wanted.foot.is_some() && kind != Start::Shoe {
        return Err(Fault(
            "--foot goes with --start shoe: only a shoe is drafted from a foot".into(),
        ));
    }
    let foot = match &wanted.foot {
        Some(path) => Some(start::foot(path).map_err(|why| Fault(why.to_string()))?),
        None => None,
    };
    let title = said(
        &wanted.title,
        &format!("Title [{}]: ", usual_title(&wanted.name)),
        screen,
    )
    .unwrap_or_else(|| usual_title(&wanted.name));
    let by = said(&wanted.by, "Who made it, as printed: ", screen);
    let contact = said(&wanted.contact, "Where corrections can be sent: ", screen);
    let by = by.unwrap_or_else(|| UNSAID[0].to_string());
    let contact = contact.unwrap_or_else(|| UNSAID[1].to_string());
    let places = [("«title»", title), ("«by»", by), ("«contact»", contact)];
    let files = files(kind).iter().map(|(path, text)| {
        let text = match &foot {
            Some(foot) if *path == FOOT => foot.clone(),
            _ => filled(text, &places),
        };
        ((*path).to_string(), text)
    });
    let files: Vec<(String, String)> = files.collect();
    start::create(&folder, &files).map_err(|why| Fault(why.to_string()))?;
    schema::write_below(&wanted.from.join(SCHEMA_FOLDER), screen)?;
    for (path, _) in &files {
        screen.file(&folder.join(path));
    }
    let build = format!("pressfoot build {}", named(wanted, &folder));
    let missing = foot.is_some() && tell_what_is_missing(&wanted.name, &folder, files, screen);
    let next = match missing {
        true => format!("begun; next: fill in what is missing, then {build}"),
        false => format!("begun; next: {build}"),
    };
    screen.verdict(&wanted.name, &next);
    Ok(true)
}

/// Tells what the foot that was brought still lacks for this shoe. Whether it lacks anything.
fn tell_what_is_missing(
    name: &str,
    folder: &Path,
    files: Vec<(String, String)>,
    screen: &Screen,
) -> bool {
    let design = DesignFolder::from_memory(name, files);
    let mut said = Diagnostics::default();
    pipeline::compute(&design, &Options::default(), &mut |_| {}, &mut said);
    if said.has_errors() {
        screen.messages(&folder.display().to_string(), &said);
    }
    said.has_errors()
}

/// How the command line of `build` names the new design.
fn named(wanted: &New, folder: &Path) -> String {
    match wanted.from == Path::new("designs") {
        true => wanted.name.clone(),
        false => folder.display().to_string(),
    }
}

fn checked_name(name: &str) -> Result<(), Fault> {
    let letter = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    let good = name.starts_with(|c: char| c.is_ascii_lowercase())
        && !name.ends_with('-')
        && name.chars().all(letter)
        && name.len() <= 60;
    match good {
        true => Ok(()),
        false => Err(Fault(format!(
            "{name} is no name for a folder of a design: write small letters, figures and hyphens, such as \
             harvest-slipper"
        ))),
    }
}

fn kind(wanted: &New, screen: &mut Screen) -> Result<Start, Fault> {
    if let Some(kind) = wanted.start {
        return Ok(kind);
    }
    if wanted.foot.is_some() {
        return Ok(Start::Shoe);
    }
    let question = "Begin with a shoe from a foot (1), a shoe from your own outlines (2), or a flat thing (3)? ";
    let known = "say what to begin with: --start shoe, --start outlines or --start flat";
    asked_for(question, &mut start_of, screen).ok_or_else(|| Fault(known.into()))
}

/// The beginning that an answer names.
fn start_of(answer: &str) -> Result<Start, String> {
    match answer.trim_end_matches('.').to_lowercase().as_str() {
        "1" | "shoe" => Ok(Start::Shoe),
        "2" | "outlines" => Ok(Start::Outlines),
        "3" | "flat" => Ok(Start::Flat),
        "" => Err("Answer with 1, 2 or 3.".into()),
        _ => Err(format!(
            "‘{answer}’ is none of them: answer with 1, 2 or 3."
        )),
    }
}

fn files(kind: Start) -> &'static [StartFile] {
    match kind {
        Start::Shoe => &SHOE,
        Start::Outlines => &OUTLINES,
        Start::Flat => &FLAT,
    }
}

/// What was given, or is answered on a terminal; nothing for an empty answer.
fn said(given: &Option<String>, question: &str, screen: &mut Screen) -> Option<String> {
    let answer = given.clone().or_else(|| asked(question, screen))?;
    let answer = answer.split_whitespace().collect::<Vec<_>>().join(" ");
    (!answer.is_empty()).then_some(answer)
}

/// `first-slipper` is `First slipper`.
fn usual_title(name: &str) -> String {
    let words = name.replace('-', " ");
    let mut letters = words.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// A text with what was said in its places, each as one value of YAML.
fn filled(text: &str, places: &[(&str, String)]) -> String {
    let mut filled = text.to_string();
    for (place, said) in places {
        filled = filled.replace(place, &value(said));
    }
    filled
}

/// A text as a value of YAML on one line.
fn value(text: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || " -,.'@/()".contains(c);
    let is_plain = text.chars().all(plain)
        && text.starts_with(char::is_alphabetic)
        && !text.contains(" #")
        && serde_yaml::from_str::<serde_yaml::Value>(text).is_ok_and(|v| v.as_str() == Some(text));
    match is_plain {
        true => text.to_string(),
        false => format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_reads_as_it_was_said() {
        let said = [
            "Frost slipper",
            "yes",
            "12",
            "a: b",
            "\"so\"",
            "# no",
            "A\\B",
            "Größe, weit",
            "null",
            "- x",
        ];
        for text in said {
            let read: serde_yaml::Value = serde_yaml::from_str(&value(text)).unwrap();
            assert_eq!(read.as_str(), Some(text));
        }
    }

    #[test]
    fn a_beginning_is_named_by_number_or_word() {
        for (answer, kind) in [
            ("1", Start::Shoe),
            ("Flat", Start::Flat),
            ("2.", Start::Outlines),
        ] {
            assert_eq!(start_of(answer), Ok(kind), "{answer}");
        }
        for answer in ["", "4", "slipper", "1 2"] {
            assert!(start_of(answer).is_err(), "{answer}");
        }
    }

    #[test]
    fn names_of_folders_are_small_letters() {
        for name in ["a", "harvest-slipper", "shoe-2"] {
            assert!(checked_name(name).is_ok(), "{name}");
        }
        for name in ["", "-a", "a-", "../x", "A", "a b", "_a", "a/b", "2a", "ä"] {
            assert!(checked_name(name).is_err(), "{name}");
        }
        assert_eq!(usual_title("harvest-slipper-2"), "Harvest slipper 2");
    }
}
