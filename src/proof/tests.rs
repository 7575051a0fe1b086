//! The proof against PDFs made for it: small Typst documents, compiled here, in which outlines
//! stand at known places. What is found is compared with what was put in.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod blind;
mod broken;
mod forms;
mod html;
mod layered;
mod legible;
mod outlines;
mod pages;
mod press;
mod reports;
mod rings;
mod speed;
mod stapled;
mod style;
mod tiled;
mod viewed;
mod worded;

use super::{Check, Proof};

/// Codes of the failed checks, in order, each once.
fn failed(proof: &Proof) -> Vec<&'static str> {
    let mut codes: Vec<&str> = failures(proof).map(|c| c.code).collect();
    codes.dedup();
    codes
}

fn failures(proof: &Proof) -> impl Iterator<Item = &Check> {
    proof.checks.iter().filter(|c| !c.passed)
}

/// The messages of the failed checks with `code`.
fn messages(proof: &Proof, code: &str) -> Vec<String> {
    let with_code = failures(proof).filter(|c| c.code == code);
    with_code.map(|c| c.message.clone()).collect()
}
