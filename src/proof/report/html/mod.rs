//! The report as a page for people: the verdict first, then what is wrong with pictures of the places,
//! the pages, the joined sheets, the tables, and what was measured. One file without a script that needs
//! no other; well-formed as XML too. In light, dark and on paper.

mod joined;
mod measured;
mod messages;
mod pages;
mod picture;
mod tables;
mod write;

use super::Report;
use crate::diagnostic::Level;
use crate::language::{Words, primary};
use std::collections::BTreeSet;
use write::{counted, escaped, listed, push};

/// How it looks.
const STYLE: &str = include_str!("proof.css");

/// The whole page.
pub fn page(report: &Report) -> String {
    let mut page = String::new();
    let title = escaped(&report.title);
    push(
        &mut page,
        format_args!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\" />\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\" />\n\
             <title>Proof of {title}: {}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n\
             <a class=\"skip\" href=\"#report\">To the report</a>\n",
            verdict_word(report)
        ),
    );
    header(&mut page, report);
    page.push_str("<main id=\"report\" tabindex=\"-1\">\n");
    messages::failures(&mut page, report);
    messages::accepted(&mut page, report);
    messages::notes(&mut page, report);
    pages::files(&mut page, report);
    joined::sheets(&mut page, report);
    tables::all(&mut page, report);
    page.push_str("</main>\n<footer>\n");
    measured::all(&mut page, report);
    page.push_str("</footer>\n</body>\n</html>\n");
    page
}

fn verdict_word(report: &Report) -> &'static str {
    match report.passed() {
        true => "passed",
        false => "refused",
    }
}

fn header(page: &mut String, report: &Report) {
    let title = escaped(&report.title);
    push(page, format_args!("<header>\n<h1>Proof of {title}</h1>\n"));
    verdict(page, report);
    page.push_str("<dl class=\"facts\">\n");
    let mut fact = |name: &str, value: String| {
        if !value.is_empty() {
            let value = escaped(&value);
            push(page, format_args!("<dt>{name}</dt><dd>{value}</dd>\n"));
        }
    };
    fact("Design", report.design.clone());
    fact("Edition", report.edition.clone());
    fact("Built on", report.date.clone().unwrap_or_default());
    fact(
        "Papers",
        listed(&distinct(report.files.iter().map(|f| &f.about.paper))),
    );
    let languages = distinct(report.files.iter().map(|f| &f.about.language));
    fact(
        "Languages",
        listed(
            &languages
                .iter()
                .map(|tag| language(tag))
                .collect::<Vec<_>>(),
        ),
    );
    let pages: usize = report.files.iter().map(|f| f.sketches.pages.len()).sum();
    let files = counted(report.files.len(), "file");
    let made = counted(report.checks.len(), "check");
    let nothing = report.files.is_empty();
    let all = format!("{files}, {}, {made}", counted(pages, "page"));
    fact(
        "Looked at",
        if nothing {
            "no finished file: none could be made".to_string()
        } else {
            all
        },
    );
    page.push_str("</dl>\n");
    contents(page, report);
    page.push_str("</header>\n");
}

fn verdict(page: &mut String, report: &Report) {
    let failed = |level: Level| {
        let checks = report.checks.iter();
        checks.filter(|c| !c.passed && c.level == level).count()
    };
    let counts = [
        counted(failed(Level::Error), "error"),
        counted(failed(Level::Warning), "warning"),
        counted(messages::told_notes(report).count(), "note"),
    ];
    let (class, word, rest) = match report.passed() {
        true => ("good", "Passed", "It may be sold as it is."),
        false => (
            "bad",
            "Refused",
            "Nothing of it is to be sold before this is put right.",
        ),
    };
    push(
        page,
        format_args!(
            "<p class=\"verdict {class}\"><strong>{word}</strong> {}. {rest}</p>\n",
            counts.join(", ")
        ),
    );
}

/// Links to the parts that there are.
fn contents(page: &mut String, report: &Report) {
    let parts = [
        ("wrong", "What is wrong", messages::any_failed(report)),
        (
            "accepted",
            "What was let stand",
            !report.accepted.is_empty(),
        ),
        (
            "notes",
            "Worth knowing",
            messages::told_notes(report).next().is_some(),
        ),
        ("pages", "Pages", !report.files.is_empty()),
        ("joined", "Sheets rejoined", joined::any(report)),
        ("seams", "Seams", !report.seams.is_empty()),
        ("squares", "Test squares", tables::any_squares(report)),
        ("pieces", "Pieces", tables::any_pieces(report)),
        ("measured", "What was measured", true),
    ];
    page.push_str("<nav aria-label=\"Parts of the report\">\n<ul>\n");
    for (id, name, _) in parts.iter().filter(|(_, _, there)| *there) {
        push(
            page,
            format_args!("<li><a href=\"#{id}\">{name}</a></li>\n"),
        );
    }
    page.push_str("</ul>\n</nav>\n");
}

/// A head with the mark that links lead to.
fn head(page: &mut String, id: &str, words: &str) {
    push(page, format_args!("<h2 id=\"{id}\">{words}</h2>\n"));
}

/// Each once, in their order; empty ones left out.
fn distinct<'a>(words: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut seen = BTreeSet::new();
    let new = words.filter(|word| !word.is_empty() && seen.insert((*word).clone()));
    new.cloned().collect()
}

/// The English name of a language, where there is a table of words for it.
fn language(tag: &str) -> String {
    let english = Words::default();
    let name = english.find(&format!("languages.{}", primary(tag)));
    name.unwrap_or(tag).to_string()
}
