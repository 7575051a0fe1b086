//! `sheet`: pages to print that belong to no design.

use super::screen::Screen;
use super::trace_args::{Sheet, SheetPaper, TracingSheet};
use super::{Fault, moment};
use crate::booklet::tracing_sheet::{Marks, tracing_sheet};
use crate::design::Paper;
use crate::folder::write;
use crate::language::{COMPLETE, Words};
use crate::trace::sheet;

/// Makes the page.
pub(super) fn sheet(sheet: &Sheet, screen: &Screen) -> Result<bool, Fault> {
    match sheet {
        Sheet::Tracing(wanted) => tracing(wanted, screen),
    }
}

fn tracing(wanted: &TracingSheet, screen: &Screen) -> Result<bool, Fault> {
    let key = match wanted.paper {
        SheetPaper::A4 => "a4",
        SheetPaper::Letter => "letter",
    };
    let paper = Paper::said(key).ok().flatten();
    let paper = paper.ok_or_else(|| Fault(format!("there is no paper called {key}")))?;
    let language = wanted.language.as_str();
    if !COMPLETE.contains(&language) {
        return Err(Fault(format!(
            "there are no words in the language {language}; known are {}",
            COMPLETE.join(", ")
        )));
    }
    let marks = Marks {
        drawing: sheet::drawing(),
        margin: sheet::MARGIN_OF_DRAWING,
        apart: sheet::APART,
        lines: sheet::LINES,
        heel: sheet::LINE_ENDS[1],
    };
    let words = Words::of(language);
    let pdf = tracing_sheet(&marks, &paper, &words, moment()?);
    let pdf = pdf.map_err(|why| Fault(format!("the tracing sheet cannot be set ({why})")))?;
    let suffix = if language == "en" {
        String::new()
    } else {
        format!("-{language}")
    };
    let path = wanted.out.join(format!("tracing-sheet{suffix}-{key}.pdf"));
    write::write(&path, &pdf).map_err(|e| Fault(e.to_string()))?;
    screen.file(&path);
    Ok(true)
}
