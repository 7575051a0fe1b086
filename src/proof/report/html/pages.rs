//! All pages of all PDFs, small; plates with the outlines that were found over those that were meant.

use super::write::{counted, escaped, listed, push};
use super::{Report, distinct, head, language, picture};
use crate::proof::report::ProofedFile;
use crate::proof::sketch::PageSketch;

/// Pages of more than this, mm across or down, are shown larger.
const LARGE: f64 = 450.0;

/// What a page is shown as.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Text,
    Plate,
    Sheet,
}

impl Kind {
    fn of(page: &PageSketch) -> Self {
        match (
            page.outlines.is_empty(),
            page.width.max(page.height) > LARGE,
        ) {
            (true, _) => Self::Text,
            (false, false) => Self::Plate,
            (false, true) => Self::Sheet,
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Text => "pages",
            Self::Plate => "pages plates",
            Self::Sheet => "pages sheets",
        }
    }
}

/// The part with the pages.
pub fn files(page: &mut String, report: &Report) {
    if report.files.is_empty() {
        return;
    }
    head(page, "pages", "Pages");
    page.push_str(
        "<p>As they were read from the files: words as bars, drawings without their finest lines.</p>\n",
    );
    legend(page);
    for (index, file) in report.files.iter().enumerate() {
        file_part(page, index, file);
    }
}

/// What the lines over the pages are.
pub fn legend(page: &mut String) {
    page.push_str("<ul class=\"legend\">\n");
    for (class, words) in [
        ("in", "meant: a wide line"),
        ("fo", "found: a thin dashed line, drawn over it"),
    ] {
        push(
            page,
            format_args!(
                "<li><svg viewBox=\"0 0 48 12\" aria-hidden=\"true\"><path class=\"{class}\" \
                 d=\"M2 6H46\"/></svg>{words}</li>\n"
            ),
        );
    }
    page.push_str("</ul>\n");
}

fn file_part(page: &mut String, index: usize, file: &ProofedFile) {
    let open = if index == 0 { " open=\"open\"" } else { "" };
    let about = [&file.about.what, &file.about.paper];
    let mut about: Vec<String> = about
        .into_iter()
        .filter(|w| !w.is_empty())
        .cloned()
        .collect();
    if !file.about.language.is_empty() {
        about.push(language(&file.about.language));
    }
    about.push(counted(file.sketches.pages.len(), "page"));
    push(
        page,
        format_args!(
            "<details{open}><summary>{} <span>{}</span></summary>\n",
            escaped(&file.file),
            escaped(&about.join(", "))
        ),
    );
    let mut kind = None;
    for (number, sketch) in file.sketches.pages.iter().enumerate() {
        let own = Kind::of(sketch);
        if kind != Some(own) {
            if kind.is_some() {
                page.push_str("</div>\n");
            }
            push(page, format_args!("<div class=\"{}\">\n", own.class()));
            kind = Some(own);
        }
        thumbnail(page, sketch, &picture::id(index, number + 1), number + 1);
    }
    if kind.is_some() {
        page.push_str("</div>\n");
    }
    page.push_str("</details>\n");
}

fn thumbnail(page: &mut String, sketch: &PageSketch, id: &str, number: usize) {
    let label = match sketch.label == number.to_string() {
        true => String::new(),
        false => format!(", {}", sketch.label),
    };
    let pieces = distinct(sketch.outlines.iter().map(|o| &o.piece));
    let about = match (pieces.is_empty(), sketch.about.is_empty()) {
        (false, _) => format!(": {}", listed(&pieces)),
        (true, false) => format!(": {}", sketch.about),
        (true, true) => String::new(),
    };
    let found: Vec<String> = sketch.outlines.iter().map(|o| o.name.clone()).collect();
    let shown = match found.is_empty() {
        true => String::new(),
        false => format!(", with the {}", listed(&found)),
    };
    push(page, format_args!("<figure id=\"{id}-page\">"));
    picture::page(page, sketch, id, &format!("Page {number}{label}{shown}"));
    push(
        page,
        format_args!(
            "<figcaption>{number}{}</figcaption></figure>\n",
            escaped(&format!("{label}{about}"))
        ),
    );
}
