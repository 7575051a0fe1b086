//! The text with which a pattern is offered, as Markdown: what it is, what the buyer gets, sizes, skill,
//! materials. Every number comes from what was computed, every word from the tables or from the design.

use crate::design::{Design, Form, printed};
use crate::language::Words;
use crate::language::phrase::capital;
use crate::materials::{Bought, ClothRow, Materials};
use std::fmt::Write;

/// A booklet in one language.
#[derive(Debug, Clone, PartialEq)]
pub struct BookletFact {
    /// Its paper, as printed.
    pub paper: String,
    /// Its pages, plates included.
    pub pages: usize,
    /// Plates among them.
    pub plates: usize,
}

/// The plates on a large paper.
#[derive(Debug, Clone, PartialEq)]
pub struct LargeFact {
    /// The paper, as printed.
    pub paper: String,
    /// Its width and height, mm.
    pub sides: [f64; 2],
    /// How many sheets of it the pieces need.
    pub sheets: usize,
}

/// What a listing is made from, in one language.
#[derive(Debug)]
pub struct ListingJob<'a> {
    /// The design in that language.
    pub design: &'a Design,
    /// What is bought and cut.
    pub materials: &'a Materials,
    /// What is measured on the finished thing: its name, and its length, mm, by title of the size.
    pub finished: Vec<(String, Vec<(String, f64)>)>,
    /// The booklets.
    pub booklets: Vec<BookletFact>,
    /// Large sheets.
    pub large: Vec<LargeFact>,
    /// Papers of the sheet to try the fit in paper, as printed.
    pub fitting: Vec<String>,
    /// Further forms of the instructions, each with its paper.
    pub forms: Vec<(Form, String)>,
    /// The languages of the texts.
    pub languages: Vec<String>,
    /// Pictures: where each lies, and what it shows.
    pub pictures: Vec<(String, String)>,
}

/// The listing.
pub fn listing(job: &ListingJob<'_>) -> String {
    let design = job.design;
    let words = &design.words;
    let mut page = Page::default();
    page.line(&format!("# {}", plain(&design.title)));
    page.gap();
    page.line(&plain(&design.about));
    page.gap();
    let edition = ("edition", &design.edition_words() as &dyn std::fmt::Display);
    let mut what = words.say("listing.pattern", &[edition]);
    let by = design
        .by
        .iter()
        .map(|by| words.say("listing.by", &[("name", by)]));
    for part in design.series.iter().cloned().chain(by) {
        write!(what, ", {part}").expect("writing to a String never fails");
    }
    page.line(&plain(&format!("{what}.")));
    let makes = words.say("listing.makes", &[("makes", &design.makes)]);
    page.line(&plain(&makes));
    page.list(words.get("listing.get"), &received(job));
    let sizes = sizes(design);
    let [skill, age] = [&design.skill, &design.age].map(|text| text.as_deref().map(capital));
    page.list(&words.count("listing.sizes", sizes.len(), &[]), &sizes);
    page.list(words.get("listing.finished"), &finished(job));
    page.text(words.get("listing.skill"), skill.as_deref());
    page.list(words.get("listing.materials"), &materials(job));
    page.list(words.get("listing.tools"), &job.materials.tools);
    page.text(words.get("listing.age"), age.as_deref());
    page.text(words.get("listing.terms"), design.terms.as_deref());
    page.text(words.get("listing.contact"), design.contact.as_deref());
    if !job.pictures.is_empty() {
        page.head(words.get("listing.pictures"));
        for (path, alt) in &job.pictures {
            page.line(&format!("![{}]({path})", plain(alt)));
            page.gap();
        }
    }
    page.finish()
}

/// A page that grows.
#[derive(Default)]
struct Page(String);

impl Page {
    fn line(&mut self, text: &str) {
        self.0.push_str(text);
        self.0.push('\n');
    }

    fn gap(&mut self) {
        if !self.0.ends_with("\n\n") {
            self.0.push('\n');
        }
    }

    fn head(&mut self, head: &str) {
        self.gap();
        self.line(&format!("## {}", plain(head)));
        self.gap();
    }

    /// A list under a head; nothing if it is empty.
    fn list(&mut self, head: &str, items: &[String]) {
        if items.is_empty() {
            return;
        }
        self.head(head);
        for item in items {
            self.line(&format!("- {}", plain(&capital(item))));
        }
    }

    /// A sentence under a head; nothing if there is none.
    fn text(&mut self, head: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.head(head);
            self.line(&plain(text));
        }
    }

    fn finish(self) -> String {
        let text = self.0.trim_end();
        format!("{text}\n")
    }
}

/// Words that Markdown takes as they stand.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .chars()
    {
        if matches!(letter, '\\' | '*' | '_' | '`' | '[' | ']' | '<' | '>' | '#') {
            plain.push('\\');
        }
        plain.push(letter);
    }
    plain
}

