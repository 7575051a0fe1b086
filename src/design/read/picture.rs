//! Pictures: the one of the cover, a logo, and the fenced blocks `picture` of the text.

use super::Reading;
use super::fields::Fields;
use super::head::optional;
use super::node::{Kind, Node};
use super::yaml;
use crate::design::{Crop, PictureSpec};
use crate::diagnostic::{Diagnostics, Place};
use crate::folder::DesignFolder;

/// No side loses more than this share, so that something is left.
const MOST_OFF: f64 = 0.45;

/// Shapes narrower or wider than this, or its inverse, are slips.
const LONGEST_SHAPE: f64 = 20.0;

/// The picture of the cover.
pub(super) fn cover(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Option<PictureSpec> {
    let node = fields.take("cover", reading)?;
    picture(node, "cover", "‘cover’", reading)
}

/// Reads the keys of a fenced block that begins after `lines_before` lines of the file of `place`.
/// Text that is filled in may move its columns.
pub fn read_picture_block(
    text: &str,
    lines_before: usize,
    place: &Place,
    diagnostics: &mut Diagnostics,
) -> Option<PictureSpec> {
    let node = yaml::tree(&place.source, text, lines_before, diagnostics)?;
    let folder = DesignFolder::from_memory("", Vec::<(String, Vec<u8>)>::new());
    let mut reading = Reading::of(&folder, diagnostics);
    let spec = picture(&node, "picture", "a picture block", &mut reading)?;
    Some(PictureSpec {
        place: place.clone(),
        ..spec
    })
}

/// The picture that `node` describes; `group` is where its keys stand in the table of keys. `None` if
/// it names no picture; words that are missing are reported, and the picture shown all the same.
pub(super) fn picture(
    node: &Node,
    group: &'static str,
    what: &str,
    reading: &mut Reading<'_>,
) -> Option<PictureSpec> {
    let mut fields = Fields::of(node, group, what, reading)?;
    let named = fields.require("picture", reading);
    let path = named.and_then(|node| reading.text(node, "‘picture’"));
    let alt = fields.require("alt", reading);
    let alt = alt.and_then(|node| reading.text(node, "‘alt’"));
    let in_text = group == "picture";
    let caption = match in_text {
        true => optional(&mut fields, "caption", reading),
        false => None,
    };
    let name = match in_text {
        true => optional(&mut fields, "name", reading),
        false => None,
    };
    let width = match in_text {
        true => fields.take("width", reading),
        false => None,
    };
    let width = width.and_then(|node| reading.length(node, "‘width’"));
    let crop = match group {
        "look.logo" => Crop::default(),
        _ => fields
            .take("crop", reading)
            .map(|node| crop(node, group, reading))
            .unwrap_or_default(),
    };
    fields.finish(reading);
    Some(PictureSpec {
        // words that are missing were told; the path in their place keeps the typesetter from telling again
        alt: alt.or_else(|| path.clone()).unwrap_or_default(),
        picture: path?,
        caption,
        name,
        width,
        crop,
        place: named.map_or_else(|| node.place.clone(), |node| node.place.clone()),
    })
}

fn crop(node: &Node, group: &str, reading: &mut Reading<'_>) -> Crop {
    let group = match group {
        "cover" => "cover.crop",
        _ => "picture.crop",
    };
    let mut crop = Crop::default();
    if node.scalar().is_some() {
        crop.shape = shape(node, reading);
        return crop;
    }
    let Some(mut fields) = Fields::of(node, group, "‘crop’", reading) else {
        return crop;
    };
    for (side, key) in ["left", "right", "top", "bottom"].into_iter().enumerate() {
        let off = fields.take(key, reading);
        let off = off.and_then(|node| reading.ratio(node, &format!("‘{key}’"), 0.0..=MOST_OFF));
        crop.off[side] = off.unwrap_or(0.0);
    }
    if let Some(node) = fields.take("shape", reading) {
        crop.shape = shape(node, reading);
    }
    if let Some(node) = fields.take("focus", reading) {
        crop.focus = focus(node, reading);
        if crop.shape.is_none() {
            let message = "‘focus’ stands without a shape, so nothing is moved by it";
            let remedy = "add ‘shape: 4 x 3’, or take the focus away";
            reading.error("picture-crop", &node.place, message, remedy);
        }
    }
    fields.finish(reading);
    crop
}

/// Width to height, from `4 x 3`.
fn shape(node: &Node, reading: &mut Reading<'_>) -> Option<f64> {
    let text = reading.text(node, "the shape")?;
    let sides = text.split_once('x').or_else(|| text.split_once('×'));
    let number = |side: &str| side.trim().parse::<f64>().ok().filter(|side| *side > 0.0);
    let shape = sides.and_then(|(a, b)| Some(number(a)? / number(b)?));
    let shape = shape.filter(|s| (1.0 / LONGEST_SHAPE..=LONGEST_SHAPE).contains(s));
    if shape.is_none() {
        let message = format!("‘{text}’ is no shape of a picture");
        let remedy = "write its width and height as ‘4 x 3’";
        reading.error("picture-crop", &node.place, message, remedy);
    }
    shape
}

fn focus(node: &Node, reading: &mut Reading<'_>) -> Option<[f64; 2]> {
    match &node.kind {
        Kind::List(items) if items.len() == 2 => {
            let across = reading.ratio(&items[0], "the focus, from the left,", 0.0..=1.0);
            let down = reading.ratio(&items[1], "the focus, from the top,", 0.0..=1.0);
            Some([across?, down?])
        }
        _ => {
            let remedy = "write how far it is from the left and from the top: [30 %, 40 %]";
            reading.wrong_type(node, "‘focus’", "a pair of shares", remedy);
            None
        }
    }
}
