//! Pieces on sheets: as few sheets as possible, and of the last one as little length as possible, so
//! that most of it is left in one piece. Sheets are rectangles or of any outline, a hide's say, with
//! holes. mm, y down.

use super::effort::Effort;
use super::greedy;
use super::item::{Item, Layout, Placed, Refusal, no_room};
use super::lay::Lay;
use super::prepare::{self, Making};
use super::ring;
use super::search;
use super::swell;
use super::task::{Found, Place, Task};
use super::verify::{self, Cloth};
use kurbo::{Point, Rect, Vec2};

/// One sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The outline, mm, without the first point repeated; it must not cross itself.
    pub outline: Vec<Point>,
    /// Holes and faults to be left out.
    pub holes: Vec<Vec<Point>>,
}

impl Sheet {
    /// A rectangle with one corner at the origin.
    pub fn rectangle(length: f64, width: f64) -> Self {
        let outline = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)];
        Self {
            outline: outline.map(Point::from).to_vec(),
            holes: Vec::new(),
        }
    }

    fn is_rectangle(&self) -> bool {
        let bounds = ring::bounds(&self.outline);
        ring::area(&self.outline).abs() >= bounds.area() * (1.0 - 1e-12)
    }
}

/// The sheets there are, and how they are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheets {
    /// What there is to cut from.
    pub stock: Stock,
    /// What is kept free between pieces and towards all edges, mm.
    pub spacing: f64,
    /// How far a piece may be simplified outwards, mm.
    pub simplify: f64,
}

/// What there is to cut from.
#[derive(Clone, Debug, PartialEq)]
pub enum Stock {
    /// As many equal sheets as it takes.
    Equal(Sheet),
    /// These sheets, taken in this order.
    Given(Vec<Sheet>),
}

impl Stock {
    fn sheet(&self, index: usize) -> Option<&Sheet> {
        match self {
            Self::Equal(sheet) => Some(sheet),
            Self::Given(sheets) => sheets.get(index),
        }
    }

    fn different(&self) -> &[Sheet] {
        match self {
            Self::Equal(sheet) => std::slice::from_ref(sheet),
            Self::Given(sheets) => sheets,
        }
    }
}

/// Packs all copies of all items on the fewest sheets that the effort finds, then the last one as
/// short as possible. One layout for each sheet that is used, in their order, each verified in f64
/// with the true rings; the pieces lie where the sheet's outline is drawn. Pieces of the fold lie at
/// the sheet's upper edge. Each attempt to do with one sheet less takes a quarter of the effort on
/// top of it.
///
/// # Errors
/// Every item that fits on none of the sheets, or whose ring or fold is none; or, where the given
/// sheets do not suffice, the items that found no room.
pub fn sheets(
    items: &[Item],
    sheets: &Sheets,
    effort: &Effort,
) -> Result<Vec<Layout>, Vec<Refusal>> {
    let mut pile = Pile::new(items, sheets, effort)?;
    if pile.task.pieces.is_empty() {
        return Ok(Vec::new());
    }
    let (mut count, greedy) = pile.greedy(effort)?;
    let mut found = greedy.clone();
    while count > 1 && pile.area(count - 1) >= pile.needed() {
        let Some(fewer) = pile.crowd(count - 1, effort) else {
            break;
        };
        (count, found) = (count - 1, fewer);
    }
    let bays = pile.spread(count);
    let found = search::shorten(&pile.task, &bays, found, effort);
    pile.first_sound([found, greedy])
}

/// Packs all copies of all items one after the other, without a search.
///
/// # Errors
/// As [`sheets`].
pub fn greedy_sheets(items: &[Item], sheets: &Sheets) -> Result<Vec<Layout>, Vec<Refusal>> {
    let mut pile = Pile::new(items, sheets, &Effort::default())?;
    let (_, greedy) = pile.fill()?;
    pile.first_sound([greedy])
}

/// The sheets side by side along x, each one bay of the search, with what surrounds and holes them
/// as obstacles.
struct Pile<'a> {
    items: &'a [Item],
    sheets: &'a Sheets,
    making: Making,
    task: Task,
    /// For each different sheet the shapes of its obstacles.
    obstacles: Vec<Vec<usize>>,
}

/// What is spent on each attempt to do with one sheet less, on top of the effort, as a part of it.
const CROWDING: f64 = 0.25;

