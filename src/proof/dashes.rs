//! Whether the sizes of a piece that are drawn over each other can be told apart without colour: by
//! their dashes. Millimetres.

use super::Proof;
use super::ink::DrawnLine;
use super::intended::{Intended, IntendedLine, IntendedOutline};
use super::outline::{Drawn, Finding};
use kurbo::Rect;

/// Dashes or gaps whose lengths differ by less than this, mm, look the same: finer than the width of
/// the pen, no eye measures them.
const SAME_LENGTH: f64 = 0.2;

/// Lines lie over each other if their boxes share more than this part of the smaller one.
const OVER: f64 = 0.5;

impl Proof {
    /// Cut lines of one piece in different sizes that lie over each other on a page (its index is
    /// `sheet`) must differ in their dashes.
    pub(super) fn check_dashes(
        &mut self,
        sheet: usize,
        findings: &[Finding],
        drawn: &Drawn<'_>,
        intended: &Intended,
    ) {
        let cut: Vec<(&IntendedOutline, &DrawnLine)> = intended
            .outlines
            .iter()
            .zip(findings)
            .filter(|(outline, _)| outline.line == IntendedLine::Cut)
            .flat_map(|(outline, finding)| {
                let here = finding.drawings().iter().filter(|d| d.sheet == sheet);
                here.map(move |d| (outline, &drawn.sheets[sheet].lines[d.line]))
            })
            .collect();
        let (mut pairs, mut sound) = (0, true);
        for (index, (outline, line)) in cut.iter().enumerate() {
            for (other, other_line) in &cut[index + 1..] {
                let sizes = outline.piece == other.piece && outline.size != other.size;
                if !sizes || !lie_over(line.bounds, other_line.bounds) {
                    continue;
                }
                pairs += 1;
                if same_dashes(&line.dashes, &other_line.dashes) {
                    sound = false;
                    self.say_same(outline, other, sheet + 1);
                    self.mark(line.bounds);
                }
            }
        }
        if pairs > 0 && sound {
            let message = "sizes over each other on the page differ in their dashes".to_string();
            self.note("same-dash", Some(sheet + 1), true, message, "");
        }
    }

    fn say_same(&mut self, outline: &IntendedOutline, other: &IntendedOutline, page: usize) {
        let message = format!(
            "the cut lines of {} in sizes {} and {} lie over each other and have the same dashes",
            outline.title, outline.size, other.size
        );
        let remedy = "Give each size dashes of its own, or draw the sizes side by side.";
        self.note("same-dash", Some(page), false, message, remedy);
    }
}

fn lie_over(a: Rect, b: Rect) -> bool {
    let width = a.x1.min(b.x1) - a.x0.max(b.x0);
    let height = a.y1.min(b.y1) - a.y0.max(b.y0);
    width > 0.0 && height > 0.0 && width * height > OVER * a.area().min(b.area())
}

/// Whether two lines look the same: dashes and gaps of the same lengths in the same order, whichever
/// the line begins with.
fn same_dashes(a: &[f64], b: &[f64]) -> bool {
    let (a, b) = (period(a), period(b));
    let near = |x: f64, y: f64| (x - y).abs() < SAME_LENGTH;
    let from = |start: usize| {
        let turned = b.iter().cycle().skip(start);
        a.iter().zip(turned).all(|(x, y)| near(*x, *y))
    };
    // a dash corresponds to a dash only: the begin moves by pairs
    a.len() == b.len() && (a.is_empty() || (0..b.len()).step_by(2).any(from))
}

/// The shortest run of dashes and gaps that repeats. An odd run is taken twice, so that dashes and gaps
/// change places (ISO 32000-1, 8.4.3.6).
fn period(dashes: &[f64]) -> Vec<f64> {
    let even = dashes.repeat(1 + dashes.len() % 2);
    let near = |x: f64, y: f64| (x - y).abs() < SAME_LENGTH;
    let repeats = |length: &usize| {
        let whole = even.len().is_multiple_of(*length);
        whole
            && even
                .iter()
                .enumerate()
                .all(|(i, d)| near(even[i % length], *d))
    };
    let length = (2..even.len()).step_by(2).find(repeats);
    even[..length.unwrap_or(even.len())].to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dashes_are_compared_as_they_look() {
        assert!(same_dashes(&[], &[]));
        assert!(!same_dashes(&[], &[2.0, 1.0]));
        assert!(same_dashes(&[2.0], &[2.0, 2.0]));
        assert!(same_dashes(&[2.0, 1.0], &[2.0, 1.0, 2.0, 1.0]));
        assert!(same_dashes(&[4.0, 1.0, 1.0, 1.0], &[1.0, 1.0, 4.0, 1.0]));
        assert!(!same_dashes(&[4.0, 1.0], &[1.0, 4.0]));
        assert!(!same_dashes(&[4.0, 1.0], &[3.0, 1.0]));
    }
}
