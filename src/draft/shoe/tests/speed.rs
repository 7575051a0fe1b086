//! How long the steps of a draft take.

use super::*;
use crate::draft::shoe::edges::{PieceEdges, true_corners};
use crate::draft::shoe::flat::{flat_heel, flat_toe};
use crate::draft::shoe::patch::{Mesher, UpperEdge};
use crate::foot::form::fixture::known;
use std::time::{Duration, Instant};

const RUNS: u32 = 20;

/// Runs a step several times; adds its mean to the report.
fn timed<T>(
    report: &mut Vec<(&'static str, Duration)>,
    name: &'static str,
    step: impl Fn() -> T,
) -> T {
    let begun = Instant::now();
    for _ in 1..RUNS {
        std::hint::black_box(step());
    }
    let result = step();
    report.push((name, begun.elapsed() / RUNS));
    result
}

#[test]
#[ignore = "a measurement; run it with optimisation"]
fn one_size_is_drafted_in_sixty_milliseconds() {
    let (spec, known) = known().swap_remove(2);
    let choices = choices(&known);
    let mut report = Vec::new();
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    let quiet = || Diagnostics::default();
    let body = timed(&mut report, "foot's body", || {
        FootForm::new(&foot, &mut quiet()).unwrap()
    });
    let builder = Builder {
        foot: &foot,
        body: &body,
        choices: &choices,
        inset: 0.0,
    };
    let mut said = quiet();
    let told = || Diagnostics::default();
    let form = timed(&mut report, "shoe's form", || {
        ShoeForm::new(&builder, &mut Told::new(&foot.place, &mut told())).unwrap()
    });
    let mesher = timed(&mut report, "chart", || Mesher::new(&form, 70.0 / 52.0));
    let toe = timed(&mut report, "toe mesh", || {
        mesher.mesh(UpperPiece::Toe).unwrap()
    });
    let heel = timed(&mut report, "heel mesh", || {
        mesher.mesh(UpperPiece::Heel).unwrap()
    });
    let sides = [UpperEdge::Inner, UpperEdge::Outer].map(|e| heel.edge(e).length());
    let zone = easing::Zone::new(&form, 70.0);
    let (toe, easing) = timed(&mut report, "toe flat", || {
        flat_toe(toe.clone(), sides, zone, &choices).unwrap()
    });
    let heel = timed(&mut report, "heel flat", || {
        flat_heel(heel.clone(), sides, None).unwrap()
    });
    timed(&mut report, "edges", || {
        let mut toe = PieceEdges::new(&toe, 70.0, false).unwrap();
        let mut heel = PieceEdges::new(&heel, 70.0, false).unwrap();
        true_corners(&mut toe, &mut heel).unwrap();
    });
    timed(&mut report, "soles", || {
        soles::soles(
            &form.sole,
            form.cut.side_marks,
            &choices,
            &mut Told::new(&foot.place, &mut told()),
        )
        .unwrap()
    });
    timed(&mut report, "warnings", || {
        warnings::tell(
            &body,
            &form,
            &easing,
            &choices,
            &mut Told::new(&foot.place, &mut told()),
        )
    });
    said.append(quiet());
    timed(&mut report, "whole", || {
        draft_shoe(&foot, &choices, &mut quiet()).unwrap()
    });
    let whole = report[report.len() - 1].1;
    let most = if cfg!(debug_assertions) { 6000 } else { 60 };
    let shown = std::env::var_os("PRESSFOOT_TIMES").is_some();
    assert!(whole < Duration::from_millis(most) && !shown, "{report:#?}");
}
