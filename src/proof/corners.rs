//! Whether every plate carries its test squares, and where there are two of each, whether these stand
//! in opposite quarters of the page: a sheet that a machine draws in unevenly is then found out.
//! Millimetres.

use super::outline::Drawn;
use super::sheet::Sheet;
use super::square::{Square, squares};
use super::{Intended, MeasuredSquare, Proof};
use kurbo::{Rect, Vec2};

/// Widest line of a test square, mm: of one of 0.25, the house's, a rule of half millimetres still finds
/// the middle, of one this wide hardly.
const THICKEST: f64 = 0.7;

/// Whether a line runs through a square is looked at every so many mm.
const LOOK_EVERY: f64 = 0.5;

impl Proof {
    pub(super) fn check_squares(
        &mut self,
        (sheet, drawn): (&Sheet, &Drawn<'_>),
        page: usize,
        taken: &[usize],
        intended: &Intended,
    ) {
        let sets = intended.square_sets.max(1);
        let sides = intended.squares.repeat(sets);
        let found = squares(sheet, &sides, taken);
        for (index, side) in intended.squares.iter().enumerate() {
            let of_side: Vec<Square> = found
                .iter()
                .skip(index)
                .step_by(intended.squares.len())
                .filter_map(|square| *square)
                .collect();
            self.check_count(*side, of_side.len(), sets, page);
            if sets > 1 && of_side.len() == sets {
                self.check_corners(*side, &of_side, sheet, page);
            }
            for square in of_side {
                self.check_square(square, page, intended.tolerance);
                self.check_square_line(&square, page);
                self.check_square_clear((&square, page), taken, drawn);
                let names = &intended.words.squares;
                if let Some(name) = names.get(index) {
                    self.check_square_name((&sheet.letters, page), &square, (name, names));
                }
            }
        }
    }

    fn check_count(&mut self, side: f64, there: usize, sets: usize, page: usize) {
        let message = match (there, sets) {
            (0, 1) => format!("the test square of {side} mm is missing"),
            (_, 1) => format!("the test square of {side} mm is there"),
            _ if there == sets => format!("all {sets} test squares of {side} mm are there"),
            _ => format!("of {sets} test squares of {side} mm there are {there}"),
        };
        let remedy = "Every page with pieces carries every test square.";
        self.note("square-missing", Some(page), there == sets, message, remedy);
    }

    /// A thick line has no middle that a buyer could measure to.
    fn check_square_line(&mut self, square: &Square, page: usize) {
        let (side, line) = (square.side, square.line);
        let right = line <= THICKEST;
        let message = match right {
            true => format!("the line of the square of {side} mm is {line:.2} mm wide"),
            false => format!(
                "the line of the square of {side} mm is {line:.2} mm wide; {THICKEST} mm is the most"
            ),
        };
        let remedy = "Draw the squares with a thin line: they are measured to its middle.";
        self.note("square-line", Some(page), right, message, remedy);
        self.mark(square.room());
    }

    /// Whether a square stands clear of the lines of all pieces. In the middle of a large one it may be.
    fn check_square_clear(
        &mut self,
        (square, page): (&Square, usize),
        taken: &[usize],
        drawn: &Drawn<'_>,
    ) {
        let (side, room) = (square.side, square.room());
        let near = |line: &&usize| {
            let line = &drawn.sheets[page - 1].lines[**line];
            line.bounds.overlaps(room) && line.window.overlaps(room)
        };
        let crosses = |line: &&usize| {
            let window = drawn.sheets[page - 1].lines[**line].window;
            let points = drawn
                .ring(page - 1, **line)
                .map(|ring| ring.fine_points(LOOK_EVERY));
            let mut points = points.into_iter().flatten();
            points.any(|p| room.contains(p) && window.contains(p))
        };
        let clear = !taken.iter().filter(near).any(|line| crosses(&line));
        let message = match clear {
            true => format!("the test square of {side} mm is clear of all pieces"),
            false => format!("the test square of {side} mm lies over a line of a piece"),
        };
        let remedy = "Leave the squares where they come: neither they nor the piece could be cut or measured.";
        self.note("square-over-piece", Some(page), clear, message, remedy);
        self.mark(room);
    }

    fn check_corners(&mut self, side: f64, of_side: &[Square], sheet: &Sheet, page: usize) {
        let middle = Vec2::new(sheet.width, sheet.height) / 2.0;
        let from_middle = |square: &Square| {
            square.at.to_vec2() + Vec2::new(square.width, square.height) / 2.0 - middle
        };
        let opposite = of_side.iter().any(|one| {
            let one = from_middle(one);
            of_side.iter().any(|other| {
                let other = from_middle(other);
                one.x * other.x < 0.0 && one.y * other.y < 0.0
            })
        });
        let state = if opposite { "stand" } else { "do not stand" };
        let message =
            format!("the test squares of {side} mm {state} in opposite quarters of the page");
        let remedy = "Put one of each at one corner of the sheet and one at the opposite corner.";
        self.note("square-corners", Some(page), opposite, message, remedy);
    }

    fn check_square(&mut self, square: Square, page: usize, tolerance: f64) {
        let Square {
            side,
            at,
            width,
            height,
            ..
        } = square;
        let right = square.deviation() <= tolerance;
        let message = format!("the test square of {side} mm measures {width:.4} by {height:.4} mm");
        let remedy = "Draw the page at true scale.";
        self.note("square-off", Some(page), right, message, remedy);
        self.mark(Rect::from_origin_size(at, (width, height)));
        self.measured.squares.push(MeasuredSquare {
            page,
            side,
            at,
            width,
            height,
        });
    }
}
