//! The report as a page for people: the verdict first, then what is wrong, then what was measured.
//! Self-contained, readable in light and dark, and on paper.

use super::{Report, level_word, line_words};
use crate::diagnostic::Level;
use crate::proof::check::Check;
use crate::proof::measured::{Measured, MeasuredOutline, MeasuredSquare};
use std::fmt::Write;

const STYLE: &str = "
:root { color-scheme: light dark; --paper: #fff; --ink: #1b1a18; --quiet: #57534d;
  --rule: #cfc9bd; --good: #1f6b3a; --bad: #8e2a1e; }
@media (prefers-color-scheme: dark) { :root { --paper: #1b1a18; --ink: #f1eee8;
  --quiet: #b9b3a8; --rule: #4a463f; --good: #7fce9b; --bad: #f0978a; } }
body { background: var(--paper); color: var(--ink); font: 1rem/1.5 Georgia, serif;
  max-width: 50rem; margin: 2.5rem auto; padding: 0 1.25rem; }
h1 { font-weight: normal; font-size: 2rem; line-height: 1.2; margin: 0; }
h2 { font-weight: normal; font-style: italic; font-size: 1.25rem; margin: 2.5rem 0 .5rem; }
.verdict { font-size: 1.25rem; border-left: .3rem solid; padding-left: .8rem; }
.good { color: var(--good); } .bad { color: var(--bad); } .quiet { color: var(--quiet); }
ul { padding-left: 1.2rem; } li { margin: .6rem 0; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums;
  border-top: 2px solid var(--ink); border-bottom: 1px solid var(--ink); margin: .8rem 0; }
th { text-align: left; font-weight: normal; font-style: italic; color: var(--quiet);
  border-bottom: 1px dashed var(--rule); }
th, td { padding: .2rem .8rem .2rem 0; vertical-align: top; }
th.number, td.number { text-align: right; }
code { font-size: .9em; } .scroll { overflow-x: auto; }
";

/// The whole page.
pub fn page(report: &Report) -> String {
    let mut page = String::new();
    let title = escaped(&report.title);
    let edition = escaped(&report.edition);
    push(
        &mut page,
        format_args!(
            "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <title>Proof of {title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n\
             <h1>{title}</h1>\n<p class=\"quiet\">Edition {edition}</p>\n"
        ),
    );
    verdict(&mut page, report);
    failures(&mut page, report);
    accepted(&mut page, report);
    for (file, measured) in &report.measured {
        file_part(&mut page, file, measured);
    }
    passed(&mut page, report);
    page.push_str("</main>\n</body>\n</html>\n");
    page
}

fn push(page: &mut String, text: std::fmt::Arguments<'_>) {
    page.write_fmt(text)
        .expect("writing to a String never fails");
}

fn verdict(page: &mut String, report: &Report) {
    let made = report.checks.len();
    let forbid = report.checks.iter().filter(|c| c.forbids_sale()).count();
    let text = match (report.passed(), forbid) {
        (true, _) => {
            format!("<p class=\"verdict good\">Proofed: all is right ({made} checks).</p>")
        }
        (false, 1) => {
            format!("<p class=\"verdict bad\">Not to be sold: 1 of {made} checks failed.</p>")
        }
        (false, n) => {
            format!("<p class=\"verdict bad\">Not to be sold: {n} of {made} checks failed.</p>")
        }
    };
    push(page, format_args!("{text}\n"));
}

fn failures(page: &mut String, report: &Report) {
    let failed: Vec<&Check> = report.checks.iter().filter(|c| !c.passed).collect();
    if failed.is_empty() {
        return;
    }
    page.push_str("<h2>What is wrong</h2>\n<ul>\n");
    for check in failed {
        let class = if check.level == Level::Error {
            "bad"
        } else {
            "quiet"
        };
        push(
            page,
            format_args!(
                "<li><strong class=\"{class}\">{}</strong> {}.<br>\
                 <span class=\"quiet\">{} {} <code>{}</code></span></li>\n",
                level_word(check.level),
                escaped(check.message.trim_end_matches('.')),
                escaped(&place(check)),
                escaped(&check.remedy),
                check.code,
            ),
        );
    }
    page.push_str("</ul>\n");
}

/// What the designer lets stand, with her reasons.
fn accepted(page: &mut String, report: &Report) {
    if report.accepted.is_empty() {
        return;
    }
    page.push_str("<h2>What was accepted</h2>\n<ul>\n");
    for accepted in &report.accepted {
        push(
            page,
            format_args!(
                "<li>{} <span class=\"quiet\"><code>{}</code></span><br>Accepted: {}.</li>\n",
                escaped(&accepted.message),
                accepted.code,
                escaped(accepted.reason.trim_end_matches('.')),
            ),
        );
    }
    page.push_str("</ul>\n");
}

fn place(check: &Check) -> String {
    let mut place = check.file.clone();
    for (name, number) in [
        ("line", check.line),
        ("column", check.column),
        ("page", check.page),
    ] {
        if let Some(number) = number {
            if !place.is_empty() {
                place.push_str(", ");
            }
            place.push_str(&format!("{name} {number}"));
        }
    }
    if !place.is_empty() {
        place.push('.');
    }
    place
}

fn file_part(page: &mut String, file: &str, measured: &Measured) {
    let worst = match measured.worst_deviation {
        Some(worst) => format!("worst deviation of an outline {} mm", figure(worst)),
        None => "no outline was found".to_string(),
    };
    push(
        page,
        format_args!(
            "<h2>{}</h2>\n<p>Pages: {}, of which plates: {}; {worst}.</p>\n",
            escaped(file),
            measured.pages,
            measured.plates.len()
        ),
    );
    if !measured.squares.is_empty() {
        squares(page, &measured.squares);
    }
    if !measured.outlines.is_empty() {
        outlines(page, &measured.outlines);
    }
}

fn squares(page: &mut String, squares: &[MeasuredSquare]) {
    page.push_str(
        "<div class=\"scroll\"><table>\n<tr><th>Test square</th><th class=\"number\">Page</th>\
         <th class=\"number\">Width, mm</th><th class=\"number\">Height, mm</th></tr>\n",
    );
    for square in squares {
        push(
            page,
            format_args!(
                "<tr><td>{} mm</td><td class=\"number\">{}</td><td class=\"number\">{:.4}</td>\
                 <td class=\"number\">{:.4}</td></tr>\n",
                square.side, square.page, square.width, square.height
            ),
        );
    }
    page.push_str("</table></div>\n");
}

fn outlines(page: &mut String, outlines: &[MeasuredOutline]) {
    page.push_str(
        "<div class=\"scroll\"><table>\n<tr><th>Piece</th><th>Size</th><th>Line</th>\
         <th class=\"number\">Pages</th><th class=\"number\">Deviation, mm</th></tr>\n",
    );
    for outline in outlines {
        let pages: Vec<String> = outline.pages.iter().map(usize::to_string).collect();
        let deviation = match outline.deviation {
            Some(deviation) => figure(deviation),
            None => "<span class=\"bad\">missing</span>".to_string(),
        };
        push(
            page,
            format_args!(
                "<tr><td>{}</td><td>{}</td><td>{}</td><td class=\"number\">{}</td>\
                 <td class=\"number\">{deviation}</td></tr>\n",
                escaped(&outline.piece),
                escaped(&outline.size),
                line_words(outline),
                pages.join(", ")
            ),
        );
    }
    page.push_str("</table></div>\n");
}

fn passed(page: &mut String, report: &Report) {
    let passed: Vec<&Check> = report.checks.iter().filter(|c| c.passed).collect();
    if passed.is_empty() {
        return;
    }
    push(
        page,
        format_args!(
            "<h2>What is right</h2>\n<details><summary>{} checks passed</summary>\n<ul>\n",
            passed.len()
        ),
    );
    for check in passed {
        push(
            page,
            format_args!(
                "<li>{} <span class=\"quiet\">{} <code>{}</code></span></li>\n",
                escaped(&check.message),
                escaped(&place(check)),
                check.code
            ),
        );
    }
    page.push_str("</ul>\n</details>\n");
}

/// A deviation to four decimals.
fn figure(deviation: f64) -> String {
    if deviation < 0.5e-4 {
        return "under 0.0001".to_string();
    }
    format!("{deviation:.4}")
}

/// `text` with the characters that HTML would take for its own replaced.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}
