//! The file of an edition: written compactly, with short groups on one line and texts as they are
//! read; and read again, each fault at its line.

use super::Version;
use super::record::{Record, SCHEMA};
use crate::design::is_day;
use crate::design::weight::{self, Limit};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::folder::{DesignFolder, EDITIONS, Unreadable};
use serde_yaml::Value;
use std::fmt::Write as _;
use std::sync::Arc;

/// Groups that fit in so many characters stand on one line.
const LINE: usize = 100;

/// The path of an edition's file below the folder of its design.
pub fn path(edition: Version) -> String {
    format!("{EDITIONS}/{edition}.yaml")
}

/// The file of an edition.
pub fn text(record: &Record) -> String {
    let mut text = format!(
        "# Edition {} of {}: what was sold. Written by pressfoot; keep it, for later editions are \
         compared with it.\n",
        record.edition, record.content.title
    );
    let value = serde_yaml::to_value(record).unwrap_or_default();
    block(&value, 0, &mut text);
    text
}

/// Writes `value` in lines of its own, indented by `depth` steps.
fn block(value: &Value, depth: usize, out: &mut String) {
    let indent = "  ".repeat(depth);
    match value {
        Value::Mapping(entries) => {
            for (key, value) in entries {
                let key = one_line(key);
                entry(&format!("{indent}{key}:"), value, depth + 1, out);
            }
        }
        Value::Sequence(items) => {
            for item in items {
                entry(&format!("{indent}-"), item, depth + 1, out);
            }
        }
        scalar => {
            let _ = writeln!(out, "{indent}{}", one_line(scalar));
        }
    }
}

/// Writes `value` after `lead`: on its line if it is short, below it if it is not.
fn entry(lead: &str, value: &Value, depth: usize, out: &mut String) {
    if let Value::String(words) = value
        && is_plain_text(words)
    {
        let indent = "  ".repeat(depth);
        let _ = writeln!(out, "{lead} |-");
        for line in words.lines() {
            let indent = if line.is_empty() { "" } else { &indent };
            let _ = writeln!(out, "{indent}{line}");
        }
        return;
    }
    let line = one_line(value);
    let is_group = matches!(value, Value::Mapping(_) | Value::Sequence(_));
    if !is_group || lead.chars().count() + line.chars().count() <= LINE {
        let _ = writeln!(out, "{lead} {line}");
        return;
    }
    // the first key of a long item stands beside its hyphen
    if let (true, Value::Mapping(_)) = (lead.ends_with('-'), value) {
        let mut inner = String::new();
        block(value, depth, &mut inner);
        let _ = write!(out, "{lead} {}", inner.trim_start());
    } else {
        let _ = writeln!(out, "{lead}");
        block(value, depth, out);
    }
}

/// Whether `words` can stand as they are, line by line: they have several lines, and YAML changes
/// nothing in them.
fn is_plain_text(words: &str) -> bool {
    let first = words.chars().next().unwrap_or(' ');
    let odd = |c: char| {
        c != '\n' && (c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}'))
    };
    words.contains('\n') && !first.is_whitespace() && !words.ends_with('\n') && !words.contains(odd)
}

/// `value` as JSON, which YAML reads as it is; names without quotation marks.
fn one_line(value: &Value) -> String {
    match value {
        Value::Mapping(entries) => {
            let of =
                |(key, value): (&Value, &Value)| format!("{}: {}", one_line(key), one_line(value));
            let all: Vec<String> = entries.iter().map(of).collect();
            format!("{{{}}}", all.join(", "))
        }
        Value::Sequence(items) => {
            let all: Vec<String> = items.iter().map(one_line).collect();
            format!("[{}]", all.join(", "))
        }
        Value::String(words) if is_name(words) => words.clone(),
        Value::String(words) => serde_json::to_string(words).unwrap_or_default(),
        other => serde_json::to_string(other).unwrap_or_default(),
    }
}

/// Whether `words` need no quotation marks wherever they stand: names of small letters, of which none
/// means something else to YAML.
fn is_name(words: &str) -> bool {
    let taken = ["true", "false", "null", "yes", "no", "on", "off", "y", "n"];
    let fits = |c: char| c.is_ascii_lowercase() || matches!(c, ' ' | '-' | '.');
    words.starts_with(|c: char| c.is_ascii_lowercase())
        && words.ends_with(|c: char| c.is_ascii_lowercase())
        && words.chars().all(fits)
        && !words.contains("  ")
        && !words.contains(" -")
        && (!taken.contains(&words) || words == "on")
}

