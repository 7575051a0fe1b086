//! Planes of brightness: one number per pixel. Places are in pixels, x to the right and y down; the
//! middle of the first pixel lies at (0.5, 0.5).

use kurbo::Point;

/// Numbers on a grid of pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct Plane {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// One number per pixel, row by row.
    pub data: Vec<f32>,
}

impl Plane {
    /// A plane of one number.
    pub fn filled(width: usize, height: usize, value: f32) -> Self {
        Self {
            width,
            height,
            data: vec![value; width * height],
        }
    }

    /// The number of the pixel in column `x`, row `y`; beyond the border that of the nearest pixel.
    pub fn at(&self, x: isize, y: isize) -> f32 {
        let column = x.clamp(0, self.width as isize - 1) as usize;
        let row = y.clamp(0, self.height as isize - 1) as usize;
        self.data[row * self.width + column]
    }

    /// The number at a place between pixels, linear both ways.
    pub fn between(&self, place: Point) -> f64 {
        let (x, y) = (place.x - 0.5, place.y - 0.5);
        let (left, top) = (x.floor(), y.floor());
        let (across, down) = (x - left, y - top);
        let (left, top) = (left as isize, top as isize);
        let row = |row: isize| {
            let (a, b) = (self.at(left, row), self.at(left + 1, row));
            f64::from(a) * (1.0 - across) + f64::from(b) * across
        };
        row(top) * (1.0 - down) + row(top + 1) * down
    }

    /// Whether the place lies on the picture.
    pub fn holds(&self, place: Point) -> bool {
        (0.0..=self.width as f64).contains(&place.x)
            && (0.0..=self.height as f64).contains(&place.y)
    }

    /// Each pixel the weighted mean of its neighbourhood: 1, 2, 1 across and down. Noise of single pixels
    /// is halved and more; a line of 1.5 pixels stays whole.
    pub fn softened(&self) -> Plane {
        let mut across = self.clone();
        for y in 0..self.height {
            for x in 0..self.width {
                let (x, y) = (x as isize, y as isize);
                let sum = self.at(x - 1, y) + 2.0 * self.at(x, y) + self.at(x + 1, y);
                across.data[y as usize * self.width + x as usize] = 0.25 * sum;
            }
        }
        let mut both = self.clone();
        for y in 0..self.height {
            for x in 0..self.width {
                let (x, y) = (x as isize, y as isize);
                let sum = across.at(x, y - 1) + 2.0 * across.at(x, y) + across.at(x, y + 1);
                both.data[y as usize * self.width + x as usize] = 0.25 * sum;
            }
        }
        both
    }

    /// What is narrower than `2 * reach + 1` pixels: the plane less its opening by a square of that side
    /// (the white top-hat of morphology: Serra 1982). Broad shadows and dark areas vanish, lines stay.
    pub fn fine(&self, reach: usize) -> Plane {
        let worn = self.running(reach, f32::min);
        let opened = worn.running(reach, f32::max);
        let fine = self.data.iter().zip(&opened.data).map(|(v, o)| v - o);
        Plane {
            data: fine.collect(),
            ..*self
        }
    }

    /// Each pixel the least or greatest of the square of `2 * reach + 1` pixels round it.
    fn running(&self, reach: usize, pick: fn(f32, f32) -> f32) -> Plane {
        let mut result = self.clone();
        let mut line = vec![0.0; self.width];
        for row in result.data.chunks_mut(self.width.max(1)) {
            line.copy_from_slice(row);
            run(&line, reach, pick, row);
        }
        let mut line = vec![0.0; self.height];
        let mut picked = vec![0.0; self.height];
        for x in 0..self.width {
            for (y, value) in line.iter_mut().enumerate() {
                *value = result.data[y * self.width + x];
            }
            run(&line, reach, pick, &mut picked);
            for (y, value) in picked.iter().enumerate() {
                result.data[y * self.width + x] = *value;
            }
        }
        result
    }
}

/// The pick of the window round each number of a line, in three looks at each number whatever the reach
/// (van Herk 1992, Gil & Werman 1993).
fn run(line: &[f32], reach: usize, pick: fn(f32, f32) -> f32, out: &mut [f32]) {
    let count = line.len();
    let window = 2 * reach + 1;
    let edge = |i: usize| line[(i.max(reach) - reach).min(count - 1)];
    if count == 0 {
        return;
    }
    let padded = (count + 2 * reach).next_multiple_of(window);
    let (mut ahead, mut back) = (vec![0.0; padded], vec![0.0; padded]);
    for i in 0..padded {
        let own = edge(i);
        ahead[i] = match i % window {
            0 => own,
            _ => pick(ahead[i - 1], own),
        };
    }
    for i in (0..padded).rev() {
        let own = edge(i);
        back[i] = match (i + 1) % window {
            0 => own,
            _ => pick(back[i + 1], own),
        };
    }
    for (i, value) in out.iter_mut().enumerate() {
        *value = pick(back[i], ahead[i + 2 * reach]);
    }
}

