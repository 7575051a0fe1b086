//! Cloth for the booklet: the list of cloths, the amounts by size, and the layouts drawn.

mod room;
mod same;
#[cfg(test)]
mod tests;

use super::Computed;
use crate::design::{Cloth, Design, Stock, printed};
use crate::figure::{self, Figure, LayoutRoom, LayoutWords};
use crate::geometry::units::INCH;
use crate::language::Places;
use crate::materials::{Amount, Bought, Laid, Layout};
use crate::plates::words::TIED;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// By which factor letters are larger for large print, where drawings grow with the page besides: the number of
/// a piece comes near to the type of the text.
const LARGE_LETTERS: f64 = 1.7;

/// What the template is told, and the drawings by path.
#[derive(Debug, Default)]
pub(super) struct ClothData {
    /// By the name of the entry in `data.json`.
    pub(super) parts: Vec<(&'static str, Value)>,
    /// The drawings.
    pub(super) files: BTreeMap<String, Vec<u8>>,
    /// The layouts with letters for large print, where anything is set in it: they take more room.
    pub(super) large: Layouts,
}

impl ClothData {
    /// The layouts of the first cloth in the way it is sold first: the words for each, and the drawing.
    pub(super) fn first_layouts(&self) -> Vec<(String, &[u8])> {
        let layouts = self.parts.iter().find(|(name, _)| *name == "layouts");
        let layouts = layouts.and_then(|(_, layouts)| layouts.as_array());
        let all = layouts.map_or(&[][..], Vec::as_slice);
        let alike = |layout: &&Value| {
            let first = &all[0];
            layout["cloth"] == first["cloth"] && layout["sold"] == first["sold"]
        };
        let drawn = |layout: &Value| {
            let svg = layout["svg"].as_str()?.trim_start_matches('/');
            let alt = layout["alt"].as_str()?.to_string();
            Some((alt, self.files.get(svg)?.as_slice()))
        };
        all.iter().filter(alike).filter_map(drawn).collect()
    }
}

/// Draws all layouts and gathers the amounts, once for all papers; `large`: the drawings with larger letters,
/// too.
pub(super) fn cloth_data(computed: &Computed, large: bool) -> ClothData {
    let design = &computed.design;
    let mut usual = Layouts::default();
    let mut larger = Layouts::default();
    let sets = sets(computed);
    let rooms = room::for_all(design, &sets);
    for (set, room) in sets.iter().zip(rooms) {
        usual.draw(design, set, room);
        if large {
            let lettered = LayoutRoom {
                larger: LARGE_LETTERS,
                ..room
            };
            larger.draw(design, set, lettered);
        }
    }
    ClothData {
        parts: vec![
            ("materials", materials(computed)),
            ("amounts", amounts(computed)),
            ("layouts", Value::Array(usual.told)),
        ],
        files: usual.files,
        large: larger,
    }
}

/// Layouts that are drawn.
#[derive(Debug, Default)]
pub(super) struct Layouts {
    /// What the template is told of each.
    pub(super) told: Vec<Value>,
    /// The drawings, by path.
    pub(super) files: BTreeMap<String, Vec<u8>>,
}

impl Layouts {
    fn draw(&mut self, design: &Design, set: &LayoutSet<'_>, room: LayoutRoom) {
        let cloth = set.cloth;
        for (bought, laid, figure, says) in drawn(design, &set.laid, &cloth.name, room) {
            let path = format!("layouts/{}.svg", self.files.len() + 1);
            let mut entry = entry(design, (bought, laid), &figure, &path, cloth);
            entry["also"] = json!(set.also);
            entry["left_drawn"] = json!(says);
            self.told.push(entry);
            self.files.insert(path, figure.svg);
        }
    }
}

/// The layouts of a cloth in one of the ways it is sold.
struct LayoutSet<'c> {
    cloth: &'c Cloth,
    /// Other ways for which they serve as well.
    also: Vec<&'c str>,
    laid: Vec<(&'c Bought, &'c Laid)>,
}

/// The layouts that are drawn, in the order of the design's cloths.
fn sets(computed: &Computed) -> Vec<LayoutSet<'_>> {
    let mut sets = Vec::new();
    for cloth in &computed.design.cloth {
        let bought = computed.materials.bought.iter();
        let bought: Vec<&Bought> = bought.filter(|b| b.cloth == cloth.key).collect();
        for (sold, also) in same::drawn_for(&bought, ways(computed, &cloth.key)) {
            let own = bought.iter().filter(|b| b.sold == sold);
            let laid = own.flat_map(|b| b.layout.laid.iter().map(move |laid| (*b, laid)));
            sets.push(LayoutSet {
                cloth,
                also,
                laid: laid.collect(),
            });
        }
    }
    sets
}

