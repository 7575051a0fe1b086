//! What a sheet of a spread piece carries besides the piece, its label and the squares: page map,
//! instruction, ticks, join marks. Millimetres, in the sheet's axes unless said otherwise.

use super::ink;
use super::nested::Nest;
use super::sheet::{Furniture, PageMap, Paragraph};
use super::spread::Spread;
use super::square::STRIP;
use super::svg::Svg;
use super::tile::{OVERLAP, TICK};
use super::words;
use crate::geometry::units::POINT;
use crate::language::Words;
use kurbo::{Affine, Line, Point, Rect, Size};

/// The page map: its usual scale, and the most room it may take.
const MAP_SCALE: f64 = 0.067;
const MAP_ROOM: f64 = 44.0;

/// Type size of the instruction, points, and its leading, mm.
const INSTRUCTION: f64 = 10.0;
const LEADING: f64 = 3.9;

impl Spread {
    /// The small outline for the page map.
    pub fn outline_file(&self) -> Vec<u8> {
        let scale = self.map_scale();
        let mut svg = Svg::new(self.drawing.width * scale, self.drawing.height * scale);
        svg.stroke(
            None,
            &(Affine::scale(scale) * self.drawing.cut()),
            ink::THIN,
        );
        svg.finish()
    }

    /// Map, instruction and all other furniture of sheet `index` on a live area of `live`.
    pub fn furniture(
        &self,
        index: usize,
        live: Size,
        (outline, nest): (&str, &Nest<'_>),
    ) -> (Furniture, Vec<Paragraph>) {
        let text = self.instruction(index, &nest.words);
        let (map_rect, text_rect) = if self.strip {
            self.in_strip(live)
        } else {
            self.in_frame(index, &text)
        };
        let map = map_rect.map(|r| self.map(index, r, (outline, nest)));
        let paragraphs = text_rect.map(|room| Paragraph {
            room,
            text,
            points: INSTRUCTION,
            aside: false,
        });
        let furniture = Furniture {
            frame: self.grid.frame,
            lay_on: self.lay_on(index),
            joins: self.half_joins(index),
            ticks: self.ticks(index),
            map,
        };
        (furniture, paragraphs.into_iter().collect())
    }

    fn map_scale(&self) -> f64 {
        let span = self.grid.span();
        MAP_SCALE
            .min(MAP_ROOM / span.width)
            .min(MAP_ROOM / span.height)
    }

    fn in_strip(&self, live: Size) -> (Option<Rect>, Option<Rect>) {
        let size = self.grid.span() * self.map_scale();
        let top = live.height - STRIP + 6.0;
        let map = Rect::new(live.width - size.width, top, live.width, top + size.height);
        let text = Rect::new(110.0, top, map.x0 - 4.0, live.height);
        (Some(map), Some(text))
    }

    fn in_frame(&self, index: usize, text: &str) -> (Option<Rect>, Option<Rect>) {
        let frame = self.frame();
        let (outside, inside) = self.fields(index, &[]);
        let corner = |r: Rect| (frame.x1 - r.x1) + 1.5 * r.y0;
        let mut map = None;
        'scales: for shrink in [1.0, 0.75, 0.55] {
            let size = self.grid.span() * (self.map_scale() * shrink);
            for field in [&outside, &inside] {
                map = field.place((size.width, size.height), 3.0, corner);
                if map.is_some() {
                    break 'scales;
                }
            }
        }
        let taken: Vec<Rect> = map.into_iter().collect();
        let (outside, inside) = self.fields(index, &taken);
        let near = |r: Rect| match map {
            Some(m) => (m.x0 - r.x1).abs() + (m.y0 - r.y0).abs() * 2.0,
            None => r.y0,
        };
        for field in [outside, inside] {
            for width in [68.0, 84.0, 56.0, 46.0, 38.0] {
                if let Some(rect) = field.place((width, paragraph_height(text, width)), 2.0, near) {
                    return (map, Some(rect));
                }
            }
        }
        (map, None)
    }

