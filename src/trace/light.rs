//! What was drawn, whatever the light: how much darker than the paper round it every pixel is.

use super::picture::Picture;
use super::plane::Plane;
use kurbo::Point;
use nalgebra::{DMatrix, DVector};

/// The picture is parted into this many cells along its longer side to look for the paper: a cell is then
/// smaller than a card or a foot and larger than a pen line.
const CELLS: usize = 48;

/// A cell counts as paper if its light is within this of the even surface, natural logarithm: 14 %. What
/// is darker is drawn, or lies on the paper.
const PAPER: f64 = 0.15;

/// Terms of the surface of light: all of x and y up to the third power.
const TERMS: usize = 10;

/// What was drawn on the paper.
#[derive(Debug, Clone)]
pub struct Ink {
    /// From 0, paper, to 1, black.
    pub plane: Plane,
    /// The standard deviation of bare paper, of the same scale.
    pub noise: f64,
    /// The share of the picture that is evenly lit paper, 0 to 1.
    pub paper: f64,
    /// The light of the paper where it is darkest, as a share of where it is lightest.
    pub darkest: f64,
}

/// What is drawn in the picture: each colour is divided by the light of the paper, and the darkest one
/// counts, so that a red pen is seen as well as a pencil.
pub fn ink(picture: &Picture) -> Ink {
    let [width, height] = picture.size();
    let mut plane = Plane::filled(width, height, 0.0);
    let (mut paper, mut darkest) = (1.0_f64, f64::INFINITY);
    let mut noises = Vec::new();
    for light in &picture.light {
        let surface = Surface::of(light);
        paper = paper.min(surface.share);
        darkest = darkest.min(surface.darkest);
        for y in 0..height {
            for x in 0..width {
                let own = light.data[y * width + x];
                let here = surface.at(x as f64 + 0.5, y as f64 + 0.5).max(1e-4);
                let value = (1.0 - own / here as f32).clamp(0.0, 1.0);
                let slot = &mut plane.data[y * width + x];
                *slot = slot.max(value);
                if y % 3 == 0 && x % 3 == 0 && (f64::from(own) / here).ln().abs() < PAPER {
                    noises.push((f64::from(own) / here - 1.0).abs());
                }
            }
        }
    }
    Ink {
        plane,
        noise: spread(&mut noises),
        paper,
        darkest,
    }
}

/// The standard deviation from absolute deviations, by their middle one (normal noise: 0.6745).
fn spread(deviations: &mut [f64]) -> f64 {
    if deviations.is_empty() {
        return 1.0;
    }
    let middle = deviations.len() / 2;
    let (_, value, _) = deviations.select_nth_unstable_by(middle, f64::total_cmp);
    *value / 0.6745
}

/// The light of bare paper all over the picture.
struct Surface {
    side: f64,
    columns: usize,
    rows: usize,
    cells: Vec<f64>,
    share: f64,
    darkest: f64,
}

impl Surface {
    fn of(light: &Plane) -> Self {
        let side = (light.width.max(light.height) / CELLS).max(6);
        let (columns, rows) = (light.width.div_ceil(side), light.height.div_ceil(side));
        let seen: Vec<f64> = (0..columns * rows)
            .map(|cell| bright(light, cell % columns * side, cell / columns * side, side).ln())
            .collect();
        let place = |cell: usize| {
            let share = |i: usize, n: usize| 2.0 * (i as f64 + 0.5) / n as f64 - 1.0;
            Point::new(share(cell % columns, columns), share(cell / columns, rows))
        };
        let even = even_surface(&seen, &place);
        let is_paper: Vec<bool> = seen
            .iter()
            .zip(&even)
            .map(|(s, e)| (s - e).abs() < PAPER)
            .collect();
        let cells = mended(&seen, &even, &is_paper, [columns, rows]);
        let found = is_paper.iter().filter(|own| **own).count();
        let own = |(cell, _): &(&f64, &bool)| **cell;
        let paper = cells.iter().zip(&is_paper).filter(|(_, own)| **own);
        let darkest = paper.map(|pair| own(&pair)).fold(f64::INFINITY, f64::min);
        Self {
            side: side as f64,
            columns,
            rows,
            share: found as f64 / cells.len().max(1) as f64,
            darkest: darkest.exp(),
            cells,
        }
    }