/// What the buyer gets.
fn received(job: &ListingJob<'_>) -> Vec<String> {
    let words = &job.design.words;
    let booklet = |booklet: &BookletFact| {
        let pages = words.count("listing.pages", booklet.pages, &[]);
        let places: crate::language::Places<'_> = &[("paper", &booklet.paper), ("pages", &pages)];
        words.count("listing.booklet", booklet.plates, places)
    };
    let large = |large: &LargeFact| {
        let [a, b] = large.sides.map(|mm| printed::both(mm, job.design.lengths));
        let size = words.say("language.by", &[("a", &a), ("b", &b)]);
        let places: crate::language::Places<'_> = &[("paper", &large.paper), ("size", &size)];
        words.count("listing.large", large.sheets, places)
    };
    let form = |form: &Form| {
        let papers = job.forms.iter().filter(|(other, _)| other == form);
        let papers: Vec<&str> = papers.map(|(_, paper)| paper.as_str()).collect();
        let (name, papers) = (form.file_word(), words.joined(&papers));
        let name = words.named("compared", &name);
        words.say("listing.form", &[("form", &name), ("paper", &papers)])
    };
    let mut forms: Vec<Form> = Vec::new();
    for (form, _) in &job.forms {
        if !forms.contains(form) {
            forms.push(*form);
        }
    }
    let mut all: Vec<String> = job.booklets.iter().map(booklet).collect();
    all.extend(job.large.iter().map(large));
    if !job.fitting.is_empty() {
        let papers = words.joined(&job.fitting);
        all.push(words.say("listing.fitting", &[("paper", &papers)]));
    }
    all.extend(forms.iter().map(form));
    all.push(words.get("listing.cutters").to_string());
    let list = words.joined(&job.languages);
    let places: crate::language::Places<'_> = &[("list", &list)];
    all.push(words.count("listing.languages", job.languages.len(), places));
    all
}

/// The sizes as they were declared, with their words.
fn sizes(design: &Design) -> Vec<String> {
    let mut declared: Vec<&str> = Vec::new();
    let mut sizes = Vec::new();
    for size in &design.sizes {
        if declared.contains(&size.declared.as_str()) {
            continue;
        }
        declared.push(&size.declared);
        let title = size.declared_title();
        sizes.push(match &size.words {
            Some(more) => {
                let places: crate::language::Places<'_> = &[("title", &title), ("words", more)];
                design.words.say("listing.size", places)
            }
            None => title,
        });
    }
    sizes
}

/// Amounts by size; one alone where all are equal.
fn by_size(amounts: &[(Option<&str>, &str)], words: &Words) -> String {
    let same = |(_, text): &(Option<&str>, &str)| amounts.first().is_some_and(|a| a.1 == *text);
    if amounts.iter().all(same) {
        return amounts.first().map_or(String::new(), |a| a.1.to_string());
    }
    let each = amounts.iter().map(|(size, text)| match size {
        Some(size) => words.say("listing.of size", &[("size", size), ("amount", text)]),
        None => (*text).to_string(),
    });
    each.collect::<Vec<_>>().join("; ")
}

/// `name: amount`, or the name alone.
fn with_amount(name: &str, amounts: &[(Option<&str>, &str)], words: &Words) -> String {
    match amounts {
        [] => name.to_string(),
        some => {
            let amount = by_size(some, words);
            words.say("listing.amount", &[("name", &name), ("amount", &amount)])
        }
    }
}

fn finished(job: &ListingJob<'_>) -> Vec<String> {
    let measured = job.finished.iter().map(|(name, sizes)| {
        // what stands in one row has one unit
        let lengths = job.design.lengths.together(sizes.iter().map(|(_, mm)| *mm));
        let texts: Vec<(&str, String)> = sizes
            .iter()
            .map(|(size, mm)| (size.as_str(), printed::both(*mm, lengths)))
            .collect();
        let each: Vec<(Option<&str>, &str)> = texts
            .iter()
            .map(|(size, text)| (Some(*size), text.as_str()))
            .collect();
        with_amount(name, &each, &job.design.words)
    });
    measured.collect()
}

/// Cloth, trims and thread with how much is bought.
fn materials(job: &ListingJob<'_>) -> Vec<String> {
    let words = &job.design.words;
    let mut all: Vec<String> = Vec::new();
    for cloth in &job.materials.cloth {
        all.push(of_cloth(cloth, &job.materials.bought, words));
    }
    for trim in &job.materials.trims {
        let name = match &trim.width {
            Some(width) => format!("{}, {width}", trim.name),
            None => trim.name.clone(),
        };
        let amounts = trim.bought.iter();
        let amounts: Vec<_> = amounts
            .map(|amount| (amount.size.as_deref(), amount.text.as_str()))
            .collect();
        all.push(with_amount(&name, &amounts, words));
    }
    if let Some(thread) = &job.materials.thread {
        let lines = thread.lines.iter();
        let lines: Vec<_> = lines
            .map(|line| (line.size.as_deref(), line.text.as_str()))
            .collect();
        all.push(with_amount(&thread.name, &lines, words));
    }
    all
}

/// One line for a cloth; where it is sold in several ways one of them is bought.
fn of_cloth(cloth: &ClothRow, bought: &[Bought], words: &Words) -> String {
    let own: Vec<&Bought> = bought.iter().filter(|b| b.cloth == cloth.key).collect();
    let mut ways: Vec<&str> = Vec::new();
    for lot in &own {
        if !ways.contains(&lot.sold.as_str()) {
            ways.push(&lot.sold);
        }
    }
    let amounts = |way: &str| -> Vec<(Option<&str>, &str)> {
        let lots = own.iter().filter(|lot| lot.sold == way);
        lots.map(|lot| (Some(lot.title.as_str()), lot.text.as_str()))
            .collect()
    };
    let facts = std::iter::once(&cloth.name).chain(&cloth.facts);
    let facts: Vec<&str> = facts.map(String::as_str).collect();
    let facts = facts.join(", ");
    match ways.as_slice() {
        [] => facts,
        [only] => with_amount(&facts, &amounts(only), words),
        several => {
            let each = several.iter().enumerate().map(|(i, way)| {
                let name = match i {
                    0 => format!("{}, {way}", cloth.name),
                    _ => (*way).to_string(),
                };
                with_amount(&name, &amounts(way), words)
            });
            let joined = each.reduce(|first, other| {
                words.say("listing.or sold", &[("first", &first), ("other", &other)])
            });
            joined.unwrap_or(facts)
        }
    }
}

#[cfg(test)]
mod tests;
