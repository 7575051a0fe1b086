//! One mistake at a time in seams, sizes, feet, chapters, drawings, and in YAML itself; `^` stands before
//! the place at which it is reported.

use super::mistakes::{expect, expect_in};

fn foot(old: &str, new: &str, code: &str) {
    expect_in("feet/small.yaml", &[(old, new)], &[code]);
}

#[test]
fn sizes_and_cloth() {
    expect(
        "foot: feet/small.yaml",
        "foot: ^feet/smal.yaml",
        "file-missing",
    );
    expect(
        "  large: {title: Large",
        "  ^large.1: {title: Large",
        "bad-name",
    );
    expect("sheet: 9 in x 12 in", "sheet: ^9 in", "wrong-type");
    expect("sheet: 9 in x 12 in", "sheet: 9 in x ^12", "no-unit");
    expect("width: 44 in", "width: ^44", "no-unit");
    let button = "name: shank button, width: 14 L";
    expect(
        button,
        "name: Knöpfchen ß 布 e\u{301}, width: 14 ^LL",
        "unknown-unit",
    );
}

#[test]
fn what_needs_a_foot_misses_it_where_it_is_used() {
    let changes = [
        (", foot: feet/large.yaml", ""),
        ("\"0.2 * foot.length", "\"0.2 * ^foot.length"),
        (
            "    tracing: {ease: 1/8 in, inner mark: 0.45 * foot.length, outer mark: 0.45 * foot.length}",
            "    tracing: ^{ease: 1/8 in, inner mark: 0.45 * ^foot.length, outer mark: 0.45 * ^foot.length}",
        ),
        ("    tracing:\n", "    ^tracing:\n"),
    ];
    expect_in("design.yaml", &changes, &["no-foot"; 5]);
}

#[test]
fn feet() {
    foot("unit: mm", "unit: ^feet", "unknown-word");
    foot("[2,20]", "^[2,20,1]", "wrong-type");
    foot("[2,20]", "^[2 mm, 20 mm]", "wrong-type");
    let changes = [("  toe: [9, 45]\n", ""), ("  unit", "  ^unit")];
    expect_in("feet/small.yaml", &changes, &["missing-key"]);
    let changes = [("  unit: mm\n", "  ^"), ("  points", "points")];
    expect_in("feet/small.yaml", &changes, &["missing-key"]);
    let changes = [("  unit: mm", "  ^unit: in\n  path: M 0 0 L 1 0 L 1 2 Z")];
    expect_in("feet/small.yaml", &changes, &["one-way"]);
    let points = "[[0,10],[2,20],[4,40],[9,45],[14,40],[16,20],[12,2],[6,0]]";
    foot(points, "^[[0, 10], [2, 20], [4, 40]]", "tracing");
    let changes = [("  points", "  path"), (points, "^M 0 0 L")];
    expect_in("feet/small.yaml", &changes, &["tracing"]);
    // path data may be long
    let path = format!("^M 0 0 {}L", "1 2 ".repeat(5_000));
    let changes = [("  points", "  path"), (points, path.as_str())];
    expect_in("feet/small.yaml", &changes, &["tracing"]);
    let changes = [
        ("unit: mm", "^unit: in\n  pencil: 0.1 mm"),
        ("  pencil: 0.25 mm\n", ""),
    ];
    expect_in("feet/small.yaml", &changes, &["out-of-range"]);
    foot("inner side: left", "inner side: ^inside", "unknown-word");
    foot("pencil: 0.25 mm", "pencil: ^0.25", "no-unit");
    foot("ball girth: 48 mm", "ball girth: ^48", "no-unit");
    foot("  ball girth: 48 mm", "  ^length: 48 mm", "bad-name");
    foot("name: the doll", "^nam: the doll", "unknown-key");
}

#[test]
fn chapters() {
    let chapter = |old: &str, new: &str, code: &str| {
        expect_in("booklet/10-make.md", &[(old, new)], &[code]);
    };
    chapter("---\ntitle: Making", "^title: Making", "missing-head");
    chapter("kind: steps", "kind: ^step", "unknown-word");
    chapter("part: make", "part: ^end", "unknown-word");
    chapter("standfirst", "^stand first", "unknown-key");
    let changes = [("---\ntitle: Making the shoe\n", "^---\n")];
    expect_in("booklet/10-make.md", &changes, &["missing-key"]);
    chapter("title: Making the shoe", "title: Making^: the shoe", "yaml");
}

#[test]
fn drawings() {
    let drawing = |changes: &[(&str, &str)]| {
        expect_in("drawings/toe-small.svg", changes, &["drawing"]);
    };
    let at_root = ("<svg", "^<svg");
    let at_path = ("<path", "^<path");
    drawing(&[("<path", "^<rect")]);
    drawing(&[("id='outline'", "id='other'"), at_root]);
    drawing(&[(" width='50mm' height='50mm'", ""), at_root]);
    drawing(&[("width='50mm'", "width='60mm'"), at_root]);
    drawing(&[("viewBox='0 0 50 50'", "viewBox='0 0 50'"), at_root]);
    drawing(&[(" Z'", "'"), at_path]);
    drawing(&[(" Z'", " Z M 1 1 L 2 2'"), at_path]);
    drawing(&[("d='M0", "d='N0"), at_path]);
    drawing(&[("10 10", "1e400 10"), at_path]);
    drawing(&[("<path", "^<path transform='turn(3)'")]);
    drawing(&[("</svg>", "^</svgs>")]);
}

#[test]
fn yaml() {
    expect("  felt: 1.2 mm", "^\tfelt: 1.2 mm", "yaml");
    expect("  felt: 1.2 mm", "  felt^:1.2 mm", "yaml");
    expect("makes: one pair", "makes: pair^: one", "yaml");
    expect("makes: one pair", "makes: ^\"one\" pair", "yaml");
    expect("makes: one pair", "makes: ^*one", "yaml");
    expect("makes: one pair", "makes: ^%one", "yaml");
    expect("makes: one pair", "makes: !one ^pair", "yaml");
    expect("paper: [a4, letter]", "paper: ^[a4, letter", "yaml");
    expect("paper: [a4, letter]", "paper: [a4, letter^}", "yaml");
    expect("makes: one pair", "makes: one pair\n^---", "yaml");
    expect("cut: {lining: 2}", "cut: ^{lining: 2", "yaml");
    let many = "[small scissors,\n  pins\n  needles: sharp^: fine]";
    expect(
        "[small sharp scissors, \"hand needle, size 9\"]",
        many,
        "yaml",
    );
}

#[test]
fn seams() {
    expect(
        "join: toe.sole edge",
        "join: ^toe.soul edge",
        "unknown-edge",
    );
    expect(
        "join: toe.sole edge",
        "join: ^tow.sole edge",
        "unknown-piece",
    );
    expect("join: toe.sole edge", "join: ^toe", "unknown-edge");
    expect("easing: 4 % to 8 %", "easing: ^4", "easing");
    expect("easing: 4 % to 8 %", "easing: ^8 % to 4 %", "out-of-range");
    expect("easing: 4 % to 8 %", "easing: ^4 mm to 8 mm", "easing");
    expect("direction: same", "direction: ^backwards", "unknown-word");
}
