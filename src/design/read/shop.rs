//! What goes out beside the booklets: `cutting`, how cut files are drawn, and `listing`, the pictures
//! with which the pattern is offered.

use super::fields::Fields;
use super::node::{Entry, Kind, Node};
use super::{Reading, look, names};
use crate::design::look::written;
use crate::design::{CutColours, Cutting, NotchCut, Shop};
use crate::diagnostic::Place;
use std::ops::RangeInclusive;

/// A reference square of less cannot be measured with a rule, one of more finds no room beside small
/// pieces, mm.
const REFERENCE: RangeInclusive<f64> = 10.0..=100.0;

/// Sides of a picture, pixels: smaller ones show nothing, larger ones no shop takes (common practice).
const PIXELS: RangeInclusive<u32> = 200..=6000;

/// Pictures in more sizes than these would take longer than the booklet.
const MOST_SIZES: usize = 6;

const NOTCHES: [(&str, NotchCut); 3] = [
    ("slits", NotchCut::Slit),
    ("triangles", NotchCut::Vee),
    ("marked", NotchCut::Mark),
];

/// Reads `cutting` and `listing` from the keys of the design, after its cloths and pieces.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Shop {
    Shop {
        cutting: cutting(fields, reading),
        pictures: pictures(fields, reading),
    }
}

fn cutting(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Cutting {
    let usual = Cutting::default();
    let Some(node) = fields.take("cutting", reading) else {
        return usual;
    };
    let Some(mut fields) = Fields::of(node, "cutting", "‘cutting’", reading) else {
        return usual;
    };
    let colours = fields.take("colours", reading);
    let without = fields.take("without allowance", reading);
    let notches = fields.take("notches", reading);
    let square = fields.take("reference square", reading);
    fields.finish(reading);
    let (all, single) = notches.map_or((None, Vec::new()), |node| notch_cuts(node, reading));
    Cutting {
        colours: colours.map_or(usual.colours, |node| cut_colours(node, reading)),
        without_allowance: without.map_or_else(Vec::new, |node| without_allowance(node, reading)),
        notches: all.unwrap_or_default(),
        notches_of: single,
        reference_square: match square {
            Some(node) => reference_square(node, reading),
            None => usual.reference_square,
        },
    }
}

/// Four colours, each of its own: a cutter knows lines by nothing else.
fn cut_colours(node: &Node, reading: &mut Reading<'_>) -> CutColours {
    let mut colours = CutColours::default();
    let Some(mut fields) = Fields::of(node, "cutting.colours", "‘colours’", reading) else {
        return colours;
    };
    let mut places: Vec<(&str, [u8; 3], Option<Place>)> = Vec::new();
    for (key, colour) in [
        ("cut", &mut colours.cut),
        ("score", &mut colours.score),
        ("mark", &mut colours.mark),
        ("guide", &mut colours.guide),
    ] {
        let given = look::colour(&mut fields, key, reading);
        let place = given.map(|(given, place)| {
            *colour = given;
            place
        });
        places.push((key, *colour, place));
    }
    fields.finish(reading);
    for (number, (key, colour, place)) in places.iter().enumerate() {
        let before = places[..number]
            .iter()
            .find(|(_, other, _)| other == colour);
        let Some((other, _, earlier)) = before else {
            continue;
        };
        // one of the two was written, for the usual ones differ
        let Some(place) = place.as_ref().or(earlier.as_ref()) else {
            continue;
        };
        let message = format!(
            "lines to {other} and lines to {key} are both {}",
            written(*colour)
        );
        let remedy = "give each a colour of its own: a cutter tells lines by their colours";
        reading.error("cutting-colours", place, message, remedy);
    }
    colours
}

fn without_allowance(node: &Node, reading: &mut Reading<'_>) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    let items: Vec<Node> = reading.list(node).into_iter().cloned().collect();
    for item in &items {
        let Some(name) = reading.text(item, "a piece or a cloth") else {
            continue;
        };
        if list.contains(&name) {
            let message = format!("‘{name}’ is named twice");
            reading.error("same-name", &item.place, message, "keep one of them");
        } else if is_cloth_or_piece(&name, &item.place, reading) {
            list.push(name);
        }
    }
    list
}

fn is_cloth_or_piece(name: &str, place: &Place, reading: &mut Reading<'_>) -> bool {
    let mut known = reading.piece_keys();
    known.extend(reading.cloths.iter().map(String::as_str));
    if known.contains(&name) {
        return true;
    }
    let remedy = names::suggestion(name, &known);
    let message = format!("there is no piece and no cloth called ‘{name}’");
    reading.error("unknown-piece", place, message, remedy);
    false
}

/// What becomes of all notches, or a group with `all` and names of pieces.
fn notch_cuts(
    node: &Node,
    reading: &mut Reading<'_>,
) -> (Option<NotchCut>, Vec<(String, NotchCut)>) {
    let one = |node: &Node, reading: &mut Reading<'_>| {
        reading.choice(node, "what a cutter makes of notches", &NOTCHES)
    };
    let Kind::Mapping(entries) = &node.kind else {
        return (one(node, reading), Vec::new());
    };
    reading.duplicates(entries);
    let (mut all, mut single) = (None, Vec::new());
    for Entry { key, place, value } in entries {
        let notches = one(value, reading);
        if key == "all" {
            all = notches;
        } else if reading.piece_keys().contains(&key.as_str()) {
            single.extend(notches.map(|notches| (key.clone(), notches)));
        } else {
            let remedy = names::suggestion(key, &reading.piece_keys());
            let message = format!("there is no piece ‘{key}’");
            reading.error("unknown-piece", place, message, remedy);
        }
    }
    (all, single)
}

