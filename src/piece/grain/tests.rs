//! The grain line beside marks. What lies how far from what is known from the figures of each design.

use super::CLEAR;
use crate::design::read;
use crate::diagnostic::Diagnostics;
use crate::draft::draft;
use crate::folder::DesignFolder;
use crate::piece::finish;
use kurbo::{Line, ParamCurve, ParamCurveNearest, Point};

/// The grain line of a panel so wide and 80 mm high, with these marks.
fn grain(width: f64, grain: &str, marks: &str) -> Line {
    let text = format!(
        "title: Case\nedition: 1.0.0\nabout: A case.\npaper: [a4]\nsizes: {{one: {{}}}}\n\
         cloth: {{linen: {{name: linen}}}}\npieces:\n  lid:\n    rectangle: {{width: {width} mm, height: 80 \
         mm}}\n    grain: {grain}\n    allowance: none\n    {marks}\n    cut: {{linen: 1}}\n"
    );
    let folder = DesignFolder::from_memory("case", [("design.yaml", text.as_str())]);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics);
    assert!(!diagnostics.has_errors(), "{diagnostics:?}");
    let design = design.expect("a sound design");
    let size = &design.sizes[0];
    let draft = draft(&design, size, None, &mut diagnostics);
    let mut sized = finish(&design, size, &draft, &mut diagnostics);
    let [from, to] = sized.pieces.remove(0).grain.expect("a grain line");
    Line::new(from, to)
}

fn far(line: Line, x: f64, y: f64) -> f64 {
    line.nearest(Point::new(x, y), 1e-6).distance_sq.sqrt()
}

fn is_close(found: Line, from: [f64; 2], to: [f64; 2]) -> bool {
    let ends = [(found.p0, from), (found.p1, to)];
    ends.iter()
        .all(|(point, [x, y])| point.distance(Point::new(*x, *y)) < 1e-6)
}

#[test]
fn without_a_mark_in_its_way_it_stands_in_the_middle() {
    let usual = ([30.0, 16.0], [30.0, 64.0]);
    for marks in [
        "note: plain",
        "buttons: [{at: [12 mm, 40 mm], diameter: 10 mm}]",
        // a line across is crossed, and stays a line across
        "lines: [{kind: placement, through: [[0 mm, 40 mm], [60 mm, 40 mm]]}]",
        "lines: [{kind: fold, through: [[0 mm, 10 mm], [60 mm, 70 mm]]}]",
    ] {
        let found = grain(60.0, "lengthwise", marks);
        assert!(
            is_close(found, usual.0, usual.1) || is_close(found, usual.1, usual.0),
            "{marks}"
        );
    }
}

#[test]
fn it_stands_aside_of_what_lies_in_the_middle() {
    let slit = |line: Line| (0..=16).map(move |y| far(line, 30.0, 32.0 + f64::from(y)));
    let found = grain(
        60.0,
        "lengthwise",
        "buttonholes: [{at: [30 mm, 40 mm], length: 16 mm}]",
    );
    assert!(slit(found).all(|off| off >= CLEAR - 1e-6), "{found:?}");
    let found = grain(
        60.0,
        "lengthwise",
        "buttons: [{at: [30 mm, 60 mm], diameter: 12 mm}]",
    );
    assert!(far(found, 30.0, 60.0) >= 6.0 + CLEAR - 1e-6, "{found:?}");
    let fold = "lines: [{kind: fold, through: [[30 mm, 0 mm], [30 mm, 80 mm]]}]";
    let found = grain(60.0, "lengthwise", fold);
    assert!(far(found, 30.0, 40.0) >= CLEAR - 1e-6, "{found:?}");
    for found in [
        found,
        grain(
            60.0,
            "30 deg",
            "holes: [{at: [30 mm, 40 mm], diameter: 4 mm}]",
        ),
    ] {
        // inside the panel, clear of its seam line, and where there is room no shorter than usual
        for share in [0.0, 0.5, 1.0] {
            let Point { x, y } = found.eval(share);
            assert!((CLEAR..=60.0 - CLEAR).contains(&x) && (CLEAR..=80.0 - CLEAR).contains(&y));
        }
        assert!(found.p0.distance(found.p1) > 30.0, "{found:?}");
    }
    let slanting = grain(
        60.0,
        "30 deg",
        "holes: [{at: [30 mm, 40 mm], diameter: 4 mm}]",
    );
    let way = (slanting.p1 - slanting.p0).normalize();
    assert!((way.x.abs() - 0.5).abs() < 1e-9, "sin 30° = 1/2");
}

#[test]
fn where_there_is_no_room_beside_it_is_shorter_and_where_there_is_none_at_all_it_stays() {
    // 9 mm wide: beside a hole of 6 mm nothing is left, above and below there is
    let found = grain(
        9.0,
        "lengthwise",
        "holes: [{at: [4.5 mm, 40 mm], diameter: 6 mm}]",
    );
    assert!(far(found, 4.5, 40.0) >= 3.0 + CLEAR - 1e-6, "{found:?}");
    let rows: Vec<String> = (1..10)
        .map(|row| format!("{{at: [4.5 mm, {} mm], diameter: 6 mm}}", 8 * row))
        .collect();
    let found = grain(9.0, "lengthwise", &format!("holes: [{}]", rows.join(", ")));
    assert!((found.p0.x - 4.5).abs() < 1e-9 && (found.p0.distance(found.p1) - 48.0).abs() < 1e-6);
}
