//! Thread, trims, needles and other cloth of small designs that can be reckoned by hand.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::needles::needles;
use super::substitutes::substitutes;
use super::thread::thread;
use super::tools::tools;
use super::trims::trims;
use crate::design::{self, Design};
use crate::diagnostic::{Diagnostics, human};
use crate::draft::{self, Draft};
use crate::folder::DesignFolder;
use crate::piece::{self, SizedPieces};

struct Made {
    design: Design,
    sizes: Vec<SizedPieces>,
    drafts: Vec<Draft>,
    diagnostics: Diagnostics,
}

/// Two squares of 100 mm sewn together at one side; `more` are further keys.
fn made(more: &str) -> Made {
    let text = format!(
        "title: Two squares\nedition: 1.0.0\nabout: Two squares.\npaper: [a4]\nsizes: {{one: {{}}}}\n\
         cloth: {{outer: {{name: wool felt, kind: wool felt, thickness: 1 mm}}, \
         lining: {{name: cotton lawn, kind: woven, thickness: 0.2 mm}}}}\n{more}"
    );
    let chapter = "---\ntitle: Making\n---\nSew.\n".to_string();
    let files = [("design.yaml", text), ("booklet/10-a.md", chapter)];
    let folder = DesignFolder::from_memory("squares", files);
    let mut diagnostics = Diagnostics::default();
    let design = design::read(&folder, &mut diagnostics);
    let said = human::list(&diagnostics, human::Style::default());
    let design = design.unwrap_or_else(|| panic!("{said}"));
    let (mut drafts, mut sizes) = (Vec::new(), Vec::new());
    for size in &design.sizes {
        let draft = draft::draft(&design, size, None, &mut diagnostics);
        sizes.push(piece::finish(&design, size, &draft, &mut diagnostics));
        drafts.push(draft);
    }
    Made {
        design,
        sizes,
        drafts,
        diagnostics,
    }
}

const SQUARES: &str = "pieces:\n  front: {rectangle: {width: 100 mm, height: 100 mm}, \
    allowance: 5 mm, cut: {outer: 2}}\n  back: {rectangle: {width: 100 mm, height: 100 mm}, \
    allowance: 5 mm, cut: {outer: 2, lining: 1}}\n";

/// Thread of the only size, mm.
fn needed(keys: &str) -> f64 {
    let mut made = made(keys);
    let row = thread(
        &made.design,
        &made.sizes,
        &made.drafts,
        &mut made.diagnostics,
    );
    row.unwrap().lines[0].needed_mm
}

#[test]
fn a_seam_takes_the_thread_of_the_handbooks_as_often_as_it_is_sewn() {
    let seam = "seams:\n  side: {join: front.left, to: back.right}\n";
    let plain = "thread: {stitch: lockstitch, stitch length: 2.5 mm, reserve: 0, ends: none}\n";
    // Both pieces are cut twice from felt: two seams of 100 mm through 2 · 1 mm; 2 + 2 · 2 / 2.5 = 3.6.
    let found = needed(&format!("{SQUARES}{plain}{seam}"));
    assert!((found - 2.0 * 360.0).abs() < 1e-9, "{found}");
    // with the reserve of 15 % and 15 cm lost at each seam
    let usual = "thread: {stitch: lockstitch, stitch length: 2.5 mm}\n";
    let found = needed(&format!("{SQUARES}{usual}{seam}"));
    assert!(
        (found - 1.15 * 2.0 * (360.0 + 150.0)).abs() < 1e-9,
        "{found}"
    );
    // backstitches of 2 mm by hand: 3 + 2 · 2 / 2 = 5
    let seam = "seams:\n  side: {join: front.left, to: back.right, stitch: backstitch}\n";
    let plain = "thread: {stitch: lockstitch, reserve: 0, ends: none}\n";
    let found = needed(&format!("{SQUARES}{plain}{seam}"));
    assert!((found - 2.0 * 500.0).abs() < 1e-9, "{found}");
}

#[test]
fn a_piece_on_the_fold_has_its_edge_twice() {
    let half = "pieces:\n  body: {rectangle: {width: 50 mm, height: 100 mm}, on fold: left, \
        allowance: 5 mm, cut: {outer: 2}}\nseams:\n  side: {join: body.right, to: body.right, direction: same}\n";
    let plain = "thread: {stitch: running stitch, stitch length: 2 mm, reserve: 0, ends: none}\n";
    // two bodies, opened out, are joined at both sides; running stitches through 2 mm: 1 + 2 / 2 = 2
    let found = needed(&format!("{half}{plain}"));
    assert!((found - 2.0 * 200.0).abs() < 1e-9, "{found}");
}

