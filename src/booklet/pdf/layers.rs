//! Layers: the marks that templates set round what belongs to a size or to the allowances become
//! optional content (ISO 32000-1, 8.11), and the marks themselves are taken out.
//!
//! A mark is a black rectangle far off the page: 10 mm and one more for each id wide, 7 mm high where a
//! layer begins and 9 mm where it ends.

use super::content::{Operation, operations};
use super::file::{self, POINTS};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ops::Range;

/// What the typesetter writes for a mark, operator by operator.
const FORM: [&str; 13] = [
    "BMC", "q", "cm", "cs", "scn", "m", "l", "l", "l", "h", "f", "Q", "EMC",
];

/// Marks stand this far left of the page at least, mm.
const FAR: f64 = 2000.0;

/// Sides are known to this, mm.
const WITHIN: f64 = 0.01;

const BEGINS: f64 = 7.0;
const ENDS: f64 = 9.0;

struct Mark {
    id: usize,
    begins: bool,
    /// First of its operations.
    index: usize,
    range: Range<usize>,
}

/// A page with its marks taken out.
struct Laid {
    page: ObjectId,
    stream: Stream,
    /// Ids of its layers, in order.
    layers: Vec<usize>,
}

/// Makes layers of all marks: `names` by the ids of the marks, `all` the name of them together.
///
/// # Errors
/// A sentence, if a page cannot be read, or a mark stands where none may or has an id without a name.
pub fn lay(document: &mut Document, names: &[String], all: &str) -> Result<(), String> {
    let mut groups: BTreeMap<usize, ObjectId> = BTreeMap::new();
    let read: Vec<Result<Option<Laid>, String>> = file::pages(document)
        .into_par_iter()
        .map(|page| laid(document, page, names.len()))
        .collect();
    for laid in read {
        let Some(laid) = laid? else {
            continue;
        };
        for id in &laid.layers {
            groups.entry(*id).or_insert_with(|| {
                let mut group = Dictionary::new();
                group.set("Type", Object::Name(b"OCG".to_vec()));
                group.set("Name", file::text(&names[*id]));
                document.add_object(group)
            });
        }
        write_page(document, laid, &groups)?;
    }
    if groups.is_empty() {
        return Ok(());
    }
    let groups: Vec<Object> = groups.into_values().map(Object::Reference).collect();
    // PDF/UA-1 asks for a name and forbids AS (Matterhorn Protocol 20-001 to 20-003)
    let mut shown = Dictionary::new();
    shown.set("Name", file::text(all));
    shown.set("BaseState", Object::Name(b"ON".to_vec()));
    shown.set("Order", Object::Array(groups.clone()));
    let mut properties = Dictionary::new();
    properties.set("OCGs", Object::Array(groups));
    properties.set("D", Object::Dictionary(shown));
    file::catalogue(document)?.set("OCProperties", Object::Dictionary(properties));
    Ok(())
}

/// A page of a document that has `count` layers, its marks taken out; `None` if it has none.
fn laid(document: &Document, page: ObjectId, count: usize) -> Result<Option<Laid>, String> {
    let content = document.get_page_content(page);
    if !reaches_far(&content) {
        return Ok(None);
    }
    let operations = operations(&content)?;
    let marks = marks(&operations)?;
    if marks.is_empty() {
        return Ok(None);
    }
    check(&operations, &marks, count)?;
    Ok(Some(Laid {
        page,
        stream: without_marks(&content, &marks)?,
        layers: marks.iter().map(|mark| mark.id).collect(),
    }))
}

/// Whether a number of a stream may lie as far off as marks do: whether one below 0 has four digits
/// before its point. Most pages have none and need not be read.
fn reaches_far(content: &[u8]) -> bool {
    let far = |digits: &[u8]| digits.iter().all(u8::is_ascii_digit);
    content.windows(5).any(|w| w[0] == b'-' && far(&w[1..]))
}

