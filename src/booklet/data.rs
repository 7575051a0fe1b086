//! `data.json`: everything the template is told that is not running text. Parts that other stages
//! make (plates, drawings, amounts) are handed in and replace what stands here under the same key.

mod look_up;

use super::fonts;
use super::markdown::missing_glyph;
use super::prose::ChapterHead;
use super::values::SizeValues;
use super::{Request, Setting, own_look, scale_faults, setting};
use crate::design::{
    ChapterKind, Design, Dimension, FinishedMeasure, FitEntry, LengthStyle, Part, Size, Trim,
    TrimKind, printed,
};
use crate::diagnostic::{Diagnostics, Place};
use crate::language::phrase;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

/// The whole of `data.json`. Characters that cannot be printed are replaced and reported.
pub fn data(request: &Request<'_>, diagnostics: &mut Diagnostics) -> Value {
    let design = request.design;
    let mut data = Map::new();
    let mut put = |key: &str, value: Value| data.insert(key.to_string(), value);
    put("design", design_words(request));
    put("paper", page(request));
    put("setting", json!(request.setting.words()));
    put("large", json!(request.setting == Setting::LargePrint));
    put("ink_saving", json!(request.setting == Setting::InkSaving));
    put(
        "files",
        setting::files(design, request.setting, request.paper),
    );
    put("scale_faults", scale_faults::data(request.paper));
    put("look", own_look::data(request));
    put("stamp", json!(request.stamp));
    put("words", design.words.group("booklet"));
    put("forms", json!(design.words.forms()));
    let hyphenated = design.words.get("language.hyphenated") == "yes";
    put("hyphenated", json!(hyphenated));
    put("decimal", json!(design.words.decimal().to_string()));
    put("sizes", sizes(design, request.sizes));
    put("size_count", json!(declared_sizes(design)));
    put("cautions", json!(cautions(design)));
    put("fusible", json!(has_fusible(design)));
    put("materials", materials(design));
    put("trims", json!([]));
    put("tools", json!(design.tools));
    put("thread", Value::Null);
    put("needles", json!([]));
    put("substitutes", Value::Null);
    put("cut_list", json!([]));
    put("amounts", json!({"sizes": [], "rows": []}));
    put("layouts", json!([]));
    put("small_parts", small_parts(design));
    put("fit", fit(design));
    put("both_units", json!(design.lengths.both));
    put("care", look_up::care(design));
    put("editions", look_up::editions(design));
    put(
        "chapters",
        request.prose.chapters.iter().map(chapter).collect(),
    );
    put("figure_names", figure_names(request));
    put("plates", json!([]));
    for (key, value) in request.parts {
        data.insert(key.clone(), value.clone());
    }
    if let Some(cover) = own_look::cover(request) {
        data.insert("cover".to_string(), cover);
    }
    data.insert("plate_pages".to_string(), plate_pages(&data));
    if !request.setting.has_plates() {
        data.insert("plates".to_string(), json!([]));
    }
    let words = look_up::words(request, &data, diagnostics);
    data.insert("glossary".to_string(), words);
    let mut data = Value::Object(data);
    clean(&mut data, "", design, diagnostics);
    data
}

/// The page that is set, with the name of the paper it is printed on.
fn page(request: &Request<'_>) -> Value {
    let paper = request.paper;
    let (key, width, height) = match request.setting.half_page(paper) {
        Some(page) => (page.key, page.width, page.height),
        None => (paper.key.as_str(), paper.width, paper.height),
    };
    let name = setting::paper_name(request.design, paper);
    json!({"key": key, "name": name, "width": width, "height": height})
}

/// Numbers and names of the pieces in each drawing, by its path.
fn figure_names(request: &Request<'_>) -> Value {
    let pieces = &request.design.pieces;
    let named = |key: &String| {
        let index = pieces.iter().position(|piece| piece.key == *key)?;
        Some(json!(format!("{} {}", index + 1, pieces[index].title)))
    };
    let figures = request.prose.figures.iter();
    let of = figures.map(|figure| {
        let names: Vec<Value> = figure.pieces.iter().filter_map(named).collect();
        (format!("/{}", figure.path()), Value::from(names))
    });
    Value::Object(of.collect())
}