    /// The light at a place, linear between the middles of the cells.
    fn at(&self, x: f64, y: f64) -> f64 {
        let (x, y) = (x / self.side - 0.5, y / self.side - 0.5);
        let (column, row) = (x.floor(), y.floor());
        let (across, down) = (x - column, y - row);
        let cell = |column: f64, row: f64| {
            let column = column.clamp(0.0, self.columns as f64 - 1.0) as usize;
            let row = row.clamp(0.0, self.rows as f64 - 1.0) as usize;
            self.cells[row * self.columns + column]
        };
        let mix = |row: f64| cell(column, row) * (1.0 - across) + cell(column + 1.0, row) * across;
        (mix(row) * (1.0 - down) + mix(row + 1.0) * down).exp()
    }
}

/// The light of a cell: seven tenths of its pixels are darker, so that lines do not count.
fn bright(light: &Plane, left: usize, top: usize, side: usize) -> f64 {
    let mut values = Vec::with_capacity(side * side);
    for y in top..(top + side).min(light.height) {
        let row = y * light.width;
        values.extend_from_slice(&light.data[row + left..row + (left + side).min(light.width)]);
    }
    if values.is_empty() {
        return 1e-3;
    }
    let rank = values.len() * 7 / 10;
    let (_, value, _) = values.select_nth_unstable_by(rank, f32::total_cmp);
    f64::from(*value).max(1e-3)
}

/// The logarithm of light as a cubic surface through the bright cells. Cells that lie off it count less
/// from round to round (Tukey's biweight), so that what lies on the paper does not bend it.
fn even_surface(seen: &[f64], place: &dyn Fn(usize) -> Point) -> Vec<f64> {
    let mut sorted = seen.to_vec();
    sorted.sort_by(f64::total_cmp);
    let brightest = sorted.get(sorted.len() * 9 / 10).copied().unwrap_or(0.0);
    // from 60 % of the brightest on
    let mut weights: Vec<f64> = seen
        .iter()
        .map(|s| if *s > brightest - 0.5 { 1.0 } else { 0.02 })
        .collect();
    let mut even = vec![brightest; seen.len()];
    for (terms, reach) in [
        (1, 0.7),
        (3, 0.6),
        (3, 0.5),
        (6, 0.4),
        (6, 0.3),
        (TERMS, 0.25),
        (TERMS, 0.2),
    ] {
        let fitted = fitted(seen, &weights, place, terms);
        let Some(fitted) = fitted else {
            return even;
        };
        even = fitted;
        for ((weight, s), e) in weights.iter_mut().zip(seen).zip(&even) {
            let off = (s - e) / reach;
            *weight = if off.abs() < 1.0 {
                (1.0 - off * off).powi(2)
            } else {
                0.0
            };
        }
    }
    even
}

fn fitted(
    seen: &[f64],
    weights: &[f64],
    place: &dyn Fn(usize) -> Point,
    terms: usize,
) -> Option<Vec<f64>> {
    let powers = |Point { x, y }: Point| {
        let all = [
            1.0,
            x,
            y,
            x * x,
            x * y,
            y * y,
            x * x * x,
            x * x * y,
            x * y * y,
            y * y * y,
        ];
        DVector::from_iterator(terms, all.into_iter().take(terms))
    };
    let mut normal = DMatrix::<f64>::identity(terms, terms) * 1e-6;
    let mut right = DVector::<f64>::zeros(terms);
    for (i, (value, weight)) in seen.iter().zip(weights).enumerate() {
        let row = powers(place(i));
        normal += &row * row.transpose() * *weight;
        right += row * (*weight * *value);
    }
    let solved = normal.cholesky()?.solve(&right);
    Some(
        (0..seen.len())
            .map(|i| powers(place(i)).dot(&solved))
            .collect(),
    )
}

/// The light of paper where it is seen, smoothed over neighbours; the even surface elsewhere.
fn mended(seen: &[f64], even: &[f64], is_paper: &[bool], [columns, rows]: [usize; 2]) -> Vec<f64> {
    let mut off: Vec<f64> = (0..seen.len())
        .map(|i| if is_paper[i] { seen[i] - even[i] } else { 0.0 })
        .collect();
    for _ in 0..3 {
        let last = off.clone();
        for (i, slot) in off.iter_mut().enumerate() {
            let (column, row) = (i % columns, i / columns);
            let (mut sum, mut count) = (0.0, 0.0);
            for y in row.saturating_sub(1)..=(row + 1).min(rows - 1) {
                for x in column.saturating_sub(1)..=(column + 1).min(columns - 1) {
                    let weight = if is_paper[y * columns + x] { 1.0 } else { 0.05 };
                    sum += weight * last[y * columns + x];
                    count += weight;
                }
            }
            *slot = sum / count;
        }
    }
    even.iter().zip(off).map(|(e, o)| e + o).collect()
}
