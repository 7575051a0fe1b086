//! Laying out half pages two-up for a saddle stitch: printed on both sides, folded, stapled in the fold.
//!
//! Every page becomes a form with its own resources and tags, so that the order of reading stays that of
//! the pages; links, destinations and bookmarks move with it. Lengths are mm.

mod marks;
mod moved;
#[cfg(test)]
mod tests;

use super::pdf::file::{self, POINTS};
use super::pdf::{Finish, Sides, finish};
use crate::language::Words;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

/// Pages in one saddle stitch from which it is thick (common practice).
pub const THICK: usize = 48;

/// More pages than this do not fold (common practice).
pub const TOO_THICK: usize = 80;

/// What a stapled booklet is printed on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StapledJob {
    /// Width and height of the lying sheet, mm.
    pub sheet: [f64; 2],
    /// Thickness of the paper, mm: 0.10 for 80 g/m² (common practice).
    pub thickness: f64,
    /// How much of its thickness a sheet pushes the next one outwards, 1 to π/2 (1.3, common practice).
    pub push: f64,
}

/// A laid-out booklet.
#[derive(Debug, Clone, PartialEq)]
pub struct Stapled {
    /// The file, one page for each side of a sheet.
    pub pdf: Vec<u8>,
    /// Pages of each side, left and right, from 1.
    pub order: Vec<[usize; 2]>,
    /// How far the pages of the innermost sheet are moved towards the fold, mm.
    pub creep: f64,
}

/// Pages on each side of each sheet, from 1: sheet i from 0 has N − 2i and 2i + 1 on its front, 2i + 2
/// and N − 2i − 1 on its back.
pub fn order(pages: usize) -> Vec<[usize; 2]> {
    (0..pages / 4)
        .flat_map(|i| [[pages - 2 * i, 2 * i + 1], [2 * i + 2, pages - 2 * i - 1]])
        .collect()
}

/// Lays the pages of `pdf` out; their number is a multiple of four, their size what is left of the
/// sheet when it is trimmed all round and folded. `said` holds what stands at the edge of each side.
///
/// # Errors
/// A sentence, if the file cannot be read, or the number or size of its pages does not fit.
pub fn stapled(pdf: &[u8], job: &StapledJob, said: &Words) -> Result<Stapled, String> {
    let mut document = file::load(pdf)?;
    let pages = file::pages(&document);
    let count = pages.len();
    if count == 0 || !count.is_multiple_of(4) {
        return Err(format!("{count} pages are no whole sheets of four"));
    }
    let order = order(count);
    let [width, height] = page_size(&document, &pages, job)?;
    let margin = (job.sheet[1] - height) / 2.0;
    let sides: Vec<ObjectId> = order.iter().map(|_| document.new_object_id()).collect();
    let mut places = Vec::new();
    for (side, halves) in order.iter().enumerate() {
        let creep = creep(side / 2, job);
        let lefts = [margin + creep, margin + width - creep];
        for (number, left) in halves.iter().zip(lefts) {
            places.push(moved::Place {
                page: pages[number - 1],
                form: document.new_object_id(),
                side: sides[side],
                by: [left * POINTS, margin * POINTS],
            });
        }
    }
    moved::move_all(&mut document, &places)?;
    for (side, halves) in places.chunks(2).enumerate() {
        let extra = marks::content((side, sides.len()), job.sheet, margin, said);
        write_side(
            &mut document,
            sides[side],
            halves,
            (job.sheet, margin),
            &extra,
        )?;
    }
    replace_pages(&mut document, &sides)?;
    for page in &pages {
        document.objects.remove(page);
    }
    let bytes = file::save(&mut document)?;
    let wishes = Finish {
        labels: order.iter().map(|[a, b]| format!("{a}, {b}")).collect(),
        sides: Some(Sides::ShortEdge),
        ..Finish::default()
    };
    Ok(Stapled {
        pdf: finish(&bytes, &wishes)?,
        creep: creep(count / 4 - 1, job),
        order,
    })
}

