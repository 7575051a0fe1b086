//! Where a design stands among its editions: which number is printed, and what differs from the last.

use super::handover::size_values;
use super::numbers::lengths;
use super::{Computed, Options, text_of, translated};
use crate::booklet::{Prose, SizeValues};
use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::edition::history::{Told, history};
use crate::edition::{
    Comparison, Content, Made, Record, Version, belonging, compare, content, file,
};
use crate::folder::DesignFolder;
use std::collections::BTreeMap;

/// Stands for the number of the edition while the text is compared: it is no content.
const ANY: &str = "{edition}";

/// Under what a design is released.
#[derive(Debug, Clone, PartialEq)]
pub struct Release {
    /// The number.
    pub edition: Version,
    /// The day, year first.
    pub on: String,
    /// What is new, by language.
    pub note: BTreeMap<String, String>,
}

/// A design among its editions.
#[derive(Debug, Clone)]
pub struct Standing {
    /// The editions released, the first one first.
    pub records: Vec<Record>,
    /// What would be printed now; its pages are known once they are set.
    pub now: Content,
    /// What differs from the last edition, if there is one.
    pub since: Option<Comparison>,
    /// `edition` of the design's file.
    pub declared: Option<Version>,
    /// What differs from the edition before the last, where nothing differs from the last.
    before: Option<Comparison>,
    release: Option<Release>,
}

impl Standing {
    /// The last edition released.
    pub fn last(&self) -> Option<&Record> {
        self.records.last()
    }

    /// Whether the design differs from the edition whose number it has. A later pressfoot may set the same
    /// design a little otherwise: that makes no draft of it.
    pub fn is_draft(&self) -> bool {
        let since = self.since.as_ref();
        let differs = since.is_some_and(|since| !since.is_same_design());
        differs && self.release.is_none()
    }

    /// The number for the next edition: that of the design's file if it is a later one, else as much
    /// more as has changed.
    pub fn suggested(&self) -> Version {
        let Some(last) = self.last() else {
            return self.declared.unwrap_or(Version::FIRST);
        };
        let change = self.since.as_ref().map(Comparison::change);
        let next = last
            .edition
            .after(change.unwrap_or(crate::edition::Change::Words));
        self.declared
            .filter(|declared| *declared >= next)
            .unwrap_or(next)
    }

    /// The edition that buyers have, and what differs from it; none where there is nothing to tell.
    pub fn told(&self) -> Option<(&Record, &Comparison)> {
        let since = self.since.as_ref()?;
        if !since.is_same_design() || self.release.is_some() {
            return Some((self.last()?, since));
        }
        let before = self.records.len().checked_sub(2)?;
        Some((self.records.get(before)?, self.before.as_ref()?))
    }

    /// What the edition that is printed says of itself, in `language` or else in `first`.
    pub fn note(&self, language: &str, first: &str) -> Option<String> {
        if self.is_draft() {
            return None;
        }
        let told = self.editions().pop()?;
        Some(told.note_in(language, first).to_string())
    }

    /// What would be kept of it under the number it is released with.
    pub fn record(&self) -> Option<Record> {
        let release = self.release.as_ref()?;
        let record = Record {
            schema: crate::edition::record::SCHEMA,
            edition: release.edition,
            on: release.on.clone(),
            note: release.note.clone(),
            seal: String::new(),
            content: self.now.clone(),
        };
        Some(record.with_seal())
    }

    fn editions(&self) -> Vec<Told> {
        let released = self.records.iter().map(Told::of);
        let pending = self.release.as_ref().map(|release| Told {
            edition: release.edition,
            on: release.on.clone(),
            note: release.note.clone(),
            fit: self.now.fit.clone(),
        });
        released.chain(pending).collect()
    }

    /// Gives a design the edition that is printed, and its history.
    fn mark(&self, design: &mut Design) {
        let last = self.last().map(|record| record.edition);
        let number = self
            .release
            .as_ref()
            .map(|release| release.edition)
            .or(last);
        let number = number.or(self.declared).map(|number| number.to_string());
        design.edition = number.unwrap_or_default();
        design.draft = self.is_draft();
        design.look_up.editions = history(&self.editions(), design);
    }
}

/// A design in its further languages, and the text of all, its own first.
pub(super) type Spoken = (Vec<Computed>, Vec<(Vec<SizeValues>, Prose)>);

