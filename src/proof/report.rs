//! The report of a build: every check made on every PDF, and what was measured, as `proof.json`
//! (schema 1) for programs and `proof.html` for people. Lengths in mm, rounded to 1e-6.

mod html;

use super::Proof;
use super::check::{Check, Shown};
use super::intended::IntendedLine;
use super::measured::{Measured, MeasuredOutline, MeasuredSquare};
use super::sketch::Sketches;
use crate::diagnostic::{Diagnostics, Level};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Version of the form of `proof.json`; raised when the meaning of a key changes.
pub const SCHEMA: u32 = 1;

/// The report of one design.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Report {
    /// Key of the design.
    pub design: String,
    /// The design as printed.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// All checks, in the order in which they were made.
    pub checks: Vec<Check>,
    /// What was measured, by name of the PDF.
    pub measured: BTreeMap<String, Measured>,
    /// The PDFs in the order in which they were proofed.
    pub files: Vec<ProofedFile>,
    /// All seams of all sizes.
    pub seams: Vec<SeamFact>,
    /// The day of the build, if it has one.
    pub date: Option<String>,
    /// Warnings that the designer lets stand.
    pub accepted: Vec<Acceptance>,
}

/// What a PDF is for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct About {
    /// What it holds, e.g. `booklet`.
    pub what: String,
    /// Its paper as printed.
    pub paper: String,
    /// Language of its words, a BCP 47 tag.
    pub language: String,
}

/// A PDF that was proofed.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofedFile {
    /// Its name.
    pub file: String,
    /// What it is for.
    pub about: About,
    /// Its pages, drawn small.
    pub sketches: Sketches,
}

/// A seam as it was walked, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamFact {
    /// The size as printed.
    pub size: String,
    /// Its name.
    pub name: String,
    /// Piece and edge that is joined, and piece and edge it is joined to.
    pub edges: [String; 2],
    /// Lengths of both edges.
    pub lengths: [f64; 2],
    /// The first may be longer than the second by this, least and most.
    pub allowed: [f64; 2],
}

/// A warning that the designer lets stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Acceptance {
    /// Its code.
    pub code: &'static str,
    /// What was found.
    pub message: String,
    /// Why it may stand, in her words.
    pub reason: String,
}

impl Report {
    /// A report without a check.
    pub fn new(design: &str, title: &str, edition: &str) -> Self {
        Self {
            design: design.to_string(),
            title: title.to_string(),
            edition: edition.to_string(),
            ..Self::default()
        }
    }

    /// Adds what the earlier stages had to say.
    pub fn add_diagnostics(&mut self, diagnostics: &Diagnostics) {
        let sorted = diagnostics.sorted();
        self.checks
            .extend(sorted.into_iter().map(Check::from_diagnostic));
    }

    /// Adds the proof of one PDF.
    pub fn add_proof(&mut self, proof: Proof, about: About) {
        self.checks.extend(proof.checks);
        self.files.push(ProofedFile {
            file: proof.file.clone(),
            about,
            sketches: proof.sketches,
        });
        self.measured.insert(proof.file, proof.measured);
    }

    /// Gives each check that failed, or is a note, the picture that `shown` has for it.
    pub fn picture(&mut self, shown: &mut dyn FnMut(&Check) -> Option<Shown>) {
        let told = |check: &&mut Check| !check.passed || check.level == Level::Note;
        for check in self.checks.iter_mut().filter(told) {
            if check.shown.is_none() {
                check.shown = shown(check);
            }
        }
    }

    /// Lets the warnings stand for which `reason` has one.
    pub fn accept(&mut self, reason: &mut dyn FnMut(&Check) -> Option<String>) {
        let warnings = self.checks.iter_mut();
        for check in warnings.filter(|c| c.level == Level::Warning && !c.passed) {
            if let Some(reason) = reason(check) {
                (check.level, check.passed) = (Level::Note, true);
                self.accepted.push(Acceptance {
                    code: check.code,
                    message: check.message.clone(),
                    reason,
                });
            }
        }
    }

    /// Whether nothing forbids the sale.
    pub fn passed(&self) -> bool {
        !self.checks.iter().any(Check::forbids_sale)
    }

    /// The content of `proof.json`.
    pub fn to_value(&self) -> Value {
        let checks: Vec<Value> = self.checks.iter().map(check_value).collect();
        let measured: serde_json::Map<String, Value> = self
            .measured
            .iter()
            .map(|(file, measured)| (file.clone(), measured_value(measured)))
            .collect();
        json!({
            "schema": SCHEMA,
            "design": self.design,
            "edition": self.edition,
            "passed": self.passed(),
            "checks": checks,
            "accepted": self.accepted.iter().map(accepted_value).collect::<Vec<_>>(),
            "measured": measured,
        })
    }

    /// The text of `proof.json`, indented, with a line feed at its end.
    pub fn to_json(&self) -> String {
        format!("{:#}\n", self.to_value())
    }

    /// The text of `proof.html`: one page that needs no other file.
    pub fn to_html(&self) -> String {
        html::page(self)
    }
}

/// `value` rounded to 1e-6; never minus zero. Serde writes what is not finite as `null`.
pub fn rounded(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}

fn level_word(level: Level) -> &'static str {
    match level {
        Level::Error => "error",
        Level::Warning => "warning",
        Level::Note => "note",
    }
}

fn check_value(check: &Check) -> Value {
    let file = (!check.file.is_empty()).then_some(&check.file);
    json!({
        "code": check.code,
        "level": level_word(check.level),
        "passed": check.passed,
        "message": check.message,
        "remedy": check.remedy,
        "file": file,
        "line": check.line,
        "column": check.column,
        "page": check.page,
    })
}

fn accepted_value(accepted: &Acceptance) -> Value {
    json!({
        "code": accepted.code,
        "message": accepted.message,
        "reason": accepted.reason,
    })
}

fn measured_value(measured: &Measured) -> Value {
    let squares: Vec<Value> = measured.squares.iter().map(square_value).collect();
    let outlines: Vec<Value> = measured.outlines.iter().map(outline_value).collect();
    json!({
        "pages": measured.pages,
        "plates": measured.plates,
        "worst_deviation_mm": measured.worst_deviation.map(rounded),
        "test_squares": squares,
        "outlines": outlines,
    })
}

fn square_value(square: &MeasuredSquare) -> Value {
    json!({
        "page": square.page,
        "side_mm": rounded(square.side),
        "x_mm": rounded(square.at.x),
        "y_mm": rounded(square.at.y),
        "width_mm": rounded(square.width),
        "height_mm": rounded(square.height),
    })
}

fn outline_value(outline: &MeasuredOutline) -> Value {
    let line = match outline.line {
        IntendedLine::Cut => "cut",
        IntendedLine::Seam => "seam",
    };
    json!({
        "piece": outline.piece,
        "size": outline.size,
        "line": line,
        "deviation_mm": outline.deviation.map(rounded),
        "pages": outline.pages,
        "overlap_mm": outline.overlap.map(rounded),
        "joined_deviation_mm": outline.joined.map(rounded),
    })
}