/// The ways in which a cloth is sold, in the order of the design.
fn ways<'c>(computed: &'c Computed, cloth: &str) -> Vec<&'c str> {
    let mut ways: Vec<&str> = Vec::new();
    for bought in computed
        .materials
        .bought
        .iter()
        .filter(|b| b.cloth == cloth)
    {
        if !ways.contains(&bought.sold.as_str()) {
            ways.push(&bought.sold);
        }
    }
    ways
}

/// A layout with its drawing, and whether that says what is left over.
type Drawn<'c> = (&'c Bought, &'c Laid, Figure, bool);

/// The layouts of one cloth, drawn in that room.
fn drawn<'c>(
    design: &Design,
    all: &[(&'c Bought, &'c Laid)],
    cloth: &str,
    room: LayoutRoom,
) -> Vec<Drawn<'c>> {
    let figure = |(bought, laid): &(&'c Bought, &'c Laid)| {
        let words = words(design, (bought, laid), cloth);
        let figure = figure::layout(&bought.layout, laid, room, &words);
        let says = figure::says_what_is_left(&bought.layout, laid, room, &words);
        (*bought, *laid, figure, says)
    };
    all.par_iter().map(figure).collect()
}

fn entry(
    design: &Design,
    (bought, laid): (&Bought, &Laid),
    figure: &Figure,
    path: &str,
    cloth: &Cloth,
) -> Value {
    let layout = &bought.layout;
    let index = layout
        .laid
        .iter()
        .position(|other| std::ptr::eq(other, laid));
    let several = layout.laid.len() > 1;
    json!({
        "cloth": cloth.name,
        "size": bought.title,
        "sold": bought.sold,
        "amount": bought.text,
        "sheet": index.filter(|_| several).map(|index| index + 1),
        "of": layout.laid.len(),
        "one_to": (1.0 / figure.scale * 10.0).round() / 10.0,
        "turned": has_turned(layout, laid),
        "opened": has_opened(layout, laid),
        "shorter": design.lengths.both && bought.amount.lengths_differ(),
        "alike": cloth.sides_alike,
        "fused": cloth.is_fused(&design.words),
        "either": has_either(layout, laid),
        "single": cut_singly(layout, laid),
        "double": layout.double,
        "roll": matches!(layout.stock, Stock::Roll(_)),
        "grain": layout.has_grain && layout.lay.pieces.iter().any(|p| p.grain.is_some()),
        "scrap": scrap(design, bought, laid),
        "left": left_over(design, layout, laid),
        "svg": format!("/{path}"),
        "alt": figure.alt,
        "width": figure.width,
        "height": figure.height,
    })
}

/// The list of cloths; what the amounts say too is left to them.
fn materials(computed: &Computed) -> Value {
    let row = |row: &crate::materials::ClothRow| {
        json!({
            "key": row.key,
            "name": row.name,
            "kind": row.kind,
            "about": row.facts.join(", "),
            "lines": [],
            "note": row.note,
        })
    };
    computed.materials.cloth.iter().map(row).collect()
}

/// One row for each cloth and each way it is sold, with the amount of every size.
fn amounts(computed: &Computed) -> Value {
    let design = &computed.design;
    let mut titles: Vec<(&str, &str)> = Vec::new();
    for bought in &computed.materials.bought {
        if !titles.iter().any(|(key, _)| *key == bought.size) {
            titles.push((&bought.size, &bought.title));
        }
    }
    let mut rows = Vec::new();
    for cloth in &design.cloth {
        let own = || {
            computed
                .materials
                .bought
                .iter()
                .filter(|b| b.cloth == cloth.key)
        };
        for way in ways(computed, &cloth.key) {
            let of = |key: &str| own().find(|b| b.sold == way && b.size == key);
            let each = |text: &dyn Fn(&Bought) -> Value| -> Vec<Value> {
                let cells = titles
                    .iter()
                    .map(|(key, _)| of(key).map_or(Value::Null, text));
                cells.collect()
            };
            let kits: Vec<Value> = design
                .kits
                .iter()
                .enumerate()
                .map(|(i, times)| {
                    json!({
                        "times": times,
                        "amounts": each(&|b| json!(b.kits.get(i).map(|kit| &kit.text))),
                    })
                })
                .collect();
            let mut sold = own().filter(|b| b.sold == way);
            let in_sheets = sold.all(|b| matches!(b.amount, Amount::Sheets { .. }));
            rows.push(json!({
                "cloth": cloth.name,
                "sold": way,
                "in_sheets": in_sheets,
                "amounts": each(&|b| json!(b.text)),
                "per_sheet": each(&|b| json!(b.per_sheet)),
                "kits": kits,
            }));
        }
    }
    let titles: Vec<&str> = titles.iter().map(|(_, title)| *title).collect();
    json!({"sizes": titles, "rows": rows})
}

