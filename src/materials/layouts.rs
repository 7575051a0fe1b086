//! Layouts: all pieces of a size on one cloth as it is sold, packed to need little of it. Off the
//! roll the shortest length is sought first; then, in the length that shops cut, the pieces are laid
//! close together from one selvedge, so that the rest is left over in one piece. Sheets: as few as can
//! be, and of the last one as little as can be. Millimetres of the washed cloth, along it x, across
//! it y.

use super::amounts::Amount;
use super::lays::Lay;
use super::means::Means;
use super::packed::{better, items};
use super::shelf;
use crate::design::{Cloth, Stock};
use crate::packing::{self, Item, Refusal, Sheet, Sheets, Strip};
use kurbo::{Affine, Point, Rect, Shape, Size};

/// Pieces are packed as straight pieces round their cut lines, at most this far outside, mm.
const COARSE: f64 = 0.15;

/// Cloth is taken to be so much larger than is said, mm, that pieces which fill it exactly find room.
const EXACT: f64 = 0.01;

/// A rest narrower than this, mm, is waste.
const LEAST_REST: f64 = 20.0;

/// A piece laid on the cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Index among the pieces of the lay.
    pub piece: usize,
    /// From the piece's axes to those of the cloth.
    pub onto: Affine,
}

/// A length of cloth, a sheet or a hide with what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Its outline, washed.
    pub outline: Vec<Point>,
    /// The pieces.
    pub placed: Vec<Placed>,
    /// The part of it that the pieces take up: all that lies beyond is left over.
    pub used: Rect,
}

/// All pieces of a size on one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// What is laid.
    pub lay: Lay,
    /// The cloth as it is sold.
    pub stock: Stock,
    /// How much of it is bought.
    pub amount: Amount,
    /// The cloth with the pieces: one length off the roll, or each sheet.
    pub laid: Vec<Laid>,
    /// Strip along each selvedge that is not used, washed, mm.
    pub selvedge: f64,
    /// Whether the cloth is folded along its length, the fold at y = 0.
    pub double: bool,
    /// Whether the cloth has a grain.
    pub has_grain: bool,
}

/// A piece that finds no room on a cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct NoRoom {
    /// What stands against it: titles of the pieces, each with the reason.
    pub pieces: Vec<(String, packing::Reason)>,
}

/// Lays all pieces of `lay` on `cloth` as `stock`.
///
/// # Errors
/// If a piece is too large for the cloth, however it is turned.
pub fn layout(lay: &Lay, cloth: &Cloth, stock: &Stock, means: &Means) -> Result<Layout, NoRoom> {
    match (stock, outline_of(stock, cloth)) {
        (_, Some(outline)) => on_sheets(lay, cloth, stock, &outline, means),
        (Stock::Roll(width), None) => off_the_roll(lay, cloth, *width, means),
        (_, None) => Err(NoRoom { pieces: Vec::new() }),
    }
}

/// What is left of a length along and across the cloth when it is washed; shares.
fn washed(cloth: &Cloth) -> [f64; 2] {
    cloth.shrinkage.map(|share| 1.0 - share)
}

fn off_the_roll(lay: &Lay, cloth: &Cloth, width: f64, means: &Means) -> Result<Layout, NoRoom> {
    let roll = Roll::new(cloth, width);
    let strip = roll.strip(roll.last - roll.first);
    let called = lay.called(&Stock::Roll(width));
    let found = pack_strip(lay, (&called, Affine::IDENTITY), &strip, means)
        .map_err(|refusals| NoRoom::of(lay, &refusals))?;
    let amount = Amount::length(found.length / roll.along);
    let bought = match amount {
        Amount::Length {
            metric_mm,
            yards_mm,
            ..
        } => metric_mm.min(yards_mm) * roll.along,
        Amount::Sheets { .. } => found.length,
    };
    let close = match cloth.double {
        true => None,
        false => close_together((lay, &called), &roll, bought, means),
    };
    let (placed, used) = close.unwrap_or_else(|| {
        let down = Affine::translate((0.0, roll.first));
        let used = Rect::new(0.0, roll.first, found.length, roll.last);
        (placed(&found.placed, down, Affine::IDENTITY), used)
    });
    Ok(Layout {
        lay: lay.clone(),
        stock: Stock::Roll(width),
        amount,
        laid: vec![Laid {
            outline: corners(Rect::new(0.0, 0.0, bought, roll.across)),
            placed,
            used,
        }],
        selvedge: roll.selvedge,
        double: cloth.double,
        has_grain: cloth.has_grain,
    })
}

