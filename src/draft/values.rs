//! The values of one size by their dotted names.

use crate::design::formula::Scope;
use crate::design::{Dimension, Quantity};
use crate::foot::Foot;
use crate::geometry::Outline;
use kurbo::{BezPath, Shape};
use std::collections::BTreeMap;

/// Values by dotted name, e.g. `foot.length`, `toe.sole edge`, `seam`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Values {
    values: BTreeMap<String, Quantity>,
}

impl Values {
    /// Sets one.
    pub fn insert(&mut self, name: impl Into<String>, quantity: Quantity) {
        self.values.insert(name.into(), quantity);
    }

    /// All, in order of name.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Quantity)> {
        self.values
            .iter()
            .map(|(name, quantity)| (name.as_str(), *quantity))
    }

    /// All as a map.
    pub fn map(&self) -> &BTreeMap<String, Quantity> {
        &self.values
    }
}

impl Scope for Values {
    fn value(&self, name: &str) -> Option<Quantity> {
        self.values.get(name).copied()
    }
}

/// What an outline may be asked for: the length of each edge, and its `width`, `height`,
/// `perimeter` and `area`. An edge of one of these names hides the word.
pub(super) fn measured(outline: &Outline, what: &str) -> Option<Quantity> {
    let length = |value| {
        Some(Quantity {
            value,
            dimension: Dimension::Length,
        })
    };
    if let Some(edge) = outline.edge(what) {
        return length(edge.length());
    }
    match what {
        "width" => length(outline.bounds().width()),
        "height" => length(outline.bounds().height()),
        "perimeter" => length(outline.perimeter()),
        "area" => Some(Quantity {
            value: outline.area(),
            dimension: Dimension::Area,
        }),
        _ => None,
    }
}

/// The words [`measured`] answers besides edge names.
pub(super) const MEASURES: [&str; 4] = ["width", "height", "perimeter", "area"];

/// What a cut line may be asked for: `cut width` and `cut height`, of its bounds.
pub(super) fn cut_measured(cut_line: &BezPath, what: &str) -> Option<Quantity> {
    let bounds = cut_line.bounding_box();
    let value = if what == CUT_MEASURES[0] {
        bounds.width()
    } else {
        bounds.height()
    };
    Some(Quantity {
        value,
        dimension: Dimension::Length,
    })
}

/// The words [`cut_measured`] answers.
pub(super) const CUT_MEASURES: [&str; 2] = ["cut width", "cut height"];

/// What a foot gives, by name, mm: its length and widths from the tracing, and every measure of
/// its file. A measure of the name of a traced figure gives way to it.
pub fn foot_figures(foot: &Foot) -> Vec<(String, f64)> {
    let traced = [
        ("length", foot.length),
        ("ball width", foot.ball_width),
        ("heel width", foot.heel_width),
    ];
    let mut list: Vec<(String, f64)> = traced
        .iter()
        .map(|(name, value)| (name.to_string(), *value))
        .collect();
    for (name, value) in &foot.measures {
        if !traced.iter().any(|(known, _)| known == name) {
            list.push((name.clone(), *value));
        }
    }
    list
}
