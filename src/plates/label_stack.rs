//! Lines of a label one below the other, before they have a place: baselines from the top of the
//! stack. Millimetres; type in points.

use super::label_words::RestLine;
use super::lettering::{self, DESCENT, Face, TextLine};
use super::size_lines::Dashes;
use crate::geometry::units::POINT;
use kurbo::{Line, Point, Vec2};

/// Between a sample of a line and its words.
const AFTER_SAMPLE: f64 = 1.8;

struct Row {
    text: String,
    points: f64,
    face: Face,
    soft: bool,
    y: f64,
    dashes: Option<Dashes>,
}

impl Row {
    /// Room of the sample before the words.
    fn sample(&self) -> f64 {
        self.dashes.map_or(0.0, |d| d.sample() + AFTER_SAMPLE)
    }

    fn width(&self) -> f64 {
        self.sample() + lettering::width(&self.text, self.face, self.points)
    }
}

/// The lines.
pub struct Stack {
    rows: Vec<Row>,
    /// Width of the widest.
    pub width: f64,
    height: f64,
}

impl Stack {
    /// Without lines.
    pub fn new() -> Self {
        Self {
            rows: Vec::new(),
            width: 0.0,
            height: 0.0,
        }
    }

    /// How many lines there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Adds a line, `gap` points below the one before.
    pub fn push(&mut self, text: String, points: f64, face: Face, soft: bool, gap: f64) {
        self.add(text, points, (face, soft), gap, None);
    }

    fn add(
        &mut self,
        text: String,
        points: f64,
        (face, soft): (Face, bool),
        gap: f64,
        dashes: Option<Dashes>,
    ) {
        let gap = if self.rows.is_empty() { 0.0 } else { gap };
        self.height += (gap + face.height() * points) * POINT;
        let row = Row {
            text,
            points,
            face,
            soft,
            y: self.height,
            dashes,
        };
        self.width = self.width.max(row.width());
        self.rows.push(row);
    }

    /// Adds the words below a label's title, broken to `limit` mm and `apart` points further from
    /// each other than their own lines; those after a sample are not broken.
    pub fn push_rest(
        &mut self,
        rest: &[RestLine<'_>],
        points: f64,
        (gap, apart): (f64, f64),
        limit: f64,
    ) {
        for (index, line) in rest.iter().enumerate() {
            let look = (Face::Regular, line.soft);
            let first = if index == 0 { gap } else { gap + apart };
            if line.dashes.is_some() {
                self.add(line.text.to_string(), points, look, gap, line.dashes);
                continue;
            }
            let broken = lettering::wrap(line.text, Face::Regular, points, limit);
            for (row, text) in broken.into_iter().enumerate() {
                let gap = if row == 0 { first } else { gap };
                self.add(text, points, look, gap, None);
            }
        }
    }

    /// Height with the last line's descenders, mm.
    pub fn whole_height(&self) -> f64 {
        let last = self.rows.last().map_or(0.0, |row| row.points);
        self.height + last * DESCENT * POINT
    }

    /// The lines and samples below `top`, the middle of the stack if `centred`, else its left side.
    /// Samples stand below each other.
    pub fn at(&self, top: Point, centred: bool) -> (Vec<TextLine>, Vec<(Line, Dashes)>) {
        let keyed = || self.rows.iter().filter(|row| row.dashes.is_some());
        let key = keyed().map(Row::width).fold(0.0, f64::max);
        let words = keyed().map(Row::sample).fold(0.0, f64::max);
        let left = if centred { -key / 2.0 } else { 0.0 };
        let mut samples = Vec::new();
        let mut lines = Vec::new();
        for row in &self.rows {
            let mut line = TextLine {
                text: row.text.clone(),
                at: top + Vec2::new(0.0, row.y),
                width: self.width,
                centred,
                points: row.points,
                face: row.face,
                soft: row.soft,
                turn: 0.0,
                size: None,
            };
            if let Some(dashes) = row.dashes {
                let middle = row.y - row.face.height() * row.points * POINT / 2.0;
                let start = top + Vec2::new(left, middle);
                let sample = Line::new(start, start + Vec2::new(dashes.sample(), 0.0));
                samples.push((sample, dashes));
                line.at.x += left + words;
                line.width = self.width - words;
                line.centred = false;
            }
            lines.push(line);
        }
        (lines, samples)
    }
}