/// Where `computed` stands, without giving it an edition.
pub fn standing(
    folder: &DesignFolder,
    computed: &mut Computed,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> Standing {
    let declared = Version::parse(&computed.design.edition);
    let own = std::mem::replace(&mut computed.design.edition, ANY.to_string());
    let (further, texts) = spoken(folder, computed, options, diagnostics);
    let found = found(
        folder,
        computed,
        (&further, &texts),
        (declared, options),
        diagnostics,
    );
    computed.design.edition = own;
    found
}

/// The text of each language, with the values it may name.
type Texts = Vec<(Vec<SizeValues>, Prose)>;

/// Gives `computed` and its further languages the edition that is printed; with their texts.
pub(super) fn placed(
    folder: &DesignFolder,
    computed: &mut Computed,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> (Standing, Vec<Computed>, Texts) {
    let declared = Version::parse(&computed.design.edition);
    computed.design.edition = ANY.to_string();
    let (mut further, mut texts) = spoken(folder, computed, options, diagnostics);
    let standing = found(
        folder,
        computed,
        (&further, &texts),
        (declared, options),
        diagnostics,
    );
    let named = texts.iter().any(|(_, prose)| names_edition(prose));
    standing.mark(&mut computed.design);
    further
        .iter_mut()
        .for_each(|computed| standing.mark(&mut computed.design));
    if named {
        let all = std::iter::once(&*computed).chain(&further);
        texts = all
            .map(|computed| text_of(folder, computed, diagnostics))
            .collect();
    }
    (standing, further, texts)
}

/// Whether the number of the edition stands in a text.
fn names_edition(prose: &Prose) -> bool {
    let heads = prose
        .chapters
        .iter()
        .flat_map(|c| [Some(&c.title), c.standfirst.as_ref()]);
    let filled = prose.filled.iter().map(|filled| &filled.text);
    let mut texts = filled.chain([&prose.about]).chain(heads.flatten());
    // Markdown escapes the braces
    texts.any(|text| text.contains("edition}") || text.contains("edition\\}"))
}

fn spoken(
    folder: &DesignFolder,
    computed: &Computed,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> Spoken {
    let further = translated::further(computed, options, diagnostics);
    let all = std::iter::once(computed).chain(&further);
    let texts = all
        .map(|computed| text_of(folder, computed, diagnostics))
        .collect();
    (further, texts)
}

fn found(
    folder: &DesignFolder,
    computed: &Computed,
    (further, texts): (&[Computed], &[(Vec<SizeValues>, Prose)]),
    (declared, options): (Option<Version>, &Options),
    diagnostics: &mut Diagnostics,
) -> Standing {
    let mut records = file::read(folder, diagnostics);
    belonging::keep_own(&mut records, folder, &computed.design, diagnostics);
    let all = std::iter::once(computed).chain(further);
    let spoken: Vec<(&Design, &Prose)> = all
        .zip(texts)
        .map(|(computed, (_, prose))| (&computed.design, prose))
        .collect();
    let now = content(&Made {
        folder,
        design: &computed.design,
        sizes: &computed.sizes,
        values: &lengths(&computed.design, &size_values(computed)),
        materials: &computed.materials,
        texts: &spoken,
    });
    let differs = |record: &Record| match options.sizes.is_empty() {
        true => compare(&record.content, &now),
        false => compare(&of_sizes(&record.content, &now), &of_sizes(&now, &now)),
    };
    let since = records.last().map(&differs);
    let same = since.as_ref().is_some_and(Comparison::is_same) && options.release.is_none();
    let before = records.len().checked_sub(2).filter(|_| same);
    let standing = Standing {
        before: before.map(|at| differs(&records[at])),
        release: options.release.clone(),
        since,
        declared,
        now,
        records,
    };
    check(&standing, &computed.design, diagnostics);
    standing
}

/// Of a content what is the same whichever sizes are made, for the sizes of `now`.
fn of_sizes(content: &Content, now: &Content) -> Content {
    let mut content = content.clone();
    content
        .sizes
        .retain(|size| now.sizes.iter().any(|own| own.size == size.size));
    content.materials.clear();
    content.pages.clear();
    content.text.clear();
    content
}

/// Plates that faults name, and that the edition had on none of its papers.
fn check_plates(standing: &Standing, design: &Design, diagnostics: &mut Diagnostics) {
    for fault in &design.look_up.faults {
        let edition = Version::parse(&fault.edition);
        let mut records = standing.records.iter();
        let Some(record) = records.find(|record| Some(record.edition) == edition) else {
            continue;
        };
        let pages = &record.content.pages;
        let last = pages.iter().map(|paper| paper.plates.len()).max();
        // pages are unknown of an edition that was not set
        let Some(last) = last else {
            continue;
        };
        for plate in fault.plates.iter().filter(|plate| **plate > last) {
            let message = format!("edition {} has no plate {plate}", fault.edition);
            let remedy = match last {
                1 => "its only plate is 1".to_string(),
                _ => format!("its plates are 1 to {last}"),
            };
            let told = Diagnostic::error("edition-plate", Some(&fault.place), message);
            diagnostics.push(told.remedy(remedy));
        }
    }
}

/// Faults of editions that were never released, and an edition in the design's file that is over.
fn check(standing: &Standing, design: &Design, diagnostics: &mut Diagnostics) {
    let Some(last) = standing.last() else {
        return;
    };
    let known: Vec<String> = standing
        .records
        .iter()
        .map(|r| r.edition.to_string())
        .collect();
    for fault in &design.look_up.faults {
        let edition = Version::parse(&fault.edition);
        if !standing
            .records
            .iter()
            .any(|record| Some(record.edition) == edition)
        {
            let message = format!("edition {} was never released", fault.edition);
            let remedy = format!("released were {}", known.join(", "));
            let told = Diagnostic::error("edition-unknown", Some(&fault.place), message);
            diagnostics.push(told.remedy(remedy));
        }
    }
    check_plates(standing, design, diagnostics);
    if let Some(declared) = standing
        .declared
        .filter(|declared| *declared < last.edition)
    {
        let line = design
            .source
            .text
            .lines()
            .position(|line| line.starts_with("edition:"));
        let place = Place {
            source: design.source.clone(),
            line: line.map_or(1, |at| at + 1),
            column: 1,
        };
        let message = format!(
            "the design says edition {declared}; printed is {}, the last one released",
            last.edition
        );
        let told = Diagnostic::note("edition-ignored", Some(&place), message);
        diagnostics.push(
            told.remedy("Take the line away: once released, editions are counted by themselves."),
        );
    }
}
