//! The edition for a print shop: single pages with bleed, crop marks and page boxes, black in black
//! only, no line too thin to print. Pictures stay as they are: a photograph is the shop's to convert.
//!
//! Lengths are mm, colours 0 to 1.

mod colours;
mod content;
#[cfg(test)]
mod tests;

use super::pdf::file::{self, POINTS};
pub use content::THINNEST;
use content::{Ready, least_scale, ready};
use kurbo::Affine;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::BTreeMap;

/// Ink may run this far over the trim, mm (common practice: 3 mm or 1/8 in).
pub const BLEED: f64 = 3.0;

/// What stands outside the bleed on each side, mm: room for the crop marks.
const SLUG: f64 = 7.0;

/// Crop marks begin this far outside the trim, mm, clear of the bleed.
const MARKS_FROM: f64 = 3.5;

/// Length of a crop mark, mm.
const MARK: f64 = 5.0;

/// Forms drawn by forms are followed no deeper than this.
const MAX_DEPTH: usize = 16;

/// The pages of `pdf` made ready for a print shop; each page is the trimmed one.
///
/// # Errors
/// A sentence, if the file cannot be read or written.
pub fn for_print_shop(pdf: &[u8]) -> Result<Vec<u8>, String> {
    let mut document = file::load(pdf)?;
    let mut forms = Forms::default();
    for page in file::pages(&document) {
        let content = document.get_page_content(page);
        let Ready { mut bytes, drawn } = ready(&content, Affine::IDENTITY)?;
        let resources = file::inherited(&document, page, b"Resources");
        forms.follow(&document, resources.as_ref(), drawn, MAX_DEPTH)?;
        let [width, height] = page_size(&document, page)?;
        bytes.extend_from_slice(crop_marks(width, height).as_bytes());
        let stream = document.add_object(compressed(Dictionary::new(), bytes)?);
        let dictionary = file::dictionary(&mut document, page)?;
        let before = dictionary.get(b"Contents").and_then(Object::as_reference);
        dictionary.set("Contents", Object::Reference(stream));
        in_inks(dictionary);
        set_boxes(dictionary, width, height);
        if let Ok(before) = before {
            document.objects.remove(&before);
        }
    }
    for (id, axes) in forms.axes {
        let Ok(Object::Stream(form)) = document.get_object(id) else {
            continue;
        };
        let content = ready(&plain(form), axes)?.bytes;
        let mut about = form.dict.clone();
        for key in [&b"Filter"[..], b"DecodeParms", b"Length"] {
            about.remove(key);
        }
        in_inks(&mut about);
        let form = compressed(about, content)?;
        document.objects.insert(id, Object::Stream(form));
    }
    file::save(&mut document)
}

fn plain(stream: &Stream) -> Vec<u8> {
    let plain = stream.decompressed_content();
    plain.unwrap_or_else(|_| stream.content.clone())
}

/// What is mixed in a group is mixed of inks, so that black stays black (ISO 32000-1, 11.4.7).
fn in_inks(about: &mut Dictionary) {
    if let Ok(Object::Dictionary(group)) = about.get_mut(b"Group")
        && group.has(b"CS")
    {
        group.set("CS", Object::Name(b"DeviceCMYK".to_vec()));
    }
}

fn set_boxes(page: &mut Dictionary, width: f64, height: f64) {
    for (key, beyond) in [
        ("MediaBox", BLEED + SLUG),
        ("CropBox", BLEED + SLUG),
        ("BleedBox", BLEED),
        ("TrimBox", 0.0),
    ] {
        let sides = [-beyond, -beyond, width + beyond, height + beyond];
        let sides = sides.map(|side| file::number(side * POINTS));
        page.set(key, Object::Array(sides.to_vec()));
    }
}

/// The forms that are drawn, each with the axes in which it is drawn smallest.
#[derive(Default)]
struct Forms {
    axes: BTreeMap<ObjectId, Affine>,
}

impl Forms {
    /// Notes the forms among `drawn`, names of `resources`, and those that they draw.
    fn follow(
        &mut self,
        document: &Document,
        resources: Option<&Object>,
        drawn: Vec<(String, Affine)>,
        depth: usize,
    ) -> Result<(), String> {
        let named = |name: &str| {
            let resources = resources?.as_dict().ok()?;
            let (_, all) = document.dereference(resources.get(b"XObject").ok()?).ok()?;
            let id = all.as_dict().ok()?.get(name.as_bytes()).ok()?;
            let id = id.as_reference().ok()?;
            let form = document.get_object(id).ok()?.as_stream().ok()?;
            let kind = form.dict.get(b"Subtype").and_then(Object::as_name);
            kind.is_ok_and(|kind| kind == b"Form").then_some((id, form))
        };
        for (name, axes) in drawn {
            let Some((id, form)) = named(&name) else {
                continue;
            };
            let axes = axes * own_matrix(form);
            let known = self.axes.get(&id);
            if depth == 0 || known.is_some_and(|k| least_scale(*k) <= least_scale(axes)) {
                continue;
            }
            self.axes.insert(id, axes);
            let inner = ready(&plain(form), axes)?.drawn;
            let own = form.dict.get(b"Resources").ok();
            let own = own.and_then(|own| document.dereference(own).ok());
            let own = own.map(|(_, own)| own).or(resources);
            self.follow(document, own, inner, depth - 1)?;
        }
        Ok(())
    }
}

fn own_matrix(form: &Stream) -> Affine {
    let numbers = form.dict.get(b"Matrix").and_then(Object::as_array);
    let numbers = numbers.map(|all| {
        let numbers = all.iter().filter_map(|n| n.as_float().ok());
        numbers.map(f64::from).collect::<Vec<f64>>()
    });
    let numbers: Option<[f64; 6]> = numbers.ok().and_then(|all| all.try_into().ok());
    numbers.map_or(Affine::IDENTITY, Affine::new)
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
