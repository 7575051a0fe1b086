//! A drawing for a cutter: lines in groups by what is done with them, each group of its own colour, as
//! SVG at true scale. One unit is one millimetre; coordinates have four decimals.

use super::lines::{PieceLines, Round};
use super::once::Once;
use crate::design::CutColours;
use crate::design::look::written;
use crate::geometry::path_text::{path_text, rounded};
use crate::geometry::units::INCH;
use crate::plates::svg::escaped;
use kurbo::{BezPath, Circle, Rect, Shape};
use std::fmt::Write;

/// Width of the hairline, mm: 0.1 pt, which cutters take for a line to follow (common practice).
const HAIRLINE: f64 = 0.1 * INCH / 72.0;

/// What is done with a line, in the order in which lines are drawn: of two that lie on each other the
/// first remains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Cut through.
    Cut,
    /// Creased.
    Score,
    /// Drawn.
    Mark,
    /// Only looked at.
    Guide,
}

impl Purpose {
    const ALL: [Self; 4] = [Self::Cut, Self::Score, Self::Mark, Self::Guide];

    /// Name of its group.
    fn name(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Score => "score",
            Self::Mark => "mark",
            Self::Guide => "guide",
        }
    }

    fn colour(self, colours: &CutColours) -> [u8; 3] {
        match self {
            Self::Cut => colours.cut,
            Self::Score => colours.score,
            Self::Mark => colours.mark,
            Self::Guide => colours.guide,
        }
    }
}

/// A drawing that grows.
#[derive(Debug, Default)]
pub(super) struct Plot {
    groups: [String; 4],
    once: Once,
    rounds: Vec<Round>,
}

impl Plot {
    /// Takes `path` for drawn, although it is not: nothing will be drawn there.
    pub fn keep_off(&mut self, path: &BezPath) {
        self.once.fresh(path);
    }

    /// Draws what of `path` was not drawn before; `words` name it if it is an outline.
    pub fn path(&mut self, purpose: Purpose, words: Option<&str>, path: &BezPath) {
        let fresh = self.once.fresh(path);
        if !fresh.is_empty() {
            self.write_path(purpose, words, &fresh);
        }
    }

    /// Draws `path` whatever was drawn before: letters, and what was kept off.
    pub fn whole(&mut self, purpose: Purpose, path: &BezPath) {
        self.write_path(purpose, None, path);
    }

    fn write_path(&mut self, purpose: Purpose, words: Option<&str>, path: &BezPath) {
        let class = words.map_or(String::new(), |words| {
            format!(" class=\"outline\" data-piece=\"{}\"", escaped(words))
        });
        let data = path_text(path);
        self.write(purpose, &format!("<path{class} d=\"{data}\"/>\n"));
    }

    fn round(&mut self, purpose: Purpose, round: Round) {
        let same = |other: &Round| {
            other.at.distance(round.at) < super::once::SAME
                && (other.diameter - round.diameter).abs() < super::once::SAME
        };
        if self.rounds.iter().any(same) {
            return;
        }
        self.rounds.push(round);
        let [x, y, r] = [round.at.x, round.at.y, round.diameter / 2.0].map(rounded);
        self.write(
            purpose,
            &format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>\n"),
        );
    }

    fn write(&mut self, purpose: Purpose, element: &str) {
        self.groups[purpose as usize].push_str(element);
    }

    /// Draws all pieces: first what is cut of all of them, then what is creased, and so on. Each has its
    /// name.
    pub fn pieces(&mut self, pieces: &[(String, PieceLines)]) {
        for (name, piece) in pieces {
            self.path(Purpose::Cut, Some(name), &piece.outline);
            for slit in &piece.slits {
                self.path(Purpose::Cut, None, slit);
            }
            for hole in &piece.holes {
                self.round(Purpose::Cut, *hole);
            }
        }
        for purpose in [Purpose::Score, Purpose::Mark, Purpose::Guide] {
            for (_, piece) in pieces {
                let paths = match purpose {
                    Purpose::Score => &piece.score,
                    Purpose::Guide => &piece.guide,
                    _ => &piece.marks,
                };
                for path in paths {
                    self.path(purpose, None, path);
                }
                for button in piece.buttons.iter().filter(|_| purpose == Purpose::Mark) {
                    self.round(purpose, *button);
                }
            }
        }
    }

    /// The finished drawing, showing `view`; groups in which nothing is are left out.
    pub fn svg(&self, title: &str, view: Rect, colours: &CutColours) -> String {
        let [x, y, width, height] = [view.x0, view.y0, view.width(), view.height()].map(rounded);
        let mut text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"{x} {y} {width} {height}\">\n<title>{}</title>\n",
            escaped(title)
        );
        for purpose in Purpose::ALL {
            let lines = &self.groups[purpose as usize];
            if lines.is_empty() {
                continue;
            }
            let colour = written(purpose.colour(colours)).to_lowercase();
            write!(
                text,
                "<g id=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{}\">\n{lines}</g>\n",
                purpose.name(),
                rounded(HAIRLINE),
            )
            .expect("writing to a String never fails");
        }
        text.push_str("</svg>\n");
        text
    }
}

/// The box of all lines of a piece.
pub(super) fn bounds(piece: &PieceLines) -> Rect {
    let paths = [&piece.slits, &piece.score, &piece.marks, &piece.guide];
    let paths = paths.into_iter().flatten().map(Shape::bounding_box);
    let rounds = piece.holes.iter().chain(&piece.buttons);
    let rounds = rounds.map(|r| Circle::new(r.at, r.diameter / 2.0).bounding_box());
    paths
        .chain(rounds)
        .fold(piece.outline.bounding_box(), |all, one| all.union(one))
}