#[test]
fn lines_that_are_no_seams_and_thread_itself_are_added() {
    let also = "thread:\n  stitch: running stitch\n  stitch length: 1 mm\n  reserve: 0\n  ends: none\n  also:\n    \
        rim: front.perimeter\n    hem: {line: 10 mm, through: [outer, lining], count: 3}\n    \
        button: {thread: 40 cm, count: 2}\n";
    // rim 400 mm through 1 mm: 2 · 400; hem 3 · 10 mm through 1.2 mm: 2.2 · 30; 2 · 400 mm of thread
    let found = needed(&format!("{SQUARES}{also}"));
    assert!((found - (800.0 + 66.0 + 800.0)).abs() < 1e-9, "{found}");
}

#[test]
fn thread_is_bought_in_whole_metres_and_counted_in_spools() {
    let mut made = made(&format!(
        "{SQUARES}kits: [5, 6]\nthread: {{spool: 50 m, price: 2 EUR per spool, also: {{all: {{thread: 8.2 m}}}}, reserve: 10 %}}\n"
    ));
    let row = thread(
        &made.design,
        &made.sizes,
        &made.drafts,
        &mut made.diagnostics,
    );
    let row = row.unwrap();
    // 8.2 m · 1.1 = 9.02 m = 9.86 yd
    assert_eq!(row.lines[0].text, "10 m (10 yd)");
    assert_eq!((row.spools, row.per_spool), (1, 5));
    let kits: Vec<(u32, u32)> = row.kits.iter().map(|k| (k.times, k.spools)).collect();
    assert_eq!(kits, [(5, 1), (6, 2)]);
    let cost = row.lines[0].cost.clone().unwrap();
    assert!((cost.used - 2.0 * 9.02 / 50.0).abs() < 1e-12 && (cost.paid - 2.0).abs() < 1e-12);
}

#[test]
fn a_stitch_without_length_is_told_at_its_place() {
    let mut made = made(&format!(
        "measures: {{s: 1 mm}}\n{SQUARES}thread: {{stitch length: s - 2 mm}}\n\
         seams:\n  side: {{join: front.left, to: back.right}}\n"
    ));
    let row = thread(
        &made.design,
        &made.sizes,
        &made.drafts,
        &mut made.diagnostics,
    );
    assert_eq!(row, None);
    let said: Vec<&str> = made.diagnostics.iter().map(|d| d.code).collect();
    assert_eq!(said, ["thread-length"]);
}

#[test]
fn a_trim_is_cut_with_its_join_and_bought_for_all() {
    let keys = "trims:\n  elastic: {width: 4 mm, length: 60 mm, join: 6 mm, count: 2, weight: 3 g/m, \
        price: 2 EUR per m}\n  \
        button: {width: 14 L, count: 2, weight: 2 g each, price: 0.30 EUR each}\n  \
        edging: {name: bias strip, width: 20 mm, length: 100 mm, tolerance: 1 mm}\n";
    let mut made = made(&format!("{SQUARES}{keys}"));
    let rows = trims(&made.design, &made.drafts, &mut made.diagnostics);
    let elastic = &rows[0];
    assert_eq!(elastic.lines[0].text, "66 mm (2 5⁄8 in)");
    assert_eq!(elastic.tolerance.as_deref(), Some("± 0.8 mm (1⁄32 in)"));
    // 2 · 66 = 132 mm = 5.2 in; 0.132 m · 3 g
    assert_eq!(elastic.bought[0].text, "15 cm (6 in)");
    assert_eq!(elastic.bought[0].needed_mm, Some(132.0));
    assert!((elastic.bought[0].weight_g.unwrap() - 0.396).abs() < 1e-12);
    // 132 mm of 150 mm at 2 a metre
    let cost = elastic.bought[0].cost.clone().unwrap();
    assert!((cost.used - 0.264).abs() < 1e-12 && (cost.paid - 0.3).abs() < 1e-12);
    let button = &rows[1];
    let cost = button.bought[0].cost.clone().unwrap();
    assert!((cost.paid - 0.6).abs() < 1e-12);
    assert_eq!((button.kind, button.small_part), ("button", true));
    assert_eq!(
        (&*button.bought[0].text, button.bought[0].weight_g),
        ("2", Some(4.0))
    );
    let edging = &rows[2];
    assert_eq!(
        (edging.kind, edging.tolerance_mm),
        ("bias strip", Some(1.0))
    );
    assert!(edging.bought[0].text.contains("out of a square of 9 cm"));
}

