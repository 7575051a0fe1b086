//! Papers that plates and booklets are printed on: their sizes in mm. It knows nothing of what
//! stands on them.

use super::{Dimension, Quantity};
use crate::geometry::units::INCH;

/// What a buyer does with a paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperKind {
    /// Printed at home, page by page: booklet and plates.
    Page,
    /// As few large sheets of a copy shop as hold all pieces; plates only.
    Large,
    /// As a large sheet, off a roll: its length is what the pieces need.
    Roll,
}

/// A paper, upright, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Paper {
    /// Key in a design file and in the names of files, e.g. `a4`.
    pub key: String,
    /// As printed.
    pub name: String,
    /// Across, mm.
    pub width: f64,
    /// Down, mm; of a roll, the longest piece of it that is printed at once.
    pub height: f64,
    /// What it is for.
    pub kind: PaperKind,
}

/// Longest side of a page, mm: 14,400 units of 1/72 in, beyond which readers fail (from memory, a
/// limit of common readers).
pub const LONGEST: f64 = 5080.0;

/// Least width and height of a paper of one's own, mm: on less there is no room for the test squares
/// with the words beside them, and a piece above.
pub const LEAST: [f64; 2] = [190.0, 260.0];

/// A paper of one's own with a side of so many mm is a large sheet, as A2 is: no printer at home takes it.
const LARGE_FROM: f64 = 594.0;

/// Keys, names and sizes of all papers: A sizes after ISO 216, the American ones after ANSI/ASME
/// Y14.1 (8.5, 11, 14 and 17 in at 25.4 mm), rolls of 24 and 36 in. `either` is the area that A4 and
/// Letter have in common.
const TABLE: [(&str, &str, f64, f64, PaperKind); 11] = [
    ("a4", "A4", 210.0, 297.0, PaperKind::Page),
    (
        "letter",
        "US Letter",
        8.5 * INCH,
        11.0 * INCH,
        PaperKind::Page,
    ),
    (
        "either",
        "A4 or US Letter",
        210.0,
        11.0 * INCH,
        PaperKind::Page,
    ),
    ("a3", "A3", 297.0, 420.0, PaperKind::Page),
    (
        "legal",
        "US Legal",
        8.5 * INCH,
        14.0 * INCH,
        PaperKind::Page,
    ),
    (
        "tabloid",
        "US Tabloid",
        11.0 * INCH,
        17.0 * INCH,
        PaperKind::Page,
    ),
    ("a2", "A2", 420.0, 594.0, PaperKind::Large),
    ("a1", "A1", 594.0, 841.0, PaperKind::Large),
    ("a0", "A0", 841.0, 1189.0, PaperKind::Large),
    (
        "roll24",
        "24 in roll",
        24.0 * INCH,
        LONGEST,
        PaperKind::Roll,
    ),
    (
        "roll36",
        "36 in roll",
        36.0 * INCH,
        LONGEST,
        PaperKind::Roll,
    ),
];

/// Papers that are known and less than [`LEAST`], mm: A5 after ISO 216.
const TOO_SMALL: [(&str, f64, f64); 1] = [("a5", 148.0, 210.0)];

/// Keys of all papers that have one.
pub fn paper_keys() -> Vec<&'static str> {
    TABLE.iter().map(|row| row.0).collect()
}

impl Paper {
    /// The paper with this key.
    pub fn named(key: &str) -> Option<Self> {
        let (key, name, width, height, kind) = *TABLE.iter().find(|row| row.0 == key)?;
        Some(Self {
            key: key.to_string(),
            name: name.to_string(),
            width,
            height,
            kind,
        })
    }

    /// The paper that `text` says: a key, or a size such as `13 in x 19 in`, laid upright.
    ///
    /// # Errors
    /// A sentence that says what is wrong with a size; `None` if the text is neither key nor size.
    pub fn said(text: &str) -> Result<Option<Self>, String> {
        if let Some(paper) = Self::named(text) {
            return Ok(Some(paper));
        }
        let Some([width, height]) = sides(text) else {
            return Ok(None);
        };
        let fits = width >= LEAST[0] && (LEAST[1]..=LONGEST).contains(&height);
        if !fits {
            return Err(format!(
                "a paper of {text} cannot be printed on: it must be at least {} by {} mm and at most \
                 {LONGEST} mm long",
                LEAST[0], LEAST[1]
            ));
        }
        let kind = match height >= LARGE_FROM {
            true => PaperKind::Large,
            false => PaperKind::Page,
        };
        Ok(Some(Self {
            key: format!("{width:.0}x{height:.0}mm"),
            name: text.to_string(),
            width,
            height,
            kind,
        }))
    }

