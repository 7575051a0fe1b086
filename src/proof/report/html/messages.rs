//! What was found wrong, what was let stand, and what is worth knowing: by code, each with its places.

use super::write::{counted, escaped, push};
use super::{Report, head, joined, picture};
use crate::diagnostic::{Level, entry};
use crate::language::phrase;
use crate::proof::check::Check;
use crate::proof::report::level_word;

/// So many messages of one code stand open; the others under a line that opens them.
const OPEN: usize = 8;

/// So many messages of one code have a picture: the further ones repeat the same fault elsewhere.
const PICTURES: usize = 24;

/// Whether there is anything wrong.
pub fn any_failed(report: &Report) -> bool {
    report.checks.iter().any(|check| !check.passed)
}

/// Notes that were said; lowered warnings are told by themselves.
pub fn told_notes(report: &Report) -> impl Iterator<Item = &Check> {
    report.checks.iter().filter(|check| {
        let lowered =
            |a: &super::super::Acceptance| a.code == check.code && a.message == check.message;
        check.level == Level::Note && !report.accepted.iter().any(lowered)
    })
}

/// What is wrong, errors first.
pub fn failures(page: &mut String, report: &Report) {
    if !any_failed(report) {
        return;
    }
    head(page, "wrong", "What is wrong");
    for level in [Level::Error, Level::Warning, Level::Note] {
        let failed = report.checks.iter();
        let failed = failed.filter(|check| !check.passed && check.level == level);
        by_code(page, report, failed.collect());
    }
}

/// Notes: nothing is wrong.
pub fn notes(page: &mut String, report: &Report) {
    let notes: Vec<&Check> = told_notes(report).collect();
    if !notes.is_empty() {
        head(page, "notes", "Worth knowing");
        by_code(page, report, notes);
    }
}

/// Checks by their code, in the order in which the codes come first.
fn by_code(page: &mut String, report: &Report, checks: Vec<&Check>) {
    let mut codes: Vec<&str> = Vec::new();
    for check in &checks {
        if !codes.contains(&check.code) {
            codes.push(check.code);
        }
    }
    for code in codes {
        let of_code: Vec<&Check> = checks.iter().copied().filter(|c| c.code == code).collect();
        of_one_code(page, report, code, &of_code);
    }
}

fn of_one_code(page: &mut String, report: &Report, code: &str, checks: &[&Check]) {
    let Some(first) = checks.first() else {
        return;
    };
    let class = match first.level {
        Level::Error => "bad",
        Level::Warning => "warn",
        Level::Note => "quiet",
    };
    let level = level_word(first.level);
    let count = match checks.len() {
        1 => String::new(),
        many => format!(" <span class=\"quiet\">{many} times</span>"),
    };
    push(
        page,
        format_args!(
            "<h3><span class=\"level {class}\">{}</span> <code>{code}</code>{count}</h3>\n\
             <p class=\"why quiet\">{}</p>\n<ul class=\"told\">\n",
            phrase::capital(level),
            escaped(entry(code).map_or("", |entry| entry.why))
        ),
    );
    for (index, check) in checks.iter().enumerate() {
        if index == OPEN && checks.len() > OPEN + 1 {
            push(
                page,
                format_args!(
                    "</ul>\n<details><summary>{} more</summary>\n<ul class=\"told\">\n",
                    checks.len() - OPEN
                ),
            );
        }
        message(page, report, check, index < PICTURES);
    }
    page.push_str("</ul>\n");
    if checks.len() > OPEN + 1 {
        page.push_str("</details>\n");
    }
}

fn message(page: &mut String, report: &Report, check: &Check, pictured: bool) {
    let said = sentence(&check.message);
    push(page, format_args!("<li><div><p>{}</p>\n", escaped(&said)));
    let place = place(check);
    if !place.is_empty() {
        push(
            page,
            format_args!("<p class=\"place\">{}</p>\n", escaped(&place)),
        );
    }
    if !check.excerpt.is_empty() {
        push(
            page,
            format_args!("<pre><code>{}</code></pre>\n", escaped(&check.excerpt)),
        );
    }
    if !check.remedy.is_empty() {
        push(
            page,
            format_args!(
                "<p><strong>What to do:</strong> {}</p>\n",
                escaped(&sentence(&check.remedy))
            ),
        );
    }
    if check.code.starts_with("tile-") && joined::any(report) {
        page.push_str("<p><a href=\"#joined\">See the sheets rejoined</a></p>\n");
    }
    page.push_str("</div>");
    if pictured {
        page.push_str("<div class=\"shown\">");
        picture::of_check(page, report, check);
        page.push_str("</div>");
    }
    page.push_str("</li>\n");
}

/// What the designer lets stand, with her reasons.
pub fn accepted(page: &mut String, report: &Report) {
    if report.accepted.is_empty() {
        return;
    }
    head(page, "accepted", "What was let stand");
    push(
        page,
        format_args!(
            "<p class=\"quiet\">{} that the design accepts, each with its reason.</p>\n<ul class=\"told\">\n",
            counted(report.accepted.len(), "warning")
        ),
    );
    for accepted in &report.accepted {
        let check = report.checks.iter();
        let check = check
            .filter(|c| c.code == accepted.code)
            .find(|c| c.message == accepted.message);
        push(
            page,
            format_args!(
                "<li><div><p>{} <code>{}</code></p>\n<p class=\"place\">{}</p>\n\
                 <p><strong>Accepted because:</strong> {}</p>\n<p class=\"quiet\">{}</p></div></li>\n",
                escaped(&sentence(&accepted.message)),
                accepted.code,
                escaped(&check.map_or_else(String::new, place)),
                escaped(&sentence(&accepted.reason)),
                escaped(entry(accepted.code).map_or("", |entry| entry.why)),
            ),
        );
    }
    page.push_str("</ul>\n");
}

/// `design.yaml:12:3`, `harvest-a4.pdf, page 7`.
fn place(check: &Check) -> String {
    let mut place = check.file.clone();
    for number in [check.line, check.column].into_iter().flatten() {
        place.push_str(&format!(":{number}"));
    }
    if let Some(number) = check.page {
        let comma = if place.is_empty() { "" } else { ", " };
        place.push_str(&format!("{comma}page {number}"));
    }
    place
}

/// With a capital and a stop.
fn sentence(text: &str) -> String {
    let said = phrase::capital(text.trim());
    match said.ends_with(['.', '?', '!', '…']) || said.is_empty() {
        true => said,
        false => format!("{said}."),
    }
}
