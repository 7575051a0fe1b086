//! A piece spread over several sheets: how it is turned and laid on the grid, where the test
//! squares and its label go. What else stands on each sheet is in `furniture.rs`. Millimetres; the whole's axes
//! have their origin at the upper left of the first sheet's frame, a sheet's axes at its own.

use super::caption::{self, Captions};
use super::drawing::Drawing;
use super::field::{self, Field, sides};
use super::label::{self, Label};
use super::label_words::{LabelJob, LabelWords};
use super::large;
use super::leader;
use super::nested::Nest;
use super::nested_names;
use super::sheet::PlacedPiece;
use super::square::{self, STRIP, Square};
use super::tile::{Grid, HalfJoin, JOIN_RADIUS, Joint, OVERLAP};
use super::variant;
use crate::language::Words;
use kurbo::{Line, Point, Rect, Size, Vec2};
use std::rc::Rc;

/// More sheets than this for one piece are refused: nobody joins them.
pub const MOST_SHEETS: usize = 100;

/// A cut line keeps this far from the frame of the whole where there is slack.
const MARGIN: f64 = 4.0;

/// A piece laid on its grid, with all that stands on the whole.
#[derive(Debug, Clone)]
pub struct Spread {
    /// The sheets.
    pub grid: Grid,
    /// The piece as drawn.
    pub drawing: Rc<Drawing>,
    /// From the drawing's axes to the whole's.
    pub by: Vec2,
    /// Label, on the whole.
    pub label: Option<Label>,
    /// Captions, on the whole.
    pub captions: Captions,
    /// Names of nested sizes beside their lines, on the whole.
    pub names: Vec<Label>,
    /// Squares of every sheet of the grid that is printed, in the sheet's axes.
    pub squares: Vec<Option<[Square; 2]>>,
    joins: Vec<(Joint, Point)>,
    /// Whether the frames were made lower to leave a strip for the squares.
    pub strip: bool,
}

/// Why a piece cannot be spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooLarge {
    /// Sheets it would need.
    pub sheets: usize,
}

/// Lays a piece on as few sheets as possible, upright or turned by a quarter.
///
/// # Errors
/// If it would need more than [`MOST_SHEETS`].
pub fn spread(nest: &Nest<'_>, job: &LabelJob<'_>, live: Size) -> Result<Spread, TooLarge> {
    let whole = |quarters: u8| {
        let drawing = Drawing::of(nest, quarters);
        let size = Size::new(drawing.width, drawing.height);
        (drawing, Grid::covering(size, live))
    };
    let (upright, turned) = (whole(0), whole(1));
    let cells = |w: &(Drawing, Grid)| w.1.columns * w.1.rows;
    let (drawing, _) = if cells(&turned) < cells(&upright) {
        turned
    } else {
        upright
    };
    let size = Size::new(drawing.width, drawing.height);
    let drawing = Rc::new(drawing);
    for (frame, strip) in [
        (live, false),
        (Size::new(live.width, live.height - STRIP), true),
    ] {
        let grid = Grid::covering(size, frame);
        if grid.columns.saturating_mul(grid.rows) > MOST_SHEETS {
            let sheets = grid.columns.saturating_mul(grid.rows);
            return Err(TooLarge { sheets });
        }
        if let Some(found) = best_offset(&drawing, &grid, strip, live) {
            return Ok(found.lettered(nest, job));
        }
    }
    // with the strip the squares always have their place
    Err(TooLarge { sheets: 0 })
}

/// Tries the middle and the corners of the slack that the grid leaves.
fn best_offset(drawing: &Rc<Drawing>, grid: &Grid, strip: bool, live: Size) -> Option<Spread> {
    let slack = grid.span().to_vec2() - Vec2::new(drawing.width, drawing.height);
    // not quite into the corners, so that no cut line runs along a frame where it can be helped
    let at = |slack: f64, low: bool| {
        let margin = MARGIN.min(slack / 2.0);
        if low { margin } else { slack - margin }
    };
    let corner = |left, top| Vec2::new(at(slack.x, left), at(slack.y, top));
    let places = [
        slack / 2.0,
        corner(true, true),
        corner(false, false),
        corner(true, false),
        corner(false, true),
    ];
    let mut best: Option<((usize, usize), Spread)> = None;
    for by in places {
        let Some(found) = laid_at(drawing, grid.clone(), by, strip, live) else {
            continue;
        };
        let inside = found
            .squares
            .iter()
            .flatten()
            .flatten()
            .filter(|s| s.in_piece)
            .count();
        let key = (found.grid.sheets(), inside);
        if best.as_ref().is_none_or(|b| key < b.0) {
            best = Some((key, found));
        }
    }
    best.map(|b| b.1)
}

