//! `compare`: what moved since an edition, or between two.

use super::args::Compare;
use super::compare_tables::tables;
use super::screen::Screen;
use super::{Fault, build, chosen, moment};
use crate::design;
use crate::diagnostic::Diagnostics;
use crate::edition::compare::to_json;
use crate::edition::{
    self, Change, Comparison, Content, Record, Version, belonging, file, overlay,
};
use crate::folder::{self, DesignFolder};
use crate::pipeline::{self, Options, Standing};
use serde_json::json;
use std::path::Path;

/// Two states of a design and what differs.
struct Pair {
    names: [String; 2],
    old: Content,
    new: Content,
    comparison: Comparison,
    /// The number that tells how much differs; none where nothing does.
    next: Option<Version>,
    /// How much differs from the last edition, or between the two that are named.
    change: Change,
}

impl Pair {
    /// Why the next number is suggested.
    fn because(&self) -> &'static str {
        self.change.reason()
    }

    /// The number that tells how much differs, in a line of its own.
    fn number(&self) -> String {
        match self.next {
            None => String::new(),
            Some(next) if Version::parse(&self.names[1]).is_some() => {
                format!(
                    "\nwhat differs asks for the number {next} or a later one ({})\n",
                    self.because()
                )
            }
            Some(next) => format!("\nnext edition: {next} is suggested ({})\n", self.because()),
        }
    }
}

/// Prints what differs. Whether both states could be had.
pub(super) fn compare(wanted: &Compare, screen: &mut Screen) -> Result<bool, Fault> {
    let names = std::slice::from_ref(&wanted.design);
    let Some(path) = chosen(names, &wanted.from)?.pop() else {
        return Ok(false);
    };
    let shown = path.display().to_string();
    let mut diagnostics = Diagnostics::default();
    if let Some(overlay) = &wanted.overlay {
        may_be_drawn(overlay)?;
    }
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
    let object = json!({
        "kind": "comparison",
        "design": key,
        "old": pair.names[0],
        "new": pair.names[1],
        "suggested": pair.next.map(|next| next.to_string()),
        "because": pair.next.map(|_| pair.because()),
        "differs": to_json(&pair.comparison),
    });
    let text = tables(&key, &pair.names, &pair.comparison) + &pair.number();
    screen.answer(&text, &object);
    if let Some(path) = &wanted.overlay {
        draw(&pair, path, screen)?;
    }
    Ok(!diagnostics.has_errors())
}

/// Refuses a file for the drawing that could be lost by it: one that is there and that pressfoot did not
/// draw, or one that would not be opened as what it is. No folder is made for it.
fn may_be_drawn(path: &Path) -> Result<(), Fault> {
    let shown = path.display();
    let refused = |why: String| Err(Fault(format!("--overlay {shown}: {why}")));
    if path
        .extension()
        .is_none_or(|end| !end.eq_ignore_ascii_case("svg"))
    {
        return refused("the drawing is an SVG; name a file that ends in .svg".into());
    }
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Some(folder) = folder.filter(|folder| !folder.is_dir()) {
        return refused(format!(
            "there is no folder {}; make it first",
            folder.display()
        ));
    }
    let is_ours = || {
        folder::beginning(path, overlay::HEAD).is_ok_and(|bytes| {
            let text = String::from_utf8_lossy(&bytes);
            overlay::is_drawn(&text)
        })
    };
    match std::fs::symlink_metadata(path) {
        Ok(there) if !there.is_file() || !is_ours() => refused(
            "something else stands there already; name another file, or take it away".into(),
        ),
        _ => Ok(()),
    }
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
    let mut said = Diagnostics::default();
    let mut records = file::read(folder, &mut said);
    // what else is wrong with the design is told where it is computed
    if let Some(design) = design::read(folder, &mut Diagnostics::default()) {
        belonging::keep_own(&mut records, folder, &design, &mut said);
    }
    // of the folder as it stands, the same is said where it is computed
    if wanted.editions.len() > 1 || said.has_errors() || records.is_empty() {
        diagnostics.append(said);
    }
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
    let Some(text) = wanted.editions.get(1) else {
        return Ok(standing(folder, wanted, screen, diagnostics)?.map(|now| until_now(old, &now)));
    };
    let new = named(text, &records, &wanted.design)?;
    let comparison = edition::compare(&old.content, &new.content);
    let change = comparison.change();
    Ok(Some(Pair {
        next: (change != Change::Nothing).then(|| old.edition.after(change)),
        change,
        comparison,
        names: [old.edition.to_string(), new.edition.to_string()],
        old: old.content.clone(),
        new: new.content.clone(),
    }))
}

/// What differs from `old` to the folder as it stands. The next number is counted from the last edition,
/// whichever is compared.
fn until_now(old: &Record, standing: &Standing) -> Pair {
    let since = |last: &Record| edition::compare(&last.content, &standing.now).change();
    let change = standing.last().map_or(Change::Nothing, since);
    Pair {
        next: (change != Change::Nothing).then(|| standing.suggested()),
        change,
        comparison: edition::compare(&old.content, &standing.now),
        names: [
            old.edition.to_string(),
            "the folder as it stands".to_string(),
        ],
        old: old.content.clone(),
        new: standing.now.clone(),
    }
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

/// Where the folder stands among its editions, with what would be printed of it.
fn standing(
    folder: &DesignFolder,
    wanted: &Compare,
    screen: &mut Screen,
    diagnostics: &mut Diagnostics,
) -> Result<Option<Standing>, Fault> {
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
    diagnostics.leave_out("edition-ignored");
    Ok(published.map(|published| published.standing))
}
