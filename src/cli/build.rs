//! `build` and `proof`: every design chosen.

use super::args::{Build, Selection};
use super::screen::{Aside, Screen};
use super::side_by_side;
use super::unchanged::{Before, Origin};
use super::{Fault, chosen, fault_of_the_command, moment};
use crate::design::{Form, Paper, paper_keys};
use crate::diagnostic::Diagnostics;
use crate::folder::{self, DesignFolder};
use crate::pipeline::{self, Made, Options, Published};
use crate::proof::Report;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// Makes, proofs and writes the booklets. Whether all may be sold.
pub(super) fn build(build: &Build, screen: &mut Screen) -> Result<bool, Fault> {
    let selection = &build.selection;
    let options = options(selection, build.typst_source.is_some())?;
    if let Some(layouts) = &options.shelf {
        folder::write::tidy(layouts);
    }
    let place = |path: &Path| directory(&selection.out, &selection.size, &key(path));
    let made = |path: &Path, aside: &mut Aside| {
        let directory = place(path);
        // also where nothing is to be made, nothing unfinished stays
        folder::write::tidy(&directory);
        aside.design(&key(path));
        let folder = DesignFolder::read(path);
        let origin = match &folder {
            Ok(folder) if build.typst_source.is_none() => Origin::of(folder, &options),
            _ => Origin::default(),
        };
        let unchanged = folder.as_ref().ok().filter(|_| !build.anew);
        if let Some(before) = unchanged.and_then(|folder| origin.before(folder, &directory)) {
            return Became::Unchanged(before);
        }
        let made = work(&folder, &options, &directory, aside);
        Became::Made(Box::new(made), origin)
    };
    let mut good = true;
    let mut told = |path: &Path, became: Became, screen: &mut Screen| {
        let directory = place(path);
        let (made, origin) = match became {
            Became::Unchanged(before) => {
                tell_again(path, &before, &directory, screen);
                return Ok(());
            }
            Became::Made(made, origin) => (made, origin),
        };
        screen.stage("write");
        fault_of_the_command(&made.diagnostics)?;
        if let (Some(source), Some(published)) = (&build.typst_source, &made.published) {
            write_sources(&source.join(key(path)), published)?;
        }
        good &= write(path, *made, &origin, &directory, screen)?;
        screen.pause();
        Ok(())
    };
    let designs = distinct(chosen(&selection.designs, &selection.from)?)?;
    let weigh = |became: &Became| match became {
        Became::Unchanged(_) => 0,
        Became::Made(made, _) => made.bytes(),
    };
    let work = side_by_side::Work {
        make: &made,
        weigh: &weigh,
    };
    side_by_side::make(&designs, screen, work, &mut told)?;
    Ok(good)
}

/// What came of a design: nothing new, or all of it, and what that hangs on.
enum Became {
    Unchanged(Before),
    Made(Box<Made>, Origin),
}

/// Says of a design that did not change what was said when its files were made.
fn tell_again(path: &Path, before: &Before, directory: &Path, screen: &Screen) {
    for told in &before.told {
        screen.messages(&path.display().to_string(), told);
    }
    screen.verdict(&key(path), "passed its proof, unchanged");
    list(directory, &before.written, screen);
}

/// Says what is to be said of the design in the folder `path` and writes what was made of it. Whether it
/// may be sold.
pub(super) fn write(
    path: &Path,
    made: Made,
    origin: &Origin,
    directory: &Path,
    screen: &Screen,
) -> Result<bool, Fault> {
    let name = path.display().to_string();
    let key = key(path);
    messages(&name, made.published.as_ref(), &made.diagnostics, screen);
    let Some(mut published) = made.published else {
        if let Some(report) = made.refused {
            write_report(directory, &report)?;
        }
        screen.verdict(&key, "not made");
        return Ok(false);
    };
    let passed = published.passed;
    let told = [&made.diagnostics, &published.findings];
    if passed && let Some(record) = origin.record(&published.outputs, told) {
        published.outputs.made_from(record);
    }
    let written = published
        .outputs
        .publish()
        .map_err(|e| Fault(e.to_string()))?;
    // said only now: nothing has passed before it is written
    screen.verdict(&key, verdict(passed));
    list(directory, &written, screen);
    Ok(passed)
}

/// Lists what was written to `directory`: each file that is handed out, and folders of them with their
/// number.
fn list(directory: &Path, written: &[PathBuf], screen: &Screen) {
    let mut folders: Vec<(PathBuf, usize)> = Vec::new();
    for file in written {
        let Ok(below) = file.strip_prefix(directory) else {
            continue;
        };
        let mut parts = below.components();
        let first = parts.next().map(|first| directory.join(first));
        let kind = file.extension().and_then(OsStr::to_str);
        match first.filter(|_| parts.next().is_some()) {
            Some(folder) => match folders.iter_mut().find(|(known, _)| *known == folder) {
                Some((_, files)) => *files += 1,
                None => folders.push((folder, 1)),
            },
            None if matches!(kind, Some("pdf" | "dxf" | "md")) => screen.file(file),
            None => {}
        }
    }
    for (folder, files) in folders {
        screen.folder(&folder, files);
    }
}

