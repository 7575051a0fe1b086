//! The area of a paper in which pieces may lie, and where head and foot of a plate stand, in mm. It
//! knows nothing of pieces.

use super::square::STRIP;
use crate::design::{Paper, PaperKind};
use kurbo::{Point, Rect, Size};

/// No ink on a plate lies nearer to the edge of the page than this, mm. Printers leave up to
/// 6.7 mm unprinted at the foot; 10 mm is comfortable (common practice).
pub const EDGE_CLEARANCE: f64 = 10.0;

/// Live area shared by A4 and Letter, mm, so that pieces are packed once for both.
const COMMON_LIVE: Size = Size::new(180.0, 240.0);

impl Paper {
    /// Whether it is a large sheet or a roll, which has test squares in two corners.
    pub fn is_large(&self) -> bool {
        self.kind != PaperKind::Page
    }

    /// Where pieces may lie, mm from the upper left corner of the page. On A4 and Letter it is
    /// 180 x 240 mm, centred (on A4 2 mm higher, for the eye); head and foot stand outside it.
    pub fn live(&self) -> Rect {
        let (origin, size) = match self.key.as_str() {
            "a4" => (Point::new(15.0, 26.5), COMMON_LIVE),
            "letter" => (Point::new(17.95, 19.7), COMMON_LIVE),
            "either" => (Point::new(15.0, 19.7), COMMON_LIVE),
            _ if self.is_large() => (
                Point::new(15.0, 15.0 + STRIP),
                Size::new(self.width - 30.0, self.height - 35.0 - STRIP),
            ),
            _ => (
                Point::new(15.0, 22.0),
                Size::new(self.width - 30.0, self.height - 42.0),
            ),
        };
        Rect::from_origin_size(origin, size)
    }

    /// Top of the plate's head, mm: 11.5 mm above the live area, lower where the edge of the page
    /// would be too near.
    pub fn head(&self) -> f64 {
        if self.is_large() {
            return 15.0;
        }
        (self.live().y0 - 11.5).max(EDGE_CLEARANCE + 0.3)
    }

    /// Top of the plate's foot, mm.
    pub fn foot(&self) -> f64 {
        self.live().y1 + 4.6
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::paper_keys;

    #[test]
    fn live_areas_head_and_foot_keep_clear_of_the_edge() {
        for paper in paper_keys().into_iter().filter_map(Paper::named) {
            let live = paper.live();
            assert!(live.x0 >= EDGE_CLEARANCE && live.x1 <= paper.width - EDGE_CLEARANCE);
            assert!(paper.head() >= EDGE_CLEARANCE);
            // The foot is set in 7.2 pt: 2.6 mm with its descenders.
            assert!(
                paper.foot() + 2.6 <= paper.height - EDGE_CLEARANCE,
                "{}",
                paper.key
            );
        }
    }

    #[test]
    fn a4_and_letter_share_one_live_area() {
        let size = |key| Paper::named(key).map(|p| p.live().size());
        assert_eq!(size("a4"), Some(Size::new(180.0, 240.0)));
        assert_eq!(size("letter"), size("a4"));
        assert_eq!(size("either"), size("a4"));
    }
}
