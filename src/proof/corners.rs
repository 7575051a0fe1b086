//! Whether every plate carries its test squares, and where there are two of each, whether these stand
//! in opposite quarters of the page: a sheet that a machine draws in unevenly is then found out.
//! Millimetres.

use super::sheet::Sheet;
use super::square::{Square, squares};
use super::{Intended, MeasuredSquare, Proof};
use kurbo::{Rect, Vec2};

impl Proof {
    pub(super) fn check_squares(
        &mut self,
        sheet: &Sheet,
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
