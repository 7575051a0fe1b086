//! Writing DXF as text: a group code on one line, its value on the next (AutoCAD DXF Reference, Release 12).
//! Lengths are mm; here y points up, so that every y is turned over as it is written.

use crate::geometry::path_text::rounded;
use kurbo::Point;
use std::fmt::Write;

/// A text that grows, tag by tag.
#[derive(Debug, Clone, Default)]
pub(super) struct Tags {
    text: String,
}

impl Tags {
    /// One group.
    pub fn tag(&mut self, code: u32, value: &str) {
        writeln!(self.text, "{code:>3}\n{value}").expect("writing to a String never fails");
    }

    /// A whole number.
    pub fn whole(&mut self, code: u32, value: i64) {
        self.tag(code, &value.to_string());
    }

    /// A length, mm, to four decimals.
    pub fn length(&mut self, code: u32, mm: f64) {
        self.tag(code, &format!("{:.4}", rounded(mm)));
    }

    /// A place: x under `code`, y and z under the codes of the same ending.
    pub fn point(&mut self, code: u32, at: Point) {
        self.length(code, at.x);
        self.length(code + 10, -at.y);
        self.length(code + 20, 0.0);
    }

    /// The beginning of an entity on a layer.
    fn entity(&mut self, name: &str, layer: u32) {
        self.tag(0, name);
        self.whole(8, i64::from(layer));
    }

    /// A section with its content.
    pub fn section(&mut self, name: &str, content: impl FnOnce(&mut Self)) {
        self.tag(0, "SECTION");
        self.tag(2, name);
        content(self);
        self.tag(0, "ENDSEC");
    }

    /// A row of straight lines.
    pub fn polyline(&mut self, layer: u32, points: &[Point], closed: bool) {
        self.entity("POLYLINE", layer);
        self.whole(66, 1);
        self.point(10, Point::ZERO);
        self.whole(70, i64::from(closed));
        for point in points {
            self.entity("VERTEX", layer);
            self.point(10, *point);
        }
        self.entity("SEQEND", layer);
    }

    /// A straight line.
    pub fn line(&mut self, layer: u32, [from, to]: [Point; 2]) {
        self.entity("LINE", layer);
        self.point(10, from);
        self.point(11, to);
    }

    /// A place that is marked.
    pub fn spot(&mut self, layer: u32, at: Point) {
        self.entity("POINT", layer);
        self.point(10, at);
    }

    /// A circle.
    pub fn circle(&mut self, layer: u32, at: Point, diameter: f64) {
        self.entity("CIRCLE", layer);
        self.point(10, at);
        self.length(40, diameter / 2.0);
    }

    /// One line of text, its letters so high, mm.
    pub fn words(&mut self, layer: u32, at: Point, height: f64, words: &str) {
        self.entity("TEXT", layer);
        self.point(10, at);
        self.length(40, height);
        self.tag(1, &plain(words));
    }

    /// A block put in at a place.
    pub fn insert(&mut self, layer: u32, block: &str, at: Point) {
        self.entity("INSERT", layer);
        self.tag(2, block);
        self.point(10, at);
    }

    /// A block with its content, its base at the origin.
    pub fn block(&mut self, layer: u32, name: &str, content: impl FnOnce(&mut Self)) {
        self.entity("BLOCK", layer);
        self.tag(2, name);
        self.whole(70, 0);
        self.point(10, Point::ZERO);
        self.tag(3, name);
        content(self);
        self.entity("ENDBLK", layer);
    }

    /// The finished file.
    pub fn finish(mut self) -> String {
        self.tag(0, "EOF");
        self.text
    }
}

/// Text in the letters that every reader knows: others are written by their number, as `\U+00FC`, and
/// what would end the line is a space.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            // what begins with one of these, or with two of those, is a sign of its own
            '\\' | '^' => plain.push('/'),
            '%' if plain.ends_with('%') => plain.push_str(" %"),
            ' '..='~' => plain.push(letter),
            letter if letter.is_control() || letter.is_whitespace() => plain.push(' '),
            letter => {
                let mut units = [0; 2];
                for unit in letter.encode_utf16(&mut units) {
                    write!(plain, "\\U+{unit:04X}").expect("writing to a String never fails");
                }
            }
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn y_points_up_and_no_zero_is_negative() {
        let mut tags = Tags::default();
        tags.spot(4, Point::new(1.5, 2.0));
        let wanted = "  0\nPOINT\n  8\n4\n 10\n1.5000\n 20\n-2.0000\n 30\n0.0000\n";
        assert_eq!(tags.text, wanted);
        let mut tags = Tags::default();
        tags.spot(4, Point::new(-1e-9, 1e-9));
        assert!(!tags.text.contains("-0"), "{}", tags.text);
    }

    #[test]
    fn other_letters_are_written_by_their_number() {
        // U+00FC, U+2044; a line break would be read as a new group
        assert_eq!(plain("Stück 1\u{2044}2\nin"), "St\\U+00FCck 1\\U+20442 in");
        assert_eq!(plain("50 %, %%c, \\P"), "50 %, % %c, /P");
    }
}