/// Which pixels belong to something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mask {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// One answer per pixel, row by row.
    pub data: Vec<bool>,
}

impl Mask {
    /// The pixels of `plane` that are at least `level`.
    pub fn of(plane: &Plane, level: f32) -> Self {
        Self {
            width: plane.width,
            height: plane.height,
            data: plane.data.iter().map(|v| *v >= level).collect(),
        }
    }

    /// The pixels that do not belong to it.
    pub fn other(&self) -> Mask {
        Mask {
            data: self.data.iter().map(|own| !own).collect(),
            ..*self
        }
    }

    /// The mask in pixels that are `times` as large each way: those in which any pixel belongs to it.
    pub fn coarse(&self, times: usize) -> Mask {
        let (width, height) = (self.width.div_ceil(times), self.height.div_ceil(times));
        let mut data = vec![false; width * height];
        for (y, row) in self.data.chunks(self.width.max(1)).enumerate() {
            for x in (0..row.len()).filter(|x| row[*x]) {
                data[y / times * width + x / times] = true;
            }
        }
        Mask {
            width,
            height,
            data,
        }
    }

    /// The distance of every pixel to the nearest one of the mask, in pixels between their middles;
    /// infinite if there is none (Felzenszwalb & Huttenlocher 2012, exact).
    pub fn distance(&self) -> Plane {
        let far = f64::INFINITY;
        let mut squares: Vec<f64> = self
            .data
            .iter()
            .map(|o| if *o { 0.0 } else { far })
            .collect();
        let mut line = Vec::new();
        for x in 0..self.width {
            line.clear();
            line.extend((0..self.height).map(|y| squares[y * self.width + x]));
            for (y, value) in lower_envelope(&line).into_iter().enumerate() {
                squares[y * self.width + x] = value;
            }
        }
        for row in squares.chunks_mut(self.width.max(1)) {
            let nearest = lower_envelope(row);
            row.copy_from_slice(&nearest);
        }
        Plane {
            width: self.width,
            height: self.height,
            data: squares.into_iter().map(|s| s.sqrt() as f32).collect(),
        }
    }
}

/// The least of `line[j] + (i - j)²` for every `i`.
fn lower_envelope(line: &[f64]) -> Vec<f64> {
    let mut parabolas: Vec<(usize, f64)> = Vec::new();
    for (j, height) in line.iter().enumerate().filter(|(_, h)| h.is_finite()) {
        let lifted = |i: usize, h: f64| h + (i * i) as f64;
        let mut from = f64::NEG_INFINITY;
        while let Some((i, begins)) = parabolas.last() {
            let meets = (lifted(j, *height) - lifted(*i, line[*i])) / (2.0 * (j - i) as f64);
            if meets > *begins {
                from = meets;
                break;
            }
            parabolas.pop();
        }
        parabolas.push((j, from));
    }
    let mut at = 0;
    let nearest = |i: usize| {
        while at + 1 < parabolas.len() && parabolas[at + 1].1 <= i as f64 {
            at += 1;
        }
        let (j, _) = parabolas.get(at)?;
        let off = i as f64 - *j as f64;
        Some(line[*j] + off * off)
    };
    let all: Vec<Option<f64>> = (0..line.len()).map(nearest).collect();
    all.into_iter()
        .map(|v| v.unwrap_or(f64::INFINITY))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noise(width: usize, height: usize) -> Plane {
        let mut state = 7_u32;
        let data = (0..width * height).map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 16) as f32 / 65_536.0
        });
        Plane {
            width,
            height,
            data: data.collect(),
        }
    }

    /// By the definition: all pixels of the window.
    #[test]
    fn running_least_and_greatest_are_those_of_the_window() {
        let plane = noise(13, 9);
        for pick in [f32::min as fn(f32, f32) -> f32, f32::max] {
            let run = plane.running(2, pick);
            for y in 0..9 {
                for x in 0..13 {
                    let window = (-2..=2).flat_map(|dy| (-2..=2).map(move |dx| (x + dx, y + dy)));
                    let all = window.map(|(x, y)| plane.at(x, y));
                    let expected = all.reduce(pick).unwrap();
                    assert_eq!(run.at(x, y), expected, "at {x}, {y}");
                }
            }
        }
    }

    /// By the definition: the nearest of all pixels of the mask.
    #[test]
    fn distances_are_those_to_the_nearest_pixel() {
        let mask = Mask::of(&noise(17, 11), 0.93);
        let distance = mask.distance();
        assert!(mask.data.iter().any(|own| *own));
        let own = |i: &usize| mask.data[*i];
        for i in 0..17 * 11_usize {
            let all = (0..17 * 11_usize).filter(own).map(|j| {
                let (dx, dy) = ((i % 17).abs_diff(j % 17), (i / 17).abs_diff(j / 17));
                ((dx * dx + dy * dy) as f32).sqrt()
            });
            let nearest = all.fold(f32::INFINITY, f32::min);
            assert!((distance.data[i] - nearest).abs() < 1e-4, "at {i}");
        }
    }
}
