//! The fitting sheet: where each measure is taken, what was used and what is measured now, what to
//! correct, and the pieces without allowance to try on paper. Set like the booklet, from its own
//! main template. Lengths in mm.

use super::{Request, Typeset, compiled};
use crate::design::{Design, FitChange, printed};
use crate::diagnostic::Diagnostics;
use crate::figure::MeasuringGuide;
use crate::figure::measuring::Measure;
use crate::foot::Foot;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The file that is compiled.
const MAIN: &str = "fitting.typ";

/// Width of each drawing of the measuring guide: two beside each other fill the widest text block.
pub const GUIDE_WIDTH: f64 = 78.0;

/// Sets the fitting sheet; `request` carries [`data`] under `fitting`, and its plates. `None` if it
/// cannot be set; then at least one error was said.
pub fn typeset_fitting(request: &Request<'_>, diagnostics: &mut Diagnostics) -> Option<Typeset> {
    let (document, pdf) = compiled(request, MAIN, " fitting", diagnostics)?;
    Some(Typeset {
        pdf: pdf?,
        pages: document.pages().len(),
        plate_pages: None,
        step_pages: Vec::new(),
    })
}

/// What the template is told, and the drawings it names. `feet` are the sizes that have a foot, by
/// their titles; `guide` is the measuring guide with the title of the size it shows.
pub fn data(
    design: &Design,
    feet: &[(&str, &Foot)],
    guide: Option<(&str, &MeasuringGuide)>,
) -> (Value, BTreeMap<String, Vec<u8>>) {
    let mut files = BTreeMap::new();
    let mut figures = Vec::new();
    if let Some((_, guide)) = guide {
        for (index, figure) in guide.figures.iter().enumerate() {
            let path = format!("figures/measuring-{}.svg", index + 1);
            figures.push(json!({
                "svg": format!("/{path}"),
                "alt": figure.alt,
                "width": figure.width,
            }));
            files.insert(path, figure.svg.clone());
        }
    }
    let titles: Vec<&str> = feet.iter().map(|(title, _)| *title).collect();
    let declared = |title: &str| {
        let size = design.sizes.iter().find(|size| size.title == title);
        size.map(|size| size.declared.as_str())
    };
    let lengths: Vec<_> = feet
        .iter()
        .map(|(title, foot)| (declared(title), foot.length))
        .collect();
    let data = json!({
        "figures": figures,
        "shown": guide.map(|(title, _)| title),
        "sizes": titles,
        "near": near_sizes(&lengths),
        "rows": rows(design, feet, guide.map(|(_, guide)| guide)),
        "changes": FitChange::ALL.map(|(words, _)| json!({
            "words": words,
            "about": design.words.named("changes told", words),
        })),
    });
    (data, files)
}

/// Sizes whose lengths differ by less than this share of the shorter: a doll may be nearly right for both. A
/// foot half way between others is out by a twentieth and more, for which no ease makes up.
const NEAR: f64 = 0.1;

/// Whether a doll may be nearly right for two of the sizes, each with its key and the length of its foot, mm;
/// the two feet of one size do not count.
fn near_sizes(known: &[(Option<&str>, f64)]) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < NEAR * a.min(b);
    known.iter().enumerate().any(|(i, (size, length))| {
        let mut others = known[..i].iter().filter(|(other, _)| other != size);
        others.any(|(_, other)| near(*length, *other))
    })
}

/// The measures that any of the feet has, and those of the guide, each with its value on every foot.
fn rows(design: &Design, feet: &[(&str, &Foot)], guide: Option<&MeasuringGuide>) -> Vec<Value> {
    let number = |name: &str| {
        let legend = guide.iter().flat_map(|guide| &guide.legend);
        legend
            .clone()
            .find(|line| line.1 == name)
            .map(|line| line.0)
    };
    let words = &design.words;
    let row = |name: &str, values: Vec<Option<f64>>| {
        let number = number(name);
        if number.is_none() && values.iter().all(Option::is_none) {
            return None;
        }
        let style = design.lengths.together(values.iter().copied().flatten());
        let text = |mm: &Option<f64>| mm.map(|mm| printed::both(mm, style));
        let values: Vec<Option<String>> = values.iter().map(text).collect();
        let how = words.find(&format!("how measured.{name}"));
        Some(json!({
            "number": number,
            "name": words.named("measures", name),
            "how": how.unwrap_or_default(),
            "values": values,
        }))
    };
    let known = Measure::ALL.into_iter().filter_map(|measure| {
        let values = feet.iter().map(|(_, foot)| measure.value(foot));
        row(measure.name(), values.collect())
    });
    let is_known = |name: &str| Measure::ALL.iter().any(|measure| measure.name() == name);
    let mut others: Vec<&str> = Vec::new();
    for name in feet.iter().flat_map(|(_, foot)| foot.measures.keys()) {
        if !is_known(name) && !others.contains(&name.as_str()) {
            others.push(name);
        }
    }
    let others = others.into_iter().filter_map(|name| {
        let values = feet
            .iter()
            .map(|(_, foot)| foot.measures.get(name).copied());
        row(name, values.collect())
    });
    known.chain(others).collect()
}

#[cfg(test)]
mod tests;
