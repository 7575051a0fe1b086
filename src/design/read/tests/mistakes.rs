//! One mistake at a time in the design that has every key: the code, and the line and column at
//! which it is reported. In the changed text `^` stands before the place.

use super::*;

/// Makes `changes` in the file `path` and expects exactly `codes`, in order, at the marks.
pub(super) fn expect_in(path: &str, changes: &[(&str, &str)], codes: &[&str]) {
    let mut all = files(WHOLE);
    let file = all.iter_mut().find(|(name, _)| name == path).unwrap();
    let mut marked = file.1.clone();
    for (old, new) in changes {
        assert_eq!(
            marked.matches(old).count(),
            1,
            "‘{old}’ stands once in {path}"
        );
        marked = marked.replace(old, new);
    }
    let mut places = Vec::new();
    let (mut line, mut column) = (1, 1);
    file.1.clear();
    for character in marked.chars() {
        match character {
            '^' => {
                places.push((line, column));
                continue;
            }
            '\n' => (line, column) = (line + 1, 1),
            _ => column += 1,
        }
        file.1.push(character);
    }
    assert_eq!(places.len(), codes.len(), "one mark for each code");
    let wanted: Vec<String> = codes
        .iter()
        .zip(&places)
        .map(|(code, (line, column))| format!("{code} {path}:{line}:{column}"))
        .collect();
    let folder = DesignFolder::from_memory("shoe", all);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics);
    let found: Vec<String> = diagnostics
        .sorted()
        .iter()
        .map(|d| match &d.place {
            Some(p) => format!("{} {}:{}:{}", d.code, p.source.path, p.line, p.column),
            None => d.code.to_string(),
        })
        .collect();
    let said = human::list(&diagnostics, human::Style::default());
    assert_eq!(found, wanted, "{said}");
    let remedied = diagnostics.iter().all(|d| !d.remedy.is_empty());
    assert!(remedied, "each diagnostic says what to do\n{said}");
    assert_eq!(design.is_none(), diagnostics.has_errors());
}

pub(super) fn expect(old: &str, new: &str, code: &str) {
    expect_in("design.yaml", &[(old, new)], &[code]);
}

#[test]
fn keys() {
    expect("skill: confident", "^skil: confident", "unknown-key");
    expect("makes: one pair", "^ease: 1/8 in", "unknown-key");
    expect("small part: yes", "^small-part: yes", "unknown-key");
    expect("makes: one pair", "^title: Again", "duplicate-key");
    expect("  felt: 1.2 mm", "  ^seam: 1.2 mm", "duplicate-key");
    expect("by: 0.7 mm}", "by: 0.7 mm, ^of: sole}", "duplicate-key");
    expect("makes: one pair", "^makes:", "empty-value");
    expect("makes: one pair", "makes: ^''", "empty-value");
    expect("makes: one pair", "makes: ^+", "empty-value");
    let word = format!("makes: ^{}", "m".repeat(31));
    expect("makes: one pair", &word, "text-too-long");
    expect("makes: one pair", "makes: ^[one, pair]", "wrong-type");
    expect("{first: metric, nearest: 1/16 in}", "^metric", "wrong-type");
    expect("small part: yes", "small part: ^perhaps", "wrong-type");
    expect(
        "width: 14 L, count: 2",
        "width: 14 L, count: ^two",
        "wrong-type",
    );
    expect(
        "width: 14 L, count: 2",
        "width: 14 L, count: ^0",
        "out-of-range",
    );
    let about = "about: A round-toed felt shoe with a strap and one button, sewn by hand.\n";
    let changes = [(about, ""), ("\ntitle: Harvest", "\n^title: Harvest")];
    expect_in("design.yaml", &changes, &["missing-key"]);
    let changes = [("{of: sole, by: 0.7 mm}", "^{of: sole}")];
    expect_in("design.yaml", &changes, &["missing-key"]);
    let changes = [
        ("join: toe.inner side, ", ""),
        ("  inner side:", "  ^inner side:"),
    ];
    expect_in("design.yaml", &changes, &["missing-key"]);
}

#[test]
fn the_head() {
    expect("edition: 1.0.0", "edition: ^1.0", "edition-number");
    expect("edition: 1.0.0", "edition: ^1.0.x", "edition-number");
    expect(
        "paper: [a4, letter]",
        "paper: [a4, ^leter]",
        "unknown-paper",
    );
    expect("paper: [a4, letter]", "paper: [a4, ^a4]", "same-name");
    expect("paper: [a4, letter]", "paper: ^[]", "empty-value");
    expect("first: metric", "first: ^inches", "unknown-word");
    expect("nearest: 1/16 in", "nearest: ^1/10 in", "out-of-range");
    expect("languages: en", "languages: ^english", "unknown-word");
}

