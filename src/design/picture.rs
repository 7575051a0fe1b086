//! Pictures that a design or its text names: which file, what it shows, what is cropped off it.

use crate::diagnostic::Place;

/// A picture as it is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct PictureSpec {
    /// Path below the design folder.
    pub picture: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Words under it.
    pub caption: Option<String>,
    /// Its name, by which the text refers to it.
    pub name: Option<String>,
    /// Width in print, mm; as wide as there is room unless given.
    pub width: Option<f64>,
    /// What is cropped off.
    pub crop: Crop,
    /// Where it is named.
    pub place: Place,
}

/// What is cropped off a picture, upright.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Crop {
    /// Shares of its width or height taken off at the left, the right, the top and the bottom.
    pub off: [f64; 4],
    /// Width to height of what is left; as it comes unless given.
    pub shape: Option<f64>,
    /// What should be in the middle, as shares of the whole width and height from its upper left
    /// corner; the middle of what is left unless given.
    pub focus: Option<[f64; 2]>,
}

impl Crop {
    /// Whether nothing is cropped off.
    pub fn is_none(&self) -> bool {
        self.off == [0.0; 4] && self.shape.is_none()
    }

    /// What is left of a picture of `size` pixels: its left and upper side, its width and height, at
    /// least one pixel. The focus is as near to the middle as the sides allow.
    pub fn left_of(&self, size: [u32; 2]) -> [u32; 4] {
        let [across, down] = size.map(f64::from);
        let [left, right, top, bottom] = self.off;
        let (mut x0, mut x1) = (left * across, (1.0 - right) * across);
        let (mut y0, mut y1) = (top * down, (1.0 - bottom) * down);
        if let Some(shape) = self.shape {
            let (width, height) = (x1 - x0, y1 - y0);
            let kept = [width.min(height * shape), height.min(width / shape)];
            let middle = self
                .focus
                .map_or([(x0 + x1) / 2.0, (y0 + y1) / 2.0], |[x, y]| {
                    [x * across, y * down]
                });
            let begin = |middle: f64, kept: f64, low: f64, high: f64| {
                (middle - kept / 2.0).min(high - kept).max(low)
            };
            x0 = begin(middle[0], kept[0], x0, x1);
            y0 = begin(middle[1], kept[1], y0, y1);
            (x1, y1) = (x0 + kept[0], y0 + kept[1]);
        }
        let pixels = |low: f64, high: f64, all: u32| {
            let low = (low.round().max(0.0) as u32).min(all.saturating_sub(1));
            let high = (high.round().max(0.0) as u32).clamp(low + 1, all.max(low + 1));
            (low, high - low)
        };
        let (x, width) = pixels(x0, x1, size[0]);
        let (y, height) = pixels(y0, y1, size[1]);
        [x, y, width, height]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sides_and_shape_leave_what_arithmetic_says() {
        // 400 x 300: 10 % off the left is 40, 20 % off the bottom is 60.
        let crop = Crop {
            off: [0.1, 0.0, 0.0, 0.2],
            ..Crop::default()
        };
        assert_eq!(crop.left_of([400, 300]), [40, 0, 360, 240]);
        // a square of 400 x 300 is 300 wide, in the middle: (400 - 300) / 2 = 50
        let square = Crop {
            shape: Some(1.0),
            ..Crop::default()
        };
        assert_eq!(square.left_of([400, 300]), [50, 0, 300, 300]);
        // 16 to 9 of 400 x 300: 400 / 16 * 9 = 225 high
        let wide = Crop {
            shape: Some(16.0 / 9.0),
            focus: Some([0.5, 1.0]),
            ..Crop::default()
        };
        assert_eq!(wide.left_of([400, 300]), [0, 75, 400, 225]);
    }

    #[test]
    fn the_focus_is_in_the_middle_where_the_sides_allow_it() {
        let at = |x| Crop {
            shape: Some(1.0),
            focus: Some([x, 0.5]),
            ..Crop::default()
        };
        assert_eq!(at(0.0).left_of([400, 100])[0], 0);
        assert_eq!(at(0.4).left_of([400, 100])[0], 110);
        assert_eq!(at(1.0).left_of([400, 100])[0], 300);
    }

    #[test]
    fn something_is_always_left() {
        let crop = Crop {
            off: [0.45, 0.45, 0.45, 0.45],
            shape: Some(20.0),
            focus: Some([1.0, 1.0]),
        };
        for size in [[1, 1], [3, 2], [1, 9]] {
            let [x, y, width, height] = crop.left_of(size);
            assert!(width > 0 && height > 0 && x + width <= size[0] && y + height <= size[1]);
        }
        assert!(Crop::default().is_none() && !crop.is_none());
    }
}