/// Cloth off the roll, washed, as it is laid on the table.
struct Roll {
    along: f64,
    across: f64,
    selvedge: f64,
    first: f64,
    last: f64,
    spacing: f64,
}

impl Roll {
    fn new(cloth: &Cloth, width: f64) -> Self {
        let [along, across] = washed(cloth);
        let whole = width * across;
        let selvedge = cloth.selvedge * across;
        let across = if cloth.double { whole / 2.0 } else { whole };
        Self {
            along,
            across,
            selvedge,
            first: if cloth.double { 0.0 } else { selvedge },
            last: across - selvedge,
            spacing: cloth.spacing,
        }
    }

    fn strip(&self, width: f64) -> Strip {
        Strip {
            width: width + EXACT,
            spacing: self.spacing,
            simplify: COARSE,
        }
    }
}

/// In a length that is bought anyway, the pieces close together from the first selvedge: packed as on a
/// strip that runs across the cloth. `None` if that does not work out.
fn close_together(
    (lay, called): (&Lay, &str),
    roll: &Roll,
    bought: f64,
    means: &Means,
) -> Option<(Vec<Placed>, Rect)> {
    // (x, y) of the cloth is (y, bought - x) of the strip
    let turn = Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]);
    let onto_strip = Affine::translate((0.0, bought)) * turn;
    let called = format!("{called}, {bought:.0} mm");
    let found = pack_strip(lay, (&called, turn), &roll.strip(bought), means).ok()?;
    if roll.first + found.length > roll.last {
        return None;
    }
    let down = Affine::translate((0.0, roll.first)) * onto_strip.inverse();
    let used = Rect::new(0.0, roll.first, bought, roll.first + found.length);
    Some((placed(&found.placed, down, turn), used))
}

/// On so many sheets of one outline.
fn on_sheets(
    lay: &Lay,
    cloth: &Cloth,
    stock: &Stock,
    outline: &[Point],
    means: &Means,
) -> Result<Layout, NoRoom> {
    let sheets = sheets_of(cloth, outline);
    let called = lay.called(stock);
    let pack = |items: &[Item]| shelf::sheets(&called, items, &sheets, means);
    let last = |found: &Vec<packing::Layout>| {
        (found.len(), found.last().map_or(0.0, |sheet| sheet.length))
    };
    let found = better(&items(lay, Affine::IDENTITY), means.quick, pack, last)
        .map_err(|refusals| NoRoom::of(lay, &refusals))?;
    let all = bounds(outline);
    let laid = found.iter().map(|sheet| Laid {
        outline: outline.to_vec(),
        placed: placed(&sheet.placed, Affine::IDENTITY, Affine::IDENTITY),
        used: Rect::new(all.x0, all.y0, all.x0 + sheet.length, all.y1),
    });
    Ok(Layout {
        lay: lay.clone(),
        stock: stock.clone(),
        amount: Amount::Sheets {
            count: found.len() as u32,
        },
        laid: laid.collect(),
        selvedge: 0.0,
        double: false,
        has_grain: cloth.has_grain,
    })
}

/// As many sheets of this outline as are needed.
pub(super) fn sheets_of(cloth: &Cloth, outline: &[Point]) -> Sheets {
    let whole = bounds(outline);
    let exact = |p: &Point| {
        let more = |v: f64, last: f64| if v >= last { v + EXACT } else { v };
        Point::new(more(p.x, whole.x1), more(p.y, whole.y1))
    };
    let sheet = Sheet {
        outline: outline.iter().map(exact).collect(),
        holes: Vec::new(),
    };
    Sheets {
        stock: packing::Stock::Equal(sheet),
        spacing: cloth.spacing,
        simplify: COARSE,
    }
}