/// Number and sheet letter of each true-scale page, in this file or the one that has the plates.
fn plate_pages(data: &Map<String, Value>) -> Value {
    let plates = data.get("plates").and_then(Value::as_array);
    let of = |plate: &Value| json!({"number": plate["number"], "sheet": plate["sheet"]});
    plates.into_iter().flatten().map(of).collect()
}

fn design_words(request: &Request<'_>) -> Value {
    let design = request.design;
    let date = request
        .moment
        .map(|moment| design.words.date(moment.date()));
    json!({
        "key": design.key,
        "title": design.title,
        "edition": design.edition,
        "edition_words": design.edition_words(),
        "edition_number": design.edition_number(),
        "series": design.series,
        "by": design.by,
        "skill": design.skill,
        "about": request.prose.about,
        "makes": design.makes,
        "age": design.age,
        "terms": design.terms,
        "contact": design.contact,
        "language": design.language,
        "date": date,
    })
}

fn chapter(head: &ChapterHead) -> Value {
    let part = match head.part {
        Part::MakeReady => "make ready",
        Part::Make => "make",
        Part::LookUp => "look up",
    };
    let kind = match head.kind {
        ChapterKind::Text => "text",
        ChapterKind::Steps => "steps",
    };
    json!({
        "title": head.title,
        "kind": kind,
        "part": part,
        "standfirst": head.standfirst,
        "steps": head.steps,
    })
}

/// How many sizes were declared: one may have become two, for feet that differ.
fn declared_sizes(design: &Design) -> usize {
    let keys: BTreeSet<&str> = design.sizes.iter().map(|s| s.declared.as_str()).collect();
    keys.len()
}

/// Whether something is stuck on with heat.
fn has_fusible(design: &Design) -> bool {
    design
        .cloth
        .iter()
        .any(|cloth| cloth.is_fused(&design.words))
}

/// Which of the usual cautions the design needs, by what is used: needles and pins always.
fn cautions(design: &Design) -> Vec<&'static str> {
    let design = design.own();
    let (words, tools) = (&design.words, design.tools.join(" "));
    let winds = |t: &Trim| matches!(t.kind, TrimKind::Ribbon | TrimKind::Cord);
    let cords = design.trims.iter().any(winds);
    let trims = design.trims.iter().map(|t| format!("{} {}", t.key, t.name));
    let trims = trims.collect::<Vec<_>>().join(" ");
    let interfacing = has_fusible(design);
    let needed = [
        ("pins", true),
        ("iron", interfacing || words.knows("known.iron", &tools)),
        ("cutter", words.knows("known.cutter", &tools)),
        ("cords", cords || words.knows("known.cords", &trims)),
    ];
    needed
        .into_iter()
        .filter(|(_, needed)| *needed)
        .map(|(word, _)| word)
        .collect()
}

/// Sizes with the measures of their feet, and what comes out of them.
fn sizes(design: &Design, values: &[SizeValues]) -> Value {
    let of = |size: &Size| {
        let known = values.iter().find(|v| v.key == size.key);
        json!({
            "key": size.key,
            "title": size.title,
            "declared": size.declared,
            "declared_title": size.declared_title(),
            "words": size.words,
            "foot": foot(size, known, design),
            "finished": finished(design, known, values),
        })
    };
    design.sizes.iter().map(of).collect()
}

fn foot(size: &Size, values: Option<&SizeValues>, design: &Design) -> Value {
    let Some(foot) = &size.foot else {
        return json!([]);
    };
    let traced = ["length", "ball width", "heel width"]
        .into_iter()
        .filter_map(|name| {
            let quantity = values?.values.get(&format!("foot.{name}"))?;
            Some((name, quantity.value))
        });
    let measured = foot.measures.iter().map(|(name, mm)| (name.as_str(), *mm));
    let mut rows: Vec<(&str, f64)> = traced.collect();
    for (name, mm) in measured {
        if !rows.iter().any(|(known, _)| *known == name) {
            rows.push((name, mm));
        }
    }
    let name = |name| {
        let name = match name {
            "length" => "foot length",
            name => name,
        };
        design.words.named("measures", name)
    };
    rows.into_iter()
        .map(|(known, mm)| measure(name(known), mm, design.lengths))
        .collect()
}

