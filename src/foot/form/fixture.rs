//! Known feet for tests.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use crate::design::{FootSpec, Tracing};
use crate::diagnostic::{Place, SourceText};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Four invented feet and what an independent draft made of them; the file says how.
const FEET: &str = include_str!("../../../tests/drafting/known_feet.json");
const TRACINGS: &str = include_str!("../../../tests/geometry/tracings.json");

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// The whole file of known feet.
pub(crate) fn document() -> Value {
    serde_json::from_str(FEET).unwrap()
}

pub(crate) fn known() -> Vec<(FootSpec, Value)> {
    let feet = document();
    let tracings: Vec<Value> = serde_json::from_str(TRACINGS).unwrap();
    let feet = feet["feet"].as_array().unwrap().iter().cloned();
    let source = Arc::new(SourceText {
        path: "feet/test.yaml".into(),
        text: String::new(),
    });
    let spec = |tracing: &Value, foot: &Value| FootSpec {
        tracing: Tracing::Points(
            tracing["tracing"]
                .as_array()
                .unwrap()
                .iter()
                .map(|p| [number(&p[0]), number(&p[1])])
                .collect(),
        ),
        marks: Some([[0.0, 0.0], [number(&foot["foot length"]), 0.0]]),
        inner_left: false,
        pencil: 0.0,
        measures: measures(foot),
        other: None,
        pair_tolerance: 0.8,
        grading: [1.0; 2],
        measures_place: None,
        place: Place {
            source: source.clone(),
            line: 1,
            column: 1,
        },
    };
    tracings
        .iter()
        .zip(feet)
        .map(|(t, f)| (spec(t, &f), f))
        .collect()
}

fn measures(foot: &Value) -> BTreeMap<String, f64> {
    let given = foot["measures"].as_object().unwrap();
    given
        .iter()
        .map(|(name, v)| (name.clone(), number(v)))
        .collect()
}
