//! The look of one's own that a design may have: an accent, a tint of the pages, typefaces, a logo.
//! Colours are sRGB, 0 to 255 each.

use super::picture::PictureSpec;
use crate::diagnostic::Place;

/// The accent of the house, madder.
pub const ACCENT: [u8; 3] = [0x8e, 0x2a, 0x1e];

/// The soft ink of the house, in which side notes are set.
pub const SOFT: [u8; 3] = [0x57, 0x53, 0x4d];

/// Least contrast of letters to the page (WCAG 2, success criterion 1.4.3).
pub const LEAST_CONTRAST: f64 = 4.5;

/// A look; what is not given is the house's.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// Colour of heads, numerals and cautions.
    pub accent: Option<[u8; 3]>,
    /// Colour of the booklet's pages of text on a screen.
    pub page: Option<[u8; 3]>,
    /// Files of the face of the text, each with its place.
    pub text_face: Vec<(String, Place)>,
    /// Files of the face of labels in the text.
    pub label_face: Vec<(String, Place)>,
    /// Sign of the maker, on the cover and beside the edition.
    pub logo: Option<PictureSpec>,
}

/// A colour as it is written: `#8E2A1E`.
pub fn written(colour: [u8; 3]) -> String {
    let [red, green, blue] = colour;
    format!("#{red:02X}{green:02X}{blue:02X}")
}

/// Relative luminance, 0 to 1 (WCAG 2, definitions).
fn luminance(colour: [u8; 3]) -> f64 {
    let linear = |part: u8| match f64::from(part) / 255.0 {
        c if c <= 0.04045 => c / 12.92,
        c => ((c + 0.055) / 1.055).powf(2.4),
    };
    let [red, green, blue] = colour.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio of two colours, 1 to 21 (WCAG 2, definitions).
pub fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The lightest colour of the hue of `colour`, no lighter than it, that stands out from `page`: the
/// parts are made smaller together.
pub fn darker(colour: [u8; 3], page: [u8; 3]) -> [u8; 3] {
    let at = |share: u16| colour.map(|part| (u16::from(part) * share / 255) as u8);
    let passes = |colour: &[u8; 3]| contrast(*colour, page) >= LEAST_CONTRAST;
    (0..=255).rev().map(at).find(passes).unwrap_or([0; 3])
}

/// The darkest colour between `page` and white, no darker than it, from which all of `inks` stand
/// out.
pub fn lighter(page: [u8; 3], inks: &[[u8; 3]]) -> [u8; 3] {
    let at = |share: u16| {
        page.map(|part| {
            let part = u16::from(part);
            (part + (255 - part) * share / 255) as u8
        })
    };
    let passes = |page: &[u8; 3]| {
        inks.iter()
            .all(|ink| contrast(*ink, *page) >= LEAST_CONTRAST)
    };
    (0..=255).map(at).find(passes).unwrap_or([255; 3])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contrasts_are_those_of_the_formula() {
        // WCAG 2, contrast ratio, worked out by hand: #767676 4.5422, #777777 4.4781, both on white;
        // pure red has L = 0.2126, so 1.05 / 0.2626 = 3.9985.
        for (colour, ratio) in [
            ([0x76; 3], 4.5422),
            ([0x77; 3], 4.4781),
            ([255, 0, 0], 3.9985),
        ] {
            assert!((contrast(colour, [255; 3]) - ratio).abs() < 5e-5);
        }
    }

    #[test]
    fn the_nearest_darker_and_lighter_colours_pass_and_their_neighbours_do_not() {
        let white = [255; 3];
        let red = darker([255, 0, 0], white);
        assert!(contrast(red, white) >= 4.5 && contrast([red[0] + 1, 0, 0], white) < 4.5);
        assert_eq!(darker(ACCENT, white), ACCENT);
        let page = lighter([0xc0, 0xb0, 0x90], &[SOFT]);
        assert!(contrast(SOFT, page) >= 4.5);
        assert!(contrast(SOFT, page.map(|part| part - 2)) < 4.5);
        assert_eq!(lighter(white, &[SOFT, ACCENT]), white);
    }
}
