//! Marks that stay on their piece, and marks that leave it.

use crate::design::read;
use crate::diagnostic::Diagnostics;
use crate::draft::draft;
use crate::folder::DesignFolder;
use crate::piece::finish;

/// Codes of what is said of a piece with this shape and these marks.
fn codes(shape: &str, marks: &str) -> Vec<&'static str> {
    let text = format!(
        "title: Case\nedition: 1.0.0\nabout: A case.\npaper: [a4]\nsizes: {{one: {{}}}}\n\
         cloth: {{felt: {{name: felt}}}}\npieces:\n  lid:\n    {shape}\n    allowance: none\n    \
         {marks}\n    cut: {{felt: 1}}\n"
    );
    let folder = DesignFolder::from_memory("case", [("design.yaml", text.as_str())]);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics);
    assert!(!diagnostics.has_errors(), "{diagnostics:?}");
    let design = design.expect("a sound design");
    let size = &design.sizes[0];
    let draft = draft(&design, size, None, &mut diagnostics);
    finish(&design, size, &draft, &mut diagnostics);
    diagnostics.iter().map(|said| said.code).collect()
}

const LID: &str = "rectangle: {width: 60 mm, height: 40 mm}";
const HALF: &str = "rectangle: {width: 60 mm, height: 40 mm}\n    on fold: left";

/// A U of 60 by 40 mm with a gap 20 mm wide from above to 10 mm from below.
const YOKE: &str = "outline: {start: [0 mm, 0 mm], edges: [{name: a, to: [20 mm, 0 mm]}, \
    {name: b, to: [20 mm, 30 mm]}, {name: c, to: [40 mm, 30 mm]}, {name: d, to: [40 mm, 0 mm]}, \
    {name: e, to: [60 mm, 0 mm]}, {name: f, to: [60 mm, 40 mm]}, {name: g, to: [0 mm, 40 mm]}, \
    {name: h, to: [0 mm, 0 mm]}]}";

#[test]
fn a_round_hole_may_touch_the_seam_line_but_not_reach_over_it() {
    for (hole, expected) in [
        ("holes: [{at: [30 mm, 20 mm], diameter: 40 mm}]", vec![]),
        (
            "holes: [{at: [30 mm, 20 mm], diameter: 41 mm}]",
            vec!["mark-outside"],
        ),
        ("holes: [{at: [3 mm, 20 mm], diameter: 6 mm}]", vec![]),
        (
            "holes: [{at: [-3 mm, 20 mm], diameter: 2 mm}]",
            vec!["mark-outside"],
        ),
        (
            "holes: [{at: [30 mm, 20 mm], diameter: lid.width - 60 mm}]",
            vec!["not-positive"],
        ),
        (
            "eyelets: [{at: [3 mm, 20 mm], diameter: 8 mm}]",
            vec!["mark-outside"],
        ),
    ] {
        assert_eq!(codes(LID, hole), expected, "{hole}");
    }
}

#[test]
fn a_hole_on_the_fold_is_whole_on_the_opened_piece() {
    let hole = |at: &str| format!("holes: [{{at: {at}, diameter: 6 mm}}]");
    assert_eq!(codes(HALF, &hole("[0 mm, 20 mm]")), [""; 0]);
    assert_eq!(codes(HALF, &hole("[0 mm, 1 mm]")), ["mark-outside"]);
    assert_eq!(codes(HALF, &hole("[1 mm, 20 mm]")), ["mark-outside"]);
}

#[test]
fn a_button_may_be_wider_than_its_strap() {
    let strap = "rectangle: {width: 60 mm, height: 5 mm}";
    let button = "buttons: [{at: [56 mm, 2.5 mm], diameter: 14 L}]";
    assert_eq!(codes(strap, button), [""; 0]);
}

#[test]
fn slits_and_lines_stay_on_the_piece_all_along() {
    let line = |rest: &str| format!("lines: [{{kind: stitching, {rest}}}]");
    for (marks, expected) in [
        (
            line("through: [[10 mm, 20 mm], [10 mm, 35 mm], [50 mm, 35 mm]]"),
            vec![],
        ),
        (
            line("through: [[10 mm, 20 mm], [50 mm, 20 mm]]"),
            vec!["mark-outside"],
        ),
        (
            line("through: [[10 mm, 35 mm], [50 mm, 35 mm]], handles: [[30 mm, 50 mm]]"),
            vec!["mark-outside"],
        ),
        (
            "buttonholes: [{at: [30 mm, 20 mm], length: 50 mm, angle: 90 deg}]".to_string(),
            vec!["mark-outside"],
        ),
    ] {
        assert_eq!(codes(YOKE, &marks), expected, "{marks}");
    }
}
