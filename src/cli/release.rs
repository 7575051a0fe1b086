//! `release`: keeps a design that passes its proof as an edition, and makes its booklets.

use super::args;
use super::asking::asked_for;
use super::screen::Screen;
use super::{Fault, build, chosen, moment};
use crate::booklet::Moment;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::edition::{Change, Version, file};
use crate::folder::kept::Added;
use crate::folder::{self, DesignFolder};
use crate::pipeline::{self, Computed, Options, Published, Release, Standing};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

/// Releases one design. Whether it is an edition now.
pub(super) fn release(wanted: &args::Release, screen: &mut Screen) -> Result<bool, Fault> {
    let names = std::slice::from_ref(&wanted.design);
    let Some(path) = chosen(names, &wanted.from)?.pop() else {
        return Ok(false);
    };
    let key = build::key(&path);
    let name = path.display().to_string();
    screen.design(&key);
    let mut diagnostics = Diagnostics::default();
    let (mut published, mut kept) = (None, None);
    match DesignFolder::read(&path) {
        Ok(folder) => {
            published = made(&folder, &key, wanted, screen, &mut diagnostics)?;
            // the record first: booklets are made again by a build, an edition is not
            if let Some(published) = published.as_ref().filter(|p| p.passed) {
                kept = keep(&folder, &path, published, &mut diagnostics)?;
            }
        }
        Err(said) => diagnostics.append(said),
    }
    build::messages(&name, published.as_ref(), &diagnostics, screen);
    let (Some(published), Some((edition, place))) = (published, kept) else {
        screen.verdict(&key, "NOT RELEASED");
        return Ok(false);
    };
    let written = published.outputs.publish().map_err(|e| {
        Fault(format!(
            "{e}; edition {edition} is kept: build {key} to have its booklets"
        ))
    })?;
    screen.verdict(&key, &format!("released as edition {edition}"));
    screen.file(&place);
    let is_pdf = |file: &&PathBuf| file.extension().is_some_and(|e| e == "pdf");
    written
        .iter()
        .filter(is_pdf)
        .for_each(|file| screen.file(file));
    Ok(true)
}

/// Keeps the record of what was made in the design's folder at `path`; its number and its file. `None` if
/// another edition came meanwhile: then `diagnostics` says so.
fn keep(
    folder: &DesignFolder,
    path: &Path,
    published: &Published,
    diagnostics: &mut Diagnostics,
) -> Result<Option<(Version, PathBuf)>, Fault> {
    let Some(record) = published.standing.record() else {
        return Ok(None);
    };
    let (name, text) = (file::path(record.edition), file::text(&record));
    let added = folder::kept::add(path, &name, text.as_bytes(), &folder.editions());
    match added.map_err(|e| Fault(e.to_string()))? {
        Added::Kept(place) => Ok(Some((record.edition, place))),
        Added::Meanwhile(newer) => {
            let message = format!(
                "another release came meanwhile: {}, so edition {} is not kept",
                newer.join(", "),
                record.edition
            );
            let told = Diagnostic::error("edition-meanwhile", None, message);
            let remedy = "Release again: it is counted and compared with that edition then.";
            diagnostics.push(told.remedy(remedy));
            Ok(None)
        }
    }
}

/// The booklets under the new edition. `None` if there is to be none: then `diagnostics` says why.
fn made(
    folder: &DesignFolder,
    key: &str,
    wanted: &args::Release,
    screen: &mut Screen,
    diagnostics: &mut Diagnostics,
) -> Result<Option<Published>, Fault> {
    let mut options = Options {
        effort: wanted.effort,
        shelf: Some(wanted.out.join(".layouts")),
        moment: moment()?,
        ..Options::default()
    };
    let made = pipeline::compute(folder, &options, &mut |s| screen.stage(s), diagnostics);
    let Some(mut made) = made else {
        return Ok(None);
    };
    let standing = pipeline::standing(folder, &mut made, &options, diagnostics);
    if diagnostics.has_errors() || !may_be_released(&standing, diagnostics) {
        return Ok(None);
    }
    let edition = match fitting(number(wanted, &standing, screen)?, &standing) {
        Ok(edition) => edition,
        Err(told) => {
            diagnostics.push(told);
            return Ok(None);
        }
    };
    let on = day(options.moment)?;
    if !is_no_earlier_day(&on, folder, &standing, diagnostics) {
        return Ok(None);
    }
    let note = notes(wanted, &made, screen)?;
    if !has_all_notes(&note, &made, diagnostics) {
        return Ok(None);
    }
    options.release = Some(Release { edition, on, note });
    let directory = wanted.out.join(key);
    let step = &mut |stage: &str| screen.stage(stage);
    let published = pipeline::publish(folder, &mut made, &options, &directory, step, diagnostics);
    Ok(published)
}

/// Whether anything differs from the last edition.
fn may_be_released(standing: &Standing, diagnostics: &mut Diagnostics) -> bool {
    let same = standing.since.as_ref().is_some_and(|since| since.is_same());
    if let (true, Some(last)) = (same, standing.last()) {
        let message = format!(
            "nothing that is printed differs from edition {}",
            last.edition
        );
        let told = Diagnostic::error("edition-same", None, message);
        diagnostics
            .push(told.remedy("Change something first; build it to print that edition again."));
    }
    !same
}