fn laid_at(
    drawing: &Rc<Drawing>,
    mut grid: Grid,
    by: Vec2,
    strip: bool,
    live: Size,
) -> Option<Spread> {
    let lines: Vec<Line> = drawing.lines().map(|l| *l + by).collect();
    grid.drop_empty(&lines);
    let joins = grid.join_marks(&lines);
    let mut found = Spread {
        squares: vec![None; grid.kept.len()],
        grid,
        drawing: Rc::clone(drawing),
        by,
        label: None,
        captions: Captions::default(),
        names: Vec::new(),
        joins,
        strip,
    };
    for index in 0..found.grid.kept.len() {
        if !found.grid.kept[index] {
            continue;
        }
        found.squares[index] = if strip {
            Some(square::usual(live.height))
        } else {
            let (outside, inside) = found.fields(index, &[]);
            Some(square::find(&outside, &inside, found.frame())?)
        };
    }
    Some(found)
}

impl Spread {
    /// Frame of a sheet, in its own axes.
    pub fn frame(&self) -> Rect {
        Rect::from_origin_size(Point::ZERO, self.grid.frame)
    }

    /// From the whole's axes to those of sheet `index`.
    fn onto(&self, index: usize) -> Vec2 {
        -self.grid.region(index).origin().to_vec2()
    }

    /// Outside and inside of the piece on a sheet, clear of all that stands there, and of `more`.
    pub fn fields(&self, index: usize, more: &[Rect]) -> (Field, Field) {
        let onto = self.onto(index);
        let mut rects: Vec<Rect> = more.to_vec();
        for join in self.half_joins(index) {
            let half = JOIN_RADIUS / 2.0;
            let middle = join.at + join.into * half;
            let size = if join.into.x == 0.0 {
                (10.0, 5.0)
            } else {
                (5.0, 10.0)
            };
            rects.push(Rect::from_center_size(middle, size));
        }
        rects.extend(self.squares[index].iter().flatten().map(Square::bounds));
        let labels = self.label.iter().chain(&self.names);
        rects.extend(labels.map(|l| l.bounds() + onto));
        rects.extend(
            self.captions
                .lines
                .iter()
                .map(|c| caption::bounds(c) + onto),
        );
        let frame = self.frame();
        rects.retain(|r| r.x1 > frame.x0 && r.y1 > frame.y0 && r.x0 < frame.x1 && r.y0 < frame.y1);
        let lay_on = self.lay_on(index);
        large::fields(&[(&self.drawing, self.by + onto)], &lay_on, &rects, frame)
    }

    /// Lines of a sheet on which its neighbours are laid.
    pub fn lay_on(&self, index: usize) -> Vec<Line> {
        let frame = self.frame();
        let mut lines = Vec::new();
        if self.grid.neighbour(index, 1, 0).is_some() {
            let x = frame.x1 - OVERLAP;
            lines.push(Line::new((x, 0.0), (x, frame.y1)));
        }
        if self.grid.neighbour(index, 0, -1).is_some() {
            lines.push(Line::new((0.0, OVERLAP), (frame.x1, OVERLAP)));
        }
        lines
    }

    /// The halves of join marks on a sheet.
    pub fn half_joins(&self, index: usize) -> Vec<HalfJoin> {
        let mut halves = Vec::new();
        for (i, (joint, middle)) in self.joins.iter().enumerate() {
            let forward = if joint.beside {
                Vec2::new(1.0, 0.0)
            } else {
                Vec2::new(0.0, 1.0)
            };
            let into = if joint.first == index {
                -forward
            } else if joint.second == index {
                forward
            } else {
                continue;
            };
            halves.push(HalfJoin {
                at: *middle + self.onto(index),
                into,
                number: i + 1,
            });
        }
        halves
    }

    /// Sets captions and label on the whole, clear of joints and squares.
    fn lettered(mut self, nest: &Nest<'_>, job: &LabelJob<'_>) -> Self {
        let mut obstacles: Vec<Line> = Vec::new();
        for index in (0..self.grid.kept.len()).filter(|i| self.grid.kept[*i]) {
            let region = self.grid.region(index);
            obstacles.extend(sides(region));
            let back = region.origin().to_vec2();
            obstacles.extend(self.lay_on(index).into_iter().map(|l| l + back));
            obstacles.extend(self.ticks(index).into_iter().map(|(tick, _)| tick + back));
            if !self.strip {
                let squares = self.squares[index].iter().flatten();
                obstacles.extend(squares.flat_map(|s| sides(s.bounds() + back)));
                // lines through a square's middle keep small words out of it, too
                let squares = self.squares[index].iter().flatten();
                obstacles.extend(squares.flat_map(|s| diagonals(s.bounds() + back)));
            }
        }
        for (_, at) in &self.joins {
            obstacles.extend(sides(Rect::from_center_size(*at, (10.0, 10.0))));
            obstacles.extend(diagonals(Rect::from_center_size(*at, (10.0, 10.0))));
        }
        let mut inward: Vec<Line> = obstacles.iter().map(|l| *l - self.by).collect();
        let captions = caption::captions(nest, &self.drawing, &inward);
        let mut words = LabelWords::of(nest, job);
        words.notes.extend(captions.left_over.iter().cloned());
        let names = self.named(nest, &captions, &inward);
        inward.extend(names.iter().flat_map(|n| sides(n.bounds())));
        let label = self.label_inside(&words, &captions, &inward);
        let by = self.by;
        self.label = label
            .or_else(|| self.label_beside(&words, &inward))
            .map(|l| l.moved(by));
        self.names = names.into_iter().map(|n| n.moved(by)).collect();
        self.captions = captions;
        for line in &mut self.captions.lines {
            line.at += by;
        }
        self
    }