    /// `Row 1, column 2. Trim this sheet along its left and lower lines. Lay it on …`.
    fn instruction(&self, index: usize, said: &Words) -> String {
        let (row, column) = (index / self.grid.columns + 1, index % self.grid.columns + 1);
        let name = |i: usize| words::letter(self.grid.ordinal(i));
        let left = self.grid.neighbour(index, -1, 0);
        let below = self.grid.neighbour(index, 0, 1);
        let at = said.say("plates.place", &[("row", &row), ("column", &column)]);
        let (trim, mut letters) = match (left, below) {
            (Some(l), Some(b)) => ("plates.trim both", vec![name(l), name(b)]),
            (Some(l), None) => ("plates.trim left", vec![name(l)]),
            (None, Some(b)) => ("plates.trim lower", vec![name(b)]),
            (None, None) => return format!("{at} {}", said.get("plates.trim nothing")),
        };
        letters.sort();
        let sheets = said.joined(&letters);
        let lay = said.count("plates.lay", letters.len(), &[("sheets", &sheets)]);
        format!("{at} {} {lay}", said.get(trim))
    }

    /// Ticks along the frame of a sheet, some with their number and its place.
    pub(super) fn ticks(&self, index: usize) -> Vec<(Line, Option<(Point, String)>)> {
        let region = self.grid.region(index);
        let frame = self.frame();
        let multiples = |from: f64, to: f64| {
            let first = (from / TICK).floor() as usize + 1;
            (first..)
                .map(|i| i as f64 * TICK)
                .take_while(move |v| *v < to - 1.0)
        };
        let words = |value: f64| format!("{:.0}", value / 10.0);
        let mut ticks = Vec::new();
        for value in multiples(region.x0 + 1.0, region.x1) {
            let x = value - region.x0;
            let named = (Point::new(x, -1.0), words(value));
            ticks.push((Line::new((x, 0.0), (x, 2.0)), Some(named)));
            ticks.push((Line::new((x, frame.y1 - 2.0), (x, frame.y1)), None));
        }
        for value in multiples(region.y0 + 1.0, region.y1) {
            let y = value - region.y0;
            let named = (Point::new(-2.6, y + 0.9), words(value));
            ticks.push((Line::new((0.0, y), (2.0, y)), Some(named)));
            ticks.push((Line::new((frame.x1 - 2.0, y), (frame.x1, y)), None));
        }
        ticks
    }

    fn map(&self, index: usize, room: Rect, (outline, nest): (&str, &Nest<'_>)) -> PageMap {
        let scale = room.width() / self.grid.span().width;
        let scaled = |r: Rect| Rect::new(r.x0 * scale, r.y0 * scale, r.x1 * scale, r.y1 * scale);
        let kept = (0..self.grid.kept.len()).filter(|i| self.grid.kept[*i]);
        let cells = kept
            .map(|i| {
                let letter = words::letter(self.grid.ordinal(i));
                (scaled(self.visible(i)), letter, i == index)
            })
            .collect();
        let (row, column) = (index / self.grid.columns + 1, index % self.grid.columns + 1);
        PageMap {
            at: room.origin(),
            cells,
            outline: (outline.to_string(), scaled(self.drawing.bounds() + self.by)),
            alt: nest.words.count(
                "plates.map",
                self.grid.sheets(),
                &[
                    ("piece", &nest.piece().title),
                    ("sheet", &words::letter(self.grid.ordinal(index))),
                    ("row", &row),
                    ("column", &column),
                ],
            ),
        }
    }

    /// The part of a sheet that is seen when all are joined.
    fn visible(&self, index: usize) -> Rect {
        let mut region = self.grid.region(index);
        if self.grid.neighbour(index, 1, 0).is_some() {
            region.x1 -= OVERLAP;
        }
        if self.grid.neighbour(index, 0, -1).is_some() {
            region.y0 += OVERLAP;
        }
        region
    }
}

/// Room that the instruction needs at `width`, from a generous mean width of the serif's letters
/// (0.47 em; running English is nearer to 0.43).
fn paragraph_height(text: &str, width: f64) -> f64 {
    let whole = text.chars().count() as f64 * 0.47 * INSTRUCTION * POINT;
    // a ragged line loses half a word
    let lines = (whole / (width - 4.0)).ceil();
    lines * LEADING + 0.6
}