#[test]
fn lengths_and_formulas() {
    expect("height: 12 mm", "height: ^12", "no-unit");
    expect("bottom: 12 mm", "bottom: ^12", "no-unit");
    expect("angle: 90 deg", "angle: ^90", "no-unit");
    expect("grain: 30 deg", "grain: ^30", "no-unit");
    expect("height: 12 mm", "height: 12 ^mn", "unknown-unit");
    expect("felt: 1.2 mm", "felt: 1^,2 mm", "decimal-comma");
    expect("2/3 * 60 mm", "2/3 * ^* 60 mm", "formula");
    expect("2/3 * 60 mm", "^60 mm * 60 mm", "wrong-dimension");
    expect(
        "\"0.2 * foot.length + 1/2 in\"",
        "0.2 * foot.length ^+ 5",
        "wrong-dimension",
    );
    expect(
        "\"0.2 * foot.length + 1/2 in\"",
        "\"0.2 * ^foot.lenght\"",
        "unknown-name",
    );
    expect(
        "2 * strap.width, 2 * seam",
        "2 * strap.width, 2 * ^seem",
        "unknown-name",
    );
    expect(
        "2 * strap.width, 2 * seam",
        "2 * ^strip.width, 2 * seam",
        "unknown-piece",
    );
    expect("sole.toe edge / 2", "^sole.toe side / 2", "unknown-edge");
    expect(
        "2 * strap.width, 2 * seam",
        "2 * ^strap.left, 2 * seam",
        "unknown-edge",
    );
    expect("felt: 1.2 mm", "felt: 1.2 mm / ^(3 mm - 3 mm", "formula");
    expect("felt: 1.2 mm", "felt: ^1.2 mm / (3 - 3)", "formula");
    expect("height: 12 mm", "height: ^-12 mm", "out-of-range");
    expect("height: 12 mm", "height: ^0 mm", "out-of-range");
    expect("height: 12 mm", "height: ^12 m", "out-of-range");
    expect("thickness: 1.2 mm", "thickness: ^felt", "formula");
    expect("{seam: 1/8 in}", "{seam: ^2}", "wrong-dimension");
    expect("{seam: 1/8 in}", "{^seem: 1/8 in}", "unknown-name");
    expect("  felt: 1.2 mm", "  ^felt.two: 1.2 mm", "bad-name");
    expect("  felt: 1.2 mm", "  ^mm: 1.2 mm", "bad-name");
}

#[test]
fn circles() {
    expect("felt: 1.2 mm", "felt: ^felt * 2", "formula-cycle");
    let changes = [
        ("seam: 3/16 in", "seam: ^felt * 2"),
        ("felt: 1.2 mm", "felt: seam / 2"),
        (", measures: {seam: 1/8 in}", ""),
    ];
    expect_in("design.yaml", &changes, &["formula-cycle"]);
    let changes = [
        ("height: 12 mm", "height: ^base.width"),
        ("ellipse: {width: 60 mm", "ellipse: {width: strap.width"),
    ];
    expect_in("design.yaml", &changes, &["formula-cycle"]);
    expect(
        "{of: sole, by: 0.7 mm}",
        "{of: ^lining sole, by: 0.7 mm}",
        "formula-cycle",
    );
}

#[test]
fn a_circle_is_told_with_its_chain() {
    let design = WHOLE
        .replace("seam: 3/16 in", "seam: felt * 2")
        .replace("felt: 1.2 mm", "felt: base.width")
        .replace("ellipse: {width: 60 mm", "ellipse: {width: seam");
    let folder = DesignFolder::from_memory("shoe", files(&design));
    let mut diagnostics = Diagnostics::default();
    read(&folder, &mut diagnostics);
    let said: Vec<&str> = diagnostics.iter().map(|d| d.message.as_str()).collect();
    assert_eq!(
        said,
        ["These formulas go in a circle: seam → felt → base → seam."]
    );
}

#[test]
fn a_piece_may_use_its_own_seam_line_for_what_comes_after_it() {
    let changes = [(
        "{width: 60 mm, height: 2/3 * 60 mm}",
        "{width: 60 mm, height: 40 mm}\n    allowance: 0.1 * base.width",
    )];
    expect_in("design.yaml", &changes, &[]);
    let changes = [(
        "{width: 60 mm, height: 2/3 * 60 mm}",
        "{width: 60 mm, height: 40 mm}\n    allowance: 0.1 * ^base.cut width",
    )];
    expect_in("design.yaml", &changes, &["formula-cycle"]);
}

