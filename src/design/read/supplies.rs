//! `trims` and `tools` of a design.

use super::Reading;
use super::fields::Fields;
use super::head::{is_in_lignes, optional};
use super::letters;
use super::node::{Entry, Node};
use super::prices;
use crate::design::{PriceUnit, Trim, TrimKind, TrimWeight, is_soft};
use crate::diagnostic::{Diagnostic, Place};
use crate::language::Words;

/// The design's `trims`, in order.
pub(super) fn trims(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Trim> {
    let Some(node) = fields.take("trims", reading) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for entry in reading.named(node, "a trim") {
        list.extend(one_trim(entry, reading));
    }
    list
}

fn one_trim(entry: &Entry, reading: &mut Reading<'_>) -> Option<Trim> {
    let key = entry.key.clone();
    let what = format!("trim ‘{key}’");
    let mut fields = Fields::of(&entry.value, "trims.TRIM", what, reading)?;
    let name = optional(&mut fields, "name", reading).unwrap_or_else(|| key.clone());
    let kind = fields.take("kind", reading);
    let kind = match kind {
        Some(node) => Some(reading.choice(node, "a kind of trim", &TrimKind::WORDS)?),
        None => kind_told(&name, &key, &reading.words),
    };
    let width = fields.take("width", reading);
    let lignes = width
        .and_then(Node::scalar)
        .is_some_and(|scalar| is_in_lignes(&scalar.text));
    let width = width.and_then(|node| reading.length(node, "‘width’"));
    let cut = cut(&mut fields, reading);
    let count = fields.take("count", reading);
    let count = count.and_then(|node| reading.count(node, "‘count’", 1..=1000));
    let is_soft = cut.length.is_some() || soft(&name, &key, &reading.words);
    if kind.is_none() && !is_soft && fields.entry("small part").is_none() {
        tell_of_unknown(&name, &entry.place, reading);
    }
    let kind = kind.unwrap_or(TrimKind::Other);
    let small_part = small_part(&mut fields, (kind, width), &entry.place, reading);
    let price = fields.take("price", reading);
    let price = price.and_then(|node| prices::price(node, reading));
    let weight = fields.take("weight", reading);
    let weight = weight.and_then(|node| prices::weight_of_trim(node, reading));
    let by_length = [
        price
            .as_ref()
            .is_some_and(|price| matches!(price.per, PriceUnit::Length(_))),
        matches!(weight, Some(TrimWeight::PerMetre(_))),
    ];
    if cut.length.is_none() && by_length.contains(&true) {
        tell_of_length(&name, &entry.place, reading);
    }
    let note = optional(&mut fields, "note", reading);
    fields.finish(reading);
    let usual = cut.length.is_some().then(|| kind.tolerance());
    Some(Trim {
        key,
        name,
        kind,
        width,
        lignes,
        length: cut.length,
        join: cut.join,
        tolerance: cut.tolerance.or(usual),
        count: count.unwrap_or(1),
        small_part,
        price,
        weight,
        note,
        place: entry.place.clone(),
    })
}

/// A price or a weight by the length of what is only counted.
fn tell_of_length(name: &str, place: &Place, reading: &mut Reading<'_>) {
    let message =
        format!("a price or weight of {name} is for a length, but no length of it is cut");
    let remedy = "give it for each (0.30 EUR each, 2 g each), or add ‘length:’";
    reading.error("trim-unit", place, message, remedy);
}

/// The kind that the name tells, or else the key, in the design's language or in English.
fn kind_told(name: &str, key: &str, words: &Words) -> Option<TrimKind> {
    let english = Words::default();
    let named =
        |name: &str| TrimKind::named(name, words).or_else(|| TrimKind::named(name, &english));
    named(name).or_else(|| named(key))
}

/// Whether the name or the key tells that it is thread, cloth or the like.
fn soft(name: &str, key: &str, words: &Words) -> bool {
    let english = Words::default();
    [name, key]
        .iter()
        .any(|name| is_soft(name, words) || is_soft(name, &english))
}

/// A trim of which nobody can tell whether the caution must name it.
fn tell_of_unknown(name: &str, place: &Place, reading: &mut Reading<'_>) {
    let message = format!(
        "the name {name} does not tell what kind of trim it is, nor whether it is a small part"
    );
    let remedy = "add ‘small part: yes’ if it is hard and fits a cylinder 1 1/4 in across, else ‘small part: \
                  no’; or add its ‘kind:’";
    let warning = Diagnostic::warning("small-part-unknown", Some(place), message);
    reading.diagnostics.push(warning.remedy(remedy));
}

/// How a trim is cut.
struct CutOff {
    length: Option<crate::design::Formula>,
    join: Option<crate::design::Formula>,
    tolerance: Option<f64>,
}

/// `length`, `join` and `tolerance`; the last two say nothing without the first.
fn cut(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> CutOff {
    let entry = fields.take("length", reading);
    let length = entry.and_then(|node| reading.positive(node, "‘length’", false));
    let join_node = fields.take("join", reading);
    let join = join_node.and_then(|node| reading.positive(node, "‘join’", true));
    let tolerance_node = fields.take("tolerance", reading);
    let tolerance = tolerance_node.and_then(|node| reading.length(node, "‘tolerance’"));
    let alone = [("join", join_node), ("tolerance", tolerance_node)];
    for (key, node) in alone {
        if let (Some(node), None) = (node, entry) {
            let message = format!("‘{key}’ says how a length is cut, but there is no ‘length’");
            let remedy = format!("add ‘length: 60 mm’, or take ‘{key}’ away");
            reading.error("missing-key", &node.place, message, remedy);
        }
    }
    CutOff {
        length,
        join,
        tolerance,
    }
}

/// Whether the caution names it: if the designer says so, and of hard things whatever fits the
/// small-parts cylinder, or has no size to tell.
fn small_part(
    fields: &mut Fields<'_>,
    (kind, width): (TrimKind, Option<f64>),
    place: &Place,
    reading: &mut Reading<'_>,
) -> bool {
    let node = fields.take("small part", reading);
    let said = node.and_then(|node| reading.yes_no(node, "‘small part’"));
    let fits = kind.is_hard() && width.is_none_or(|width| kind.fits_small_parts(width));
    if let (true, Some(false), Some(node)) = (fits, said, node) {
        let why = match width {
            Some(_) => "of this width fits the small-parts cylinder",
            None => "without a ‘width’ counts as one that fits the small-parts cylinder",
        };
        let message = format!("a {} {why}: the caution must name it", kind.words());
        let remedy = "take ‘small part: no’ away; what does not fit is wider than 1 1/4 in (a buckle: \
                      2 1/2 in)";
        reading.error("small-part", &node.place, message, remedy);
    } else if fits && width.is_none() && said.is_none() {
        let message = format!(
            "nothing is said of how large this {} is, so it is named in the caution as a small part",
            kind.words()
        );
        let warning = Diagnostic::warning("small-part-size", Some(place), message);
        reading
            .diagnostics
            .push(warning.remedy("add its diameter: ‘width: 14 L’"));
    }
    fits || said == Some(true)
}

/// The design's `tools`, in order.
pub(super) fn tools(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<String> {
    let Some(node) = fields.take("tools", reading) else {
        return Vec::new();
    };
    let items = reading.list(node);
    items
        .into_iter()
        .filter_map(|item| reading.short_text(item, "a tool", letters::LINE))
        .collect()
}
