use super::*;
use crate::design::{self, FitEntry};
use crate::diagnostic::Diagnostics;
use crate::edition::content::fit;
use crate::folder::DesignFolder;
use std::collections::BTreeMap;

const DESIGN: &str = "title: Mat\nedition: 1.0.0\nabout: A mat.\npaper: [a4]\nsizes:\n  one: {title: One}\n\
    cloth:\n  c: {name: cotton}\neditions:\n  - {edition: 0.9.0, on: 2025-01-01, changed: The trial.}\n  \
    - {edition: 1.0.0, on: 2025-02-01, changed: As typed.}\nfit:\n  - {on: 2026-01-05, change: ease, by: 1 mm, \
    why: it pressed}\n  - {on: 2026-02-05, change: toe length, by: 1 mm, size: one, why: too short}\npieces:\n  \
    mat:\n    rectangle: {width: 20 mm, height: 10 mm}\n    allowance: none\n    cut: {c: 1}\n";

fn designed() -> Design {
    let folder = DesignFolder::from_memory("mat", [("design.yaml", DESIGN)]);
    let mut diagnostics = Diagnostics::default();
    design::read_in_part(&folder, &mut diagnostics).unwrap().0
}

fn told(edition: [u32; 3], note: &str, entries: &[FitEntry]) -> Told {
    Told {
        edition: Version(edition),
        on: "2026-03-01".into(),
        note: BTreeMap::from([("en".to_string(), note.to_string())]),
        fit: entries.iter().map(fit).collect(),
    }
}

#[test]
fn notes_of_editions_come_with_their_corrections_and_typed_ones_stay_below() {
    let design = designed();
    let [first, second] = design.fit.as_slice() else {
        panic!("two corrections")
    };
    let editions = [
        told([1, 0, 0], "The first edition.", std::slice::from_ref(first)),
        told([1, 1, 0], "A longer toe", &[first.clone(), second.clone()]),
    ];
    let history = history(&editions, &design);
    let lines: Vec<(&str, &str)> = history
        .iter()
        .map(|n| (n.edition.as_str(), n.changed.as_str()))
        .collect();
    assert_eq!(
        lines,
        [
            ("1.1.0", "A longer toe. Fitted anew: toe length, size One."),
            ("1.0.0", "The first edition."),
            ("0.9.0", "The trial."),
        ]
    );
}

#[test]
fn a_note_that_a_language_lacks_is_that_of_the_first() {
    let told = told([1, 0, 0], "The first edition.", &[]);
    assert_eq!(told.note_in("de", "en"), "The first edition.");
    assert_eq!(told.note_in("en", "en"), "The first edition.");
}
