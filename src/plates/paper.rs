//! Papers a buyer prints plates on: sizes in mm, and the area in which pieces may lie. It knows
//! nothing of pieces.

use kurbo::{Point, Rect, Size};

/// No ink on a plate lies nearer to the edge of the page than this, mm. Printers leave up to
/// 6.7 mm unprinted at the foot; 10 mm is comfortable (common practice).
pub const EDGE_CLEARANCE: f64 = 10.0;

/// Live area shared by A4 and Letter, mm, so that pieces are packed once for both.
const COMMON_LIVE: Size = Size::new(180.0, 240.0);

/// A paper, upright, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paper {
    /// Key in a design file, e.g. `a4`.
    pub key: &'static str,
    /// As printed.
    pub name: &'static str,
    /// Across, mm.
    pub width: f64,
    /// Down, mm.
    pub height: f64,
}

const fn paper(key: &'static str, name: &'static str, width: f64, height: f64) -> Paper {
    Paper {
        key,
        name,
        width,
        height,
    }
}

/// All papers: A sizes after ISO 216, the others after ANSI/ASME Y14.1 (8.5, 11, 14 and 17 in at
/// 25.4 mm).
pub const PAPERS: [Paper; 5] = [
    paper("a3", "A3", 297.0, 420.0),
    paper("a4", "A4", 210.0, 297.0),
    paper("legal", "US Legal", 215.9, 355.6),
    paper("letter", "US Letter", 215.9, 279.4),
    paper("tabloid", "US Tabloid", 279.4, 431.8),
];

impl Paper {
    /// The paper with this key.
    pub fn named(key: &str) -> Option<Self> {
        PAPERS.into_iter().find(|p| p.key == key)
    }

    /// Where pieces may lie, mm from the upper left corner of the page. On A4 and Letter it is
    /// 180 x 240 mm, centred (on A4 2 mm higher, for the eye); head and foot stand outside it.
    pub fn live(&self) -> Rect {
        let (origin, size) = match self.key {
            "a4" => (Point::new(15.0, 26.5), COMMON_LIVE),
            "letter" => (Point::new(17.95, 19.7), COMMON_LIVE),
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

    #[test]
    fn a_sizes_are_those_of_iso_216() {
        // ISO 216, table of the A series: A3 297 x 420 mm, A4 210 x 297 mm.
        for (key, width, height) in [("a3", 297.0, 420.0), ("a4", 210.0, 297.0)] {
            let paper = Paper::named(key).expect("in the table");
            assert_eq!((paper.width, paper.height), (width, height));
        }
    }

    #[test]
    fn american_sizes_are_those_of_ansi_y14_1() {
        // ANSI/ASME Y14.1: Letter 8.5 x 11 in, Legal 8.5 x 14 in, Tabloid 11 x 17 in.
        let table = [
            ("letter", 8.5, 11.0),
            ("legal", 8.5, 14.0),
            ("tabloid", 11.0, 17.0),
        ];
        for (key, width, height) in table {
            let paper = Paper::named(key).expect("in the table");
            assert!((paper.width - width * 25.4).abs() < 1e-9, "{key}");
            assert!((paper.height - height * 25.4).abs() < 1e-9, "{key}");
        }
    }

    #[test]
    fn live_areas_head_and_foot_keep_clear_of_the_edge() {
        for paper in PAPERS {
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
        assert_eq!(Paper::named("post card"), None);
    }
}
