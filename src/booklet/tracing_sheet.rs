//! The page on which feet are traced, set for one paper and language. Its marks are one drawing, at true
//! size and in the same place on every paper.

use super::date::Moment;
use super::pdf::{self, Finish, Sides};
use super::template;
use super::world::BookletWorld;
use crate::design::Paper;
use crate::diagnostic::guard;
use crate::language::Words;
use serde_json::json;
use std::collections::BTreeMap;

/// The file that is compiled.
const MAIN: &str = "tracing_sheet.typ";

/// What stands on the page, in mm from the middle of the first target.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// The drawing, as SVG.
    pub drawing: String,
    /// How far it reaches beyond the targets' middles, mm.
    pub margin: f64,
    /// From target to target, across and down, mm.
    pub apart: [f64; 2],
    /// Where the lines along the left and the right foot lie, mm across.
    pub lines: [f64; 2],
    /// Where they end at the heel, mm down.
    pub heel: f64,
}

/// The page as PDF/UA-1.
///
/// # Errors
/// In words, what the typesetter says; a fault of pressfoot.
pub fn tracing_sheet(
    marks: &Marks,
    paper: &Paper,
    words: &Words,
    moment: Option<Moment>,
) -> Result<Vec<u8>, String> {
    let data = json!({
        "paper": {"width": paper.width, "height": paper.height},
        "language": words.tag(),
        "words": words.group("traced"),
        "apart": marks.apart,
        "margin": marks.margin,
        "lines": marks.lines,
        "heel": marks.heel,
    });
    let mut files: BTreeMap<String, Vec<u8>> = template::FILES
        .iter()
        .map(|(name, text)| ((*name).to_string(), text.as_bytes().to_vec()))
        .collect();
    files.insert("data.json".into(), data.to_string().into_bytes());
    files.insert("marks.svg".into(), marks.drawing.clone().into_bytes());
    let broken = || "the typesetter broke off".to_string();
    let world = BookletWorld::new(&files, MAIN, moment).ok_or_else(broken)?;
    let (document, said) = guard::guarded(|| world.compile()).map_err(|_| broken())?;
    let told = || said.first().map_or_else(broken, |d| d.message.to_string());
    let document = document.ok_or_else(told)?;
    let ident = format!("tracing sheet {} {}", paper.key, words.tag());
    let pdf = guard::guarded(|| world.export(&document, &ident)).map_err(|_| broken())?;
    let pdf = pdf.map_err(|said| said.first().map_or_else(broken, |d| d.message.to_string()))?;
    let finish = Finish {
        sides: Some(Sides::One),
        ..Finish::default()
    };
    pdf::finish(&pdf, &finish)
}