    /// Names of nested sizes, in the drawing's axes.
    fn named(&self, nest: &Nest<'_>, captions: &Captions, obstacles: &[Line]) -> Vec<Label> {
        if !nest.is_nested() {
            return Vec::new();
        }
        let regions = self.regions();
        let allowed = |r: Rect| regions.iter().any(|f| f.contains_rect(r));
        let rooms = (obstacles, &captions.room[..]);
        nested_names::names(nest, &self.drawing, rooms, &allowed)
    }

    /// Rooms of the printed sheets but for their rims, in the drawing's axes.
    fn regions(&self) -> Vec<Rect> {
        let sheets = self.sheets().into_iter();
        sheets
            .map(|i| (self.grid.region(i) - self.by).inset(-2.0))
            .collect()
    }

    /// In the drawing's axes.
    fn label_inside(
        &self,
        words: &LabelWords,
        captions: &Captions,
        obstacles: &[Line],
    ) -> Option<Label> {
        if self.drawing.small {
            return None;
        }
        let bounds = self.drawing.bounds();
        let field = variant::inside_field(&self.drawing, captions, obstacles, bounds);
        let mut mask = field.mask();
        for index in 0..self.grid.kept.len() {
            let back = self.grid.region(index).origin().to_vec2() - self.by;
            if let Some(squares) = self.squares[index].filter(|_| !self.strip) {
                squares
                    .iter()
                    .for_each(|s| mask.block_rect(s.bounds() + back));
            }
            if !self.grid.kept[index] {
                mask.block_rect(self.frame() + back);
            }
        }
        let field = mask.seal();
        let target = variant::centroid(self.drawing.core());
        label::inside(words, &field, target, &[1.3])
            .or_else(|| label::inside(words, &field, target, &variant::SCALES))
    }

    /// In the drawing's axes.
    fn label_beside(&self, words: &LabelWords, obstacles: &[Line]) -> Option<Label> {
        let regions = self.regions();
        let allowed = |r: Rect| {
            regions.iter().any(|f| f.contains_rect(r))
                && field::is_clear(obstacles, r, label::CLEAR)
                && field::is_clear(self.drawing.lines(), r, label::CLEAR)
        };
        let on = (&*self.drawing, leader::GRIDS[0]);
        label::beside(words, on, &|label| allowed(label.words))
            .into_iter()
            .next()
    }

    /// The sheets printed, by their index in the grid.
    pub fn sheets(&self) -> Vec<usize> {
        (0..self.grid.kept.len())
            .filter(|i| self.grid.kept[*i])
            .collect()
    }

    /// Whether anything in `room` (on the whole) shows on a sheet.
    pub fn shows(&self, index: usize, room: Rect) -> bool {
        let r = self.grid.region(index);
        room.x1 > r.x0 && room.x0 < r.x1 && room.y1 > r.y0 && room.y0 < r.y1
    }

    /// `piece`, which was placed on the whole, on sheet `index`.
    pub fn placed(&self, index: usize, piece: &PlacedPiece, words: &Words) -> PlacedPiece {
        let letter = super::words::letter(self.grid.ordinal(index));
        let sheet = words.count("plates.sheet", self.grid.sheets(), &[("sheet", &letter)]);
        let mut piece = piece.clone();
        for part in &mut piece.parts {
            part.alt = format!("{} {sheet}", part.alt);
        }
        let onto = self.onto(index);
        piece.place = self.drawing.bounds() + self.by + onto;
        piece.cut = self.drawing.cut_box() + self.by + onto;
        piece.rings = self.drawing.rings(self.by + onto);
        let shown = self.names.iter().filter(|n| self.shows(index, n.bounds()));
        piece.names = shown.map(|n| n.clone().moved(onto)).collect();
        piece
    }
}

fn diagonals(rect: Rect) -> [Line; 2] {
    let [a, b, c, d] = sides(rect).map(|l| l.p0);
    [Line::new(a, c), Line::new(b, d)]
}
