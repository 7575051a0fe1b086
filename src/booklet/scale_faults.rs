//! What a test square that came out wrong tells: causes of a wrong scale with their ratios, and the
//! table of readings that the booklet prints. Ratios are length on paper by length meant; papers and
//! readings in mm. It never says what is printed: words are the template's.

use crate::design::Paper;
use crate::geometry::units::INCH;
use serde_json::{Value, json};

/// Why a page was printed at another scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// The page was made smaller to fit what the printer can print of its own paper.
    Fitted,
    /// The file is made for A4 and the paper is US Letter, or the other way round; fitted too.
    OtherPaper,
    /// A program took one unit for another.
    Units,
}

impl Fault {
    /// As the template knows it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Fitted => "fitted",
            Self::OtherPaper => "other paper",
            Self::Units => "units",
        }
    }
}

/// A cause and the scale that comes of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cause {
    /// Which.
    pub fault: Fault,
    /// Length on paper by length meant.
    pub ratio: f64,
}

/// What printers leave free at each edge, mm: nothing, 3 mm, 1/6 in (12 pt), 1/4 in (common practice).
pub const MARGINS: [f64; 4] = [0.0, 3.0, INCH / 6.0, INCH / 4.0];

/// Units taken for one another: points (72 to the inch), screen pixels (96, in older programs 90),
/// inches and millimetres or centimetres.
pub const MISTAKEN: [f64; 6] = [
    96.0 / 72.0,
    72.0 / 96.0,
    90.0 / 96.0,
    96.0 / 90.0,
    INCH,
    10.0 / INCH,
];

/// A reading names every cause whose ratio is within this part of its own.
pub const TOLERANCE: f64 = 0.005;

/// Side of the metric test square, mm; it is read to half a millimetre.
const SQUARE: f64 = 50.0;

/// Readings that are near the right one, mm: a loss or gain of the printer's own.
const DRIFTS: [f64; 2] = [49.0, 51.0];

/// A row of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The readings, as ratios, rising.
    pub ratios: Vec<f64>,
    /// Whether all between the first and the last reading belongs to it.
    pub range: bool,
    /// Whether larger readings belong to it too.
    pub more: bool,
    /// What may be the cause; none where the scale is right or nothing explains it.
    pub faults: Vec<Fault>,
    /// The scale to set, in percent, where no cause is known.
    pub percent: Option<f64>,
}

impl Row {
    /// Whether it is the right answer.
    pub fn is_right(&self) -> bool {
        self.ratios == [1.0]
    }
}

/// The scale at which a page of `page` mm is fitted, upright, onto `paper` mm with `margin` mm left
/// free at each edge.
pub fn fitted(page: [f64; 2], paper: [f64; 2], margin: f64) -> f64 {
    let across = (paper[0] - 2.0 * margin) / page[0];
    let down = (paper[1] - 2.0 * margin) / page[1];
    across.min(down)
}

/// All causes for plates made for, or printed on, `paper`. The right scale is none. What is made for
/// either of A4 and US Letter is printed on both, and neither is wrong.
pub fn causes(paper: &Paper) -> Vec<Cause> {
    let own = [paper.width, paper.height];
    let sides = |key| Paper::named(key).map(|paper| [paper.width, paper.height]);
    let (printed_on, other) = match paper.key.as_str() {
        "a4" => (vec![own], sides("letter")),
        "letter" => (vec![own], sides("a4")),
        "either" => (
            sides("a4").into_iter().chain(sides("letter")).collect(),
            None,
        ),
        _ => (vec![own], None),
    };
    let mut causes = Vec::new();
    let mut add = |fault, ratio: f64| {
        if (ratio - 1.0).abs() > 1e-9 {
            causes.push(Cause { fault, ratio });
        }
    };
    for margin in MARGINS {
        for onto in &printed_on {
            add(Fault::Fitted, fitted(own, *onto, margin));
        }
        if let Some(other) = other {
            add(Fault::OtherPaper, fitted(own, other, margin));
            add(Fault::OtherPaper, fitted(other, own, margin));
        }
    }
    for ratio in MISTAKEN {
        add(Fault::Units, ratio);
    }
    causes
}

/// The faults that may have given `ratio`, each once, in their order.
pub fn explained(ratio: f64, causes: &[Cause]) -> Vec<Fault> {
    let near = |cause: &&Cause| (cause.ratio / ratio - 1.0).abs() <= TOLERANCE;
    let mut faults: Vec<Fault> = causes.iter().filter(near).map(|c| c.fault).collect();
    faults.sort();
    faults.dedup();
    faults
}

/// The table for `paper`: one row for readings that are the same to half a millimetre, neighbours
/// with the same causes together, and all readings that only a mistaken unit gives in two rows.
pub fn table(paper: &Paper) -> Vec<Row> {
    let causes = causes(paper);
    let mut readings: Vec<f64> = causes.iter().map(reading).collect();
    readings.extend(DRIFTS);
    readings.push(SQUARE);
    readings.sort_by(f64::total_cmp);
    readings.dedup();
    let mut rows: Vec<Row> = Vec::new();
    for reading in readings {
        let row = row(reading / SQUARE, &causes);
        match rows.last_mut() {
            Some(last) if !row.faults.is_empty() && joins(last, &row) => {
                last.ratios.extend(row.ratios);
                last.more |= row.more;
                last.range = last.faults != [Fault::Units];
            }
            _ => rows.push(row),
        }
    }
    for row in rows.iter_mut().filter(|row| row.range) {
        row.ratios = row
            .ratios
            .first()
            .into_iter()
            .chain(row.ratios.last())
            .copied()
            .collect();
    }
    rows
}

/// What is read of the metric square: to half a millimetre.
fn reading(cause: &Cause) -> f64 {
    (cause.ratio * SQUARE * 2.0).round() / 2.0
}

/// What explains `ratio`, and what is read as it: half a millimetre is much of a small square.
fn named(ratio: f64, causes: &[Cause]) -> Vec<Fault> {
    let mut faults = explained(ratio, causes);
    let same = |cause: &&Cause| (reading(cause) - ratio * SQUARE).abs() < 1e-9;
    faults.extend(causes.iter().filter(same).map(|cause| cause.fault));
    faults.sort();
    faults.dedup();
    faults
}

fn row(ratio: f64, causes: &[Cause]) -> Row {
    let right = ratio == 1.0;
    let faults = match right {
        true => Vec::new(),
        false => named(ratio, causes),
    };
    // A square so large that it does not fit on the page cannot be read.
    let more = ratio * SQUARE > 1000.0;
    Row {
        ratios: if more { Vec::new() } else { vec![ratio] },
        range: false,
        more,
        percent: (faults.is_empty() && !right).then(|| (100.0 / ratio).round()),
        faults,
    }
}

/// Whether `next` belongs into the row before it: the same causes, and no reading between that would
/// have others.
fn joins(last: &Row, next: &Row) -> bool {
    let beside = || match (last.ratios.last(), next.ratios.first()) {
        (Some(a), Some(b)) => (b - a) * SQUARE < 1.01,
        _ => false,
    };
    last.faults == next.faults && (last.faults == [Fault::Units] || beside())
}

/// The table as the template takes it.
pub fn data(paper: &Paper) -> Value {
    let of = |row: &Row| {
        json!({
            "ratios": row.ratios,
            "range": row.range,
            "more": row.more,
            "faults": row.faults.iter().map(|fault| fault.words()).collect::<Vec<_>>(),
            "percent": row.percent,
            "right": row.is_right(),
        })
    };
    table(paper).iter().map(of).collect()
}

#[cfg(test)]
mod tests;
