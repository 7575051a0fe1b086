//! Drawings of the program made sparing of ink: no shade, black only, broad lines thinner. Line
//! tints that tell cloths and sides apart stay. Pictures of the designer are never touched.

use crate::figure::LAYOUT_CLOTH as CLOTH;
use crate::plates::svg::INK;

/// Lines wider than this, mm, are drawn at [`SHARE`] of their width, and never below it.
const BROAD: f64 = 0.22;
const SHARE: f64 = 0.7;

/// What stands for the ink of the house.
const BLACK: &str = "#000000";

/// What stands for the tint of cloth on which layouts lie.
const WHITE: &str = "#ffffff";

/// How shade is marked: hatching along the sections of a form.
const SHADE: &str = "path class=\"hatching\"";

const WIDTH: &str = "stroke-width=\"";

/// The drawing `svg` with less ink; as it stands if it is no text.
pub fn spared(svg: &[u8]) -> Vec<u8> {
    let Ok(text) = std::str::from_utf8(svg) else {
        return svg.to_vec();
    };
    let mut spared = String::with_capacity(text.len());
    for (index, element) in text.split('<').enumerate() {
        if element.starts_with(SHADE) {
            continue;
        }
        if index > 0 {
            spared.push('<');
        }
        push_thinner(&mut spared, element);
    }
    for dark in [INK.to_string(), INK.to_uppercase()] {
        spared = spared.replace(&dark, BLACK);
    }
    spared.replace(CLOTH, WHITE).into_bytes()
}

fn push_thinner(spared: &mut String, element: &str) {
    let mut parts = element.split(WIDTH);
    spared.push_str(parts.next().unwrap_or_default());
    for part in parts {
        spared.push_str(WIDTH);
        let width = part.split('"').next().unwrap_or_default();
        let thinner = width.parse::<f64>().ok().filter(|width| *width > BROAD);
        match thinner {
            Some(mm) => {
                spared.push_str(&format!("{:.3}", (mm * SHARE).max(BROAD)));
                spared.push_str(&part[width.len()..]);
            }
            None => spared.push_str(part),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shade_goes_and_lines_become_thin_and_black() {
        let svg = "<svg viewBox=\"0 0 9 9\"><g stroke=\"#000\">\n<path class=\"outer\" \
                   stroke-width=\"0.70\" d=\"M0 0\"/>\n<path class=\"hatching\" \
                   stroke-width=\"0.11\" d=\"M1 1\"/>\n<path stroke=\"#1b1a18\" \
                   stroke-width=\"0.2\"/></g></svg>";
        let spared = String::from_utf8(spared(svg.as_bytes())).unwrap();
        let expected = "<svg viewBox=\"0 0 9 9\"><g stroke=\"#000\">\n<path class=\"outer\" \
                        stroke-width=\"0.490\" d=\"M0 0\"/>\n<path stroke=\"#000000\" \
                        stroke-width=\"0.2\"/></g></svg>";
        assert_eq!(spared, expected);
    }

    #[test]
    fn what_is_no_text_stays() {
        assert_eq!(spared(&[0xff, 0xfe, 0x00]), [0xff, 0xfe, 0x00]);
    }
}
