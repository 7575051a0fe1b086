//! What the chapters of a booklet must say, in the order in which they stand: taken from the design and
//! what is handed to the template, never from what was set. Only what is set as it stands is named.

use super::phrases::{Aside, phrases};
use super::tables;
use super::template_data::{joined, list, said, text};
use crate::booklet::Prose;
use crate::design::{ChapterKind, Part};
use crate::language::Words;
use crate::proof::{IntendedCover, IntendedPart};
use serde_json::Value;
use std::collections::BTreeSet;

/// The cover of the booklet that is set from `data`.
pub(super) fn cover(data: &Value, words: &Words) -> IntendedCover {
    let design = &data["design"];
    let sizes = match data["size_count"].as_u64().unwrap_or(1) {
        0 | 1 => words.get("booklet.one size").to_string(),
        n if n <= 6 => words.get(&format!("booklet.sizes {n}")).to_string(),
        n => words.say("booklet.sizes n", &[("n", &n)]),
    };
    // set in one line, so that other words of the page do not stand for them
    let facts = format!("{sizes} {}", text(&design["skill"]));
    IntendedCover {
        title: text(&design["title"]).to_string(),
        words: said(&design["about"])
            .into_iter()
            .chain([facts, text(&design["edition_words"]).to_string()])
            .collect(),
        picture: said_alt(&data["cover"]),
    }
}

/// All chapters of the booklet that is set from `data`, or of a form of it that has the plates in another file.
pub(super) fn parts(
    data: &Value,
    prose: &Prose,
    words: &Words,
    elsewhere: bool,
) -> Vec<IntendedPart> {
    let house = House {
        data,
        words,
        elsewhere,
    };
    let own = |part| own_chapters(prose, part);
    let mut all = vec![house.contents()];
    all.extend(house.sizes());
    all.extend(house.materials());
    all.extend(house.layouts());
    all.extend(own(Part::MakeReady));
    all.extend([house.printing(), house.pieces()]);
    all.extend(own(Part::Make));
    all.push(house.safety());
    all.extend(own(Part::LookUp));
    all.extend(house.words_used());
    all.push(house.terms());
    all
}

/// The chapters of the design in one part of the booklet; the words of steps are looked at step by step.
fn own_chapters(prose: &Prose, part: Part) -> impl Iterator<Item = IntendedPart> {
    let chapters = prose.chapters.iter().zip(&prose.filled);
    let of_part = chapters.filter(move |(head, _)| head.part == part);
    of_part.map(|(head, filled)| {
        let mut words: Vec<String> = head.standfirst.iter().flat_map(|s| phrases(s)).collect();
        if head.kind == ChapterKind::Text {
            let mut aside = Aside::default();
            let lines = filled.text.lines().filter(|line| !aside.holds(line));
            words.extend(lines.flat_map(phrases));
        }
        IntendedPart {
            title: head.title.clone(),
            demanded: true,
            words,
            ..IntendedPart::default()
        }
    })
}

/// The chapters that the program writes itself.
struct House<'a> {
    data: &'a Value,
    words: &'a Words,
    /// Whether the plates are in another file.
    elsewhere: bool,
}