fn reference_square(node: &Node, reading: &mut Reading<'_>) -> Option<f64> {
    if node.is_word("none") {
        return None;
    }
    let side = reading.length(node, "‘reference square’")?;
    if !REFERENCE.contains(&side) {
        let message = format!(
            "the reference square is {side:.1} mm wide; it must be from {} to {} mm",
            REFERENCE.start(),
            REFERENCE.end()
        );
        let remedy = "write ‘reference square: 25 mm’, or ‘reference square: none’";
        reading.error("out-of-range", &node.place, message, remedy);
    }
    Some(side)
}

fn pictures(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<[u32; 2]> {
    let usual = Shop::default().pictures;
    let Some(node) = fields.take("listing", reading) else {
        return usual;
    };
    let Some(mut fields) = Fields::of(node, "listing", "‘listing’", reading) else {
        return usual;
    };
    let node = fields.take("pictures", reading);
    fields.finish(reading);
    let Some(node) = node else {
        return usual;
    };
    if node.is_word("none") {
        return Vec::new();
    }
    let mut sizes: Vec<[u32; 2]> = Vec::new();
    let items: Vec<Node> = reading.list(node).into_iter().cloned().collect();
    for item in &items {
        match picture_size(item, reading) {
            Some(size) if sizes.contains(&size) => {
                let message = format!("{} x {} pixels are named twice", size[0], size[1]);
                reading.error("same-name", &item.place, message, "keep one of them");
            }
            Some(size) => sizes.push(size),
            None => {}
        }
    }
    if sizes.len() > MOST_SIZES {
        let message = format!("pictures are wanted in {} sizes", sizes.len());
        let remedy = format!("keep the {MOST_SIZES} that your shops ask for");
        reading.error("out-of-range", &node.place, message, remedy);
    }
    sizes
}

/// Width and height in pixels, from `1600 x 1200`.
fn picture_size(node: &Node, reading: &mut Reading<'_>) -> Option<[u32; 2]> {
    let text = reading.text(node, "the size of a picture")?;
    let sides = text.split_once('x').or_else(|| text.split_once('×'));
    let number = |side: &str| side.trim().parse::<u32>().ok();
    let size = sides.and_then(|(a, b)| Some([number(a)?, number(b)?]));
    let size = size.filter(|size| size.iter().all(|side| PIXELS.contains(side)));
    if size.is_none() {
        let message = format!("‘{text}’ is no size of a picture");
        let remedy = format!(
            "write width and height in pixels, from {} to {}: 1600 x 1200",
            PIXELS.start(),
            PIXELS.end()
        );
        reading.error("out-of-range", &node.place, message, remedy);
    }
    size
}
