//! How much thread a stitch takes up for each length of the line it sews.

use crate::design::Stitch;

/// Sizes of a stitch and of what it goes through, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StitchSizes {
    /// From one stitch to the next along the line.
    pub length: f64,
    /// Width of a zigzag or an overedge; depth of a whipstitch from the edge.
    pub width: f64,
    /// Thickness of all layers together.
    pub thickness: f64,
}

/// Length of thread for each length of line, with s length, w width and T thickness.
///
/// Lockstitch 2 + 2 T/s, chain stitch 4 + 2 T/s and overedge 5 + 4 (w + T)/s are the formulas of
/// textile handbooks (there 2 T S with S = 1/s; some give the overedge 3 instead of 5: the larger is
/// taken). The others follow from the way of the thread through one stitch:
///
/// - zigzag: as a lockstitch, but both threads lie across the width, √(s² + w²) for s;
/// - running stitch: one thread, along s on one side and then through the layers;
/// - slip stitch: along s inside the fold, and with its bite out of the fold and back, as far together as
///   the layers are thick;
/// - backstitch: 2 s forward on the wrong side, s back on the right side, twice through the layers;
/// - whipstitch: over the edge and down both sides to the depth w while it goes on by s, then through.
pub fn thread_ratio(stitch: Stitch, sizes: StitchSizes) -> f64 {
    let StitchSizes {
        length: s,
        width: w,
        thickness: t,
    } = sizes;
    match stitch {
        Stitch::Lockstitch => 2.0 + 2.0 * t / s,
        Stitch::Chain => 4.0 + 2.0 * t / s,
        Stitch::Overedge => 5.0 + 4.0 * (w + t) / s,
        Stitch::Zigzag => (2.0 * s.hypot(w) + 2.0 * t) / s,
        Stitch::Running | Stitch::Slip => 1.0 + t / s,
        Stitch::Backstitch => 3.0 + 2.0 * t / s,
        Stitch::Whipstitch => ((2.0 * w + t).hypot(s) + t) / s,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::units::INCH;

    fn ratio(stitch: Stitch, length: f64, width: f64, thickness: f64) -> f64 {
        thread_ratio(
            stitch,
            StitchSizes {
                length,
                width,
                thickness,
            },
        )
    }

    #[test]
    fn worked_examples_of_textile_handbooks() {
        // lockstitch: 0.01 in thick, 10 to the inch: 2.2 in for each inch
        let lockstitch = ratio(Stitch::Lockstitch, INCH / 10.0, 0.0, 0.01 * INCH);
        assert!((lockstitch - 2.2).abs() < 1e-12);
        // chain stitch: 0.015 in thick, 15 to the inch: 4 + 2 · 0.015 · 15 = 4.45
        let chain = ratio(Stitch::Chain, INCH / 15.0, 0.0, 0.015 * INCH);
        assert!((chain - 4.45).abs() < 1e-12);
        // a rule of thumb for medium cloth: 2.5 for the lockstitch, 5.5 for the zigzag
        let medium = ratio(Stitch::Lockstitch, 2.0, 0.0, 0.6);
        assert!((medium - 2.5).abs() < 0.2);
        let zigzag = ratio(Stitch::Zigzag, 1.5, 3.0, 0.6);
        assert!((zigzag - 5.5).abs() < 0.4, "{zigzag}");
        // and 14 for the overedge (from memory), 14 to the inch, 4 mm wide
        let overedge = ratio(Stitch::Overedge, INCH / 14.0, 4.0, 0.6);
        assert!((overedge - 14.0).abs() < 1.5, "{overedge}");
    }

    #[test]
    fn hand_stitches_take_the_way_of_their_thread() {
        // Through no thickness a running stitch is as long as its line, a backstitch three times, a
        // whipstitch 3 along and 2 · 2 across is 5 (the triangle 3, 4, 5).
        assert_eq!(ratio(Stitch::Running, 1.5, 0.0, 0.0), 1.0);
        assert_eq!(ratio(Stitch::Backstitch, 1.5, 0.0, 0.0), 3.0);
        assert_eq!(ratio(Stitch::Whipstitch, 3.0, 2.0, 0.0), 5.0 / 3.0);
        // ten backstitches of 2 mm through 1 mm: 2 · 2 + 2 + 2 · 1 each
        assert_eq!(20.0 * ratio(Stitch::Backstitch, 2.0, 0.0, 1.0), 80.0);
    }

    #[test]
    fn thicker_cloth_and_shorter_stitches_take_more() {
        for (_, stitch) in Stitch::WORDS {
            let usual = ratio(stitch, 2.0, 2.0, 1.0);
            assert!(ratio(stitch, 2.0, 2.0, 1.1) > usual, "{stitch:?}");
            assert!(ratio(stitch, 1.9, 2.0, 1.0) > usual, "{stitch:?}");
        }
    }
}
