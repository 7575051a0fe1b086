//! `cloth` of a design.

use super::Reading;
use super::feet::drawn_path;
use super::fields::Fields;
use super::head::optional;
use super::node::{Entry, Kind, Node};
use super::prices;
use crate::design::cloth::{SPACING, habits};
use crate::design::{Cloth, ClothHabits, ClothKind, Stock, Stretch};
use crate::language::Words;
use kurbo::{PathEl, Point, Shape};

/// Kits for more than this are beyond what is packed by hand.
const MOST_IN_A_KIT: u32 = 500;

/// Amounts are packed anew for each kit.
const MOST_KITS: usize = 12;

/// The outline of a hide is taken as straight pieces this near to it, mm.
const HIDE_FLAT: f64 = 0.2;

/// The design's `cloth`, in order.
pub(super) fn cloth(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Cloth> {
    let Some(node) = fields.take("cloth", reading) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for entry in reading.named(node, "a cloth") {
        reading.cloths.push(entry.key.clone());
        list.extend(one_cloth(entry, reading));
    }
    list
}

/// `kits`: for how many amounts are given.
pub(super) fn kits(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<u32> {
    let Some(node) = fields.take("kits", reading) else {
        return Vec::new();
    };
    let mut kits: Vec<u32> = Vec::new();
    let items = reading.list(node);
    reading.not_too_many("kits", MOST_KITS, items.iter().map(|item| &item.place));
    for item in items {
        match reading.count(item, "a kit", 2..=MOST_IN_A_KIT) {
            Some(kit) if kits.contains(&kit) => {
                let message = format!("a kit of {kit} is named twice");
                reading.error("same-name", &item.place, message, "keep one of them");
            }
            Some(kit) => kits.push(kit),
            None => {}
        }
    }
    kits
}

/// The kind in English words where the design's own language has others for it.
fn kind_in(words: &Words, kind: Option<String>, name: &str) -> Option<String> {
    let told = kind.as_deref().unwrap_or(name);
    if ClothKind::named(told).is_some() {
        return kind;
    }
    let known = |kind: &ClothKind| words.knows(&format!("known.{}", kind.words()), told);
    // what is knitted of cotton is no woven cloth: the plainest words are looked for last
    let woven = |kind: &ClothKind| *kind == ClothKind::Woven;
    let mut kinds = ClothKind::ALL.to_vec();
    kinds.sort_by_key(woven);
    let found = kinds.into_iter().find(known);
    found.map(|kind| kind.words().to_string()).or(kind)
}

/// What is usual for a cloth of this kind, which the design tells in its own words.
fn habits_in(words: &Words, kind: &str, told: &str) -> ClothHabits {
    let is_backing = |words: &Words| words.knows("known.backing", told);
    match is_backing(words) && !is_backing(&Words::default()) {
        true if words.knows("known.woven cloth", told) => habits("woven interfacing"),
        true => habits("interfacing"),
        false => habits(kind),
    }
}

fn one_cloth(entry: &Entry, reading: &mut Reading<'_>) -> Option<Cloth> {
    let key = entry.key.clone();
    let what = format!("cloth ‘{key}’");
    let mut fields = Fields::of(&entry.value, "cloth.CLOTH", what, reading)?;
    let name = optional(&mut fields, "name", reading).unwrap_or_else(|| key.clone());
    let kind = optional(&mut fields, "kind", reading);
    let told = kind.clone().unwrap_or_else(|| name.clone());
    let kind = kind_in(&reading.words, kind, &name);
    let thickness = length(&mut fields, "thickness", reading);
    let stock = stock(&mut fields, reading);
    let usual = habits_in(&reading.words, kind.as_deref().unwrap_or(&name), &told);
    let laid = laid(&mut fields, reading);
    let shrinkage = fields.take("shrinkage", reading);
    let shrinkage = shrinkage.map_or([0.0; 2], |node| shrinkage_of(node, reading));
    let spacing = fields.take("spacing", reading);
    let spacing = spacing.and_then(|node| or_none(node, "‘spacing’", reading));
    let selvedge = fields.take("selvedge", reading);
    let selvedge = selvedge.and_then(|node| or_none(node, "‘selvedge’", reading));
    let price = fields.take("price", reading);
    let price = price.and_then(|node| prices::price(node, reading));
    let weight = fields.take("weight", reading);
    let weight = weight.and_then(|node| prices::weight_of_cloth(node, reading));
    let note = optional(&mut fields, "note", reading);
    fields.finish(reading);
    let rolls = stock.iter().any(|stock| matches!(stock, Stock::Roll(_)));
    Some(Cloth {
        key,
        name,
        kind,
        thickness,
        selvedge: selvedge.unwrap_or(if rolls { usual.selvedge } else { 0.0 }),
        stock,
        sides_alike: laid.sides_alike.unwrap_or(usual.sides_alike),
        has_grain: laid.has_grain.unwrap_or(usual.has_grain),
        one_way: laid.one_way,
        double: laid.double,
        stretch: laid.stretch,
        shrinkage,
        spacing: spacing.unwrap_or(SPACING),
        price,
        weight,
        note,
        place: entry.place.clone(),
    })
}

/// What is said of how pieces lie.
struct Laid {
    sides_alike: Option<bool>,
    has_grain: Option<bool>,
    one_way: bool,
    double: bool,
    stretch: Option<Stretch>,
}

fn laid(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Laid {
    let sides = [("alike", true), ("right and wrong", false)];
    let ways = [("either way", false), ("one way", true)];
    let lays = [("single", false), ("double", true)];
    let stretches = [
        ("none", None),
        ("across", Some(Stretch::Across)),
        ("along", Some(Stretch::Along)),
        ("both ways", Some(Stretch::BothWays)),
    ];
    let has_grain = fields.take("grain", reading);
    Laid {
        sides_alike: choice(fields, "sides", "the sides of a cloth", &sides, reading),
        has_grain: has_grain.and_then(|node| reading.yes_no(node, "‘grain’")),
        one_way: choice(fields, "pieces lie", "how pieces lie", &ways, reading).unwrap_or(false),
        double: choice(fields, "lay", "how the cloth is laid", &lays, reading).unwrap_or(false),
        stretch: choice(fields, "stretch", "a way to stretch", &stretches, reading).flatten(),
    }
}

fn choice<T: Copy>(
    fields: &mut Fields<'_>,
    key: &'static str,
    what: &str,
    words: &[(&str, T)],
    reading: &mut Reading<'_>,
) -> Option<T> {
    let node = fields.take(key, reading)?;
    reading.choice(node, what, words)
}

fn length(fields: &mut Fields<'_>, key: &'static str, reading: &mut Reading<'_>) -> Option<f64> {
    let node = fields.take(key, reading)?;
    reading.length(node, &format!("‘{key}’"))
}

/// A length, or `none`.
fn or_none(node: &Node, what: &str, reading: &mut Reading<'_>) -> Option<f64> {
    match node.scalar() {
        Some(scalar) if scalar.text.trim() == "none" => Some(0.0),
        _ => reading.length(node, what),
    }
}

/// A share for both ways, or one for each.
fn shrinkage_of(node: &Node, reading: &mut Reading<'_>) -> [f64; 2] {
    let share = |node: &Node, reading: &mut Reading<'_>| {
        reading.ratio(node, "‘shrinkage’", 0.0..=0.3).unwrap_or(0.0)
    };
    if !matches!(node.kind, Kind::Mapping(_)) {
        return [share(node, reading); 2];
    }
    let group = "cloth.CLOTH.shrinkage";
    let Some(mut fields) = Fields::of(node, group, "‘shrinkage’", reading) else {
        return [0.0; 2];
    };
    let shares = ["along", "across"].map(|way| {
        let node = fields.take(way, reading);
        node.map_or(0.0, |node| share(node, reading))
    });
    fields.finish(reading);
    shares
}

/// `sheet`, `hide` and `width`: the first two, or one of several widths, each once.
fn stock(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Stock> {
    let mut stock = Vec::new();
    if let Some(node) = fields.take("sheet", reading) {
        for item in reading.list(node) {
            stock.extend(sheet(item, reading).map(Stock::Sheet));
        }
    }
    if let Some(node) = fields.take("hide", reading) {
        stock.extend(hide(node, reading).map(Stock::Hide));
    }
    if let Some(node) = fields.take("width", reading) {
        for item in reading.list(node) {
            stock.extend(reading.length(item, "‘width’").map(Stock::Roll));
        }
    }
    if (1..stock.len()).any(|i| stock[..i].contains(&stock[i])) {
        let message = "the same sheet or width is given twice";
        reading.error("same-name", fields.place(), message, "keep one of them");
    }
    stock
}

/// A closed path of a drawing as a ring whose box begins at the origin.
fn hide(node: &Node, reading: &mut Reading<'_>) -> Option<Vec<Point>> {
    let path = drawn_path(node, "cloth.CLOTH.hide", "‘hide’", reading)?;
    let origin = path.bounding_box().origin().to_vec2();
    let mut ring: Vec<Point> = Vec::new();
    kurbo::flatten(&path, HIDE_FLAT, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            ring.push(p - origin);
        }
    });
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    Some(ring)
}

/// `9 in x 12 in`, in mm.
fn sheet(node: &Node, reading: &mut Reading<'_>) -> Option<[f64; 2]> {
    let text = reading.text(node, "‘sheet’")?;
    let Some((across, down)) = text.split_once(" x ").or_else(|| text.split_once('×')) else {
        let message = format!("‘{text}’ is no size of a sheet");
        let remedy = "write both sides, with an x between: 9 in x 12 in";
        reading.error("wrong-type", &node.place, message, remedy);
        return None;
    };
    let mut side = |part: &str| {
        let part = part.trim();
        let before = text.find(part).unwrap_or(0);
        let mut half = node.clone();
        half.place.column += text[..before].chars().count();
        if let Kind::Scalar(scalar) = &mut half.kind {
            scalar.text = part.to_string();
        }
        reading.length(&half, "a side of the sheet")
    };
    let (across, down) = (side(across), side(down));
    Some([across?, down?])
}