fn has_turned(layout: &Layout, laid: &Laid) -> bool {
    laid.placed.iter().any(|placed| {
        let piece = &layout.lay.pieces[placed.piece];
        piece.turned_over != (placed.onto.determinant() < 0.0)
    })
}

/// Numbers of the pieces that are cut through one layer of cloth that is laid double.
fn cut_singly(layout: &Layout, laid: &Laid) -> BTreeSet<usize> {
    let pieces = laid
        .placed
        .iter()
        .map(|placed| &layout.lay.pieces[placed.piece]);
    let single = pieces.filter(|piece| layout.double && piece.gives == 1 && !piece.on_fold);
    single.map(|piece| piece.number).collect()
}

/// Whether a piece may lie either way up.
fn has_either(layout: &Layout, laid: &Laid) -> bool {
    let mut placed = laid.placed.iter();
    placed.any(|placed| layout.lay.pieces[placed.piece].either_face)
}

fn has_opened(layout: &Layout, laid: &Laid) -> bool {
    let mut placed = laid.placed.iter();
    placed.any(|placed| layout.lay.pieces[placed.piece].opened_at.is_some())
}

/// What piece of a wide cloth is enough, in words.
fn scrap(design: &Design, bought: &Bought, laid: &Laid) -> Option<String> {
    let Stock::Roll(width) = bought.layout.stock else {
        return None;
    };
    let taken = laid.taken(&bought.layout.lay);
    if bought.layout.double || taken.height() > width / 2.0 {
        return None;
    }
    Some(rough(design, [taken.width(), taken.height()], Rounded::Up))
}

/// Which way lengths of cloth are rounded.
#[derive(Clone, Copy)]
enum Rounded {
    /// Never less than is wanted.
    Up,
    /// Never more than is there.
    Down,
}

/// Two lengths of cloth as `20 by 6 cm (8 by 2 1⁄2 in)`, in whole centimetres and half inches.
fn rough(design: &Design, sides: [f64; 2], rounded: Rounded) -> String {
    // a length that is a whole step but for the last digits is that step
    let whole = |mm: f64, step: f64| match rounded {
        Rounded::Up => (mm / step - 1e-9).ceil(),
        Rounded::Down => (mm / step + 1e-9).floor(),
    };
    // no line ends within one of the two
    let by = |a: &str, b: &str| {
        let sides = design.words.say("language.by", &[("a", &a), ("b", &b)]);
        sides.replace(' ', TIED)
    };
    let [a, b] = sides;
    let [across, down] = sides.map(|mm| format!("{:.0}", whole(mm, 10.0)));
    let metric = by(&across, &format!("{down} cm"));
    let half = INCH / 2.0;
    let inches = |mm: f64| printed::inch(whole(mm, half) * half, 2).unwrap_or_default();
    if whole(a.min(b), half) < 1.0 {
        return metric;
    }
    let inches = by(inches(a).trim_end_matches("in").trim_end(), &inches(b));
    design.lengths.pair(&metric, &inches)
}

/// What is left of a sheet or length, in words, in the measures of the design; a strip narrower than half an
/// inch is not worth telling.
fn left_over(design: &Design, layout: &Layout, laid: &Laid) -> Option<String> {
    let [a, b] = layout.left_of(laid)?;
    let size = rough(design, [a, b], Rounded::Down);
    let told = design.words.say("figures.left over", &[("length", &size)]);
    (a.min(b) >= INCH / 2.0).then_some(told)
}

fn words(design: &Design, (bought, laid): (&Bought, &Laid), cloth: &str) -> LayoutWords {
    let words = &design.words;
    let layout = &bought.layout;
    let mut counts: BTreeMap<(usize, &str), u32> = BTreeMap::new();
    for placed in &laid.placed {
        let piece = &layout.lay.pieces[placed.piece];
        *counts.entry((piece.number, &piece.title)).or_default() += piece.gives;
    }
    let pieces: Vec<String> = counts
        .iter()
        .map(|((number, title), count)| {
            let places: Places<'_> = &[("count", count), ("number", number), ("piece", title)];
            words.say("figures.laid", places)
        })
        .collect();
    LayoutWords {
        selvedge: words.get("figures.selvedge").to_string(),
        fold: words.get("figures.cloth fold").to_string(),
        left_over: left_over(design, layout, laid),
        alt: words.say(
            "figures.layout",
            &[
                ("size", &bought.title),
                ("cloth", &cloth),
                ("sold", &bought.sold),
                ("pieces", &pieces.join("; ")),
                ("amount", &bought.text),
            ],
        ),
    }
}
