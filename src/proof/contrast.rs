//! Whether text and lines stand out from what is painted under them, after the contrast ratio of WCAG
//! 2: (L1 + 0.05) / (L2 + 0.05) of the relative luminances. Places in mm.
//!
//! What lies on a pattern or a picture is not judged: its ground has no one colour.

use super::Proof;
use super::ink::{InkKind, Tone};
use super::paint::Paint;
use super::sheet::Sheet;
use kurbo::{Point, Rect};

/// Least ratio of text (WCAG 2, success criterion 1.4.3).
pub const TEXT_FROM: f64 = 4.5;

/// Least ratio of lines (WCAG 2, success criterion 1.4.11).
pub const LINE_FROM: f64 = 3.0;

/// Boxes nearer to each other than this, mm, are those of one shape.
const SAME_BOX: f64 = 1e-3;

/// Relative luminance of an sRGB colour, 0 to 1 (WCAG 2, definitions).
pub fn luminance(colour: [f64; 3]) -> f64 {
    let linear = |c: f64| match c <= 0.04045 {
        true => c / 12.92,
        false => ((c + 0.055) / 1.055).powf(2.4),
    };
    let [red, green, blue] = colour.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio of two sRGB colours, 1 to 21 (WCAG 2, definitions).
pub fn ratio(one: [f64; 3], other: [f64; 3]) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// `colour` of opacity `alpha` over `ground`.
fn over(colour: [f32; 3], alpha: f32, ground: [f64; 3]) -> [f64; 3] {
    let alpha = f64::from(alpha.clamp(0.0, 1.0));
    std::array::from_fn(|i| alpha * f64::from(colour[i]) + (1.0 - alpha) * ground[i])
}

impl Tone {
    /// Least ratio that is needed.
    fn wanted(&self) -> f64 {
        match self.kind {
            InkKind::Glyph => TEXT_FROM,
            InkKind::Line | InkKind::Area | InkKind::Picture => LINE_FROM,
        }
    }

    /// Its ratio to what is under it: of a line the middle one of all places, since it may end in a
    /// filled mark of its own colour. `None` if it lies on nothing of one colour.
    fn contrast(&self, paint: &[Paint]) -> Option<f64> {
        let at = |point: &Point| {
            let ground = self.ground(*point, paint)?;
            Some(ratio(over(self.colour, self.alpha, ground), ground))
        };
        let mut ratios: Vec<f64> = self.points.iter().filter_map(at).collect();
        ratios.sort_by(f64::total_cmp);
        ratios.get(ratios.len() / 2).copied()
    }

    /// What shows at a place before this is painted: white paper, and all filled shapes over it. Lines
    /// are no ground: a letter may stand across one.
    fn ground(&self, point: Point, paint: &[Paint]) -> Option<[f64; 3]> {
        let mut ground = Some([1.0; 3]);
        let under = paint.iter().filter(|p| {
            let fill = p.stroke.is_none() && p.order < self.order;
            // a line is the edge of its own shape, and stands out from what is round it
            let own = self.kind == InkKind::Line && is_same_box(p.seen, self.seen);
            fill && !own && p.covers(point)
        });
        for layer in under {
            ground = match layer.colour {
                None => None,
                Some(colour) if layer.alpha >= 1.0 => Some(over(colour, 1.0, [1.0; 3])),
                Some(colour) => ground.map(|under| over(colour, layer.alpha, under)),
            };
        }
        ground
    }
}

fn is_same_box(a: Rect, b: Rect) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() < SAME_BOX;
    near(a.x0, b.x0) && near(a.y0, b.y0) && near(a.x1, b.x1) && near(a.y1, b.y1)
}

impl Proof {
    /// The worst contrast on a page; a page without text and lines is not judged.
    pub(super) fn check_contrast(&mut self, sheet: &Sheet, page: usize) {
        let all = sheet.tones.iter().filter_map(|tone| {
            let contrast = tone.contrast(&sheet.paint)?;
            Some((contrast / tone.wanted(), contrast, tone))
        });
        let Some((share, contrast, tone)) = all.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return;
        };
        let (kind, wanted) = (tone.kind, tone.wanted());
        // cut, not rounded: 4.499 must not read as 4.50
        let shown = (contrast * 100.0).floor() / 100.0;
        let message = if share >= 1.0 {
            format!("the least contrast is {shown:.2}:1 ({kind}); {wanted}:1 is needed")
        } else {
            format!(
                "{kind} at {:.1} mm across, {:.1} mm down has a contrast of {shown:.2}:1 to what is under \
                 it; {wanted}:1 is needed",
                tone.seen.x0, tone.seen.y0
            )
        };
        let remedy = "Make it darker, or what lies under it lighter.";
        let seen = tone.seen;
        self.note("low-contrast", Some(page), share >= 1.0, message, remedy);
        self.mark(seen);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ratios_of_greys_on_white_are_those_of_the_formula() {
        // WCAG 2, definition of contrast ratio, worked out by hand
        let greys = [
            (0x76, 4.5422),
            (0x77, 4.4781),
            (0x94, 3.0335),
            (0x95, 2.9953),
        ];
        for (grey, wanted) in greys {
            let found = ratio([f64::from(grey) / 255.0; 3], [1.0; 3]);
            assert!((found - wanted).abs() < 5e-5, "{grey:x}: {found}");
        }
        assert!((ratio([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    }
}
