//! Needles and lengths of stitches for the cloths that are sewn, by their thickness. All values are
//! common practice, from memory; machine needles are numbered by their thickness in hundredths of a
//! millimetre and by the older size.

use super::sewing::{is_backing, thickness};
use super::sewn_by::sewn_by;
use super::trims::value;
use crate::design::{Cloth, ClothKind, Design, LengthStyle};
use crate::draft::Draft;
use crate::geometry::units::INCH;
use crate::language::Words;
use serde::Serialize;

/// Needles for cloth up to a thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeedleFacts {
    /// Thickest single layer, mm.
    up_to: f64,
    /// Sizes of sharps for sewing by hand, from and to; the larger the number, the finer.
    pub hand: [u8; 2],
    /// Size of a machine needle.
    pub machine: &'static str,
    /// Usual length of a stitch in small work, from and to, mm.
    stitch: [f64; 2],
}

const TABLE: [NeedleFacts; 5] = [
    facts(0.25, [9, 10], "70/10", [1.5, 2.0]),
    facts(0.6, [8, 9], "80/12", [1.5, 2.0]),
    facts(1.4, [7, 9], "90/14", [2.0, 2.5]),
    facts(2.5, [5, 7], "100/16", [2.5, 3.0]),
    facts(f64::INFINITY, [3, 5], "110/18", [3.0, 3.5]),
];

const fn facts(up_to: f64, hand: [u8; 2], machine: &'static str, stitch: [f64; 2]) -> NeedleFacts {
    NeedleFacts {
        up_to,
        hand,
        machine,
        stitch,
    }
}

impl NeedleFacts {
    /// `9 or 10`, `5 to 7`.
    pub fn hand_words(self, words: &Words) -> String {
        let [from, to] = self.hand;
        let key = match to - from {
            1 => "language.or",
            _ => "language.to",
        };
        words.say(key, &[("first", &from), ("last", &to)])
    }
}

/// Needles for cloth `thickness` mm thick.
pub fn needles_for(thickness: f64) -> NeedleFacts {
    let found = TABLE.iter().find(|facts| thickness <= facts.up_to + 1e-9);
    found.copied().unwrap_or(TABLE[TABLE.len() - 1])
}

/// The point of a needle for a kind of cloth, as the table of words calls it; none where the usual one
/// does.
pub fn point(kind: Option<ClothKind>) -> Option<&'static str> {
    match kind? {
        ClothKind::Knit => Some("ball-point"),
        ClothKind::FauxLeather => Some("leather"),
        ClothKind::WoolFelt | ClothKind::CraftFelt | ClothKind::Woven => None,
    }
}

/// Needles and stitch for cloths of like thickness, as printed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NeedleRow {
    /// Names of the cloths.
    pub cloth: Vec<String>,
    /// For sewing by hand; none where nothing is sewn by hand.
    pub hand: Option<String>,
    /// For the machine; none where nothing is sewn by it.
    pub machine: Option<String>,
    /// Length of a stitch.
    pub stitch: String,
}

/// One row for all cloths that want the same, in the order of the design. Cloth of which nothing is cut
/// and what only backs another has none.
pub fn needles(design: &Design, drafts: &[Draft]) -> Vec<NeedleRow> {
    let words = &design.words;
    let own = own_stitch(design, drafts);
    // of a design that names no stitch a buyer may choose
    let (by_hand, by_machine) = sewn_by(design).map_or((true, true), |by| (by.hand, by.machine));
    let mut rows: Vec<NeedleRow> = Vec::new();
    for cloth in sewn(design) {
        let facts = needles_for(thickness(cloth));
        let point = point(ClothKind::named(cloth.kind_words()));
        let with_point = |size: &str| match point {
            Some(point) => {
                let point = words.named("materials", point);
                words.say(
                    "materials.with point",
                    &[("point", &point), ("size", &size)],
                )
            }
            None => size.to_string(),
        };
        let row = NeedleRow {
            cloth: vec![cloth.name.clone()],
            hand: by_hand.then(|| with_point(&facts.hand_words(words))),
            machine: by_machine.then(|| with_point(facts.machine)),
            stitch: stitch_words(
                own.map_or(facts.stitch, |mm| [mm, mm]),
                design.lengths,
                words,
            ),
        };
        let alike = |known: &&mut NeedleRow| {
            (&known.hand, &known.machine, &known.stitch) == (&row.hand, &row.machine, &row.stitch)
        };
        match rows.iter_mut().find(alike) {
            Some(known) => known.cloth.extend(row.cloth),
            None => rows.push(row),
        }
    }
    rows
}