impl<'a> Pile<'a> {
    fn new(items: &'a [Item], sheets: &'a Sheets, effort: &Effort) -> Result<Self, Vec<Refusal>> {
        let different = sheets.stock.different();
        let heights = different
            .iter()
            .map(|sheet| ring::bounds(&sheet.outline).height());
        let height = heights.fold(0.0, f64::max);
        let making = Making {
            spacing: sheets.spacing,
            simplify: sheets.simplify,
            shapes: effort.shapes(),
            height,
        };
        let bays: Vec<Rect> = different
            .iter()
            .map(|sheet| usable(sheet, making))
            .collect();
        let rings: Vec<Vec<Vec<Point>>> = different
            .iter()
            .map(|sheet| surroundings(sheet, making))
            .collect();
        let flat: Vec<Vec<Point>> = rings.iter().flatten().cloned().collect();
        let (task, mut first) = prepare::task(items, making, &bays, &flat)?;
        let number = |ring: &Vec<Vec<Point>>| {
            first += ring.len();
            (first - ring.len()..first).collect()
        };
        let obstacles = rings.iter().map(number).collect();
        Ok(Self {
            items,
            sheets,
            making,
            task,
            obstacles,
        })
    }

    /// Lays out the first `count` sheets and their obstacles.
    fn spread(&mut self, count: usize) -> Vec<Rect> {
        self.task.fixed.clear();
        let mut bays = Vec::new();
        for (index, shift) in self.shifts(count).into_iter().enumerate() {
            let Some(sheet) = self.sheets.stock.sheet(index) else {
                break;
            };
            bays.push(usable(sheet, self.making) + shift);
            for &shape in &self.obstacles[index % self.obstacles.len()] {
                self.task.fixed.push(Place {
                    shape,
                    bay: index,
                    at: shift,
                });
            }
        }
        bays
    }

    /// Where the first `count` sheets lie in the search: side by side, their upper edges at y = 0,
    /// wide enough apart that nothing of one reaches into the next.
    fn shifts(&self, count: usize) -> Vec<Vec2> {
        let boxes = |sheet: &Sheet| ring::bounds(&sheet.outline);
        let sides = self.sheets.stock.different().iter();
        let widest = sides
            .map(|sheet| boxes(sheet).size().max_side())
            .fold(0.0, f64::max);
        let mut x = 0.0;
        let sheets = (0..count).map_while(|index| self.sheets.stock.sheet(index));
        sheets
            .map(|sheet| {
                let bounds = boxes(sheet);
                let shift = Vec2::new(x - bounds.x0, -bounds.y0);
                x += bounds.width() + 2.5 * MARGIN * widest;
                shift
            })
            .collect()
    }

    fn area(&self, count: usize) -> f64 {
        let sheets = (0..count).filter_map(|index| self.sheets.stock.sheet(index));
        sheets.map(|sheet| cloth(sheet).area(f64::INFINITY)).sum()
    }

    fn needed(&self) -> f64 {
        self.items
            .iter()
            .map(|item| ring::area(&item.ring).abs() * item.count as f64)
            .sum()
    }

    /// The greedy lay, on as many sheets as it takes; where the given sheets do not suffice for it,
    /// the crowded one.
    fn greedy(&mut self, effort: &Effort) -> Result<(usize, Found), Vec<Refusal>> {
        self.fill().or_else(|refusals| {
            let Stock::Given(given) = &self.sheets.stock else {
                return Err(refusals);
            };
            let count = given.len();
            self.crowd(count, effort)
                .map(|found| (count, found))
                .ok_or(refusals)
        })
    }

    fn fill(&mut self) -> Result<(usize, Found), Vec<Refusal>> {
        let mut count = 1;
        while self.area(count) < self.needed() && self.sheets.stock.sheet(count).is_some() {
            count += 1;
        }
        loop {
            let bays = self.spread(count);
            match greedy::fill(&self.task, &bays) {
                Ok(places) => {
                    let used = 1 + places.iter().map(|place| place.bay).max().unwrap_or(0);
                    return Ok((used, self.found(used, places)));
                }
                Err(_) if self.sheets.stock.sheet(count).is_some() && count < MOST => count += 1,
                Err(left) => {
                    let items = left.iter().map(|&piece| self.task.pieces[piece].item);
                    return Err(no_room(items));
                }
            }
        }
    }

    fn found(&mut self, count: usize, places: Vec<Place>) -> Found {
        let bays = self.spread(count);
        let start = bays[count - 1].x0;
        let length = Lay::new(&self.task, bays, places.clone()).end() - start;
        Found { places, length }
    }

    /// A lay on `count` sheets, found by pulling apart what does not fit at first.
    fn crowd(&mut self, count: usize, effort: &Effort) -> Option<Found> {
        let bays = self.spread(count);
        search::fit(&self.task, &bays, effort, CROWDING)
    }