fn marks(operations: &[Operation]) -> Result<Vec<Mark>, String> {
    let mut marks = Vec::new();
    for (index, operation) in operations.iter().enumerate() {
        let far = operation.operator == "cm"
            && operation.numbers.get(4).is_some_and(|x| *x < -FAR * POINTS);
        if !far {
            continue;
        }
        let stray = || "something stands far off a page and is no layer mark".to_string();
        let first = index.checked_sub(2).ok_or_else(stray)?;
        let own = operations
            .get(first..first + FORM.len())
            .ok_or_else(stray)?;
        let formed = own.iter().zip(FORM).all(|(o, form)| o.operator == form);
        let corner: Option<[f64; 2]> = own
            .get(7)
            .and_then(|o| Some([*o.numbers.first()?, *o.numbers.get(1)?]));
        let Some([width, height]) = corner.filter(|_| formed) else {
            return Err(stray());
        };
        let (width, height) = (width / POINTS, height / POINTS);
        let near = |a: f64, b: f64| (a - b).abs() <= WITHIN;
        let id = (width - 10.0).round();
        let sound =
            id >= 0.0 && near(width - 10.0, id) && (near(height, BEGINS) || near(height, ENDS));
        if !sound {
            return Err(stray());
        }
        marks.push(Mark {
            id: id as usize,
            begins: near(height, BEGINS),
            index: first,
            range: own[0].range.start..own[FORM.len() - 1].range.end,
        });
    }
    Ok(marks)
}

/// Each layer ends in the order in which it began, at the depth at which it began, and the page does
/// not leave that depth in between.
fn check(operations: &[Operation], marks: &[Mark], count: usize) -> Result<(), String> {
    let mut depth = 0_i64;
    let mut open: Vec<(usize, i64)> = Vec::new();
    let mut next = marks.iter().peekable();
    for (index, operation) in operations.iter().enumerate() {
        if let Some(mark) = next.next_if(|mark| mark.index == index) {
            if mark.id >= count {
                return Err(format!("there is no layer with the number {}", mark.id));
            }
            if mark.begins {
                open.push((mark.id, depth));
            } else if open.pop() != Some((mark.id, depth)) {
                return Err(format!("layer {} ends where it may not", mark.id));
            }
        }
        match operation.operator.as_str() {
            "q" | "BMC" | "BDC" | "BT" => depth += 1,
            "Q" | "EMC" | "ET" => depth -= 1,
            _ => {}
        }
        if open.last().is_some_and(|(_, began)| depth < *began) {
            return Err("a layer is left before it ends".to_string());
        }
    }
    match open.last() {
        Some((id, _)) => Err(format!("layer {id} does not end on its page")),
        None => Ok(()),
    }
}

/// The stream of a page whose marks begin and end optional content.
fn without_marks(content: &[u8], marks: &[Mark]) -> Result<Stream, String> {
    let mut written = Vec::with_capacity(content.len());
    let mut at = 0;
    for mark in marks {
        written.extend_from_slice(&content[at..mark.range.start]);
        at = mark.range.end;
        // what stands before and after may touch the mark without a space
        written.push(b'\n');
        if mark.begins {
            written.extend_from_slice(format!("/OC /Layer{} BDC", mark.id).as_bytes());
        } else {
            written.extend_from_slice(b"EMC");
        }
        written.push(b'\n');
    }
    written.extend_from_slice(&content[at..]);
    file::packed(&written)
}

fn write_page(
    document: &mut Document,
    Laid {
        page,
        stream,
        layers,
    }: Laid,
    groups: &BTreeMap<usize, ObjectId>,
) -> Result<(), String> {
    let mut used = Dictionary::new();
    for id in layers {
        used.set(format!("Layer{id}"), Object::Reference(groups[&id]));
    }
    let stream = document.add_object(stream);
    let mut resources = match file::inherited(document, page, b"Resources") {
        Some(Object::Dictionary(resources)) => resources,
        _ => Dictionary::new(),
    };
    let known = resources.get(b"Properties").ok();
    let known = known.and_then(|p| document.dereference(p).ok());
    let mut properties = match known {
        Some((_, Object::Dictionary(known))) => known.clone(),
        _ => Dictionary::new(),
    };
    properties.extend(&used);
    resources.set("Properties", Object::Dictionary(properties));
    let dictionary = file::dictionary(document, page)?;
    let before = dictionary.get(b"Contents").and_then(Object::as_reference);
    dictionary.set("Contents", Object::Reference(stream));
    dictionary.set("Resources", Object::Dictionary(resources));
    if let Ok(before) = before {
        document.objects.remove(&before);
    }
    Ok(())
}
