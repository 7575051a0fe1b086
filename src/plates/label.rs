//! A piece's label: its words, set inside the piece where they stand clear of every line, else
//! beside it with a leader that runs straight down or straight across. Millimetres; type in points.

use super::drawing::Drawing;
use super::field::Field;
use super::label_stack::Stack;
use super::label_words::LabelWords;
use super::leader::{self, DOT};
use super::lettering::{self, Face, TextLine};
use super::size_lines::Dashes;
use crate::geometry::units::POINT;
use kurbo::{Line, Point, Rect, Vec2};
use std::collections::BTreeMap;

/// A label inside keeps this far from every line.
pub const CLEAR: f64 = 2.0;
/// Words beside a piece keep this far from it, and from their leader.
const PAD: f64 = 2.4;
/// Type of name, of the other words, and of the numeral beside and inside, in points.
const NAME: f64 = 9.0;
const REST: f64 = 7.8;
const NUMERAL_BESIDE: f64 = 17.0;
const NUMERAL_INSIDE: f64 = 19.0;
/// Nothing on a plate is set smaller, in points.
const LEAST: f64 = 7.2;
/// From baseline to the next line's capitals inside a piece, and beside it, in points.
const GAP_INSIDE: f64 = 4.6;
const GAP_BESIDE: f64 = 3.6;
/// What parts one of the words below a title from the next, besides the gap, in parts of that gap.
const APART: f64 = 0.35;
/// Baseline of the name above the rule it stands on, and top of the words below it.
const ABOVE_RULE: f64 = 1.4;
const BELOW_RULE: f64 = 1.7;

/// Words below the rule in more lines than this cost room.
const GOOD_LINES: usize = 6;
/// Between numeral and name.
const AFTER_NUMERAL: f64 = 1.8;

/// A label in place.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Label {
    /// Its lines of type, to be read in this order.
    pub lines: Vec<TextLine>,
    /// Rule and leader.
    pub rules: Vec<Line>,
    /// Where the leader ends in the piece.
    pub dot: Option<Point>,
    /// Room the words take up.
    pub words: Rect,
    /// Samples of the lines of several sizes, from the middle of a dash to that of the next.
    pub samples: Vec<(Line, Dashes)>,
    /// Index of the size it is said of; none if it holds for all on the page.
    pub size: Option<usize>,
    /// Whether it names a notch, not a line.
    pub of_notch: bool,
}

impl Label {
    /// The label moved.
    pub fn moved(mut self, by: Vec2) -> Self {
        for line in &mut self.lines {
            line.at += by;
        }
        for rule in &mut self.rules {
            *rule = *rule + by;
        }
        self.dot = self.dot.map(|d| d + by);
        for (sample, _) in &mut self.samples {
            *sample = *sample + by;
        }
        self.words = self.words + by;
        self
    }

    /// Room for words, rule, leader and dot.
    pub fn bounds(&self) -> Rect {
        let rules = self.rules.iter().map(|l| Rect::from_points(l.p0, l.p1));
        let dot = self
            .dot
            .map(|d| Rect::from_center_size(d, (2.0 * DOT, 2.0 * DOT)));
        rules.chain(dot).fold(self.words, |all, r| all.union(r))
    }
}

/// Widest settings of a label inside a piece, tried in this order, mm at full size.
const SETTINGS: [f64; 6] = [48.0, 38.0, 30.0, 24.0, 20.0, 18.0];

/// No setting is narrower than this, mm: the name of a size stays on one line.
const NARROWEST: f64 = 16.5;

/// A label inside of more lines than this is a column nobody reads: it stands beside instead.
const MOST_LINES: usize = 11;

/// The label inside the piece, as near to `target` as it stands clear of every line blocked in
/// `field`; tried at each of `scales`, with and without the edition, in ever narrower settings.
pub fn inside(words: &LabelWords, field: &Field, target: Point, scales: &[f64]) -> Option<Label> {
    let smallest = scales.iter().copied().fold(f64::INFINITY, f64::min);
    let set = |scale: f64, limit: f64, with_edition: bool, (clear, apart): (f64, f64)| {
        let width = (limit * scale).max(NARROWEST);
        let stack = inside_stack(words, scale, width, (with_edition, apart));
        if stack.width > width + 1e-9 && limit > SETTINGS[SETTINGS.len() - 1] {
            return None;
        }
        if stack.len() > MOST_LINES {
            return None;
        }
        let size = (stack.width, stack.whole_height());
        let far = |r: Rect| r.center().distance_squared(target);
        let rect = field.place(size, clear, far)?;
        let (lines, samples) = stack.at(Point::new(rect.center().x, rect.y0), true);
        Some(Label {
            lines,
            samples,
            words: rect,
            ..Label::default()
        })
    };
    // most pieces that have no room have none for the least label either
    SETTINGS
        .iter()
        .find_map(|limit| set(smallest, *limit, false, (CLEAR, 0.0)))?;
    for room in [(CLEAR + 1.5, APART), (CLEAR, APART), (CLEAR, 0.0)] {
        for with_edition in [true, false] {
            for scale in scales {
                let found = SETTINGS
                    .iter()
                    .find_map(|l| set(*scale, *l, with_edition, room));
                if found.is_some() {
                    return found;
                }
            }
        }
    }
    None
}

fn inside_stack(
    words: &LabelWords,
    scale: f64,
    limit: f64,
    (with_edition, apart): (bool, f64),
) -> Stack {
    let gap = GAP_INSIDE * scale;
    let (name, rest) = (NAME * scale, (REST * scale).max(LEAST));
    let mut stack = Stack::new();
    stack.push(
        words.number.clone(),
        NUMERAL_INSIDE * scale,
        Face::Numeral,
        false,
        gap,
    );
    for line in lettering::wrap(&words.title, Face::Bold, name, limit) {
        stack.push(line, name, Face::Bold, false, gap);
    }
    stack.push_rest(&words.rest(with_edition), rest, (gap, apart * gap), limit);
    stack
}