/// The outline of a stock that is sold by the piece, washed, its length along x.
pub(super) fn outline_of(stock: &Stock, cloth: &Cloth) -> Option<Vec<Point>> {
    match stock {
        Stock::Roll(_) => None,
        Stock::Sheet([a, b]) => {
            let [along, across] = washed(cloth);
            let size = Size::new(a.max(*b) * along, a.min(*b) * across);
            Some(corners(Rect::from_origin_size(Point::ZERO, size)))
        }
        Stock::Hide(ring) => Some(ring.clone()),
    }
}

fn pack_strip(
    lay: &Lay,
    (called, turn): (&str, Affine),
    strip: &Strip,
    means: &Means<'_>,
) -> Result<packing::Layout, Vec<Refusal>> {
    let pack = |items: &[Item]| shelf::strip(called, items, strip, means);
    better(&items(lay, turn), means.quick, pack, |found| {
        (0, found.length)
    })
}

/// Where packed pieces lie on the cloth: `turn` was made before they were packed, `down` leads from the
/// strip to the cloth.
fn placed(found: &[packing::Placed], down: Affine, turn: Affine) -> Vec<Placed> {
    let onto = |p: &packing::Placed| {
        let mirror = if p.mirrored { -1.0 } else { 1.0 };
        Affine::translate(p.by)
            * Affine::rotate(p.turn_deg.to_radians())
            * Affine::scale_non_uniform(mirror, 1.0)
    };
    let found = found.iter().map(|p| Placed {
        piece: p.item,
        onto: down * onto(p) * turn,
    });
    found.collect()
}

impl Laid {
    /// The box of all pieces with the space round them that scissors need, mm.
    pub fn taken(&self, lay: &Lay) -> Rect {
        let boxes = self
            .placed
            .iter()
            .map(|p| (p.onto * &lay.pieces[p.piece].path).bounding_box());
        boxes.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
    }
}

impl NoRoom {
    fn of(lay: &Lay, refusals: &[Refusal]) -> Self {
        let named = |r: &Refusal| Some((lay.pieces.get(r.item)?.title.clone(), r.why));
        Self {
            pieces: refusals.iter().filter_map(named).collect(),
        }
    }
}

fn corners(rect: Rect) -> Vec<Point> {
    let [x0, y0, x1, y1] = [rect.x0, rect.y0, rect.x1, rect.y1];
    [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        .map(Point::from)
        .to_vec()
}

/// The box of points.
pub(super) fn bounds(points: &[Point]) -> Rect {
    let first = points.first().copied().unwrap_or_default();
    let start = Rect::from_points(first, first);
    points
        .iter()
        .fold(start, |rect, point| rect.union_pt(*point))
}

impl Layout {
    /// Share of the cloth that is bought which is in the pieces.
    pub fn used_share(&self) -> f64 {
        let ring = |points: &[Point]| -> f64 {
            let next = points.iter().cycle().skip(1);
            let cross = points
                .iter()
                .zip(next)
                .map(|(a, b)| a.to_vec2().cross(b.to_vec2()));
            cross.sum::<f64>().abs() / 2.0
        };
        let cloth: f64 = self.laid.iter().map(|laid| ring(&laid.outline)).sum();
        let layers = if self.double { 2.0 } else { 1.0 };
        self.lay.area() / (cloth * layers).max(f64::MIN_POSITIVE)
    }

    /// Share of a length off the roll that the pieces take up: all beyond is left over in one piece.
    pub fn taken_share(&self) -> f64 {
        let of = |laid: &Laid| laid.used.area() / bounds(&laid.outline).area();
        self.laid.first().map_or(1.0, |laid| of(laid).min(1.0))
    }

    /// What is left over in one piece beyond the pieces of one sheet or length, mm: along and across;
    /// `None` if it is hardly a strip, or of a hide.
    pub fn left_of(&self, laid: &Laid) -> Option<[f64; 2]> {
        let all = bounds(&laid.outline);
        if laid.outline.len() != 4 {
            return None;
        }
        let right = [all.x1 - laid.used.x1, all.height()];
        let below = [all.width(), all.y1 - laid.used.y1 - self.selvedge];
        let rest = if right[0] * right[1] > below[0] * below[1] {
            right
        } else {
            below
        };
        (rest[0].min(rest[1]) >= LEAST_REST).then_some(rest)
    }
}