/// What is measured on the finished thing, all of it in one unit; what has no value in the size is left out.
fn finished(design: &Design, of: Option<&SizeValues>, all: &[SizeValues]) -> Value {
    let length = |measured: &FinishedMeasure, size: &SizeValues| {
        measured.length.evaluate(size, Dimension::Length).ok()
    };
    let of_all = |size| {
        design
            .finished
            .iter()
            .filter_map(move |it| length(it, size))
    };
    let style = design.lengths.together(all.iter().flat_map(of_all));
    let row =
        |measured: &FinishedMeasure| Some(measure(&measured.name, length(measured, of?)?, style));
    design.finished.iter().filter_map(row).collect()
}

/// A named length as the template's tables take it.
pub fn measure(name: &str, mm: f64, style: LengthStyle) -> Value {
    json!({
        "name": phrase::capital(name),
        "text": printed::both(mm, style),
        "metric": printed::metric_in(mm, style),
        "inch": printed::inch(mm, style.denominator).filter(|_| style.both || style.inch_first),
    })
}

fn materials(design: &Design) -> Value {
    let (style, words) = (design.lengths, &design.words);
    let of = |cloth: &crate::design::Cloth| {
        let thickness = cloth
            .thickness
            .map(|mm| words.say("materials.thick", &[("length", &printed::both(mm, style))]));
        let about: Vec<String> = thickness.into_iter().collect();
        json!({
            "key": cloth.key,
            "name": cloth.name,
            "kind": cloth.kind,
            "about": about.join(", "),
            "lines": [],
            "note": cloth.note,
        })
    };
    design.cloth.iter().map(of).collect()
}

/// What the fitting taught, in the order in which it was written down.
fn fit(design: &Design) -> Value {
    let of = |entry: &FitEntry| {
        json!({
            "on": design.words.day(&entry.on),
            "size": design.fit_size(entry),
            "change": phrase::capital(&design.fit_change(entry)),
            "by": design.fit_amount(entry),
            "less": entry.by < 0.0,
            "why": entry.why,
        })
    };
    design.fit.iter().map(of).collect()
}

/// Names of the small hard parts that a caution must name (16 CFR 1501.4 and EN 71-1: what fits the
/// small-parts cylinder fails for children under three).
fn small_parts(design: &Design) -> Value {
    design
        .trims
        .iter()
        .filter(|t| t.small_part)
        .map(|t| json!(t.name))
        .collect()
}

/// Replaces what cannot be printed in every string, and says so where the design file has it.
/// `key` is the name of the nearest entry that holds the value.
fn clean(value: &mut Value, key: &str, design: &Design, diagnostics: &mut Diagnostics) {
    match value {
        Value::String(text) if !text.chars().all(fonts::covers) => {
            let mut missing = Vec::new();
            *text = text
                .chars()
                .map(|character| {
                    if fonts::covers(character) {
                        return character;
                    }
                    if !missing.contains(&character) {
                        missing.push(character);
                    }
                    '\u{fffd}'
                })
                .collect();
            for character in missing {
                diagnostics.push(missing_glyph(character, &place_of(character, key, design)));
            }
        }
        Value::Array(list) => list
            .iter_mut()
            .for_each(|v| clean(v, key, design, diagnostics)),
        Value::Object(map) => map
            .iter_mut()
            .for_each(|(key, v)| clean(v, key, design, diagnostics)),
        _ => {}
    }
}

/// Byte offset of the line that gives `key`.
fn at_key(text: &str, key: &str) -> Option<usize> {
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let inner = line.trim_start();
        if inner
            .strip_prefix(key)
            .is_some_and(|rest| rest.starts_with(':'))
        {
            return Some(at + line.len() - inner.len());
        }
        at += line.len();
    }
    None
}

/// Where the character stands; if it is written as an escape (`\\x07`), where the key stands.
fn place_of(character: char, key: &str, design: &Design) -> Place {
    let chapters = design.chapters.iter().map(|chapter| &chapter.source);
    let sources = std::iter::once(&design.source).chain(chapters);
    let found = sources
        .clone()
        .find_map(|source| Some((source, source.text.find(character)?)))
        .or_else(|| {
            sources
                .clone()
                .find_map(|source| Some((source, at_key(&source.text, key)?)))
        })
        .unwrap_or((&design.source, 0));
    let (line, column) = super::source_map::line_column(&found.0.text, found.1);
    Place {
        source: found.0.clone(),
        line,
        column,
    }
}