impl House<'_> {
    fn word(&self, key: &str) -> String {
        self.words.get(&format!("booklet.{key}")).to_string()
    }

    fn part(&self, title: &str, words: Vec<String>) -> IntendedPart {
        IntendedPart {
            title: self.word(title),
            demanded: true,
            words,
            ..IntendedPart::default()
        }
    }

    fn contents(&self) -> IntendedPart {
        let design = &self.data["design"];
        let makes = ("makes", &text(&design["makes"]) as &dyn std::fmt::Display);
        let mut words = vec![
            text(&design["about"]).to_string(),
            self.words.say("booklet.makes", &[makes]),
        ];
        words.extend(said(&design["age"]));
        self.part("contents", words)
    }

    fn sizes(&self) -> Option<IntendedPart> {
        let sizes = list(&self.data["sizes"]);
        let mut declared: Vec<&str> = sizes.iter().map(|s| text(&s["declared"])).collect();
        declared.dedup();
        let several = declared.len() > 1;
        let measured = |key: &str| sizes.iter().any(|size| !list(&size[key]).is_empty());
        let named = sizes.iter().any(|size| size["words"].is_string());
        if !(measured("foot") || measured("finished") || named && sizes.len() > 1) {
            return None;
        }
        let mut words = Vec::new();
        for (index, size) in sizes.iter().enumerate() {
            // a size whose feet differ is told once
            let again = sizes[..index]
                .iter()
                .any(|s| s["declared"] == size["declared"]);
            if let Some(which) = said(&size["words"]).filter(|_| several && !again) {
                words.push(format!("{} {which}", text(&size["declared_title"])));
            }
            for measure in list(&size["finished"]) {
                words.extend(
                    said(&measure["name"])
                        .into_iter()
                        .chain(said(&measure["metric"])),
                );
            }
        }
        let title = match (several, measured("foot")) {
            (true, true) => "sizes and measures",
            (true, false) => "sizes and finished",
            (false, _) => "size",
        };
        Some(IntendedPart {
            tables: tables::of_sizes(self.data, self.words),
            ..self.part(title, words)
        })
    }

    fn materials(&self) -> Option<IntendedPart> {
        let kinds = ["materials", "trims", "tools", "cut_list"];
        if kinds.iter().all(|key| list(&self.data[*key]).is_empty()) {
            return None;
        }
        let cloths = list(&self.data["materials"]).iter();
        let mut words: Vec<String> = cloths.map(|it| joined(it, &["name", "about"])).collect();
        words.extend(by_size(&self.data["thread"]["lines"]));
        let notes = list(&self.data["trims"]).iter().map(|trim| &trim["note"]);
        words.extend(notes.filter_map(said));
        words.extend(list(&self.data["tools"]).iter().filter_map(said));
        // that it is missing, or does not name a cloth, is told by who reads the text
        Some(IntendedPart {
            demanded: false,
            tables: tables::of_materials(self.data, self.words),
            ..self.part("materials", words)
        })
    }

    fn layouts(&self) -> Option<IntendedPart> {
        let layouts = list(&self.data["layouts"]);
        let figures = layouts.iter().filter_map(said_alt).collect();
        let also: BTreeSet<&str> = layouts
            .iter()
            .flat_map(|it| list(&it["also"]))
            .map(text)
            .collect();
        let also = also.into_iter();
        let also = also.map(|sold| self.words.say("booklet.layout also", &[("sold", &sold)]));
        let words = std::iter::once(self.word("layouts stand")).chain(also);
        (!layouts.is_empty()).then(|| IntendedPart {
            figures,
            ..self.part("layouts", words.collect())
        })
    }

    fn printing(&self) -> IntendedPart {
        let (title, squares) = match self.elsewhere {
            true => ("print plates", "squares elsewhere"),
            false => ("print", "squares note"),
        };
        let words = ["print stand", "settings first", "settings note", squares];
        self.part(title, words.map(|key| self.word(key)).to_vec())
    }

    fn pieces(&self) -> IntendedPart {
        let pieces = list(&self.data["key"]["pieces"]);
        let row = |piece: &Value| {
            let tag = joined(piece, &["number", "title"]);
            format!("{tag} {}", self.cuts(piece))
        };
        let mut words: Vec<String> = pieces.iter().map(row).collect();
        words.push(self.word("lines note"));
        words.extend(self.lines());
        let title = if pieces.is_empty() {
            "lines"
        } else {
            "pieces and key"
        };
        IntendedPart {
            figures: pieces.iter().filter_map(said_alt).collect(),
            ..self.part(title, words)
        }
    }

    /// What to cut of a piece; where each foot has its own, of both of them.
    fn cuts(&self, piece: &Value) -> String {
        let sizes = list(&self.data["sizes"]);
        let declared: BTreeSet<&str> = sizes.iter().map(|size| text(&size["declared"])).collect();
        if declared.len() == sizes.len() {
            return text(&piece["cuts"]).to_string();
        }
        let mut cuts = Vec::new();
        for cut in list(&self.data["cut_list"]) {
            let rows = list(&cut["rows"]).iter();
            let own = rows.filter(|row| row["number"] == piece["number"]);
            cuts.extend(own.map(|row| format!("{} {}", row["count"], text(&cut["cloth"]))));
        }
        cuts.join(", ")
    }

    /// What is said of the lines that the pieces carry; those of the cut hang on the paper.
    fn lines(&self) -> Vec<String> {
        let used = &self.data["key"]["lines"];
        let lines = [
            "seam",
            "fold",
            "stitching",
            "placing",
            "grain",
            "notch",
            "opening",
            "buttonhole",
        ];
        let is_used = |line: &&str| used[*line].as_bool() == Some(true);
        let has = |what: &str| used[what].as_bool() != Some(false);
        let said = |line: &str| {
            let ends = match line {
                "placing" if has("button") => vec![" button"],
                "fold" if !has("crease") => vec![" laid"],
                "fold" if !has("on fold") => vec![" creased"],
                "notch" => {
                    let more = [("centre", " centre"), ("tick", " tick")];
                    let more = more.into_iter().filter(|(what, _)| has(what));
                    std::iter::once("")
                        .chain(more.map(|(_, end)| end))
                        .collect()
                }
                _ => vec![""],
            };
            let key = format!("line {line}");
            let means = ends
                .iter()
                .map(|end| self.word(&format!("{key} words{end}")));
            let mut words = vec![self.word(&key)];
            words.extend(means);
            words.join(" ")
        };
        lines.into_iter().filter(is_used).map(said).collect()
    }

    fn safety(&self) -> IntendedPart {
        let care = list(&self.data["care"]);
        let mut words: Vec<String> = Vec::new();
        for it in care {
            let kind = self.word(&format!("care {}", text(&it["kind"])));
            words.push(format!("{kind} {}", text(&it["words"])));
        }
        words.extend(said(&self.data["design"]["age"]));
        if let Some(part) = list(&self.data["small_parts"]).first().map(text) {
            let keys = ["small parts", "small parts named"].map(|key| self.word(key));
            words.push(format!("{} {part}", keys.join(" ")));
        }
        for key in list(&self.data["cautions"]).iter().map(text) {
            words.push(format!(
                "{} {}",
                self.word(key),
                self.word(&format!("{key} words"))
            ));
        }
        let title = if care.is_empty() {
            "safety"
        } else {
            "care and safety"
        };
        IntendedPart {
            // in the booklet that is told by who reads the text
            demanded: self.elsewhere,
            ..self.part(title, words)
        }
    }

    fn words_used(&self) -> Option<IntendedPart> {
        let known = &self.data["glossary"];
        let all = list(&known["words"]).iter().chain(list(&known["units"]));
        let said = |pair: &Value| list(pair).iter().map(text).collect::<String>();
        let words: Vec<String> = all.map(said).collect();
        (!words.is_empty()).then(|| self.part("words used", words))
    }

    fn terms(&self) -> IntendedPart {
        let editions = list(&self.data["editions"]).iter().map(|e| &e["changed"]);
        let fit = list(&self.data["fit"]).iter().map(|f| &f["why"]);
        let words = editions.chain(fit).filter_map(said).collect();
        IntendedPart {
            demanded: false,
            ..self.part("terms and contact", words)
        }
    }
}

/// What is said of each size, after its title.
fn by_size(lines: &Value) -> impl Iterator<Item = String> {
    let lines = list(lines);
    let keys: &[&str] = if lines.len() > 1 {
        &["size", "text"]
    } else {
        &["text"]
    };
    lines.iter().map(move |line| joined(line, keys))
}

/// What a drawing shows, in words.
fn said_alt(drawing: &Value) -> Option<String> {
    said(&drawing["alt"])
}
