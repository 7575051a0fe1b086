//! Values that one piece takes from another.

use super::draft;
use crate::design::formula::Scope;
use crate::design::{Dimension, read};
use crate::diagnostic::{Diagnostics, Level};
use crate::folder::DesignFolder;

const DESIGN: &str = "\
title: Case
edition: 1.0.0
about: A case.
paper: [a4]
sizes: {one: {}}
cloth: {felt: {name: felt}}
pieces:
  lid: {rectangle: {width: base.cut width, height: base.height}, allowance: none, cut: {felt: 1}}
  base: {rectangle: {width: 40 mm, height: 20 mm}, allowance: 5 mm, cut: {felt: 1}}
";

#[test]
fn a_piece_may_be_as_wide_as_the_cut_line_of_a_later_one() {
    let folder = DesignFolder::from_memory("case", [("design.yaml", DESIGN)]);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics).expect("a sound design");
    let draft = draft(&design, &design.sizes[0], None, &mut diagnostics);
    assert!(!diagnostics.has_errors(), "{diagnostics:?}");
    let value = |name: &str| draft.values.value(name).expect(name);
    // 40 mm and an allowance of 5 mm on either side.
    assert!((value("lid.width").value - 50.0).abs() < 1e-6);
    assert!((value("base.cut height").value - 30.0).abs() < 1e-6);
    assert_eq!(value("base.cut width").dimension, Dimension::Length);
}

#[test]
fn a_chain_of_insets_is_moved_once_from_its_first_piece() {
    let inset = |name: &str, of: &str| {
        format!("  {name}: {{inset: {{of: {of}, by: 1 mm}}, allowance: none, cut: {{felt: 1}}}}\n")
    };
    let chain = |links: usize| {
        let names: Vec<String> = (0..=links)
            .map(|at| format!("ring {}", letter(at)))
            .collect();
        let links = names.windows(2).map(|pair| inset(&pair[1], &pair[0]));
        let first =
            "  ring a: {ellipse: {width: 60 mm, height: 40 mm}, allowance: none, cut: {felt: 1}}\n";
        let (before, _) = DESIGN.split_once("  lid:").expect("pieces");
        format!("{before}{first}{}", links.collect::<String>())
    };
    let drafted = |text: &str| {
        let folder = DesignFolder::from_memory("case", [("design.yaml", text)]);
        let mut said = Diagnostics::default();
        let design = read(&folder, &mut said);
        let draft = design.map(|design| draft(&design, &design.sizes[0], None, &mut said));
        let codes: Vec<&str> = said
            .iter()
            .filter(|told| told.level == Level::Error)
            .map(|told| told.code)
            .collect();
        (draft, codes)
    };
    let (draft, said) = drafted(&chain(8));
    assert!(said.is_empty(), "{said:?}");
    let draft = draft.expect("a sound design");
    let width = draft.values.value("ring i.width").expect("a width").value;
    assert!((width - 44.0).abs() < 1e-2, "{width}");
    let once = chain(0) + &inset("ring i", "ring a").replace("1 mm", "8 mm");
    let area = |name: &str, text: &str| {
        let (draft, _) = drafted(text);
        draft
            .expect("a sound design")
            .values
            .value(name)
            .expect("an area")
            .value
    };
    let (stepwise, at_once) = (area("ring i.area", &chain(8)), area("ring i.area", &once));
    assert!((stepwise - at_once).abs() < 1e-9, "{stepwise} {at_once}");
    let (none, said) = drafted(&chain(9));
    assert!(none.is_none());
    assert_eq!(said, ["inset-chain"]);
    assert_eq!(drafted(&chain(12)).1, ["inset-chain"]);
}

#[test]
fn an_allowance_is_one_that_can_be_cut_or_none() {
    let said_of = |allowance: &str| {
        let text = DESIGN.replace("allowance: 5 mm", &format!("allowance: {allowance}"));
        let folder = DesignFolder::from_memory("case", [("design.yaml", text.as_str())]);
        let mut said = Diagnostics::default();
        let design = read(&folder, &mut said).unwrap_or_else(|| panic!("{said:?}"));
        draft(&design, &design.sizes[0], None, &mut said);
        let said = said.iter().filter(|told| told.level == Level::Error);
        said.map(|told| (told.code, told.place.as_ref().map(|place| place.line)))
            .collect::<Vec<_>>()
    };
    for wrong in [
        "base.width - 41 mm",
        "1001 mm",
        "0.09 mm",
        "40 mm + 100 in",
        "base.width * 999999",
    ] {
        assert_eq!(said_of(wrong), [("allowance", Some(9))], "{wrong}");
    }
    for right in [
        "0 mm",
        "none",
        "1 m",
        "0.1 mm",
        "0.0000001 mm",
        "0.1 in - 2.54 mm",
    ] {
        assert_eq!(said_of(right), [], "{right}");
    }
}

/// The letter of a number, by which a piece is called.
fn letter(at: usize) -> char {
    char::from(b'a' + u8::try_from(at).unwrap_or_default())
}
