//! Reading whole designs: the one with every key, and one mistake at a time (`mistakes`).

mod guide;
mod mistakes;
mod mistakes_in_files;
mod mistakes_in_notions;
mod mistakes_in_shop;
mod mistakes_in_units;
mod words_of_keys;

use super::*;
use crate::design::NotchCut;
use crate::diagnostic::human;
use proptest::prelude::*;

const WHOLE: &str = r##"
title: Harvest bar shoe
edition: 1.0.0
series: Patterns from the harvest fair
by: The doll stall at the harvest fair
skill: confident beginner
about: A round-toed felt shoe with a strap and one button, sewn by hand.
makes: one pair
age: for display
terms: Sew as many as you like.
contact: the doll stall
languages: en
paper: [a4, letter]
lengths: {first: metric, nearest: 1/16 in}
measures:
  seam: 3/16 in
  felt: 1.2 mm
sizes:
  small: {title: Small, words: for a foot of 45 mm, foot: feet/small.yaml}
  large: {title: Large, words: for a foot of 70 mm, foot: feet/large.yaml, measures: {seam: 1/8 in}}
cloth:
  outer:  {name: wool felt, kind: wool felt, thickness: 1.2 mm, sheet: 9 in x 12 in, note: firm}
  lining: {name: cotton lawn, kind: woven, thickness: 0.2 mm, width: 44 in}
trims:
  elastic: {name: flat elastic, width: 6 mm, length: "0.2 * foot.length + 1/2 in", count: 2}
  button:  {name: shank button, width: 14 L, count: 2, small part: yes}
  edging:  {name: edging, kind: bias strip, width: 20 mm, length: 1 m, join: seam, tolerance: 2 mm, weight: 1.5 g/m}
  snap:    {width: 7 mm, price: 0.30 EUR each, weight: 2 g each}
thread:
  name: cotton thread
  stitch: backstitch
  stitch length: 1.5 mm
  stitch width: 2 mm
  reserve: 10 %
  ends: none
  spool: 200 m
  price: 2.40 EUR per spool
  note: not too thick
  also:
    rim: 2 * toe.topline
    hem: {line: toe.topline, stitch: overedge, through: [outer, lining], count: 2}
    knots: {thread: 40 cm}
tools: [small sharp scissors, "hand needle, size 9"]
pieces:
  sole:
    title: Sole
    note: the felt carries the stiffener
    tracing: {ease: 1/8 in, inner mark: 0.45 * foot.length, outer mark: 0.45 * foot.length}
    allowance: seam
    corners: mitre up to 4
    grain: none
    notches:
      - {edge: toe edge, at: 50 %, name: centre toe, centre: yes}
      - {edge: toe edge, at: 12 mm}
      - {edge: heel edge, from end: 12 mm, count: 2, carry: yes}
    cut: {outer: 1 pair, lining: 2 mirrored}
  lining sole:
    inset: {of: sole, by: 0.7 mm}
    cut: {lining: 2}
  stiff sole:
    tracing:
    cut: {outer: 2}
  toe:
    drawing: {file: "drawings/toe-{size}.svg", path: outline, edges: [sole edge, outer side, topline, inner side]}
    allowance: {all: seam, topline: none}
  panel:
    points: {a: [0 mm, 0 mm], b: [296 mm, 0 mm], c: [2 * strap.width, 2 * seam], d: [0 mm, 40 mm], p1: [1 mm, 2 mm], p2: [3 mm, 3 mm]}
    outline:
      start: a
      edges:
        - {name: top, to: b}
        - {name: side, to: c, handles: [p1, p2]}
        - {name: side, to: [30 mm, seam], handles: [8 mm, 9 mm]}
        - {name: bottom, to: d}
        - {name: left, to: a}
    on fold: left
    corners: {all: mitre, top and side: folded}
    allowance: {all: seam, bottom: 12 mm}
    grain: 30 deg
  strap:
    rectangle: {width: sole.toe edge / 2, height: 12 mm, radius: 3 mm}
    mirror on: left
    notches: [{edge: top mirrored, at: 3 mm}]
  base:
    ellipse: {width: 60 mm, height: 2/3 * 60 mm}
    holes:       [{at: [4 mm, 5 mm], diameter: 2 mm, words: cord}]
    eyelets:     [{at: [base.width / 2, 3 mm], diameter: 4 mm}]
    buttons:     [{at: [4 mm, 5 mm], diameter: 14 L}]
    buttonholes: [{at: [4 mm, 5 mm], length: 16 mm, angle: 90 deg}]
    lines:
      - {kind: placement, through: [[1 mm, 2 mm], [3 mm, 4 mm]], words: strap here}
      - {kind: fold, through: [[1 mm, 2 mm], [3 mm, 4 mm]], handles: [2 mm, 5 mm]}