/// Makes the booklets in memory and writes only the report. Whether all may be sold.
pub(super) fn proof(selection: &Selection, screen: &mut Screen) -> Result<bool, Fault> {
    let options = options(selection, false)?;
    let place = |path: &Path| directory(&selection.out, &selection.size, &key(path));
    let made = |path: &Path, aside: &mut Aside| {
        aside.design(&key(path));
        work(&DesignFolder::read(path), &options, &place(path), aside)
    };
    let mut good = true;
    let mut told = |path: &Path, made: Made, screen: &mut Screen| {
        screen.stage("write");
        fault_of_the_command(&made.diagnostics)?;
        let published = made.published.as_ref();
        messages(
            &path.display().to_string(),
            published,
            &made.diagnostics,
            screen,
        );
        let report = published.map(|published| &published.report);
        if let Some(report) = report.or(made.refused.as_ref()) {
            write_report(&place(path), report)?;
        }
        let passed = published.is_some_and(|published| published.passed);
        let verdict = published.map_or("not made", |_| verdict(passed));
        screen.verdict(&key(path), verdict);
        screen.pause();
        good &= passed;
        Ok(())
    };
    let designs = distinct(chosen(&selection.designs, &selection.from)?)?;
    let work = side_by_side::Work {
        make: &made,
        weigh: &Made::bytes,
    };
    side_by_side::make(&designs, screen, work, &mut told)?;
    Ok(good)
}

/// The design folders, each once; two of one name would be written to one place.
pub(super) fn distinct(paths: Vec<PathBuf>) -> Result<Vec<PathBuf>, Fault> {
    let mut list: Vec<PathBuf> = Vec::new();
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    for path in paths {
        // some systems do not tell capitals from small letters
        let same_name = |other: &&PathBuf| key(other).to_lowercase() == key(&path).to_lowercase();
        match list.iter().find(same_name) {
            Some(other) if whole(other) == whole(&path) => {}
            Some(other) => {
                return Err(Fault(format!(
                    "{} and {} have the same name, so the results of one would take the place of \
                     the other's: rename one folder, or build one at a time with an --out of its own",
                    other.display(),
                    path.display()
                )));
            }
            None => list.push(path),
        }
    }
    Ok(list)
}

pub(super) fn options(selection: &Selection, typst_sources: bool) -> Result<Options, Fault> {
    let mut papers = Vec::new();
    for text in &selection.paper {
        match Paper::said(text) {
            Ok(Some(paper)) => papers.push(paper),
            Ok(None) => {
                let known = paper_keys().join(", ");
                let text = format!(
                    "there is no paper called {text}; known are {known}, or a size such as \
                     ‘13 in x 19 in’"
                );
                return Err(Fault(text));
            }
            Err(message) => return Err(Fault(message)),
        }
    }
    let form = |words: &String| {
        Form::named(words).ok_or_else(|| {
            let known = Form::ALL.map(Form::file_word).join(", ");
            Fault(format!(
                "there is no form called {words}; known are {known}"
            ))
        })
    };
    let forms: Vec<Form> = selection.form.iter().map(form).collect::<Result<_, _>>()?;
    Ok(Options {
        papers,
        forms: (!forms.is_empty()).then_some(forms),
        sizes: selection.size.clone(),
        effort: selection.effort,
        shelf: Some(selection.out.join(".layouts")),
        moment: moment()?,
        typst_sources,
        release: None,
        ..Options::default()
    })
}

/// Where the results of a design go. A build of some sizes only has a folder of its own, so that it
/// never takes the place of the whole booklet.
pub(super) fn directory(out: &Path, sizes: &[String], key: &str) -> PathBuf {
    let whole = out.join(key);
    match sizes.is_empty() {
        true => whole,
        false => whole.join(format!("{}{}", folder::write::PART, sizes.join("-"))),
    }
}

pub(super) fn key(path: &Path) -> String {
    let name = path.canonicalize().ok();
    let name = name.as_deref().unwrap_or(path).file_name();
    name.map_or_else(
        || "design".into(),
        |name| name.to_string_lossy().into_owned(),
    )
}

fn work(
    folder: &Result<DesignFolder, Diagnostics>,
    options: &Options,
    directory: &Path,
    aside: &mut Aside,
) -> Made {
    let read = match folder {
        Ok(folder) => Ok(folder),
        Err(said) => Err(said.clone()),
    };
    pipeline::made(read, options, directory, &mut |stage| aside.stage(stage))
}

/// Writes the report of the proof, for programs and for people.
fn write_report(directory: &Path, report: &Report) -> Result<(), Fault> {
    let files = [
        (directory.join("proof.json"), report.to_json()),
        (directory.join("proof.html"), report.to_html()),
    ];
    folder::write::write_all(&files).map_err(|e| Fault(e.to_string()))
}

/// Says what is to be said of a design.
pub(super) fn messages(
    name: &str,
    published: Option<&Published>,
    diagnostics: &Diagnostics,
    screen: &Screen,
) {
    screen.messages(name, diagnostics);
    if let Some(published) = published {
        screen.messages(name, &published.findings);
    }
}

pub(super) fn verdict(passed: bool) -> &'static str {
    match passed {
        true => "passed its proof",
        false => "NOT PROOFED",
    }
}

fn write_sources(directory: &Path, published: &Published) -> Result<(), Fault> {
    for (paper, files) in &published.sources {
        for (name, bytes) in files {
            let path: PathBuf = directory.join(paper).join(name.trim_start_matches('/'));
            folder::write::write(&path, bytes).map_err(|e| Fault(e.to_string()))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn designs_of_one_name_are_refused_and_one_named_twice_is_made_once() {
        let list = |paths: &[&str]| distinct(paths.iter().map(PathBuf::from).collect());
        let Err(Fault(text)) = list(&["a/slipper", "b/boot", "b/Slipper"]) else {
            panic!("two designs for one folder of results");
        };
        assert!(
            text.starts_with("a/slipper and b/Slipper have the same name"),
            "{text}"
        );
        let Ok(once) = list(&["a/slipper", "a/slipper", "b/boot"]) else {
            panic!("named twice, but one design");
        };
        assert_eq!(once, [PathBuf::from("a/slipper"), PathBuf::from("b/boot")]);
    }
}
