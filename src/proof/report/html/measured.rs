//! What was measured, and how nearly.

use super::{Report, head, tables};

/// What each figure of the report is held against.
const LIMITS: [&str; 8] = [
    "Outlines of pieces and sides of test squares: to 0.01 mm of what was computed.",
    "Sheets rejoined by their marks: to 0.01 mm; they overlap by 5 mm or more.",
    "Seams: both edges to 0.1 mm, beyond what the design lets be eased.",
    "Pages: to 0.05 mm of the paper’s size.",
    "Ink: 10 mm clear of the edge on plates, 7 mm on other pages.",
    "Contrast: letters 4.5:1, lines 3:1, by the formula of WCAG 2.",
    "Fonts embedded, tags, language and title as PDF/UA-1 asks.",
    "Layers switched off one by one, stapled sheets folded, bookmarks followed.",
];

/// The last part of the report.
pub fn all(page: &mut String, report: &Report) {
    head(page, "measured", "What was measured");
    if report.files.is_empty() {
        page.push_str("<p>Nothing yet: there is no finished file.</p>\n");
        return;
    }
    page.push_str(
        "<p>The finished files were read as a stranger would read them, and held against what was computed. \
         How paper and printer behave no program can tell: print the proof sheet and measure.</p>\n<ul>\n",
    );
    for limit in LIMITS {
        page.push_str(&format!("<li>{limit}</li>\n"));
    }
    page.push_str("</ul>\n");
    tables::checks(page, report);
}