#[test]
fn shapes() {
    let rectangle = "rectangle: {width: 1 mm, height: 1 mm}";
    let two = format!("    ellipse: {{width: 60 mm, height: 2/3 * 60 mm}}\n    ^{rectangle}");
    expect(
        "    ellipse: {width: 60 mm, height: 2/3 * 60 mm}",
        &two,
        "one-way",
    );
    let changes = [
        ("  base:", "  ^base:"),
        ("    ellipse: {width: 60 mm, height: 2/3 * 60 mm}\n", ""),
    ];
    expect_in("design.yaml", &changes, &["one-way"]);
    expect(
        "{width: 60 mm, height: 2/3 * 60 mm}",
        "^60 mm",
        "wrong-type",
    );
    expect(
        "{of: sole, by: 0.7 mm}",
        "{of: ^soul, by: 0.7 mm}",
        "unknown-piece",
    );
    expect(
        "\"drawings/toe-{size}.svg\"",
        "^drawings/two.svg",
        "file-missing",
    );
    expect(
        "\"drawings/toe-{size}.svg\"",
        "^../toe.svg",
        "outside-folder",
    );
    expect(
        "[sole edge, outer side,",
        "[sole edge, ^sole edge,",
        "same-name",
    );
    expect("[sole edge, outer side,", "[sole edge, ^width,", "bad-name");
    expect(
        "[sole edge, outer side,",
        "[sole edge, ^top and side,",
        "bad-name",
    );
    expect("on fold: left", "on fold: ^side", "fold-edge");
    expect("on fold: left", "on fold: ^middle", "unknown-edge");
    expect(
        "on fold: left",
        "on fold: left\n    mirror on: ^left",
        "fold-edge",
    );
    expect(
        "    mirror on: left",
        "    mirror on: ^corner 1",
        "fold-edge",
    );
}

#[test]
fn outlines() {
    expect(
        "{name: top, to: b}",
        "{name: top, to: ^bb}",
        "unknown-point",
    );
    expect("      start: a", "      start: ^z", "unknown-point");
    expect("handles: [p1, p2]", "handles: [p1, ^p9]", "unknown-point");
    expect("handles: [p1, p2]", "handles: ^[p1, p2, a]", "out-of-range");
    expect(
        "{name: left, to: a}",
        "{name: left, to: ^b}",
        "open-outline",
    );
    expect("{name: bottom, to: d}", "^{name: bottom}", "missing-key");
    expect("d: [0 mm, 40 mm]", "d: ^40 mm", "wrong-type");
    expect("d: [0 mm, 40 mm]", "d: [0 mm, ^40]", "no-unit");
    let changes = [
        ("{name: left, to: a}", "^{name: top, to: a}"),
        ("    on fold: left\n", ""),
    ];
    expect_in("design.yaml", &changes, &["same-name"]);
}

#[test]
fn allowances_corners_and_grain() {
    expect(
        "{all: seam, topline: none}",
        "{all: seam, ^top line: none}",
        "unknown-edge",
    );
    expect(
        "{all: seam, topline: none}",
        "{all: seam, topline: ^nothing}",
        "unknown-name",
    );
    expect(
        "{all: mitre, top and side: folded}",
        "{all: ^miter, top and side: folded}",
        "unknown-word",
    );
    expect(
        "{all: mitre, top and side: folded}",
        "{all: mitre, ^top and sides: folded}",
        "unknown-edge",
    );
    expect(
        "{all: mitre, top and side: folded}",
        "{all: mitre, ^top: folded}",
        "unknown-key",
    );
    expect(
        "corners: mitre up to 4",
        "corners: ^mitre up to 0.5",
        "out-of-range",
    );
    expect("grain: none", "grain: ^sideways", "unknown-word");
    let changes = [
        ("  toe:\n", "  ^toe:\n"),
        ("    allowance: {all: seam, topline: none}\n", ""),
    ];
    expect_in("design.yaml", &changes, &["no-allowance"]);
}

#[test]
fn notches_marks_and_cuts() {
    expect(
        "{edge: toe edge, at: 12 mm}",
        "{edge: ^toe, at: 12 mm}",
        "unknown-edge",
    );
    expect(
        "{edge: toe edge, at: 12 mm}",
        "^{edge: toe edge}",
        "missing-key",
    );
    expect(
        "{edge: toe edge, at: 12 mm}",
        "^{edge: toe edge, at: 12 mm, from end: 1 mm}",
        "one-way",
    );
    expect("at: 50 %", "at: ^0.5", "no-unit");
    expect("at: 50 %", "at: ^150 %", "out-of-range");
    expect(
        "{edge: toe edge, at: 12 mm}",
        "^{edge: toe edge, at: 12 mm, name: centre toe}",
        "same-name",
    );
    expect(
        "from end: 12 mm, count: 2",
        "from end: 12 mm, count: ^4",
        "out-of-range",
    );
    expect("edge: top mirrored", "edge: ^left", "unknown-edge");
    expect(
        "{outer: 1 pair, lining",
        "{^outter: 1 pair, lining",
        "unknown-cloth",
    );
    expect("lining: 2 mirrored", "lining: ^3 mirrored", "cut-count");
    expect("lining: 2 mirrored", "lining: ^two", "cut-count");
    expect("kind: placement", "kind: ^place", "unknown-word");
    expect(
        "through: [[1 mm, 2 mm], [3 mm, 4 mm]], words",
        "through: ^[[1 mm, 2 mm]], words",
        "out-of-range",
    );
    expect("diameter: 14 L", "diameter: ^14", "no-unit");
    expect(
        "at: [base.width / 2, 3 mm]",
        "at: [^bace.width / 2, 3 mm]",
        "unknown-piece",
    );
}
