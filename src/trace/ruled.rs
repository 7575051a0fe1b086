//! Ruled and squared paper: straight lines across the whole picture, which cut through what was drawn.

use super::plane::Mask;

/// So many lines across the picture are a ruling; fewer are folds, edges of paper or axes.
const FEWEST: usize = 4;

/// A line is seen in this share of its way across the picture; the rest is margin, worn off, or under the
/// hand's line. A foot's side, however large in the picture, is not straight for so long.
const SHARE: f64 = 0.7;

/// Lines are looked for up to this far from level and from upright, degrees.
const TILT: f64 = 20.0;

/// Steps of the angle, degrees: over a page of 900 pixels a line strays less than a bin.
const STEP: f64 = 0.15;

/// Stretches into which the way across is parted.
const STRETCHES: u32 = 60;

/// Width of a bin, pixels of the rough mask.
const BIN: f64 = 3.0;

/// How many parallel straight lines run across the picture, if they are a ruling (Hough's transform in the
/// normal form of Duda & Hart 1972, near level and upright; a bin holds the stretches in which it is seen).
pub(super) fn lines(mask: &Mask) -> Option<usize> {
    let (width, height) = (mask.width as f64, mask.height as f64);
    let inked: Vec<[f64; 2]> = (0..mask.data.len())
        .filter(|pixel| mask.data[*pixel])
        .map(|pixel| [(pixel % mask.width) as f64, (pixel / mask.width) as f64])
        .collect();
    let steps = (TILT / STEP) as i32;
    let most = (-steps..=steps)
        .flat_map(|step| {
            let (sin, cos) = (f64::from(step) * STEP).to_radians().sin_cos();
            // the normals of lines nearly level and nearly upright, and how far along it is across
            [([-sin, cos], width / cos), ([cos, sin], height / cos)]
        })
        .map(|(normal, way)| across(&inked, normal, way))
        .max()?;
    (most >= FEWEST).then_some(most)
}

/// How many lines with this normal are seen along most of their way, neighbouring bins being one.
fn across(inked: &[[f64; 2]], normal: [f64; 2], way: f64) -> usize {
    // offsets and places along the line are counted from so far before the corner of the picture
    const BEFORE: f64 = 1000.0;
    let mut seen: Vec<u128> = Vec::new();
    let stretch = way / f64::from(STRETCHES);
    for [x, y] in inked {
        let bin = ((x * normal[0] + y * normal[1] + BEFORE) / BIN).max(0.0) as usize;
        let along = (x * normal[1] - y * normal[0]).abs() / stretch;
        if bin >= seen.len() {
            seen.resize(bin + 1, 0);
        }
        seen[bin] |= 1u128 << (along as u32).min(u128::BITS - 1);
    }
    // a line on the border of two bins is in both
    let enough = (SHARE * f64::from(STRETCHES)) as u32;
    let full = |bin: usize| {
        let next = seen.get(bin + 1).copied().unwrap_or(0);
        (seen[bin] | next).count_ones() >= enough
    };
    let mut count = 0;
    let mut before = false;
    for bin in 0..seen.len() {
        let now = full(bin);
        count += usize::from(now && !before);
        before = now;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: [usize; 2] = [400, 560];

    /// Lines `apart` pixels from each other, tilted by degrees, and an ellipse drawn over them.
    fn paper(apart: Option<f64>, degrees: f64) -> Mask {
        let [width, height] = SIZE;
        let (sin, cos) = degrees.to_radians().sin_cos();
        let pixel = |i: usize| {
            let (x, y) = ((i % width) as f64, (i / width) as f64);
            let ruled = apart.is_some_and(|apart| (y * cos - x * sin).rem_euclid(apart) < 1.5);
            let off = ((x - 200.0) / 45.0).hypot((y - 280.0) / 100.0) - 1.0;
            ruled || off.abs() < 0.02
        };
        Mask {
            width,
            height,
            data: (0..width * height).map(pixel).collect(),
        }
    }

    #[test]
    fn a_ruling_is_told_from_a_foot_alone_however_the_sheet_lies() {
        assert_eq!(lines(&paper(None, 0.0)), None);
        // rulings of 8 mm and 5 mm (common practice) at 3 pixels to the mm
        for (apart, degrees) in [(24.0, 0.0), (24.0, 3.3), (15.0, -12.0)] {
            let found = lines(&paper(Some(apart), degrees)).unwrap_or(0);
            assert!(found > 10, "{apart} {degrees}: {found}");
        }
    }

    #[test]
    fn a_few_lines_are_no_ruling() {
        assert_eq!(lines(&paper(Some(200.0), 1.0)), None);
    }
}
