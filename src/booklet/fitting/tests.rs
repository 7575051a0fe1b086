//! The fitting sheet on all papers, for one size and for several.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::booklet::{OwnTemplates, Paper, Prose, fixture};
use crate::design::PaperKind;
use crate::figure::measuring_guide;
use crate::foot::form::FootForm;
use crate::foot::form::fixture as feet;
use crate::language::Words;
use serde_json::Map;

fn known() -> Vec<Foot> {
    let known = feet::known().into_iter();
    known
        .map(|(spec, _)| Foot::new(&spec, &mut Diagnostics::default()).unwrap())
        .collect()
}

fn guide(foot: &Foot) -> MeasuringGuide {
    let form = FootForm::new(foot, &mut Diagnostics::default()).unwrap();
    measuring_guide(foot, &form, (GUIDE_WIDTH, 1.0), &Words::default()).unwrap()
}

fn set(paper: (&str, f64, f64), named: &[(&str, &Foot)], guide: &MeasuringGuide) -> Typeset {
    let design = fixture::design();
    let (told, files) = data(&design, named, Some((named[0].0, guide)));
    let mut parts = Map::new();
    parts.insert("fitting".into(), told);
    let request = Request {
        design: &design,
        prose: &Prose::default(),
        paper: &Paper {
            key: paper.0.into(),
            name: paper.0.to_uppercase(),
            width: paper.1,
            height: paper.2,
            kind: PaperKind::Page,
        },
        setting: crate::booklet::Setting::Whole,
        sizes: &fixture::sizes(),
        parts: &parts,
        files: &files,
        later: None,
        templates: &OwnTemplates::default(),
        moment: None,
        stamp: None,
    };
    let mut said = Diagnostics::default();
    let set = typeset_fitting(&request, &mut said).unwrap();
    let told: Vec<String> = said.iter().map(|d| d.message.clone()).collect();
    assert!(told.is_empty(), "{told:?}");
    set
}

#[test]
fn a_sheet_is_set_on_every_paper_for_any_number_of_sizes() {
    let feet = known();
    let titles = ["Tiny", "Small", "Medium", "Large"];
    let named: Vec<(&str, &Foot)> = titles.into_iter().zip(&feet).collect();
    let guide = guide(named[0].1);
    let papers = [
        ("a4", 210.0, 297.0),
        ("letter", 215.9, 279.4),
        ("a5", 148.0, 210.0),
        ("half", 139.7, 215.9),
    ];
    for paper in papers {
        for count in [1, 2, 4] {
            let sheet = set(paper, &named[..count], &guide);
            assert!(sheet.pages >= 3, "{} {count}", paper.0);
        }
    }
}

#[test]
fn sizes_are_near_if_a_doll_may_be_nearly_right_for_both() {
    let near = |a: (&str, f64), b: (&str, f64)| near_sizes(&[(Some(a.0), a.1), (Some(b.0), b.1)]);
    assert!(near(("small", 70.0), ("medium", 76.0)));
    assert!(!near(("small", 70.0), ("medium", 78.0)));
    // left and right
    assert!(!near(("small", 70.0), ("small", 71.0)));
}

#[test]
fn a_sheet_comes_out_the_same_to_the_byte() {
    let feet = known();
    let guide = guide(&feet[2]);
    let sheet = || set(("a4", 210.0, 297.0), &[("Medium", &feet[2])], &guide).pdf;
    let first = sheet();
    crate::booklet::forget(0);
    assert_eq!(first, sheet());
}

#[test]
fn each_measure_has_one_row_with_its_value_on_every_foot() {
    let mut feet = known();
    feet[1].measures.remove("ankle girth");
    feet[1].measures.insert("calf girth".into(), 50.8);
    let guide = guide(&feet[2]);
    let named = [("Small", &feet[1]), ("Medium", &feet[2])];
    let (told, _) = data(&fixture::design(), &named, Some(("Medium", &guide)));
    let rows = told["rows"].as_array().unwrap();
    let row = |name: &str| rows.iter().find(|row| row["name"] == name).unwrap();
    let ankle = row("ankle girth");
    assert!(ankle["values"][0].is_null() && ankle["values"][1].is_string());
    let calf = row("calf girth");
    assert!(calf["number"].is_null() && calf["values"][0] == "50.8 mm (2 in)");
    let numbers: Vec<u64> = rows
        .iter()
        .filter_map(|row| row["number"].as_u64())
        .collect();
    assert_eq!(numbers, (1..=numbers.len() as u64).collect::<Vec<_>>());
}
