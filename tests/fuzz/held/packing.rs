//! Packing: whatever lies on the cloth lies on it wholly, and on nothing else. The layouts are looked at here
//! by other means than those of the program.

use super::rings::{self, number, one_of};
use arbitrary::{Result, Unstructured};
use kurbo::Point;
use pressfoot::packing::{
    Budget, Effort, Item, Layout, Refusal, Sheet, Sheets, Stock, Strip, Turns, sheets, strip,
};

/// What rounding may make of touching rings, mm.
const ROUNDING: f64 = 1e-6;

/// Places that are tried: a few pieces need no more.
const PLACES: u64 = 3_000;

/// Makes pieces and a cloth of `bytes` and packs them.
pub fn check(bytes: &[u8]) {
    // bytes that end too early are no input
    let _ = checked(&mut Unstructured::new(bytes));
}

fn checked(bytes: &mut Unstructured<'_>) -> Result<()> {
    let width = number(bytes, 1.0, 400.0)?;
    let spacing = one_of(bytes, &[0.0, 0.0, 1e-3, 1.0, 4.0])?;
    let simplify = one_of(bytes, &[0.0, 0.2])?;
    let on_sheets: bool = bytes.arbitrary()?;
    let effort = Effort {
        budget: Budget::Places(PLACES),
        seed: u64::from(bytes.arbitrary::<u8>()?),
    };
    let mut items = Vec::new();
    for _ in 0..bytes.int_in_range(1..=4)? {
        items.push(item(bytes)?);
    }
    if !on_sheets {
        let cloth = Strip {
            width,
            spacing,
            simplify,
        };
        let found = strip(&items, &cloth, &effort);
        laid(&items, found.map(|layout| vec![layout]), width, spacing);
        return Ok(());
    }
    let length = number(bytes, 1.0, 400.0)?;
    let stock = Sheets {
        stock: Stock::Equal(Sheet::rectangle(length, width)),
        spacing,
        simplify,
    };
    let found = sheets(&items, &stock, &effort);
    for layout in found.iter().flatten() {
        for placed in &layout.placed {
            for point in placed.ring(&items) {
                assert!(point.x <= length + ROUNDING, "off the sheet at {point}");
            }
        }
    }
    laid(&items, found, width, spacing);
    Ok(())
}

fn item(bytes: &mut Unstructured<'_>) -> Result<Item> {
    let count = bytes.int_in_range(3..=8)?;
    let far = one_of(bytes, &[5.0, 30.0, 100.0])?;
    let ring = rings::corners(bytes, count, far)?;
    let turns = match bytes.int_in_range(0..=3)? {
        0 => Turns::Any,
        1 => Turns::Only(vec![0.0, 180.0]),
        2 => Turns::Only(vec![number(bytes, 0.0, 360.0)?]),
        _ => Turns::Only(vec![0.0]),
    };
    let fold = bytes.ratio(1_u8, 5_u8)?.then_some(0);
    Ok(Item {
        count: bytes.int_in_range(1..=3)?,
        turns,
        face_down: bytes.arbitrary()?,
        fold,
        ring,
    })
}

/// Checks that all copies lie on the cloth, clear of each other.
fn laid(items: &[Item], found: Result<Vec<Layout>, Vec<Refusal>>, width: f64, spacing: f64) {
    let layouts = match found {
        Ok(layouts) => layouts,
        Err(refused) => {
            assert!(!refused.is_empty(), "refused without a word");
            return;
        }
    };
    let copies: usize = items.iter().map(|item| item.count).sum();
    let placed: usize = layouts.iter().map(|layout| layout.placed.len()).sum();
    assert_eq!(placed, copies, "some copies are lost or doubled");
    for layout in &layouts {
        let rings: Vec<Vec<Point>> = layout.placed.iter().map(|p| p.ring(items)).collect();
        for (index, ring) in rings.iter().enumerate() {
            for point in ring {
                let on_cloth = point.x >= -ROUNDING
                    && (-ROUNDING..=width + ROUNDING).contains(&point.y)
                    && point.x <= layout.length + ROUNDING;
                assert!(on_cloth, "off the cloth at {point}: {ring:?}");
            }
            for other in &rings[..index] {
                apart(ring, other, spacing);
                apart(other, ring, spacing);
            }
        }
    }
}

/// Checks that no place along one ring lies within the other, or nearer than the spacing.
fn apart(ring: &[Point], other: &[Point], spacing: f64) {
    for (from, to) in sides(ring) {
        for step in 0..8 {
            let point = from.lerp(to, f64::from(step) / 8.0);
            let far = sides(other)
                .map(|(a, b)| from_line(point, a, b))
                .fold(f64::INFINITY, f64::min);
            let within = sides(other)
                .filter(|(a, b)| is_left_of(point, *a, *b))
                .count()
                % 2
                == 1;
            assert!(
                !(within && far > ROUNDING),
                "{far} mm deep at {point}: {ring:?} {other:?}"
            );
            assert!(
                far >= spacing - ROUNDING,
                "{far} mm apart at {point}: {ring:?} {other:?}"
            );
        }
    }
}

fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = ring.iter().cycle().skip(1);
    ring.iter().copied().zip(next.copied())
}

/// Whether a line from the point to the right meets the side.
fn is_left_of(point: Point, a: Point, b: Point) -> bool {
    (a.y > point.y) != (b.y > point.y)
        && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
}

fn from_line(point: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let share = (point - a).dot(along) / along.hypot2().max(1e-300);
    point.distance(a + along * share.clamp(0.0, 1.0))
}