seams:
  toe to sole: {join: toe.sole edge, to: sole.toe edge, easing: 4 % to 8 %, direction: same, stitch: lockstitch}
  inner side:  {join: toe.inner side, to: panel.bottom, easing: 3 mm}
cutting:
  colours: {cut: "#E00000", score: "#0000E0", mark: "#202020", guide: "#00C0C0"}
  without allowance: [stiff sole, lining]
  notches: {all: slits, sole: triangles, strap: marked}
  reference square: 30 mm
listing: {pictures: [1600 x 1200, 800 x 800]}
"##;

const FOOT: &str = "name: the doll\ntracing:\n  unit: mm\n  points: [[0,10],[2,20],[4,40],[9,45],[14,40],[16,20],[12,2],[6,0]]\n  heel: [8, 0]\n  toe: [9, 45]\n  inner side: left\n  pencil: 0.25 mm\nmeasures:\n  ball girth: 48 mm\n  long-heel girth: 60 mm\n";
const SVG: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='50mm' height='50mm' viewBox='0 0 50 50'><path id='outline' d='M0 0 L10 0 L10 10 L0 10 Z'/></svg>";
const CHAPTER: &str =
    "---\ntitle: Making the shoe\nkind: steps\npart: make\nstandfirst: Together.\n---\n## Sew\n";

fn files(design: &str) -> Vec<(String, String)> {
    [
        ("design.yaml", design),
        ("feet/small.yaml", FOOT),
        ("feet/large.yaml", FOOT),
        ("drawings/toe-small.svg", SVG),
        ("drawings/toe-large.svg", SVG),
        ("booklet/10-make.md", CHAPTER),
    ]
    .map(|(path, text)| (path.to_string(), text.to_string()))
    .to_vec()
}

#[test]
fn a_design_with_every_key_reads_without_a_word() {
    let folder = DesignFolder::from_memory("shoe", files(WHOLE));
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics);
    let said = human::list(&diagnostics, human::Style::default());
    assert_eq!(said, "");
    let design = design.unwrap();
    assert_eq!(design.pieces.len(), 7);
    let cutting = &design.shop.cutting;
    assert_eq!(cutting.colours.guide, [0, 0xc0, 0xc0]);
    assert!(cutting.is_without_allowance("stiff sole", "outer"));
    assert!(cutting.is_without_allowance("sole", "lining"));
    assert!(!cutting.is_without_allowance("sole", "outer"));
    assert_eq!(cutting.notches_of("sole"), NotchCut::Vee);
    assert_eq!(cutting.notches_of("toe"), NotchCut::Slit);
    assert_eq!(cutting.reference_square, Some(30.0));
    assert_eq!(design.shop.pictures, [[1600, 1200], [800, 800]]);
}

