mod judged;
mod on_sheets;
mod on_strip;
mod rings;

use super::{Budget, Effort, Item, Strip, Turns};
use kurbo::Point;

fn ring(corners: &[(f64, f64)]) -> Vec<Point> {
    corners.iter().copied().map(Point::from).collect()
}

fn rectangle(length: f64, width: f64) -> Vec<Point> {
    ring(&[(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
}

/// An L: its second half-plane of symmetry is missing, so mirroring it shows.
fn hook() -> Vec<Point> {
    ring(&[
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 10.0),
        (10.0, 10.0),
        (10.0, 50.0),
        (0.0, 50.0),
    ])
}

fn copies(ring: Vec<Point>, count: usize, turns: &[f64]) -> Item {
    Item {
        count,
        turns: Turns::Only(turns.to_vec()),
        ..Item::new(ring)
    }
}

fn cloth(width: f64) -> Strip {
    Strip {
        width,
        spacing: 0.0,
        simplify: 0.0,
    }
}

fn effort(places: u64) -> Effort {
    Effort {
        budget: Budget::Places(places),
        seed: 3,
    }
}
