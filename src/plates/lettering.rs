//! Words as the plates set them, measured with the font that sets them. Type sizes in points,
//! everything else in mm. Kerning is left out: it makes words narrower, never wider, by a few
//! hundredths.

use crate::geometry::units::POINT;
use kurbo::{Affine, BezPath, Point};
use std::sync::OnceLock;
use ttf_parser::{Face as Font, OutlineBuilder};

/// Height of capitals and lining figures of Noto Sans in em.
pub const CAP_HEIGHT: f64 = 0.714;

/// Depth of the longest descender in em, rounded up.
pub const DESCENT: f64 = 0.24;

/// Width of a lining figure of the serif that sets piece numbers, in em, rounded up.
const NUMERAL_WIDTH: f64 = 0.5;

/// Height of those figures in em, rounded up.
pub const NUMERAL_HEIGHT: f64 = 0.66;

/// Width given to a character that the font lacks, in em.
const MISSING_WIDTH: f64 = 0.7;

/// Units that stay on the line of their number.
const UNITS: [&str; 5] = ["mm", "cm", "m", "in", "yd"];

/// The faces of type on plates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The sans.
    Regular,
    /// The sans, bold.
    Bold,
    /// Figures of the serif, for piece numbers.
    Numeral,
}

/// One line of type.
#[derive(Debug, Clone, PartialEq)]
pub struct TextLine {
    /// The words.
    pub text: String,
    /// Middle of the baseline if centred, its start if not.
    pub at: Point,
    /// Room for the words along the baseline.
    pub width: f64,
    /// Whether `at` is the middle.
    pub centred: bool,
    /// Type size in points.
    pub points: f64,
    /// The face.
    pub face: Face,
    /// Set in grey.
    pub soft: bool,
    /// Turned about `at`, degrees clockwise.
    pub turn: f64,
    /// Index of the size it is said of; none if it holds for all on the page.
    pub size: Option<usize>,
}

impl Face {
    /// Its name in the data for the template.
    pub fn name(self) -> &'static str {
        match self {
            Self::Regular => "regular",
            Self::Bold => "bold",
            Self::Numeral => "numeral",
        }
    }

    /// Height of its capitals in em.
    pub fn height(self) -> f64 {
        match self {
            Self::Numeral => NUMERAL_HEIGHT,
            Self::Regular | Self::Bold => CAP_HEIGHT,
        }
    }

    fn font(self) -> Option<&'static Font<'static>> {
        static REGULAR: OnceLock<Option<Font<'static>>> = OnceLock::new();
        static BOLD: OnceLock<Option<Font<'static>>> = OnceLock::new();
        match self {
            Self::Bold => BOLD.get_or_init(|| Font::parse(notosans::BOLD_TTF, 0).ok()),
            _ => REGULAR.get_or_init(|| Font::parse(notosans::REGULAR_TTF, 0).ok()),
        }
        .as_ref()
    }
}

/// Width of `text` set in `face` at `points`, mm.
pub fn width(text: &str, face: Face, points: f64) -> f64 {
    let em: f64 = match (face, face.font()) {
        (Face::Numeral, _) | (_, None) => text.chars().count() as f64 * NUMERAL_WIDTH,
        (_, Some(font)) => {
            let unit = f64::from(font.units_per_em());
            text.chars()
                .map(|c| {
                    font.glyph_index(c)
                        .and_then(|g| font.glyph_hor_advance(g))
                        .map_or(MISSING_WIDTH, |advance| f64::from(advance) / unit)
                })
                .sum()
        }
    };
    em * points * POINT
}

/// `text` broken at spaces into lines no wider than `limit` mm where its words allow it: as few as there
/// can be, and of those the breaks whose widest line is the narrowest, so that no word is left alone. A
/// number keeps its unit.
pub fn wrap(text: &str, face: Face, points: f64, limit: f64) -> Vec<String> {
    let words = words(text);
    let broken = |limit: f64| filled(&words, limit, &|line| width(line, face, points));
    let widest = |lines: &[String]| {
        let widths = lines.iter().map(|line| width(line, face, points));
        widths.fold(0.0, f64::max)
    };
    let mut best = broken(limit);
    // each try has a narrower widest line than the last
    loop {
        let tried = broken(widest(&best) - 1e-6);
        if tried.len() > best.len() || widest(&tried) >= widest(&best) {
            return best;
        }
        best = tried;
    }
}

/// Lines that each take as many words as find room.
fn filled(words: &[String], limit: f64, width: &dyn Fn(&str) -> f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}")) <= limit => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.clone()),
        }
    }
    lines
}

/// The words of a text; a number and its unit are one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let unit = UNITS.contains(&word.trim_end_matches(|c: char| !c.is_alphabetic()));
        match words.last_mut() {
            Some(number) if unit && number.ends_with(|c: char| c.is_ascii_digit()) => {
                number.push(' ');
                number.push_str(word);
            }
            _ => words.push(word.to_string()),
        }
    }
    words
}

struct Pen(BezPath);

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0
            .quad_to((f64::from(x1), f64::from(y1)), (f64::from(x), f64::from(y)));
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.curve_to(
            (f64::from(x1), f64::from(y1)),
            (f64::from(x2), f64::from(y2)),
            (f64::from(x), f64::from(y)),
        );
    }
    fn close(&mut self) {
        self.0.close_path();
    }
}

