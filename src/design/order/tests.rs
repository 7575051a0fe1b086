use super::super::read;
use super::*;
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;

const DESIGN: &str = "
title: x
edition: 1.0.0
about: x
paper: a4
measures:
  fullness: toe.top - sole.cut width
  seam: base
  base: 4 mm
sizes:
  one: {}
  two: {measures: {seam: 5 mm, base: toe.top / 10}}
pieces:
  toe:
    points: {a: [0 mm, 0 mm], b: [sole.width, 0 mm], c: [0 mm, 9 mm], unused: [toe.area / 1 mm, 0 mm]}
    outline:
      start: a
      edges: [{name: top, to: b}, {name: side, to: c}, {name: left, to: a}]
  sole:
    rectangle: {width: 2 * lining.height, height: 9 mm}
    allowance: {all: seam, top: toe.top / 20}
  lining:
    inset: {of: tag, by: 1 mm}
  tag:
    ellipse: {width: 20 mm, height: 20 mm}
";

fn names(size: usize) -> Vec<String> {
    let folder = DesignFolder::from_memory("x", [("design.yaml", DESIGN)]);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics);
    assert_eq!(diagnostics.iter().next(), None);
    let design = design.unwrap();
    let steps = order(&design, &design.sizes[size]).unwrap();
    let named = steps.iter().map(|step| match step {
        Step::Measure(name) => name.clone(),
        Step::SeamLine(piece) => format!("{piece}|"),
        Step::CutLine(piece) => format!("{piece}||"),
        Step::Shoe => "shoe".to_string(),
    });
    named.collect()
}

#[test]
fn every_step_comes_after_those_it_needs() {
    assert_eq!(
        names(0),
        [
            "tag|", "lining|", "sole|", "toe|", "base", "seam", "sole||", "fullness", "toe||",
            "lining||", "tag||"
        ]
    );
}

#[test]
fn a_size_has_its_own_order() {
    let order = names(1);
    let at = |name: &str| order.iter().position(|step| step == name);
    assert!(at("toe|") < at("base"));
    assert!(at("seam") < at("sole||"));
}

#[test]
fn a_long_chain_does_not_exhaust_the_stack() {
    let chain: String = (0..5000).fold(String::new(), |text, n| {
        format!("{text}  m{n}: m{}\n", n + 1)
    });
    let design = DESIGN.replace(
        "  base: 4 mm\n",
        &format!("  base: 4 mm\n{chain}  m5000: 1 mm\n"),
    );
    let folder = DesignFolder::from_memory("x", [("design.yaml", design)]);
    let mut diagnostics = Diagnostics::default();
    assert!(read(&folder, &mut diagnostics).is_some());
}
