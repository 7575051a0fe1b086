//! The edition for a print shop: single pages with bleed, crop marks and page boxes, black in black
//! only, no line too thin to print. Pictures stay as they are: a photograph is the shop's to convert.
//!
//! Lengths are mm, colours 0 to 1.

mod colours;
#[cfg(test)]
mod tests;

use super::pdf::content::{Operation, operations};
use super::pdf::file::{self, POINTS};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

/// Ink may run this far over the trim, mm (common practice: 3 mm or 1/8 in).
pub const BLEED: f64 = 3.0;

/// What stands outside the bleed on each side, mm: room for the crop marks.
const SLUG: f64 = 7.0;

/// Crop marks begin this far outside the trim, mm, clear of the bleed.
const MARKS_FROM: f64 = 3.5;

/// Length of a crop mark, mm.
const MARK: f64 = 5.0;

/// Thinnest line that prints, points (common practice).
pub const THINNEST: f64 = 0.25;

/// The pages of `pdf` made ready for a print shop; each page is the trimmed one.
///
/// # Errors
/// A sentence, if the file cannot be read or written.
pub fn for_print_shop(pdf: &[u8]) -> Result<Vec<u8>, String> {
    let mut document = file::load(pdf)?;
    for page in file::pages(&document) {
        let content = document.get_page_content(page);
        let mut content = printable(&content)?;
        let [width, height] = page_size(&document, page)?;
        content.extend_from_slice(crop_marks(width, height).as_bytes());
        let stream = document.add_object(compressed(Dictionary::new(), content)?);
        let dictionary = file::dictionary(&mut document, page)?;
        let before = dictionary.get(b"Contents").and_then(Object::as_reference);
        dictionary.set("Contents", Object::Reference(stream));
        for (key, beyond) in [
            ("MediaBox", BLEED + SLUG),
            ("CropBox", BLEED + SLUG),
            ("BleedBox", BLEED),
            ("TrimBox", 0.0),
        ] {
            let sides = [-beyond, -beyond, width + beyond, height + beyond];
            let sides = sides.map(|side| file::number(side * POINTS));
            dictionary.set(key, Object::Array(sides.to_vec()));
        }
        if let Ok(before) = before {
            document.objects.remove(&before);
        }
    }
    for id in forms(&document) {
        let Ok(Object::Stream(form)) = document.get_object(id) else {
            continue;
        };
        let content = form
            .decompressed_content()
            .unwrap_or_else(|_| form.content.clone());
        let mut about = form.dict.clone();
        for key in [&b"Filter"[..], b"DecodeParms", b"Length"] {
            about.remove(key);
        }
        let form = compressed(about, printable(&content)?)?;
        document.objects.insert(id, Object::Stream(form));
    }
    file::save(&mut document)
}

fn compressed(about: Dictionary, content: Vec<u8>) -> Result<Stream, String> {
    let mut stream = Stream::new(about, content);
    stream
        .compress()
        .map_err(|fault| format!("a page cannot be written: {fault}"))?;
    Ok(stream)
}

/// Width and height of a page, mm, whose lower left corner is the origin.
fn page_size(document: &Document, page: ObjectId) -> Result<[f64; 2], String> {
    let media = file::inherited(document, page, b"MediaBox");
    let sides = media.as_ref().and_then(|m| m.as_array().ok());
    let side = |i: usize| sides.and_then(|s| s.get(i)?.as_float().ok()).map(f64::from);
    match (side(2), side(3)) {
        (Some(width), Some(height)) => Ok([width / POINTS, height / POINTS]),
        _ => Err("a page has no size".to_string()),
    }
}

fn forms(document: &Document) -> Vec<ObjectId> {
    let is_form = |object: &Object| match object {
        Object::Stream(stream) => {
            let kind = stream.dict.get(b"Subtype").and_then(Object::as_name);
            kind.is_ok_and(|name| name == b"Form")
        }
        _ => false,
    };
    let all = document.objects.iter();
    all.filter(|(_, object)| is_form(object))
        .map(|(id, _)| *id)
        .collect()
}

/// The stream with its colours and thin lines changed, all else as it was.
fn printable(stream: &[u8]) -> Result<Vec<u8>, String> {
    let mut written = Vec::with_capacity(stream.len());
    let mut at = 0;
    let mut scales = vec![1.0_f64];
    for operation in operations(stream)? {
        let scale = scales.last().copied().unwrap_or(1.0);
        let changed = match operation.operator.as_str() {
            "q" => {
                scales.push(scale);
                None
            }
            "Q" => {
                if scales.len() > 1 {
                    scales.pop();
                }
                None
            }
            "cm" => {
                if let (Some(last), Some(own)) = (scales.last_mut(), scale_of(&operation)) {
                    *last *= own;
                }
                None
            }
            "w" => thick_enough(&operation, scale),
            _ => colours::changed(&operation),
        };
        if let Some(changed) = changed {
            written.extend_from_slice(&stream[at..operation.range.start]);
            written.push(b' ');
            written.extend_from_slice(changed.as_bytes());
            at = operation.range.end;
        }
    }
    written.extend_from_slice(&stream[at..]);
    Ok(written)
}

fn scale_of(operation: &Operation) -> Option<f64> {
    match operation.numbers[..] {
        [a, b, c, d, ..] => Some((a * d - b * c).abs().sqrt()),
        _ => None,
    }
}

fn thick_enough(operation: &Operation, scale: f64) -> Option<String> {
    let width = *operation.numbers.first()?;
    let thin = width * scale < THINNEST - 1e-6 && scale > 1e-9;
    thin.then(|| format!("{:.4} w", THINNEST / scale))
}

/// Eight marks outside the corners of the trim, as an artifact.
fn crop_marks(width: f64, height: f64) -> String {
    let mut text = format!("\n/Artifact BMC\nq 0 G {THINNEST} w [] 0 d\n");
    let mut line = |x0: f64, y0: f64, x1: f64, y1: f64| {
        let [x0, y0, x1, y1] = [x0, y0, x1, y1].map(|side| side * POINTS);
        text.push_str(&format!("{x0:.3} {y0:.3} m {x1:.3} {y1:.3} l S\n"));
    };
    let far = MARKS_FROM + MARK;
    for x in [0.0, width] {
        line(x, -MARKS_FROM, x, -far);
        line(x, height + MARKS_FROM, x, height + far);
    }
    for y in [0.0, height] {
        line(-MARKS_FROM, y, -far, y);
        line(width + MARKS_FROM, y, width + far, y);
    }
    text.push_str("Q\nEMC\n");
    text
}