    /// This paper cut off at `length` mm.
    pub fn cut_to(&self, length: f64) -> Self {
        Self {
            height: length,
            ..self.clone()
        }
    }
}

/// Both sides that a text says, mm, the shorter first: those of a size, or of a known paper that is too small.
fn sides(text: &str) -> Option<[f64; 2]> {
    if let Some((_, width, height)) = TOO_SMALL.iter().find(|row| row.0 == text) {
        return Some([*width, *height]);
    }
    let length = |side: &str| match Quantity::parse(side.trim()) {
        Ok(Quantity {
            value,
            dimension: Dimension::Length,
        }) => Some(value),
        _ => None,
    };
    let (a, b) = text.split_once(" x ").or_else(|| text.split_once(" × "))?;
    let (a, b) = (length(a)?, length(b)?);
    Some([a.min(b), a.max(b)])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(key: &str) -> (f64, f64) {
        let paper = Paper::named(key).expect("in the table");
        (paper.width, paper.height)
    }

    #[test]
    fn a_sizes_are_those_of_iso_216() {
        // ISO 216, table of the A series, mm.
        let table = [
            ("a0", (841.0, 1189.0)),
            ("a1", (594.0, 841.0)),
            ("a2", (420.0, 594.0)),
            ("a3", (297.0, 420.0)),
            ("a4", (210.0, 297.0)),
        ];
        for (key, sides) in table {
            assert_eq!(size(key), sides, "{key}");
        }
    }

    #[test]
    fn american_sizes_are_those_of_ansi_y14_1() {
        // ANSI/ASME Y14.1: Letter 8.5 x 11 in, Legal 8.5 x 14 in, Tabloid 11 x 17 in; in points
        // Letter is 612 x 792.
        let table = [
            ("letter", 612.0, 792.0),
            ("legal", 612.0, 1008.0),
            ("tabloid", 792.0, 1224.0),
        ];
        for (key, width, height) in table {
            let (across, down) = size(key);
            assert!((across / INCH * 72.0 - width).abs() < 1e-9, "{key}");
            assert!((down / INCH * 72.0 - height).abs() < 1e-9, "{key}");
        }
    }

    #[test]
    fn rolls_are_24_and_36_inches_and_either_is_what_two_papers_share() {
        // 24 in = 609.6 mm, 36 in = 914.4 mm (0.0254 m to the inch exactly).
        assert!((size("roll24").0 - 609.6).abs() < 1e-9);
        assert!((size("roll36").0 - 914.4).abs() < 1e-9);
        assert_eq!(size("either"), (size("a4").0, size("letter").1));
    }

    #[test]
    fn a_size_of_ones_own_is_laid_upright_and_kept_within_reason() {
        let own = Paper::said("19 in x 13 in")
            .expect("sound")
            .expect("a size");
        assert!((own.width - 330.2).abs() < 1e-9 && (own.height - 482.6).abs() < 1e-9);
        assert_eq!(own.key, "330x483mm");
        assert_eq!(own.kind, PaperKind::Page);
        let wide = Paper::said("70 cm x 1 m").expect("sound").expect("a size");
        assert_eq!(wide.kind, PaperKind::Large);
        let a2 = Paper::said("59.4 cm x 42 cm")
            .expect("sound")
            .expect("a size");
        assert_eq!(a2.kind, PaperKind::Large);
        assert_eq!(Paper::named("a2").map(|paper| paper.kind), Some(a2.kind));
        assert!(Paper::said("10 cm x 15 cm").is_err());
        // ISO 216: 148 by 210 mm
        let a5 = Paper::said("a5").expect_err("too small");
        assert!(a5.contains("at least 190 by 260 mm"), "{a5}");
        assert!(Paper::said("30 cm x 60 m").is_err());
        for text in ["post card", "30 x 40", "A4", "3 L of water"] {
            assert_eq!(Paper::said(text), Ok(None), "{text}");
        }
    }
}