/// The editions kept in `folder`, the first one first. A file that is damaged or was changed by hand
/// is an error at its line.
pub fn read(folder: &DesignFolder, diagnostics: &mut Diagnostics) -> Vec<Record> {
    let mut records: Vec<Record> = Vec::new();
    for path in folder.editions() {
        match folder.source(path) {
            Ok(source) => records.extend(of_file(&source, diagnostics)),
            Err(why) => diagnostics.push(unreadable(path, &why)),
        }
    }
    records.sort_by_key(|record| record.edition);
    tell_of_other_names(folder, diagnostics);
    in_order_of_days(records, folder, diagnostics)
}

/// The place of the first line of an edition's file that begins with `words`; `None` if the file cannot
/// be read.
pub fn place_of(folder: &DesignFolder, edition: Version, words: &str) -> Option<Place> {
    let source = folder.source(&path(edition)).ok()?;
    let (line, column) = line_of(&source, words);
    Some(Place {
        source,
        line,
        column,
    })
}

/// Line and column of the first line that begins with `words`, or of the file's beginning.
fn line_of(source: &SourceText, words: &str) -> (usize, usize) {
    let at = source.text.lines().position(|line| line.starts_with(words));
    let blanks = words.chars().take_while(|c| *c == ' ').count();
    at.map_or((1, 1), |at| (at + 1, blanks + 1))
}

/// Files among the editions that seem to be some, but whose names are none of an edition: they are passed
/// over.
fn tell_of_other_names(folder: &DesignFolder, diagnostics: &mut Diagnostics) {
    let seems = |path: &str| {
        let name = path.rsplit('/').next().unwrap_or_default();
        let small = name.to_lowercase();
        let numbered = name.starts_with(|c: char| c.is_ascii_digit());
        !name.ends_with(".yaml")
            && (numbered || small.ends_with(".yml") || small.ends_with(".yaml"))
    };
    for path in folder.listing(EDITIONS, seems) {
        let message = format!("‘{path}’ is not read as an edition");
        let told = Diagnostic::warning("edition-misnamed", None, message);
        diagnostics.push(told.remedy(
            "Name it as it was released, by its three numbers and .yaml, such as 1.0.0.yaml; or take it away.",
        ));
    }
}

/// `records` without those whose day is before that of an earlier number.
fn in_order_of_days(
    records: Vec<Record>,
    folder: &DesignFolder,
    diagnostics: &mut Diagnostics,
) -> Vec<Record> {
    let mut kept: Vec<Record> = Vec::new();
    for record in records {
        match kept.last().filter(|before| before.on > record.on) {
            Some(before) => {
                let place = place_of(folder, record.edition, "on:");
                let message = format!(
                    "edition {} of {} would be older than edition {} of {}",
                    record.edition, record.on, before.edition, before.on
                );
                let told = Diagnostic::error("edition-day", place.as_ref(), message);
                diagnostics.push(told.remedy(REMEDY));
            }
            None => kept.push(record),
        }
    }
    kept
}

fn unreadable(path: &str, why: &Unreadable) -> Diagnostic {
    Diagnostic::error(why.code(), None, format!("‘{path}’: {why}")).remedy(why.remedy())
}

const REMEDY: &str = "Put back the file as it was released, from a copy; an edition is never changed \
                      by hand.";

fn of_file(source: &Arc<SourceText>, diagnostics: &mut Diagnostics) -> Option<Record> {
    let mut wrong = |code: &'static str, (line, column): (usize, usize), message: String| {
        let place = Place {
            source: source.clone(),
            line: line.max(1),
            column: column.max(1),
        };
        let told = Diagnostic::error(code, Some(&place), message);
        diagnostics.push(told.remedy(REMEDY));
    };
    let mut damaged = |at, message| wrong("edition-damaged", at, message);
    let path = &source.path;
    let name = path.rsplit('/').next().unwrap_or_default();
    let record: Record = match weight::read(&source.text, Limit::EDITION) {
        Ok(record) => record,
        Err(fault) => {
            let at = (fault.line, fault.column);
            let message = format!("the file of the edition cannot be read: {}", fault.words);
            damaged(at, message);
            return None;
        }
    };
    let line = |key: &str| line_of(source, key);
    if record.schema != SCHEMA {
        let message = format!("the file has the form {}, not {SCHEMA}", record.schema);
        damaged(line("schema:"), message);
        return None;
    }
    if format!("{}.yaml", record.edition) != name {
        let message = format!("the file {name} holds edition {}", record.edition);
        damaged(line("edition:"), message);
        return None;
    }
    if record.sealed() != record.seal {
        let message = "it was changed after it was released: the seal does not fit";
        damaged(line("seal:"), message.to_string());
        return None;
    }
    if !is_day(&record.on) {
        let message = format!("‘{}’ is no day of the calendar", record.on);
        wrong("edition-day", line("on:"), message);
        return None;
    }
    Some(record)
}

#[cfg(test)]
pub(super) mod tests;
