//! The look of one's own: colours that must stand out from the page, files of typefaces, a logo.

use super::Reading;
use super::fields::Fields;
use super::node::Node;
use super::picture;
use crate::design::Look;
use crate::design::look::{ACCENT, LEAST_CONTRAST, SOFT, contrast, darker, lighter, written};
use crate::diagnostic::Place;

const WHITE: [u8; 3] = [255; 3];

/// The picture of the cover, and the design's own look.
pub(super) fn with_cover(
    fields: &mut Fields<'_>,
    reading: &mut Reading<'_>,
) -> (Option<crate::design::PictureSpec>, Look) {
    let cover = picture::cover(fields, reading);
    (cover, read(fields, reading))
}

/// Reads `look` from the keys of the design.
fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Look {
    let Some(node) = fields.take("look", reading) else {
        return Look::default();
    };
    let Some(mut fields) = Fields::of(node, "look", "‘look’", reading) else {
        return Look::default();
    };
    let accent = colour(&mut fields, "accent", reading);
    let page = colour(&mut fields, "page", reading);
    let text_face = faces(&mut fields, "text face", reading);
    let label_face = faces(&mut fields, "label face", reading);
    let logo = fields.take("logo", reading);
    let logo = logo.and_then(|node| picture::picture(node, "look.logo", "the logo", reading));
    fields.finish(reading);
    if let Some((accent, place)) = &accent {
        stands_out(*accent, WHITE, place, reading);
    }
    if let Some((page, place)) = &page {
        let accent = accent.as_ref().map_or(ACCENT, |(accent, _)| *accent);
        carries(*page, accent, place, reading);
    }
    Look {
        accent: accent.map(|(colour, _)| colour),
        page: page.map(|(colour, _)| colour),
        text_face,
        label_face,
        logo,
    }
}

/// The colour under `key`, with its place.
pub(super) fn colour(
    fields: &mut Fields<'_>,
    key: &'static str,
    reading: &mut Reading<'_>,
) -> Option<([u8; 3], Place)> {
    let node = fields.take(key, reading)?;
    let text = reading.text(node, &format!("‘{key}’"))?;
    let digits = text.strip_prefix('#').unwrap_or(&text);
    let hex = digits.len() == 6 && digits.bytes().all(|digit| digit.is_ascii_hexdigit());
    let number = u32::from_str_radix(digits, 16).ok().filter(|_| hex);
    let Some(number) = number else {
        let message = format!("‘{text}’ is no colour");
        let remedy = "write six digits of red, green and blue in quotation marks: \"#1F4E6B\"";
        reading.error("look-colour", &node.place, message, remedy);
        return None;
    };
    let [_, red, green, blue] = number.to_be_bytes();
    Some(([red, green, blue], node.place.clone()))
}

/// The accent must be legible on white paper: plates and printed pages have no tint.
fn stands_out(accent: [u8; 3], page: [u8; 3], place: &Place, reading: &mut Reading<'_>) {
    let ratio = contrast(accent, page);
    if ratio >= LEAST_CONTRAST {
        return;
    }
    let darker = darker(accent, page);
    let message = format!(
        "letters in {} have a contrast of {:.2}:1 to the paper; {LEAST_CONTRAST}:1 is needed",
        written(accent),
        (ratio * 100.0).floor() / 100.0
    );
    let remedy = format!(
        "the nearest darker colour of this hue that passes is \"{}\"",
        written(darker)
    );
    reading.error("look-contrast", place, message, remedy);
}

/// The page must be light enough for the soft ink and for the accent.
fn carries(page: [u8; 3], accent: [u8; 3], place: &Place, reading: &mut Reading<'_>) {
    let accent = darker(accent, WHITE);
    let (name, ratio) = [("the accent", accent), ("the grey of side notes", SOFT)]
        .map(|(name, ink)| (name, contrast(ink, page)))
        .into_iter()
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or(("the ink", 21.0));
    if ratio >= LEAST_CONTRAST {
        return;
    }
    let lighter = lighter(page, &[accent, SOFT]);
    let message = format!(
        "{name} has a contrast of {:.2}:1 to a page of {}; {LEAST_CONTRAST}:1 is needed",
        (ratio * 100.0).floor() / 100.0,
        written(page)
    );
    let remedy = format!(
        "the nearest lighter page that passes is \"{}\"",
        written(lighter)
    );
    reading.error("look-contrast", place, message, remedy);
}

fn faces(
    fields: &mut Fields<'_>,
    key: &'static str,
    reading: &mut Reading<'_>,
) -> Vec<(String, Place)> {
    let Some(node) = fields.take(key, reading) else {
        return Vec::new();
    };
    let mut files: Vec<(String, Place)> = Vec::new();
    let items: Vec<Node> = reading.list(node).into_iter().cloned().collect();
    for item in items {
        let Some(path) = reading.text(&item, "the file of a typeface") else {
            continue;
        };
        if files.iter().any(|(known, _)| *known == path) {
            let message = format!("the file ‘{path}’ is named twice");
            reading.error("same-name", &item.place, message, "keep one of them");
            continue;
        }
        if let Err(why) = reading.folder.file(&path) {
            let remedy = match why {
                crate::folder::Unreadable::Missing => reading.near_file(&path),
                _ => why.remedy().to_string(),
            };
            let message = format!("‘{path}’: {why}");
            reading.error(why.code(), &item.place, message, remedy);
            continue;
        }
        files.push((path, item.place.clone()));
    }
    files
}
