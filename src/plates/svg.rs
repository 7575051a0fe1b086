//! Writing drawings as SVG at true scale: one user unit is one millimetre, coordinates have six
//! decimals.

use super::even_dashes;
use super::ink::{Ink, Stroke};
use crate::geometry::path_text;
use crate::geometry::rounding::decimals;
use kurbo::BezPath;

/// Decimals of coordinates and lengths.
const DECIMALS: usize = 6;

/// The ink of all lines.
pub const INK: &str = "#1b1a18";

/// A drawing being written.
#[derive(Debug)]
pub struct Svg {
    text: String,
}

impl Svg {
    /// A drawing of `width` by `height` mm.
    pub fn new(width: f64, height: f64) -> Self {
        let (w, h) = (number(width), number(height));
        let text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\" fill=\"none\">\n"
        );
        Self { text }
    }

    /// A stroked path in ink. One with an `id` is one path in the file, another in dashes one from corner to
    /// corner ([`even_dashes`]).
    pub fn stroke(&mut self, id: Option<&str>, path: &BezPath, stroke: Stroke) {
        if id.is_some() {
            return self.line(id, path, stroke, INK);
        }
        for (part, stroke) in even_dashes::parts(path, stroke) {
            self.line(None, &part, stroke, INK);
        }
    }

    /// A stroked path in white, to bare the paper again.
    pub fn white(&mut self, path: &BezPath, stroke: Stroke) {
        self.line(None, path, stroke, "#ffffff");
    }

    fn line(&mut self, id: Option<&str>, path: &BezPath, stroke: Stroke, colour: &str) {
        let id = id.map_or(String::new(), |id| format!(" id=\"{id}\""));
        let dash = stroke.dash.map_or(String::new(), |[on, off]| {
            format!(" stroke-dasharray=\"{} {}\"", number(on), number(off))
        });
        let cap = if stroke.round {
            " stroke-linecap=\"round\""
        } else {
            ""
        };
        let width = number(stroke.width);
        let data = path_data(path);
        self.push(&format!(
            "<path{id} d=\"{data}\" stroke=\"{colour}\" stroke-width=\"{width}\"{dash}{cap}/>\n"
        ));
    }

    /// A path in ink with round ends, `lengths` of it drawn and left out in turn, mm.
    pub fn dashed(&mut self, id: Option<&str>, path: &BezPath, width: f64, lengths: &[f64]) {
        let id = id.map_or(String::new(), |id| format!(" id=\"{id}\""));
        let lengths: Vec<String> = lengths.iter().map(|l| number(*l)).collect();
        let (data, width, lengths) = (path_data(path), number(width), lengths.join(" "));
        self.push(&format!(
            "<path{id} d=\"{data}\" stroke=\"{INK}\" stroke-width=\"{width}\" \
             stroke-dasharray=\"{lengths}\" stroke-linecap=\"round\"/>\n"
        ));
    }

    /// A filled path in ink.
    pub fn fill(&mut self, path: &BezPath) {
        self.fill_with(path, INK);
    }

    /// A filled path in a colour.
    pub fn fill_with(&mut self, path: &BezPath, colour: &str) {
        let data = path_data(path);
        self.push(&format!("<path d=\"{data}\" fill=\"{colour}\"/>\n"));
    }

    /// Anything else, already SVG.
    pub fn push(&mut self, element: &str) {
        self.text.push_str(element);
    }

    /// The finished file.
    pub fn finish(mut self) -> Vec<u8> {
        self.text.push_str("</svg>\n");
        self.text.into_bytes()
    }
}

/// A number with at most six decimals and no trailing zeros.
pub fn number(value: f64) -> String {
    decimals(value, DECIMALS)
}

/// SVG path data of `path`.
pub fn path_data(path: &BezPath) -> String {
    path_text::path_data(path, DECIMALS)
}

/// Words as they stand in an attribute or between elements.
pub fn escaped(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

impl Ink {
    /// Draws all of it.
    pub fn draw(&self, svg: &mut Svg) {
        for (path, stroke) in &self.strokes {
            svg.stroke(None, path, *stroke);
        }
        for fill in &self.fills {
            svg.fill(fill);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_written_as_it_is() {
        let path = BezPath::from_svg("M0 0L10 0C10 5 5 10 0 10Z").expect("path data");
        assert_eq!(path_data(&path), "M0 0L10 0C10 5 5 10 0 10Z");
    }
}