/// Cloths that pieces are cut from and that are sewn.
fn sewn(design: &Design) -> impl Iterator<Item = &Cloth> {
    design.cloth.iter().filter(|cloth| {
        let mut cuts = design.pieces.iter().flat_map(|piece| &piece.cuts);
        !is_backing(cloth, design) && cuts.any(|cut| cut.cloth == cloth.key)
    })
}

/// Needles for the thickest cloth that is sewn.
pub fn needles_of_thickest(design: &Design) -> Option<NeedleFacts> {
    let thickest = sewn(design).map(thickness).max_by(f64::total_cmp);
    thickest.map(needles_for)
}

/// The length of a stitch that the design gives, if it is the same in all sizes, mm.
fn own_stitch(design: &Design, drafts: &[Draft]) -> Option<f64> {
    let formula = design.thread.as_ref()?.stitch_length.as_ref()?;
    let mut lengths = drafts.iter().map(|draft| value(formula, draft)?.ok());
    let first = lengths.next()??;
    lengths
        .all(|length| length.is_some_and(|mm| (mm - first).abs() < 1e-9))
        .then_some(first)
}

/// `1.5 to 2 mm, 13 to 17 to the inch`.
fn stitch_words([from, to]: [f64; 2], style: LengthStyle, words: &Words) -> String {
    let to_the_inch = |mm: f64| format!("{:.0}", INCH / mm);
    let (few, many) = (to_the_inch(to), to_the_inch(from));
    let figures = |mm: f64| style.figures(&mm.to_string());
    let one = from == to;
    let (from, to) = (figures(from), figures(to));
    match one {
        true => words.say("materials.stitch", &[("length", &from), ("few", &few)]),
        false => words.say(
            "materials.stitch between",
            &[("from", &from), ("to", &to), ("few", &few), ("many", &many)],
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thicker_cloth_takes_a_thicker_needle_and_a_longer_stitch() {
        // Size 70 is 0.70 mm thick, 110 is 1.10 mm (the metric numbering of machine needles).
        let hundredths = |facts: &NeedleFacts| -> f64 {
            let (metric, _) = facts.machine.split_once('/').unwrap();
            metric.parse().unwrap()
        };
        for pair in TABLE.windows(2) {
            assert!(pair[0].up_to < pair[1].up_to);
            assert!(hundredths(&pair[0]) < hundredths(&pair[1]));
            assert!(pair[0].stitch[1] <= pair[1].stitch[1]);
        }
        // lawn, felt and canvas (common practice)
        assert_eq!(needles_for(0.2).machine, "70/10");
        assert_eq!(needles_for(1.2).machine, "90/14");
        assert_eq!(needles_for(0.6).machine, "80/12");
        assert_eq!(needles_for(9.0).hand, [3, 5]);
    }

    #[test]
    fn stitches_are_counted_to_the_inch() {
        // 25.4 / 1.5 = 16.9, 25.4 / 2 = 12.7, 25.4 / 2.5 = 10.2
        assert_eq!(
            stitch_words([1.5, 2.0], LengthStyle::METRIC, &Words::default()),
            "1.5 to 2 mm, 13 to 17 to the inch"
        );
        assert_eq!(
            stitch_words([2.5, 2.5], LengthStyle::METRIC, &Words::default()),
            "2.5 mm, 10 to the inch"
        );
    }
}