/// How far the pages of a sheet, counted from the outside from 0, are moved towards the fold, mm: the
/// sheets around it push it out by that, and trimming would take it off.
pub fn creep(sheet: usize, job: &StapledJob) -> f64 {
    job.push * job.thickness * sheet as f64
}

fn page_size(
    document: &Document,
    pages: &[ObjectId],
    job: &StapledJob,
) -> Result<[f64; 2], String> {
    let mut size = None;
    for page in pages {
        let media = file::inherited(document, *page, b"MediaBox");
        let sides = media.as_ref().and_then(|m| m.as_array().ok());
        let side = |i: usize| sides.and_then(|s| s.get(i)?.as_float().ok()).map(f64::from);
        let (Some(x0), Some(y0), Some(x1), Some(y1)) = (side(0), side(1), side(2), side(3)) else {
            return Err("a page has no size".to_string());
        };
        let own = [(x1 - x0) / POINTS, (y1 - y0) / POINTS];
        let known = *size.get_or_insert(own);
        if (known[0] - own[0]).abs() > 0.01 || (known[1] - own[1]).abs() > 0.01 {
            return Err("the pages differ in size".to_string());
        }
    }
    let [width, height] = size.unwrap_or_default();
    let (across, down) = (job.sheet[0] - 2.0 * width, job.sheet[1] - height);
    if down < 0.0 || (across - down).abs() > 0.05 {
        return Err(format!(
            "two pages of {width:.1} by {height:.1} mm do not leave an even border on a sheet of {} by \
             {} mm",
            job.sheet[0], job.sheet[1]
        ));
    }
    Ok([width, height])
}

fn write_side(
    document: &mut Document,
    id: ObjectId,
    halves: &[moved::Place],
    ([width, height], margin): ([f64; 2], f64),
    extra: &str,
) -> Result<(), String> {
    let mut content = String::new();
    let mut forms = Dictionary::new();
    let mut links = Vec::new();
    for (index, half) in halves.iter().enumerate() {
        let [x, y] = half.by;
        content.push_str(&format!("q 1 0 0 1 {x:.4} {y:.4} cm /Page{index} Do Q\n"));
        forms.set(format!("Page{index}"), Object::Reference(half.form));
        if let Some(Object::Array(own)) = file::inherited(document, half.page, b"Annots") {
            links.extend(own);
        }
    }
    content.push_str(extra);
    let mut stream = Stream::new(Dictionary::new(), content.into_bytes());
    stream
        .compress()
        .map_err(|fault| format!("a sheet cannot be written: {fault}"))?;
    let stream = document.add_object(stream);
    let mut resources = Dictionary::new();
    resources.set("XObject", Object::Dictionary(forms));
    let box_of = |inset: f64| {
        let sides = [inset, inset, width - inset, height - inset];
        Object::Array(sides.map(|side| file::number(side * POINTS)).to_vec())
    };
    let mut page = Dictionary::new();
    page.set("Type", Object::Name(b"Page".to_vec()));
    page.set("MediaBox", box_of(0.0));
    page.set("BleedBox", box_of(margin));
    page.set("TrimBox", box_of(margin));
    page.set("Resources", Object::Dictionary(resources));
    page.set("Contents", Object::Reference(stream));
    page.set("Tabs", Object::Name(b"S".to_vec()));
    if !links.is_empty() {
        page.set("Annots", Object::Array(links));
    }
    document.objects.insert(id, Object::Dictionary(page));
    Ok(())
}

/// The sides take the place of all pages.
fn replace_pages(document: &mut Document, sides: &[ObjectId]) -> Result<(), String> {
    let root = file::catalogue(document)?
        .get(b"Pages")
        .and_then(Object::as_reference)
        .map_err(|_| "the PDF has no tree of pages".to_string())?;
    for side in sides {
        file::dictionary(document, *side)?.set("Parent", Object::Reference(root));
    }
    let mut tree = Dictionary::new();
    tree.set("Type", Object::Name(b"Pages".to_vec()));
    tree.set("Count", Object::Integer(sides.len() as i64));
    let kids = sides.iter().copied().map(Object::Reference).collect();
    tree.set("Kids", Object::Array(kids));
    document.objects.insert(root, Object::Dictionary(tree));
    Ok(())
}
