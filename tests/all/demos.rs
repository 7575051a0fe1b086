//! The demo designs, built by the program as a designer would.

use crate::support::{command, project, record};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The demo designs in the order of their names.
const DESIGNS: [&str; 5] = [
    "frost-slipper",
    "gleaners-apron",
    "harvest-bar-shoe",
    "lane-tie-shoe",
    "seed-pouch",
];

fn build(out: &Path, designs: &[&str], threads: &str) {
    let out = out.to_str().expect("a plain path");
    let arguments = [&["build", "--out", out], designs].concat();
    let mut command = command(&project(), &arguments);
    let output = command.env("RAYON_NUM_THREADS", threads).output();
    let output = output.expect("the program starts");
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("an entry"))
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).expect("below the folder");
            let bytes = fs::read(entry.path()).expect("the file");
            (path.to_string_lossy().replace('\\', "/"), bytes)
        })
        .collect()
}

fn json(path: &Path) -> Value {
    serde_json::from_slice(&fs::read(path).expect("the file")).expect("well-formed JSON")
}

fn number(value: &Value, pointer: &str) -> f64 {
    value
        .pointer(pointer)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("no {pointer}"))
}

/// The largest one is not made again here: it takes as long as all others together.
#[test]
fn demo_booklets_pass_their_proof_and_come_out_the_same_in_another_order_on_one_thread() {
    let (first, second) = (
        tempfile::tempdir().expect("dir"),
        tempfile::tempdir().expect("dir"),
    );
    build(first.path(), &DESIGNS, "2");
    let others = DESIGNS.into_iter().filter(|d| *d != "harvest-bar-shoe");
    let others: Vec<&str> = others.rev().collect();
    build(second.path(), &others, "1");
    for design in others {
        let [a, b] = [&first, &second].map(|made| files(&made.path().join(design)));
        assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>());
        for (name, bytes) in &a {
            assert!(b[name] == *bytes, "{name} differs between two builds");
        }
    }
    for design in DESIGNS {
        let folder = first.path().join(design);
        let proof = json(&folder.join("proof.json"));
        assert_eq!(proof["passed"], true, "{design}");
        for paper in ["a4", "letter"] {
            proofed(&proof, &format!("{design}-{paper}.pdf"));
            if design == "harvest-bar-shoe" {
                proofed(&proof, &format!("{design}-fitting-{paper}.pdf"));
            }
        }
    }
    harvest_bar_shoe(&json(&first.path().join("harvest-bar-shoe/numbers.json")));
}

/// On paper: outlines within 0.01 mm, squares exact to 0.01 mm (5 cm and 2 in).
fn proofed(proof: &Value, file: &str) {
    let measured = &proof["measured"][file];
    assert!(
        measured["worst_deviation_mm"]
            .as_f64()
            .is_some_and(|d| d <= 0.01),
        "{file}"
    );
    let squares = measured["test_squares"].as_array().expect("squares");
    assert!(squares.len() >= 2, "{file}");
    for square in squares {
        let (width, height) = (number(square, "/width_mm"), number(square, "/height_mm"));
        let exact = |side: f64| (width - side).abs() < 0.01 && (height - side).abs() < 0.01;
        assert!(exact(50.0) || exact(50.8), "{file}: {square}");
    }
}

/// A parallel curve of a convex outline is longer by 2π times the distance (Steiner; the sole is
/// not quite convex, so the turning adds up to 2π all the same as long as no hollow closes).
fn harvest_bar_shoe(numbers: &Value) {
    for size in ["small", "medium", "large"] {
        let sole = format!("/sizes/{size}/pieces/sole");
        let seam = number(numbers, &format!("{sole}/seam_line/perimeter_mm"));
        let cut = number(numbers, &format!("{sole}/cut_line/perimeter_mm"));
        let allowance = 4.7625;
        let expected = seam + std::f64::consts::TAU * allowance;
        assert!(
            (cut / expected - 1.0).abs() < 1e-4,
            "{size}: {cut} against {expected}"
        );
    }
}