/// Labels beside the piece whose room and leader `allowed` accepts: for each of four widths of setting the
/// best with a leader across and the best with a leader straight down, those that need least room
/// first. Empty if none is clear.
pub fn beside(
    words: &LabelWords,
    (drawing, grid): (&Drawing, usize),
    allowed: &dyn Fn(&Label) -> bool,
) -> Vec<Label> {
    let dots = leader::dots(drawing, grid);
    let mut found: Vec<(f64, Label)> = Vec::new();
    for limit in [26.0, 34.0, 44.0, 56.0] {
        let block = Beside::set(words, limit);
        for down in [false, true] {
            let mut reaches = BTreeMap::new();
            let mut best: Option<(f64, Label)> = None;
            for (dot, room) in &dots {
                let label = block.at(drawing, *dot, down, &mut reaches);
                let is_better = |price: f64| best.as_ref().is_none_or(|b| price < b.0 - 1e-9);
                // what hangs on every line of the piece is asked last
                let price = block.price(drawing, &label, *room);
                if !is_better(price) || !leader::is_clear(drawing, label.rules[0]) {
                    continue;
                }
                let price = price + leader::awkward(drawing, label.rules[0]);
                if is_better(price) && allowed(&label) {
                    best = Some((price, label));
                }
            }
            found.extend(best.map(|(price, mut label)| {
                let start = Point::new(label.words.x0, label.words.y0 + block.above);
                (label.lines, label.samples) = block.lines(words, start);
                (price, label)
            }));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|f| f.1).collect()
}

/// The words of a label beside a piece, before they have a place.
struct Beside {
    below: Stack,
    width: f64,
    above: f64,
    under: f64,
}

impl Beside {
    /// Set no wider than `limit` mm where the words allow it.
    fn set(words: &LabelWords, limit: f64) -> Self {
        let head = lettering::width(&words.number, Face::Numeral, NUMERAL_BESIDE)
            + AFTER_NUMERAL
            + lettering::width(&words.title, Face::Bold, NAME);
        let limit = limit.max(head);
        let mut below = Stack::new();
        below.push_rest(
            &words.rest(false),
            REST,
            (GAP_BESIDE, APART * GAP_BESIDE),
            limit,
        );
        Self {
            width: head.max(below.width) + 0.3,
            above: ABOVE_RULE + NUMERAL_BESIDE * lettering::NUMERAL_HEIGHT * POINT,
            under: BELOW_RULE + below.whole_height(),
            below,
        }
    }

    /// Rule, leader and room for a leader that ends at `dot`, without the words themselves. How far the piece
    /// reaches beside dots of one column, or of one row, is kept in `reaches`.
    fn at(
        &self,
        drawing: &Drawing,
        dot: Point,
        down: bool,
        reaches: &mut BTreeMap<u64, f64>,
    ) -> Label {
        let (along, band) = match down {
            true => (dot.x, (dot.x - 1.0, dot.x + PAD + self.width + PAD)),
            false => {
                let band = (dot.y - self.above - PAD, dot.y + self.under + PAD);
                (dot.y, band)
            }
        };
        let reach = reaches.entry(along.to_bits());
        let reach = *reach.or_insert_with(|| leader::furthest(drawing, band, down));
        let start = match down {
            true => Point::new(dot.x + PAD, reach.max(dot.y) + PAD + self.above),
            false => Point::new(reach.max(dot.x) + PAD, dot.y),
        };
        let end = start + Vec2::new(self.width, 0.0);
        let rules = if down {
            let foot = Point::new(dot.x, start.y);
            vec![Line::new(dot, foot), Line::new(foot, end)]
        } else {
            vec![Line::new(dot, end)]
        };
        Label {
            lines: Vec::new(),
            rules,
            dot: Some(dot),
            words: Rect::new(start.x, start.y - self.above, end.x, start.y + self.under),
            ..Label::default()
        }
    }

    /// Area that piece and label need together, more for what reads badly: a long leader, a dot close
    /// to a line, and a tall column. A leader that leaves through a corner or a notch costs more than that.
    fn price(&self, drawing: &Drawing, label: &Label, room: f64) -> f64 {
        let long: f64 = label.rules.iter().map(|l| (l.p1 - l.p0).hypot()).sum();
        let all = drawing.bounds().union(label.bounds());
        let tall = self.below.len().saturating_sub(GOOD_LINES) as f64;
        all.area() + 15.0 * long + 150.0 * (5.0 - room).max(0.0) + 60.0 * tall
    }

    fn lines(&self, words: &LabelWords, start: Point) -> (Vec<TextLine>, Vec<(Line, Dashes)>) {
        let numeral = lettering::width(&words.number, Face::Numeral, NUMERAL_BESIDE);
        let on_rule = start - Vec2::new(0.0, ABOVE_RULE);
        let line = |text: &str, aside: f64, points, face| TextLine {
            text: text.to_string(),
            at: on_rule + Vec2::new(aside, 0.0),
            width: self.width - aside,
            centred: false,
            points,
            face,
            soft: false,
            turn: 0.0,
            size: None,
        };
        let mut lines = vec![
            line(&words.number, 0.0, NUMERAL_BESIDE, Face::Numeral),
            line(&words.title, numeral + AFTER_NUMERAL, NAME, Face::Bold),
        ];
        let (below, samples) = self.below.at(start + Vec2::new(0.0, BELOW_RULE), false);
        lines.extend(below);
        (lines, samples)
    }
}