/// The outlines of `text`, mm, y down, its baseline beginning at the origin: for drawings, which
/// must not depend on the fonts of the reader's system. `1⁄2` is set as a fraction.
pub fn outlines(text: &str, face: Face, points: f64) -> BezPath {
    let Some(font) = face.font() else {
        return BezPath::new();
    };
    let mut line = Outlined {
        font,
        em: points * POINT,
        path: BezPath::new(),
        x: 0.0,
    };
    let (mut rest, mut last) = (text, ' ');
    while let Some(character) = rest.chars().next() {
        let after = &rest[character.len_utf8()..];
        if last.is_ascii_digit() && character.is_whitespace() && fraction(after).is_some() {
            line.x += BEFORE_FRACTION * line.em;
            rest = after;
        } else if let Some((above, below, after)) = fraction(rest) {
            let raised = CAP_HEIGHT * (1.0 - SMALL);
            above.chars().for_each(|c| line.push(c, SMALL, raised));
            line.push(SLASH, 1.0, 0.0);
            below.chars().for_each(|c| line.push(c, SMALL, 0.0));
            rest = after;
        } else {
            line.push(character, 1.0, 0.0);
            rest = after;
        }
        last = character;
    }
    line.path
}

/// Between the parts of a fraction.
const SLASH: char = '\u{2044}';

/// How large its figures are beside others, and what stands between it and a whole number, in em.
const SMALL: f64 = 0.62;
const BEFORE_FRACTION: f64 = 0.08;

/// The figures above and below the slash of a fraction with which `text` begins, and what follows.
fn fraction(text: &str) -> Option<(&str, &str, &str)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let (above, rest) = text.split_at(digits(text));
    let rest = rest.strip_prefix(SLASH)?;
    let (below, rest) = rest.split_at(digits(rest));
    (!above.is_empty() && !below.is_empty()).then_some((above, below, rest))
}

/// A line of letters as outlines, as far as it is set.
struct Outlined {
    font: &'static Font<'static>,
    /// Size of the type, mm.
    em: f64,
    path: BezPath,
    x: f64,
}

impl Outlined {
    /// Adds a letter of a share of the type size, raised by this part of it.
    fn push(&mut self, character: char, share: f64, raised: f64) {
        let Some(glyph) = self.font.glyph_index(character) else {
            self.x += MISSING_WIDTH * share * self.em;
            return;
        };
        let mut pen = Pen(BezPath::new());
        self.font.outline_glyph(glyph, &mut pen);
        let scale = share * self.em / f64::from(self.font.units_per_em());
        let onto = Affine::translate((self.x, -raised * self.em))
            * Affine::scale_non_uniform(scale, -scale);
        self.path.extend(onto * pen.0);
        self.x += f64::from(self.font.glyph_hor_advance(glyph).unwrap_or(0)) * scale;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    #[test]
    fn widths_are_those_of_the_font_tables() {
        // Noto Sans Regular: `0` is 572, the space 260 thousandths of an em wide (from memory; the
        // tables of this cut are in 2048ths, which differ by less than one thousandth).
        assert!((width("00", Face::Regular, 10.0) - 1.144 * 10.0 * POINT).abs() < 0.01);
        assert!((width("0 0", Face::Regular, 10.0) - 1.404 * 10.0 * POINT).abs() < 0.01);
    }

    #[test]
    fn lines_are_no_wider_than_asked() {
        let lines = wrap("Cut 2 wool felt, one turned over", Face::Regular, 7.8, 24.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| width(l, Face::Regular, 7.8) <= 24.0));
        assert_eq!(lines.join(" "), "Cut 2 wool felt, one turned over");
    }

    #[test]
    fn lines_are_even_and_a_number_keeps_its_unit() {
        let broken = |text: &str, limit: f64| wrap(text, Face::Regular, 7.8, limit);
        let lines = broken("Cut 2 cotton flannel, one turned over", 37.0);
        assert_eq!(lines, ["Cut 2 cotton flannel,", "one turned over"]);
        for limit in 14..60 {
            let lines = broken("Allowance 4.8 mm (3/16 in) included", f64::from(limit));
            let all = lines.join("|");
            assert!(all.contains("4.8 mm") && all.contains("3/16 in)"), "{all}");
        }
    }

    #[test]
    fn outlines_stand_on_the_baseline() {
        let bounds = outlines("1", Face::Bold, 10.0).bounding_box();
        assert!(bounds.y1.abs() < 0.05 && (-bounds.y0 - 0.714 * 10.0 * POINT).abs() < 0.1);
    }

    #[test]
    fn fractions_are_built_of_small_figures() {
        let bounds = |text: &str| outlines(text, Face::Regular, 10.0).bounding_box();
        let (whole, built) = (bounds("9 1/2 in"), bounds("9 1\u{2044}2 in"));
        // narrower than with a slash, and no higher than the figures (0.1 mm of overshoot)
        assert!(built.width() < 0.85 * whole.width(), "{built:?} {whole:?}");
        assert!(built.y0 > whole.y0 - 0.1 && built.y1 < 0.15, "{built:?}");
        assert_eq!(fraction("3\u{2044}16 in"), Some(("3", "16", " in")));
        assert_eq!(fraction("3 in"), None);
        assert_eq!(fraction("\u{2044}4"), None);
    }
}
