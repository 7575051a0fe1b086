//! Mistakes in trims and thread of the design that has every key.

use super::mistakes::{expect, expect_in};

#[test]
fn small_parts() {
    // 1 1/4 in is the bore of the cylinder of 16 CFR 1501.4
    expect("small part: yes", "small part: ^no", "small-part");
    let small = "width: 14 L, count: 2, small part: yes";
    expect(small, "count: 2, small part: ^no", "small-part");
    let changes = [
        ("  button:  {name", "  ^button:  {name"),
        (small, "count: 2"),
    ];
    expect_in("design.yaml", &changes, &["small-part-size"]);
    let changes = [(small, "width: 32 mm, small part: no")];
    expect_in("design.yaml", &changes, &[]);
}

#[test]
fn kinds_of_trims_are_known_in_the_language_of_the_design() {
    let button = "  button:  {name: shank button, width: 14 L, count: 2, small part: yes}";
    let german = ("languages: en", "languages: de");
    let trim = |named: &'static str, codes: &[&str]| {
        expect_in("design.yaml", &[german, (button, named)], codes);
    };
    trim(
        "  ^schluss: {name: \"Knopf mit Öse, 12 mm\"}",
        &["small-part-size"],
    );
    trim(
        "  ^schluss: {name: \"Holzperle, 8 mm\"}",
        &["small-part-size"],
    );
    trim(
        "  schluss: {name: Holzperle, width: 8 mm, small part: ^no}",
        &["small-part"],
    );
    trim("  ^schluss: {name: Glöckchen}", &["small-part-unknown"]);
    trim("  schluss: {name: Glöckchen, small part: yes}", &[]);
    trim("  schluss: {name: Glöckchen, kind: other}", &[]);
    trim("  schluss: {name: Knopflochgarn}", &[]);
    expect(button, "  ^bell: {name: brass bell}", "small-part-unknown");
}

#[test]
fn words_are_no_longer_than_their_place() {
    let note = "note: not too thick";
    expect(
        note,
        &format!("note: ^{}", "n ".repeat(301)),
        "text-too-long",
    );
    let title = format!("title: ^{}", "tt ".repeat(41));
    expect("title: Harvest bar shoe", &title, "text-too-long");
    let changes = [(note, &*format!("note: {}nnnn", "nnn ".repeat(149)))];
    expect_in("design.yaml", &changes, &[]);
}

#[test]
fn trims_and_thread() {
    expect("kind: bias strip", "kind: ^bias", "unknown-word");
    expect("weight: 2 g each", "weight: ^2 g", "wrong-type");
    let changes = [
        ("  snap:   ", "  ^snap:   "),
        ("0.30 EUR each", "0.30 EUR per m"),
    ];
    expect_in("design.yaml", &changes, &["trim-unit"]);
    expect("weight: 1.5 g/m", "weight: ^1.5 kg", "wrong-type");
    expect("0.30 EUR each", "^0.30 each", "wrong-type");
    expect("width: 7 mm,", "width: 7 mm, join: ^5 mm,", "missing-key");
    expect("tolerance: 2 mm", "tolerance: ^0 mm", "out-of-range");
    expect("stitch: backstitch", "stitch: ^back", "unknown-word");
    expect("stitch: lockstitch", "stitch: ^lock", "unknown-word");
    expect(
        "stitch length: 1.5 mm",
        "stitch length: ^1.5 mm * 2 mm",
        "wrong-dimension",
    );
    expect("stitch width: 2 mm", "stitch width: ^0 mm", "out-of-range");
    expect("reserve: 10 %", "reserve: ^3", "out-of-range");
    expect("spool: 200 m", "spool: ^200", "wrong-type");
    expect("spool: 200 m", "spool: ^20 mm", "out-of-range");
    expect(
        "rim: 2 * toe.topline",
        "rim: 2 * ^toe.topeline",
        "unknown-edge",
    );
    expect(
        "through: [outer, lining]",
        "through: [outer, ^linen]",
        "unknown-cloth",
    );
    expect("{thread: 40 cm}", "^{count: 2}", "missing-key");
    let both = "^knots: {thread: 40 cm, line: 40 cm}";
    expect("knots: {thread: 40 cm}", both, "one-way");
}