#[test]
fn other_cloth_is_told_only_what_differs() {
    let made = made(SQUARES);
    let found = substitutes(&made.design, &made.sizes).unwrap();
    assert_eq!(found.instead_of, "wool felt");
    let of = |cloth: &str| {
        let other = found
            .others
            .iter()
            .find(|other| other.cloth.iter().any(|name| name == cloth));
        other.map(|other| other.changes.join(" "))
    };
    // craft felt of 1 mm is sewn as wool felt is, and nothing is eased
    assert_eq!(of("craft felt"), None);
    let woven = of("woven cloth").unwrap();
    assert!(
        woven.contains("frays") && woven.contains("80/12"),
        "{woven}"
    );
    assert!(!woven.contains("eased"), "{woven}");
    assert!(of("faux leather").unwrap().contains("leather needles"));
    // an apron of woven cloth tells the same of both felts
    let woven = SQUARES
        .replace("outer", "lining")
        .replace(", lining: 1", "");
    let made = self::made(&woven);
    let found = substitutes(&made.design, &made.sizes).unwrap();
    assert_eq!(found.others[0].cloth, ["wool felt", "craft felt"]);
}

#[test]
fn an_edge_that_is_eased_asks_what_the_other_cloth_takes_up() {
    let eased = "pieces:\n  front: {rectangle: {width: 108 mm, height: 100 mm}, allowance: \
        {all: 5 mm, left: none}, cut: {outer: 1}}\n  back: {rectangle: {width: 100 mm, height: 100 mm}, \
        allowance: 5 mm, cut: {outer: 1}}\nseams:\n  top: {join: front.top, to: back.bottom, easing: 8 %}\n";
    let made = made(eased);
    let found = substitutes(&made.design, &made.sizes).unwrap();
    let with = |words: &str| -> Vec<String> {
        let others = found.others.iter();
        let told = others.filter(|o| o.changes.iter().any(|c| c.contains(words)));
        told.flat_map(|other| other.cloth.clone()).collect()
    };
    // 8 %: craft felt takes 7 %, woven cloth 5 %, faux leather 3 %, knit 10 % (from memory)
    assert_eq!(with("8 %"), ["craft felt", "woven cloth", "faux leather"]);
    assert_eq!(with("bias"), ["woven cloth"]);
    // the left edge of the front stays as it is cut
    assert_eq!(with("Bind edges without allowance"), ["woven cloth"]);
}

#[test]
fn needles_are_named_by_cloth_and_added_to_tools_that_lack_them() {
    let thread = "thread: {stitch: lockstitch, stitch length: 2 mm}\nseams:\n  \
        side: {join: front.left, to: back.right}\n";
    let lining = SQUARES.replace("cut: {outer: 2}", "cut: {outer: 2, lining: 2}");
    let lawn = made(&format!("{lining}{thread}tools: [pins]\n"));
    let rows = needles(&lawn.design, &lawn.drafts);
    let machine: Vec<(&str, &str)> = rows
        .iter()
        .map(|row| (&*row.cloth[0], row.machine.as_deref().unwrap()))
        .collect();
    assert_eq!(machine, [("wool felt", "90/14"), ("cotton lawn", "70/10")]);
    // 25.4 / 2 = 12.7
    assert_eq!(rows[0].stitch, "2 mm, 13 to the inch");
    assert_eq!(tools(&lawn.design), ["pins", "machine needle, size 90/14"]);
    let by_hand = thread.replace("lockstitch", "backstitch");
    let named = made(&format!(
        "{lining}{by_hand}tools: [\"hand needle, size 8\"]\n"
    ));
    assert_eq!(tools(&named.design), ["hand needle, size 8"]);
    // what is sewn by hand alone wants no needle for a machine
    let rows = needles(&named.design, &named.drafts);
    assert_eq!(
        (rows[0].hand.as_deref(), rows[0].machine.as_deref()),
        (Some("7 to 9"), None)
    );
}
