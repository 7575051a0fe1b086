//! The quarter of a section through a foot or a shoe: the curve ρ^a + ζ^b = 1 between the feather
//! edge (ρ = 1, ζ = 0) and the ridge (ρ = 0, ζ = 1). Shares of a half width and of a height.

/// Points at which a quarter is measured.
const POINTS: usize = 129;

/// The point of the quarter for `place`, which goes from 0 at the feather edge to 1 on the ridge:
/// (ρ, ζ). At every exponent the points lie evenly enough to be joined by chords.
#[must_use]
pub fn quarter(a: f64, b: f64, place: f64) -> (f64, f64) {
    let place = place.clamp(0.0, 1.0);
    let straight = (b - 1.0).abs() < 1e-12;
    let across = 1.0 - if straight { place } else { place.powf(b) };
    let up = (1.0 - across.powf(a)).max(0.0);
    (across, if straight { up } else { up.powf(1.0 / b) })
}

/// Length of a quarter that is `half_width` mm wide and `height` mm high.
#[must_use]
pub fn arc(half_width: f64, height: f64, a: f64, b: f64) -> f64 {
    let point = |i: usize| {
        let (across, up) = quarter(a, b, i as f64 / (POINTS - 1) as f64);
        (half_width * across, height * up)
    };
    let mut last = point(0);
    let mut length = 0.0;
    for i in 1..POINTS {
        let next = point(i);
        length += (next.0 - last.0).hypot(next.1 - last.1);
        last = next;
    }
    length
}

/// A tape upright round a section: the width on the sole and both quarters. `halves` are the
/// distances of the two sides from the ridge's foot point, mm.
#[must_use]
pub fn girth(halves: [f64; 2], height: f64, a: f64, b: f64) -> f64 {
    let arcs = halves.map(|half| arc(half, height, a, b));
    halves[0] + halves[1] + arcs[0] + arcs[1]
}
