//! The letters of a page as bars, one for each word, as wide and about as high as its small letters.

use super::pen::Pen;
use kurbo::{Point, Rect};
use std::collections::BTreeMap;

/// Letters nearer than this share of their height belong to one word: spaces between words are wider,
/// those within narrower (a word space is about a quarter of the type's size).
const NEAR: f64 = 0.22;

/// Type is taken for at least so high, mm, when spaces are judged: full stops are low.
const HEIGHT_FROM: f64 = 1.2;

/// A bar is no thicker than this, in grid steps: what is larger is drawn, not written.
const THICKEST: i64 = 40;

/// A word as it comes together.
#[derive(Debug, Default)]
struct Word {
    across: [f64; 2],
    tops: Vec<f64>,
    feet: Vec<f64>,
    height: f64,
}

impl Word {
    fn of(letter: Rect) -> Self {
        Self {
            across: [letter.x0, letter.x1],
            tops: vec![letter.y0],
            feet: vec![letter.y1],
            height: letter.height(),
        }
    }

    /// Whether `letter` follows in the same word.
    fn takes(&self, letter: Rect) -> bool {
        let height = self.height.max(letter.height()).max(HEIGHT_FROM);
        let gap = letter.x0 - self.across[1];
        let (top, foot) = (middle(&self.tops), middle(&self.feet));
        let beside = letter.y0 < foot && letter.y1 > top;
        beside && gap < NEAR * height && gap > -height
    }

    fn add(&mut self, letter: Rect) {
        self.across[1] = self.across[1].max(letter.x1);
        self.tops.push(letter.y0);
        self.feet.push(letter.y1);
        self.height = self.height.max(letter.height());
    }
}

/// The middle one of the values.
fn middle(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)
}

/// Bars of all words, by their thickness in grid steps: path data of lines along their middle. `letters`
/// are boxes of letters in the order of reading.
pub fn bars(letters: impl Iterator<Item = Rect>, steps: f64) -> BTreeMap<i64, Pen> {
    let mut pens: BTreeMap<i64, Pen> = BTreeMap::new();
    let mut draw = |word: Word| {
        let (top, foot) = (middle(&word.tops), middle(&word.feet));
        let thickness = ((foot - top) * steps).round() as i64;
        let pen = pens
            .entry(thickness.clamp(1, THICKEST))
            .or_insert_with(|| Pen::new(steps));
        let y = (top + foot) / 2.0;
        pen.polyline(
            &[Point::new(word.across[0], y), Point::new(word.across[1], y)],
            false,
        );
    };
    let mut open: Option<Word> = None;
    for letter in letters {
        match &mut open {
            Some(word) if word.takes(letter) => word.add(letter),
            _ => {
                if let Some(word) = open.replace(Word::of(letter)) {
                    draw(word);
                }
            }
        }
    }
    if let Some(word) = open {
        draw(word);
    }
    pens
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters 2 mm wide and high, side by side, at so many mm from the left.
    fn letters(at: &[f64]) -> BTreeMap<i64, Pen> {
        let boxes = at.iter().map(|x| Rect::new(*x, 10.0, x + 2.0, 12.0));
        bars(boxes, 2.0)
    }

    #[test]
    fn letters_side_by_side_are_one_bar_and_a_space_begins_another() {
        let pens = letters(&[10.0, 12.2, 14.4, 20.0, 22.2]);
        assert_eq!(pens.len(), 1);
        assert_eq!(pens[&4].data(), "m20 22 13 0m7 0 8 0");
    }

    #[test]
    fn a_new_line_begins_another_bar() {
        let pens = bars(
            [
                Rect::new(10.0, 10.0, 12.0, 12.0),
                Rect::new(12.1, 16.0, 14.0, 18.0),
            ]
            .into_iter(),
            2.0,
        );
        assert_eq!(pens[&4].data(), "m20 22 4 0m0 12 4 0");
    }
}