#[test]
fn every_mistake_of_a_design_is_reported_in_one_run() {
    let design = WHOLE
        .replace("title: Harvest bar shoe", "titel: Harvest bar shoe")
        .replace("paper: [a4, letter]", "paper: [a4, leter]")
        .replace("height: 12 mm", "height: 12")
        .replace("{of: sole, by: 0.7 mm}", "{of: soul, by: 0.7 mm}")
        .replace("join: toe.sole edge", "join: toe.soul edge");
    let mut all = files(&design);
    all.retain(|(path, _)| path != "feet/large.yaml");
    all.push(("booklet/20-more.md".into(), "No head.\n".into()));
    let folder = DesignFolder::from_memory("shoe", all);
    let mut diagnostics = Diagnostics::default();
    assert!(read(&folder, &mut diagnostics).is_none());
    let codes: Vec<&str> = diagnostics.sorted().iter().map(|d| d.code).collect();
    assert_eq!(
        codes,
        [
            "missing-head",
            "missing-key",
            "unknown-key",
            "unknown-paper",
            "file-missing",
            "unknown-piece",
            "no-unit",
            "unknown-edge"
        ]
    );
    assert!(folder.asked().contains(&"feet/large.yaml".to_string()));
}

/// What `read` says of a lone `design.yaml`.
fn said(design: &str) -> String {
    let folder = DesignFolder::from_memory("x", [("design.yaml", design)]);
    let mut diagnostics = Diagnostics::default();
    read(&folder, &mut diagnostics);
    human::list(&diagnostics, human::Style::default())
}

#[test]
fn words_that_are_put_on_to_others_keep_the_space_at_their_ends() {
    let mut all = files(WHOLE);
    let own = "plates:\n  on fold: \" over the edge\"\n".to_string();
    all.push(("template/words/en.yaml".to_string(), own));
    let folder = DesignFolder::from_memory("shoe", all);
    let design = read(&folder, &mut Diagnostics::default()).expect("it reads");
    assert_eq!(design.words.get("plates.on fold"), " over the edge");
}

#[test]
fn files_made_to_exhaust_memory_or_stack_are_refused() {
    let deep = "[".repeat(60);
    let mut bomb = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    for n in 1..12 {
        let list = vec![format!("*a{}", n - 1); 10].join(", ");
        bomb += &format!("a{n}: &a{n} [{list}]\n");
    }
    let chain = (1..200).fold("a0: &a0 x\n".to_string(), |text, n| {
        format!("{text}a{n}: &a{n} [*a{}]\n", n - 1)
    });
    let dashes = "- ".repeat(50_000) + "x";
    let values = "x,".repeat(60_000);
    for text in [&deep, &bomb, &chain, &dashes, &format!("title: [{values}]")] {
        assert!(said(text).contains("too-large"), "{}", said(text));
    }
    let word = "a".repeat(600_000);
    let words = format!("a: &x {word}\nb: [{}]\n", vec!["*x"; 15_000].join(", "));
    assert!(
        said(&words).contains("design.yaml:2:25"),
        "{}",
        said(&words)
    );
    assert!(said(&words).contains("too-large"), "{}", said(&words));
    let same = "title: &t [*t]\n";
    assert!(said(same).contains("not complete"), "{}", said(same));
}

