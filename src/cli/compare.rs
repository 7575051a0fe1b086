//! `compare`: what moved since an edition, or between two.

use super::args::Compare;
use super::compare_tables::tables;
use super::screen::Screen;
use super::{Fault, build, chosen, moment};
use crate::diagnostic::Diagnostics;
use crate::edition::compare::to_json;
use crate::edition::{self, Comparison, Content, Record, Version, file, overlay};
use crate::folder::{self, DesignFolder};
use crate::pipeline::{self, Options};
use serde_json::json;
use std::path::Path;

/// Two states of a design and what differs.
struct Pair {
    names: [String; 2],
    old: Content,
    new: Content,
    comparison: Comparison,
}

/// Prints what differs. Whether both states could be had.
pub(super) fn compare(wanted: &Compare, screen: &mut Screen) -> Result<bool, Fault> {
    let names = std::slice::from_ref(&wanted.design);
    let Some(path) = chosen(names, &wanted.from)?.pop() else {
        return Ok(false);
    };
    let shown = path.display().to_string();
    let mut diagnostics = Diagnostics::default();
    let pair = match DesignFolder::read(&path) {
        Ok(folder) => pair(&folder, wanted, screen, &mut diagnostics)?,
        Err(said) => {
            diagnostics.append(said);
            None
        }
    };
    screen.messages(&shown, &diagnostics);
    let Some(pair) = pair else {
        return Ok(false);
    };
    let key = build::key(&path);
    let suggested = pair.comparison.change();
    let object = json!({
        "kind": "comparison",
        "design": key,
        "old": pair.names[0],
        "new": pair.names[1],
        "suggested": Version::parse(&pair.names[0]).map(|old| old.after(suggested).to_string()),
        "differs": to_json(&pair.comparison),
    });
    screen.answer(&tables(&key, &pair.names, &pair.comparison), &object);
    if let Some(path) = &wanted.overlay {
        draw(&pair, path, screen)?;
    }
    Ok(!diagnostics.has_errors())
}

fn draw(pair: &Pair, path: &Path, screen: &Screen) -> Result<(), Fault> {
    match overlay::sheet((&pair.old, &pair.new), &pair.comparison) {
        Some(svg) => {
            folder::write::write(path, &svg).map_err(|e| Fault(e.to_string()))?;
            screen.file(path);
        }
        None => screen.print("no outline moved, so there is nothing to draw"),
    }
    Ok(())
}

/// The states that are asked for. `None` if one cannot be had: then `diagnostics` says why.
fn pair(
    folder: &DesignFolder,
    wanted: &Compare,
    screen: &mut Screen,
    diagnostics: &mut Diagnostics,
) -> Result<Option<Pair>, Fault> {
    let records = file::read(folder, diagnostics);
    if diagnostics.has_errors() {
        return Ok(None);
    }
    let Some(last) = records.last() else {
        let text = format!(
            "{} has no edition yet: ‘pressfoot release’ makes one",
            wanted.design
        );
        return Err(Fault(text));
    };
    let old = match wanted.editions.first() {
        Some(text) => named(text, &records, &wanted.design)?,
        None => last,
    };
    let (name, new) = match wanted.editions.get(1) {
        Some(text) => {
            let new = named(text, &records, &wanted.design)?;
            (new.edition.to_string(), new.content.clone())
        }
        None => match standing(folder, wanted, screen, diagnostics)? {
            Some(now) => ("the folder as it stands".to_string(), now),
            None => return Ok(None),
        },
    };
    Ok(Some(Pair {
        comparison: edition::compare(&old.content, &new),
        names: [old.edition.to_string(), name],
        old: old.content.clone(),
        new,
    }))
}

fn named<'r>(text: &str, records: &'r [Record], design: &str) -> Result<&'r Record, Fault> {
    let version = Version::parse(text);
    let found = records
        .iter()
        .find(|record| Some(record.edition) == version);
    found.ok_or_else(|| {
        let known: Vec<String> = records.iter().map(|r| r.edition.to_string()).collect();
        Fault(format!(
            "{design} has no edition {text}; released were {}",
            known.join(", ")
        ))
    })
}

/// What would be printed of the folder as it stands.
fn standing(
    folder: &DesignFolder,
    wanted: &Compare,
    screen: &mut Screen,
    diagnostics: &mut Diagnostics,
) -> Result<Option<Content>, Fault> {
    let options = Options {
        forms: Some(Vec::new()),
        effort: wanted.effort,
        shelf: Some(wanted.out.join(".layouts")),
        moment: moment()?,
        ..Options::default()
    };
    let step = &mut |stage: &str| screen.stage(stage);
    let made = pipeline::compute(folder, &options, step, diagnostics);
    let published = made.and_then(|mut made| {
        pipeline::publish(
            folder,
            &mut made,
            &options,
            Path::new(""),
            step,
            diagnostics,
        )
    });
    diagnostics.leave_out("edition-over");
    Ok(published.map(|published| published.standing.now))
}
