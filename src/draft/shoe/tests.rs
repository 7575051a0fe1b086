#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod corrections;
mod gathered;
mod known;
mod random;
mod refusals;

use super::*;
use crate::design::ClothKind;
use crate::foot::form::fixture::number;
use serde_json::Value;

/// The choices with which the known feet were drafted.
fn choices(known: &Value) -> ShoeChoices {
    let length = number(&known["foot length"]);
    let kind = ClothKind::named(known["cloth"].as_str().unwrap()).unwrap();
    ShoeChoices {
        ease: number(&known["ease"]),
        ..ShoeChoices::usual(length, kind)
    }
}

fn messages(diagnostics: &Diagnostics) -> Vec<String> {
    diagnostics
        .iter()
        .map(|d| format!("{}: {}", d.code, d.message))
        .collect()
}