#[test]
fn more_than_anybody_sells_is_refused_at_the_first_that_is_too_many() {
    let (before, rest) = WHOLE.split_once("pieces:\n").unwrap();
    let name_of = |n: usize| -> String {
        let digits = n.to_string();
        digits.bytes().map(|c| (b'a' + c - b'0') as char).collect()
    };
    let piece = |n: usize| {
        let name = name_of(n);
        format!("  more {name}: {{rectangle: {{width: 9 mm, height: 9 mm}}, cut: {{outer: 1}}}}\n")
    };
    let with_pieces = |count: usize, before: &str| {
        let pieces: String = (0..count).map(piece).collect();
        said(&format!("{before}pieces:\n{pieces}{rest}"))
    };
    let place_of = |piece: usize, before: &str| {
        let line = before.lines().count() + 1 + piece;
        format!("design.yaml:{line}:3")
    };
    let many = with_pieces(300, before);
    assert!(
        many.contains("more than 300 pieces") && many.contains(&place_of(301, before)),
        "{many}"
    );
    // thirty pieces in forty sizes are the most
    let sizes: String = (0..38)
        .map(|n| format!("  more {}: {{}}\n", name_of(n)))
        .collect();
    let before = before.replace("sizes:\n", &format!("sizes:\n{sizes}"));
    let own = rest.lines().take_while(|line| line.starts_with(' '));
    let own = own.filter(|line| !line.starts_with("   ")).count();
    let enough = with_pieces(30 - own, &before);
    assert!(!enough.contains("to draw"), "{enough}");
    let many = with_pieces(31 - own, &before);
    let message = "31 pieces in 40 sizes are 1240 to draw; there may be 1200";
    assert!(many.contains(message), "{many}");
    let cut_in_all = |each: usize, pieces: usize| {
        let piece = |n: usize| piece(n).replace("outer: 1", &format!("outer: {each}"));
        let pieces: String = (0..pieces).map(piece).collect();
        said(&format!("{before}pieces:\n{pieces}{rest}"))
    };
    let many = cut_in_all(100, 2);
    assert!(
        many.contains("pieces are cut in each of 40 sizes; there may be 150"),
        "{many}"
    );
}

#[test]
fn an_alias_stands_for_its_value() {
    let design = WHOLE
        .replace("felt: 1.2 mm", "felt: &felt 1.2 mm")
        .replace("thickness: 1.2 mm", "thickness: *felt");
    let folder = DesignFolder::from_memory("shoe", files(&design));
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics).unwrap();
    assert_eq!(design.cloth[0].thickness, Some(1.2));
}

#[test]
fn texts_that_are_no_design_are_refused_in_words() {
    assert!(said("").contains("missing-key"));
    assert!(said("just words").contains("not keys with values"));
    assert!(said("- a\n- b\n").contains("not keys with values"));
    assert!(said("a: \u{0}").contains("error yaml"));
    assert!(said("? [a, b]\n: c\n").contains("‘[…]’ is no key"));
}

proptest! {
    #[test]
    fn no_text_panics(text in "(?s).{0,120}") {
        said(&text);
    }

    #[test]
    fn no_row_of_signs_panics(words in prop::collection::vec(prop::sample::select(vec![
        "a", ": ", "\n", "  ", "- ", "[", "]", "{", "}", ", ", "\"", "'", "#", "&x ", "*x", "!t ",
        "|", ">", "\t", "---\n", "...\n", "? ", "%", "title", "pieces", "\u{85}", "\r", "~", "1",
    ]), 0..60)) {
        said(&words.concat());
    }

    #[test]
    fn no_damage_to_a_good_design_panics(cuts in prop::collection::vec((0usize..5000, 0usize..12, "[ -~\n]{0,3}"), 1..5)) {
        let mut letters: Vec<char> = WHOLE.chars().collect();
        for (at, length, put) in cuts {
            let at = at.min(letters.len());
            let end = (at + length).min(letters.len());
            letters.splice(at..end, put.chars());
        }
        let design: String = letters.into_iter().collect();
        let folder = DesignFolder::from_memory("shoe", files(&design));
        let mut diagnostics = Diagnostics::default();
        let read = read(&folder, &mut diagnostics);
        prop_assert_eq!(read.is_none(), diagnostics.has_errors());
        human::list(&diagnostics, human::Style::default());
    }
}

#[test]
fn a_file_full_of_mistakes_is_read_and_the_list_is_cut() {
    let lines: String = (0..2000).fold("measures:\n".into(), |text, n| {
        format!("{text}  measure {n}: nobody {n} + thing.part {n}\n")
    });
    let shown = said(&lines);
    assert!(
        shown.ends_with("and 3906 more\n\n"),
        "{}",
        &shown[shown.len() - 99..]
    );
}
