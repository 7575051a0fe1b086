//! All pieces of a design for the programs of the trade: DXF after ASTM D6673-10, "Standard Practice for
//! Sewn Products Pattern Data Interchange" (withdrawn in 2019 without successor, and still what is read).
//!
//! One style a file; one block a piece and size, `piece_size`; each put in once, the sizes below each
//! other. Millimetres. Curves are rows of straight lines that lie within 0.002 mm of them. Entities are
//! those of AutoCAD's Release 12, which readers of every later release know.

mod block;
mod flat;
mod tags;
#[cfg(test)]
mod tests;

use super::form::forms;
use crate::design::Design;
use crate::language::phrase::Day;
use crate::piece::SizedPieces;
use block::{LEADING, LETTERS, PieceBlock, layer};
use kurbo::{Point, Rect};
use std::collections::BTreeSet;
use tags::Tags;

/// Names of Release 12 are no longer.
const LONGEST_NAME: usize = 31;

/// Between the pieces as they are put in, mm.
const APART: f64 = 20.0;

/// The pieces of all `sizes`; `day` is when the file was made, if that is told.
pub fn dxf(design: &Design, sizes: &[SizedPieces], day: Option<Day>) -> String {
    let blocks = blocks(design, sizes);
    let places = places(&blocks);
    let all = blocks.iter().zip(&places).map(|(block, at)| {
        let bounds = block.bounds();
        bounds + at.to_vec2()
    });
    let extent = all.reduce(|a, b| a.union(b)).unwrap_or_default();
    let mut tags = Tags::default();
    tags.section("HEADER", |tags| header(extent, tags));
    tags.section("TABLES", tables);
    tags.section("BLOCKS", |tags| {
        for block in &blocks {
            block.write(design, tags);
        }
    });
    tags.section("ENTITIES", |tags| {
        for (block, at) in blocks.iter().zip(&places) {
            tags.insert(layer::BOUNDARY, &block.name, *at);
        }
        style_texts(design, day, extent, tags);
    });
    tags.finish()
}

fn header(extent: Rect, tags: &mut Tags) {
    tags.tag(9, "$ACADVER");
    tags.tag(1, "AC1009");
    // millimetres, and metric
    for (name, value) in [("$INSUNITS", 4), ("$MEASUREMENT", 1)] {
        tags.tag(9, name);
        tags.whole(70, value);
    }
    for (name, at) in [
        ("$EXTMIN", Point::new(extent.x0, extent.y1)),
        ("$EXTMAX", Point::new(extent.x1, extent.y0)),
    ] {
        tags.tag(9, name);
        tags.point(10, at);
    }
}

fn tables(tags: &mut Tags) {
    table("LTYPE", 1, tags, |tags| {
        tags.tag(0, "LTYPE");
        tags.tag(2, "CONTINUOUS");
        tags.whole(70, 0);
        tags.tag(3, "Solid line");
        tags.whole(72, 65);
        tags.whole(73, 0);
        tags.length(40, 0.0);
    });
    let layers: Vec<u32> = std::iter::once(0).chain(layer::ALL).collect();
    table("LAYER", layers.len(), tags, |tags| {
        for name in &layers {
            tags.tag(0, "LAYER");
            tags.whole(2, i64::from(*name));
            tags.whole(70, 0);
            // black or white, whichever is seen
            tags.whole(62, 7);
            tags.tag(6, "CONTINUOUS");
        }
    });
    table("STYLE", 1, tags, |tags| {
        tags.tag(0, "STYLE");
        tags.tag(2, "STANDARD");
        tags.whole(70, 0);
        tags.length(40, 0.0);
        tags.length(41, 1.0);
        tags.length(50, 0.0);
        tags.whole(71, 0);
        tags.length(42, LETTERS);
        tags.tag(3, "txt");
        tags.tag(4, "");
    });
}

fn table(name: &str, entries: usize, tags: &mut Tags, content: impl FnOnce(&mut Tags)) {
    tags.tag(0, "TABLE");
    tags.tag(2, name);
    tags.whole(70, entries as i64);
    content(tags);
    tags.tag(0, "ENDTAB");
}

/// What all pieces have in common, below them.
fn style_texts(design: &Design, day: Option<Day>, extent: Rect, tags: &mut Tags) {
    let mut lines = vec![format!("Style Name: {}", design.title)];
    lines.extend(design.by.iter().map(|by| format!("Author: {by}")));
    lines.extend(day.map(|day| {
        format!(
            "Creation Date: {}-{:02}-{:02}",
            day.year, day.month, day.day
        )
    }));
    lines.push("Units: METRIC".to_string());
    let mut at = Point::new(extent.x0, extent.y1 + APART);
    let lines = lines.into_iter().map(|line| (layer::BOUNDARY, line));
    for (layer, line) in lines.chain([(layer::NOTE, design.edition_words())]) {
        tags.words(layer, at, LETTERS, &line);
        at.y += LEADING;
    }
}

/// The pieces of all sizes in all their forms.
fn blocks<'a>(design: &Design, sizes: &'a [SizedPieces]) -> Vec<PieceBlock<'a>> {
    let mut taken = BTreeSet::new();
    let mut blocks = Vec::new();
    for sized in sizes {
        for piece in &sized.pieces {
            for form in forms(piece, &design.shop.cutting) {
                let second = form.without_allowance && form.is_one_of_two;
                let more = if second { "-bare" } else { "" };
                let wanted = [format!("{}{more}", piece.key), sized.size.clone()];
                blocks.push(PieceBlock {
                    name: name(&wanted, piece.number, &mut taken),
                    form,
                    size: &sized.size,
                    size_title: &sized.title,
                });
            }
        }
    }
    blocks
}

/// `piece_size` in letters that a name may have; where that is too long or taken, the piece by its number,
/// and a further number behind it.
fn name([piece, size]: &[String; 2], number: usize, taken: &mut BTreeSet<String>) -> String {
    let fit = |text: &str| -> String {
        let fits = |c: char| c.is_ascii_alphanumeric() || c == '-';
        text.chars()
            .map(|c| if fits(c) { c } else { '-' })
            .collect()
    };
    let short = |text: &str, most: usize| -> String { text.chars().take(most).collect() };
    let plain = format!("{}_{}", fit(piece), fit(size));
    let numbered = format!("piece-{number}_{}", short(&fit(size), 12));
    let more = (2..).map(|n| format!("{numbered}_{n}"));
    let mut names = [plain, numbered.clone()].into_iter().chain(more);
    let free = |name: &String| name.len() <= LONGEST_NAME && taken.insert(name.to_lowercase());
    names.find(free).unwrap_or(numbered)
}

/// Where each block is put in: a row for each size, from the left, below each other.
fn places(blocks: &[PieceBlock<'_>]) -> Vec<Point> {
    let mut places = Vec::with_capacity(blocks.len());
    let mut top = 0.0;
    for row in blocks.chunk_by(|a, b| a.size == b.size) {
        let (mut left, mut high) = (0.0_f64, 0.0_f64);
        for block in row {
            let bounds = block.bounds();
            places.push(Point::new(left - bounds.x0, top - bounds.y0));
            left += bounds.width() + APART;
            high = high.max(bounds.height());
        }
        top += high + APART;
    }
    places
}