/// The number as it is asked for, or as it is answered on a terminal.
fn number(
    wanted: &args::Release,
    standing: &Standing,
    screen: &mut Screen,
) -> Result<Version, Fault> {
    let suggested = standing.suggested();
    let change = standing.since.as_ref().map(|since| since.change());
    let why = change.map_or("the first edition", Change::reason);
    let version = |text: &str| {
        Version::parse(text).ok_or_else(|| {
            format!(
                "{text} is no edition: it is made of three numbers of at most six figures, such as {suggested}"
            )
        })
    };
    if let Some(text) = &wanted.edition {
        return version(text).map_err(Fault);
    }
    let question = format!("Number of the edition ({why}) [{suggested}]: ");
    let mut accept = |answer: &str| match answer {
        "" => Ok(suggested),
        _ => fitting(version(answer)?, standing).map_err(|told| in_a_line(&told)),
    };
    asked_for(&question, &mut accept, screen).ok_or_else(|| {
        Fault(format!(
            "say the number of the edition: --edition {suggested} is suggested ({why})"
        ))
    })
}

/// A message as it stands above a question that is asked again.
fn in_a_line(told: &Diagnostic) -> String {
    format!("{}. {}", told.message, told.remedy)
}

/// The number, if it is later than the last one and promises no less than what is new.
fn fitting(edition: Version, standing: &Standing) -> Result<Version, Diagnostic> {
    let Some(last) = standing.last() else {
        return Ok(edition);
    };
    if edition <= last.edition {
        let message = format!(
            "edition {edition} is not later than {}, the last one",
            last.edition
        );
        let told = Diagnostic::error("edition-not-later", None, message);
        return Err(told.remedy(format!("Say {} or a later number.", standing.suggested())));
    }
    match too_low(edition, standing) {
        Some(told) => Err(told),
        None => Ok(edition),
    }
}

/// The number tells buyers how much changed; one that says less than that is refused.
fn too_low(edition: Version, standing: &Standing) -> Option<Diagnostic> {
    let change = standing.since.as_ref()?.change();
    let least = standing.last()?.edition.after(change);
    if change <= Change::Words || edition >= least {
        return None;
    }
    let what = change.reason();
    let message = format!("the number {edition} promises less than what is new: {what}");
    let told = Diagnostic::error("edition-number-low", None, message);
    Some(told.remedy(format!("Say {least} or a later number.")))
}

/// Whether the last edition was not released on a day that is still to come.
fn is_no_earlier_day(
    on: &str,
    folder: &DesignFolder,
    standing: &Standing,
    diagnostics: &mut Diagnostics,
) -> bool {
    let Some(last) = standing.last().filter(|last| last.on.as_str() > on) else {
        return true;
    };
    let message = format!(
        "edition {} is of {}, and today is {on}",
        last.edition, last.on
    );
    let place = file::place_of(folder, last.edition, "on:");
    let told = Diagnostic::error("edition-day", place.as_ref(), message);
    diagnostics.push(told.remedy(
        "Put back the file as it was released, from a copy; or set the day of this machine (or \
         SOURCE_DATE_EPOCH) right.",
    ));
    false
}

/// What is new, by language.
fn notes(
    wanted: &args::Release,
    made: &Computed,
    screen: &mut Screen,
) -> Result<BTreeMap<String, String>, Fault> {
    let design = &made.design;
    let further = design.translations.iter().map(|t| t.language.clone());
    let languages: Vec<String> = std::iter::once(design.language.clone())
        .chain(further)
        .collect();
    if wanted.note.len() > languages.len() {
        return Err(Fault(format!(
            "there are {} notes, but the design has {} languages: {}",
            wanted.note.len(),
            languages.len(),
            languages.join(", ")
        )));
    }
    let mut notes = wanted.note.clone();
    if notes.is_empty() {
        for language in &languages {
            let question = format!("What is new, in words for buyers ({language}): ");
            let mut accept = |answer: &str| match answer {
                "" => Err("Say it in a sentence: it stands in the booklet for good.".to_string()),
                _ => Ok(answer.to_string()),
            };
            let Some(answer) = asked_for(&question, &mut accept, screen) else {
                return Err(Fault("say what is new: --note ‘The toe is longer.’".into()));
            };
            notes.push(answer);
        }
    }
    let told = |note: &String| note.split_whitespace().collect::<Vec<_>>().join(" ");
    let all = languages.into_iter().zip(notes.iter().map(told));
    let all: BTreeMap<String, String> = all.filter(|(_, note)| !note.is_empty()).collect();
    match all.is_empty() {
        true => Err(Fault("a note must say what is new".into())),
        false => Ok(all),
    }
}

/// Whether every language has its note: what is sealed stays so for good.
fn has_all_notes(
    notes: &BTreeMap<String, String>,
    made: &Computed,
    diagnostics: &mut Diagnostics,
) -> bool {
    let languages = made.design.translations.iter().map(|t| &t.language);
    for language in languages.filter(|language| !notes.contains_key(*language)) {
        let message = format!("the note of the edition is not told in the language {language}");
        let remedy = "give --note once for each language, in the order of the design";
        let told = Diagnostic::error("missing-translation", None, message);
        diagnostics.push(told.remedy(remedy));
    }
    !diagnostics.has_errors()
}

/// The day of SOURCE_DATE_EPOCH, or today's.
fn day(moment: Option<Moment>) -> Result<String, Fault> {
    let now = || {
        let seconds = SystemTime::now().duration_since(UNIX_EPOCH).ok()?.as_secs();
        Moment::from_epoch(i64::try_from(seconds).ok()?)
    };
    let moment = moment.or_else(now);
    let moment =
        moment.ok_or_else(|| Fault("the clock tells no day: set SOURCE_DATE_EPOCH".into()))?;
    let day = moment.date();
    Ok(format!("{:04}-{:02}-{:02}", day.year, day.month, day.day))
}