    /// The first of the lays that stands up to the verification.
    fn first_sound<const N: usize>(
        &mut self,
        lays: [Found; N],
    ) -> Result<Vec<Layout>, Vec<Refusal>> {
        let lays = lays.into_iter().map(|found| self.layouts(&found.places));
        let sound = |layouts: &Vec<Layout>| {
            layouts.iter().enumerate().all(|(index, layout)| {
                let cloth = self.sheets.stock.sheet(index).map(cloth);
                let spacing = self.sheets.spacing;
                cloth.is_some_and(|cloth| {
                    verify::faults(self.items, &layout.placed, &cloth, spacing).is_empty()
                })
            })
        };
        lays.into_iter()
            .find(sound)
            .ok_or_else(|| no_room(0..self.items.len()))
    }

    fn layouts(&self, places: &[Place]) -> Vec<Layout> {
        let count = 1 + places.iter().map(|place| place.bay).max().unwrap_or(0);
        let shifts = self.shifts(count);
        let mut layouts = vec![
            Layout {
                placed: Vec::new(),
                length: 0.0,
                density: 0.0
            };
            count
        ];
        for (placed, place) in self.task.placed(places).zip(places) {
            let by = placed.by - shifts[place.bay];
            layouts[place.bay].placed.push(Placed { by, ..placed });
        }
        for (index, layout) in layouts.iter_mut().enumerate() {
            let Some(sheet) = self.sheets.stock.sheet(index) else {
                continue;
            };
            self.measure(layout, sheet);
        }
        layouts
    }

    fn measure(&self, layout: &mut Layout, sheet: &Sheet) {
        let start = ring::bounds(&sheet.outline).x0;
        let end = |placed: &Placed| ring::bounds(&placed.ring(self.items)).x1;
        let end = layout.placed.iter().map(end).fold(start, f64::max) + self.sheets.spacing;
        let area = |placed: &Placed| ring::area(&self.items[placed.item].ring).abs();
        layout.length = end - start;
        layout.density = layout.placed.iter().map(area).sum::<f64>() / cloth(sheet).area(end);
    }
}

/// More equal sheets than this are not tried: enough for any order, and an end for rings that only
/// seem to fit.
const MOST: usize = 4096;

/// How far the surroundings of an irregular sheet reach beyond its box, as part of its longer side.
const MARGIN: f64 = 0.1;

fn cloth(sheet: &Sheet) -> Cloth {
    let fold = Some(ring::bounds(&sheet.outline).y0);
    Cloth {
        outline: sheet.outline.clone(),
        holes: sheet.holes.clone(),
        fold,
    }
}

/// The box in which grown pieces may lie.
fn usable(sheet: &Sheet, making: Making) -> Rect {
    ring::bounds(&sheet.outline).inset(-making.inset())
}

/// What grown pieces must not overlap within the box: all that is not the sheet, as one ring that is
/// slit open, and the holes.
fn surroundings(sheet: &Sheet, making: Making) -> Vec<Vec<Point>> {
    let inset = making.inset();
    let holes = sheet
        .holes
        .iter()
        .map(|hole| ring::tidied(hole))
        .filter(|hole| hole.len() > 2);
    let grow = |hole: Vec<Point>| {
        if inset > 0.0 {
            swell::grown(&hole, inset)
        } else {
            hole
        }
    };
    let mut rings: Vec<Vec<Point>> = holes.map(grow).collect();
    if !sheet.is_rectangle() {
        let outline = ring::tidied(&sheet.outline);
        let bounds = ring::bounds(&outline);
        let outline = if inset > 0.0 {
            swell::shrunk(&outline, inset)
        } else {
            outline
        };
        rings.push(frame(
            &outline,
            bounds.inset(MARGIN * bounds.size().max_side()),
        ));
    }
    rings
}

/// The box without the outline, slit from the outline's leftmost point to the left side of the box.
/// The whole box where nothing is left of the outline.
fn frame(outline: &[Point], outer: Rect) -> Vec<Point> {
    let mut ring: Vec<Point> = [(outer.x0, outer.y0), (outer.x1, outer.y0)]
        .into_iter()
        .chain([(outer.x1, outer.y1), (outer.x0, outer.y1)])
        .map(Point::from)
        .collect();
    let leftmost = (0..outline.len()).min_by(|&a, &b| outline[a].x.total_cmp(&outline[b].x));
    if let Some(from) = leftmost {
        let n = outline.len();
        let slit = Point::new(outer.x0, outline[from].y);
        ring.push(slit);
        ring.extend((0..=n).map(|i| outline[(from + n - i) % n]));
        ring.push(slit);
    }
    ring
}
