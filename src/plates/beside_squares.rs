//! The words beside the test squares of a plate: how to measure them, and where the other pieces are.
//! Millimetres, in the axes of the live area.

use super::composer::Composer;
use super::plan::PlateDraft;
use super::sheet::Paragraph;
use super::{large, words};
use kurbo::Rect;

/// Room for the words on measuring, and for those about other plates, set in 10.6 pt on this width, mm; beside
/// squares in their usual place the words about other plates have all that is left.
const PARAGRAPH: f64 = 66.0;
const PARAGRAPH_LARGE: f64 = 96.0;
const MEASURE_ROOM: f64 = 20.0;
const ASIDE_ROOM: f64 = 16.0;
/// Between the one and the other.
const ASIDE_GAP: f64 = 2.0;
/// From one line of such words to the next, mm.
const LINE: f64 = 4.24;
/// What a letter takes in the mean, and what a ragged line loses, half a word: mm.
const LETTER: f64 = 1.608;
const RAGGED: f64 = 6.5;

impl Composer<'_> {
    /// How to measure the squares, and on which other plates the rest of a size is found: beside
    /// the squares where they stand in their usual place, else where there is room.
    pub(super) fn beside_squares(&self, number: usize, plate: &PlateDraft) -> Vec<Paragraph> {
        let width = match self.job.paper.is_large() {
            true => PARAGRAPH_LARGE,
            false => PARAGRAPH,
        };
        let below = match plate.usual {
            true => self.live.height - plate.squares[1].at.y - MEASURE_ROOM,
            false => ASIDE_ROOM,
        };
        let aside = self.elsewhere(number, plate, letters(width, below - ASIDE_GAP));
        let height = if aside.is_empty() {
            MEASURE_ROOM
        } else {
            MEASURE_ROOM + ASIDE_ROOM
        };
        let Some(room) = large::words_room(plate, (width, height), self.live) else {
            return Vec::new();
        };
        let paragraph = |y0: f64, y1: f64, text: String, aside: bool| Paragraph {
            room: Rect::new(room.x0, y0, room.x1, y1),
            text,
            points: 10.6,
            aside,
        };
        let middle = room.y0 + MEASURE_ROOM;
        let measure = match self.job.paper.is_large() {
            true => "plates.measure large",
            false => "plates.measure",
        };
        let measure = self.job.words.get(measure);
        let mut paragraphs = vec![paragraph(room.y0, middle, measure.to_string(), false)];
        if !aside.is_empty() {
            paragraphs.push(paragraph(middle + ASIDE_GAP, room.y1, aside, true));
        }
        paragraphs
    }

    /// `Pieces 3 and 5 are on plate 2.`, for every size of this plate; a size is named if all that is meant is of
    /// that one of several. At most so many letters.
    fn elsewhere(&self, number: usize, plate: &PlateDraft, longest: usize) -> String {
        let mut plates: Vec<(usize, Vec<usize>, &[usize])> = Vec::new();
        for (other, group, piece) in &self.whereabouts {
            let group = &self.groups[*group];
            let mut own = plate.bands.iter().map(|b| &self.groups[b.size]);
            if *other == number || own.all(|g| !g.shares_size(group)) {
                continue;
            }
            match plates.iter_mut().find(|p| p.0 == *other) {
                Some((_, pieces, sizes)) => {
                    pieces.push(*piece);
                    // of two groups none can be named
                    if *sizes != group.sizes {
                        *sizes = &[];
                    }
                }
                None => plates.push((*other, vec![*piece], &group.sizes)),
            }
        }
        let title = |sizes: &[usize]| match *sizes {
            [size] if self.sizes.len() > 1 => Some(self.sizes[size].title.as_str()),
            _ => None,
        };
        let plates = plates
            .into_iter()
            .map(|(plate, pieces, sizes)| words::Elsewhere {
                plate,
                pieces,
                size: title(sizes),
            });
        words::elsewhere(plates.collect(), longest, &self.job.words)
    }
}

/// How many letters of 10.6 pt find room on that width and height.
fn letters(width: f64, height: f64) -> usize {
    let lines = (height / LINE).floor().max(0.0);
    (lines * (width - RAGGED) / LETTER) as usize
}

#[cfg(test)]
mod tests {
    use crate::plates::fixtures::{board, job, size};
    use crate::plates::{PlateJob, plan};

    #[test]
    fn two_sizes_are_named_where_they_take_more_than_three_lines() {
        // by hand: two boards find room on a page, so that the second has one of each foot
        let boards = || {
            let boards = (1..=3).map(|i| board(i, &format!("b{i}"), 150.0, 70.0));
            boards.collect()
        };
        let feet = ["left", "right"];
        let sizes =
            feet.map(|foot| size(foot, &format!("For the larger {foot} foot"), "", boards()));
        let job = PlateJob {
            pairs: vec![vec![0, 1]],
            ..job("a4")
        };
        let set = plan(&sizes, &job).expect("they fit");
        let told = set.sheets[1].paragraphs[1].text.replace('\u{a0}', " ");
        assert!(told.chars().count() > 110, "{told}");
        for (foot, plate) in feet.iter().zip([1, 3]) {
            let there = format!("of size For the larger {foot} foot are on plate {plate}.");
            assert!(told.contains(&there), "{told}");
        }
    }
}
