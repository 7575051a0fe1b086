//! Values that one piece takes from another.

use super::draft;
use crate::design::formula::Scope;
use crate::design::{Dimension, read};
use crate::diagnostic::Diagnostics;
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
