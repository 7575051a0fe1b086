//! `proof.json` and `proof.html`.

use super::press::{A4, Book, Style, cut, intended, toe};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::proof::{About, Report, prove};
use std::sync::Arc;

fn report(book: Book) -> Report {
    let mut report = Report::new("test-shoe", "Test <shoe>", "1.0.0");
    let proof = prove(
        &book.pdf(),
        "test-shoe-a4.pdf",
        &intended(vec![cut("toe", &toe())]),
    );
    report.add_proof(proof, About::default());
    report
}

fn good() -> Book {
    Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 40.0, 40.0)
}

#[test]
fn the_keys_of_proof_json_are_those_of_schema_1() {
    let value = report(good()).to_value();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["design"], "test-shoe");
    assert_eq!(value["edition"], "1.0.0");
    assert_eq!(value["passed"], true);
    for key in [
        "code", "level", "passed", "message", "file", "line", "column", "page",
    ] {
        let all = value["checks"].as_array().unwrap();
        assert!(all.iter().all(|c| c.get(key).is_some()), "{key}");
    }
    let measured = &value["measured"]["test-shoe-a4.pdf"];
    assert_eq!(measured["pages"], 1);
    assert!(measured["worst_deviation_mm"].as_f64().unwrap() < 0.001);
    assert!((measured["test_squares"][1]["width_mm"].as_f64().unwrap() - 50.8).abs() < 1e-4);
    assert_eq!(measured["test_squares"][0]["page"], 1);
    assert_eq!(measured["outlines"][0]["piece"], "toe");
    assert_eq!(measured["outlines"][0]["size"], "small");
    assert!(measured["outlines"][0]["deviation_mm"].is_number());
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let (first, second) = (report(good()), report(good()));
    assert_eq!(first.to_json(), second.to_json());
    assert_eq!(first.to_html(), second.to_html());
}

#[test]
fn numbers_have_at_most_six_decimals() {
    let text = report(good()).to_json();
    for line in text.lines().filter(|l| l.contains("_mm\":")) {
        let decimals = line
            .trim_end_matches(',')
            .split_once('.')
            .map_or("", |p| p.1);
        assert!(decimals.len() <= 6, "{line}");
    }
}

#[test]
fn a_failed_check_comes_before_the_tables_and_forbids_the_sale() {
    let report = report(Book::new(A4).furniture());
    assert!(!report.passed());
    assert_eq!(report.to_value()["passed"], false);
    let html = report.to_html();
    let place = |words: &str| html.find(words).unwrap();
    assert!(place("Refused") < place("is missing"));
    assert!(place("is missing") < place("<table>"));
    assert!(html.contains("Test &lt;shoe&gt;"));
}

#[test]
fn what_earlier_stages_said_keeps_its_place() {
    let source = Arc::new(SourceText {
        path: "design.yaml".to_string(),
        text: String::new(),
    });
    let place = Place {
        source,
        line: 12,
        column: 3,
    };
    let mut said = Diagnostics::default();
    said.push(Diagnostic::error(
        "seam-length",
        Some(&place),
        "0.4 mm too long",
    ));
    let mut report = report(good());
    report.add_diagnostics(&said);
    let value = report.to_value();
    let last = value["checks"].as_array().unwrap().last().unwrap().clone();
    assert_eq!(last["file"], "design.yaml");
    assert_eq!(last["line"], 12);
    assert_eq!(last["column"], 3);
    assert_eq!(last["passed"], false);
    assert!(!report.passed());
}
