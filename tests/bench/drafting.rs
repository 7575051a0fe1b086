//! How the time of drafting one shoe is shared among its steps, and how the whole compares with one
//! sparse factorisation of the toe piece's mesh, the cheapest thing that any flattening needs. Ratios
//! only: they tell of the program, seconds tell of the machine. A foot of 70 mm, the median of many
//! runs.

#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench reports, and stops where something is amiss"
)]

use pressfoot::design::ClothKind;
use pressfoot::design::{FootSpec, Tracing};
use pressfoot::diagnostic::{Diagnostics, Place, SourceText};
use pressfoot::draft::shoe::{DraftStep, Shoe, ShoeChoices, UpperPiece, draft_shoe_in_steps};
use pressfoot::foot::Foot;
use pressfoot::geometry::flatten::Patch;
use pressfoot::geometry::mesh::Mesh;
use pressfoot::geometry::space::Vec3;
use serde_json::Value;
use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

/// Four invented feet, and their tracings.
const FEET: &str = include_str!("../drafting/known_feet.json");
const TRACINGS: &str = include_str!("../geometry/tracings.json");

/// The foot of 70 mm among them.
const FOOT: usize = 2;

const RUNS: usize = 41;

fn main() {
    let (foot, choices) = foot();
    let mut steps: BTreeMap<DraftStep, Vec<f64>> = BTreeMap::new();
    let mut wholes = Vec::new();
    let mut units = Vec::new();
    for _ in 0..RUNS {
        let begun = Instant::now();
        let mut last = begun;
        let mut done = |step: DraftStep| {
            let now = Instant::now();
            steps
                .entry(step)
                .or_default()
                .push((now - last).as_secs_f64());
            last = now;
        };
        let shoe = draft_shoe_in_steps(&foot, &choices, &mut Diagnostics::default(), &mut done);
        let shoe = black_box(shoe).unwrap();
        wholes.push(begun.elapsed().as_secs_f64());
        units.push(factorisation(&shoe));
    }
    let whole = median(&mut wholes);
    for (step, times) in &mut steps {
        println!(
            "{:<12} {:5.1} %",
            step.words(),
            100.0 * median(times) / whole
        );
    }
    let unit = median(&mut units);
    println!(
        "one shoe     {:5.0} sparse factorisations of its toe piece",
        whole / unit
    );
}

/// Seconds for the sparse factorisation of the toe piece's mesh.
fn factorisation(shoe: &Shoe) -> f64 {
    let flat = shoe.flat_mesh(UpperPiece::Toe);
    let mesh = Mesh {
        points: flat
            .points
            .iter()
            .map(|p| Vec3::new(p.x, p.y, 0.0))
            .collect(),
        triangles: flat.triangles.clone(),
    };
    let patch = Patch::new(&mesh).unwrap();
    let begun = Instant::now();
    // Ready for its first round, of which there is none.
    black_box(patch.relaxed(&flat.points, 0, 1.0).unwrap());
    begun.elapsed().as_secs_f64()
}

fn median(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

fn foot() -> (Foot, ShoeChoices) {
    let feet: Value = serde_json::from_str(FEET).unwrap();
    let tracings: Value = serde_json::from_str(TRACINGS).unwrap();
    let number = |value: &Value| value.as_f64().unwrap();
    let known = &feet["feet"][FOOT];
    let length = number(&known["foot length"]);
    let tracing = tracings[FOOT]["tracing"].as_array().unwrap();
    let measures = known["measures"].as_object().unwrap();
    let spec = FootSpec {
        tracing: Tracing::Points(
            tracing
                .iter()
                .map(|p| [number(&p[0]), number(&p[1])])
                .collect(),
        ),
        marks: Some([[0.0, 0.0], [length, 0.0]]),
        inner_left: false,
        pencil: 0.0,
        measures: measures
            .iter()
            .map(|(name, v)| (name.clone(), number(v)))
            .collect(),
        other: None,
        pair_tolerance: 0.8,
        grading: [1.0; 2],
        measures_place: None,
        place: Place {
            source: Arc::new(SourceText {
                path: "foot.yaml".into(),
                text: String::new(),
            }),
            line: 1,
            column: 1,
        },
    };
    let choices = ShoeChoices {
        ease: number(&known["ease"]),
        ..ShoeChoices::usual(length, ClothKind::WoolFelt)
    };
    (
        Foot::new(&spec, &mut Diagnostics::default()).unwrap(),
        choices,
    )
}
