//! What is done to a piece's seam line: allowances, corners, grain, notches, cuts.

use super::fields::Fields;
use super::head::optional;
use super::node::{Kind, Node};
use super::{EdgeUse, Reading};
use crate::design::{
    CornerSpec, CutSpec, Dimension, Formula, GrainSpec, NotchAt, NotchSpec, Quantity,
};
use crate::diagnostic::Place;

/// A mitre reaches no further than this many allowances from its corner unless the design says
/// otherwise (common practice: a longer point is trimmed off anyway).
const MITRE_LIMIT: f64 = 3.0;

/// The allowance of a shoe's pieces that give none of their own.
const OF_SHOE: &str = "shoe.allowance";

/// Allowances of a piece.
pub(super) struct Allowances {
    /// Of every edge that is not named.
    pub all: Option<Formula>,
    /// Of single edges.
    pub edges: Vec<(String, Option<Formula>, Place)>,
}

/// `allowance`: that of the shoe for its pieces unless given, a length, `none`, or a group with `all` and names of edges.
pub(super) fn allowance(
    fields: &mut Fields<'_>,
    key: &str,
    of_shoe: bool,
    reading: &mut Reading<'_>,
) -> Allowances {
    let mut allowances = Allowances {
        all: None,
        edges: Vec::new(),
    };
    let Some(node) = fields.take("allowance", reading) else {
        if of_shoe {
            allowances.all = Formula::parse(OF_SHOE, fields.place()).ok();
            return allowances;
        }
        reading.without_allowance.push(key.to_string());
        return allowances;
    };
    let Kind::Mapping(entries) = &node.kind else {
        allowances.all = one_allowance(node, reading);
        return allowances;
    };
    reading.duplicates(entries);
    for entry in entries {
        let value = one_allowance(&entry.value, reading);
        if entry.key == "all" {
            allowances.all = value;
        } else {
            use_edge(key, &entry.key, &entry.place, reading);
            let place = entry.place.clone();
            allowances.edges.push((entry.key.clone(), value, place));
        }
    }
    allowances
}

fn one_allowance(node: &Node, reading: &mut Reading<'_>) -> Option<Formula> {
    if node.is_word("none") {
        return None;
    }
    reading.positive(node, "the allowance", true)
}

pub(super) fn use_edge(piece: &str, edge: &str, place: &Place, reading: &mut Reading<'_>) {
    reading.edge_uses.push(EdgeUse {
        piece: piece.to_string(),
        edge: edge.to_string(),
        place: place.clone(),
    });
}

/// Corner treatments of a piece.
pub(super) struct Corners {
    /// Of every corner that is not named.
    pub all: CornerSpec,
    /// Of single corners.
    pub single: Vec<([String; 2], CornerSpec, Place)>,
}

/// `corners`: a treatment, or a group with `all` and names such as `top and side`.
pub(super) fn corners(fields: &mut Fields<'_>, key: &str, reading: &mut Reading<'_>) -> Corners {
    let mut corners = Corners {
        all: CornerSpec::Mitre(MITRE_LIMIT),
        single: Vec::new(),
    };
    let Some(node) = fields.take("corners", reading) else {
        return corners;
    };
    let Kind::Mapping(entries) = &node.kind else {
        corners.all = corner(node, reading).unwrap_or(corners.all);
        return corners;
    };
    reading.duplicates(entries);
    for entry in entries {
        let treatment = corner(&entry.value, reading);
        if entry.key == "all" {
            corners.all = treatment.unwrap_or(corners.all);
            continue;
        }
        let Some((one, other)) = entry.key.split_once(" and ") else {
            let message = format!("‘{}’ names no corner", entry.key);
            let remedy = "name the two edges that meet there: top and side";
            reading.error("unknown-key", &entry.place, message, remedy);
            continue;
        };
        let edges = [one.trim().to_string(), other.trim().to_string()];
        for edge in &edges {
            use_edge(key, edge, &entry.place, reading);
        }
        if let Some(treatment) = treatment {
            corners.single.push((edges, treatment, entry.place.clone()));
        }
    }
    corners
}

fn corner(node: &Node, reading: &mut Reading<'_>) -> Option<CornerSpec> {
    let text = reading.text(node, "a corner")?;
    if let Some(limit) = text.strip_prefix("mitre up to ") {
        let limit = Quantity::parse(limit).ok().filter(|limit| {
            limit.dimension == Dimension::Number && (1.0..=20.0).contains(&limit.value)
        });
        if limit.is_none() {
            let message = format!("‘{text}’ is no corner");
            let remedy =
                "write how many allowances the point may reach, from 1 to 20: mitre up to 3";
            reading.error("out-of-range", &node.place, message, remedy);
        }
        return limit.map(|limit| CornerSpec::Mitre(limit.value));
    }
    let words = [
        ("mitre", CornerSpec::Mitre(MITRE_LIMIT)),
        ("round", CornerSpec::Round),
        ("chamfer", CornerSpec::Chamfer),
        ("square", CornerSpec::Square),
        ("folded", CornerSpec::Folded),
    ];
    reading.choice(node, "a corner", &words)
}

/// A piece that may lie further off the grain than this, degrees, has none.
const MOST_OFF_GRAIN: f64 = 30.0;

/// `grain`: a word, or an angle from upright, clockwise: lengthwise is upright.
pub(super) fn grain(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> GrainSpec {
    let Some(node) = fields.take("grain", reading) else {
        return GrainSpec::None;
    };
    let starts_with_number = node.scalar().is_some_and(|scalar| {
        scalar
            .text
            .trim_start()
            .starts_with(|c: char| c.is_ascii_digit() || c == '-')
    });
    if starts_with_number {
        let angle = reading.angle(node, "‘grain’");
        return angle.map_or(GrainSpec::None, GrainSpec::Angle);
    }
    let words = [
        ("none", GrainSpec::None),
        ("lengthwise", GrainSpec::Angle(0.0)),
        ("crosswise", GrainSpec::Angle(90.0)),
        ("bias", GrainSpec::Angle(45.0)),
    ];
    let grain = reading.choice(node, "a grain (a word, or an angle such as 30 deg)", &words);
    grain.unwrap_or(GrainSpec::None)
}

/// `grain within`: an angle, degrees.
pub(super) fn grain_within(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> f64 {
    let Some(node) = fields.take("grain within", reading) else {
        return 0.0;
    };
    let Some(angle) = reading.angle(node, "‘grain within’") else {
        return 0.0;
    };
    if !(0.0..=MOST_OFF_GRAIN).contains(&angle) {
        let message =
            format!("‘grain within’ is {angle} deg; it must be from 0 to {MOST_OFF_GRAIN}");
        let remedy = "write a small angle, or ‘grain: none’ if the piece may lie in any way";
        reading.error("out-of-range", &node.place, message, remedy);
        return 0.0;
    }
    angle
}

/// `notches` of a piece.
pub(super) fn notches(
    fields: &mut Fields<'_>,
    key: &str,
    reading: &mut Reading<'_>,
) -> Vec<NotchSpec> {
    let Some(node) = fields.take("notches", reading) else {
        return Vec::new();
    };
    let mut notches: Vec<NotchSpec> = Vec::new();
    for item in reading.list(node) {
        let on_edge = |edge: &str| notches.iter().filter(|n| n.edge == edge).count() + 1;
        let Some(notch) = notch(item, key, &on_edge, reading) else {
            continue;
        };
        if notches.iter().any(|other| other.name == notch.name) {
            let message = format!("two notches are called ‘{}’", notch.name);
            reading.error(
                "same-name",
                &notch.place,
                message,
                "give one of them another ‘name:’",
            );
        }
        notches.push(notch);
    }
    notches
}

fn notch(
    node: &Node,
    key: &str,
    number: &dyn Fn(&str) -> usize,
    reading: &mut Reading<'_>,
) -> Option<NotchSpec> {
    let group = "pieces.PIECE.notches";
    let mut fields = Fields::of(node, group, "a notch", reading)?;
    let edge = fields.require("edge", reading);
    let edge = edge.and_then(|node| {
        let edge = reading.text(node, "‘edge’")?;
        use_edge(key, &edge, &node.place, reading);
        Some(edge)
    });
    let at = place_on_edge(&mut fields, node, reading);
    let name = optional(&mut fields, "name", reading);
    let centre = fields.take("centre", reading);
    let centre = centre.and_then(|node| reading.yes_no(node, "‘centre’"));
    let count = fields.take("count", reading);
    let count = count.and_then(|node| reading.count(node, "‘count’", 1..=3));
    let carry = fields.take("carry", reading);
    let carry = carry.and_then(|node| reading.yes_no(node, "‘carry’"));
    fields.finish(reading);
    let edge = edge?;
    Some(NotchSpec {
        name: name.unwrap_or_else(|| format!("{edge} {}", number(&edge))),
        edge,
        at: at?,
        centre: centre.unwrap_or(false),
        count: count.unwrap_or(1),
        carry: carry.unwrap_or(false),
        place: node.place.clone(),
    })
}

pub(super) fn place_on_edge(
    fields: &mut Fields<'_>,
    node: &Node,
    reading: &mut Reading<'_>,
) -> Option<NotchAt> {
    let at = fields.take("at", reading);
    let from_end = fields.take("from end", reading);
    match (at, from_end) {
        (Some(at), None) => share_or_length(at, reading),
        (None, Some(end)) => reading
            .positive(end, "‘from end’", true)
            .map(NotchAt::FromEnd),
        (None, None) => {
            fields.missing("at", reading);
            None
        }
        (Some(_), Some(_)) => {
            let message = "a notch has either ‘at’ or ‘from end’, not both";
            reading.error("one-way", &node.place, message, "keep one of them");
            None
        }
    }
}

fn share_or_length(node: &Node, reading: &mut Reading<'_>) -> Option<NotchAt> {
    let text = node.scalar().map_or("", |scalar| scalar.text.trim());
    match Quantity::parse(text) {
        Ok(share) if share.dimension == Dimension::Number && text.ends_with('%') => {
            if !(0.0..=1.0).contains(&share.value) {
                let message = format!("a notch cannot stand at ‘{text}’ of its edge");
                let remedy = "write a share from 0 % (the start) to 100 % (the end)";
                reading.error("out-of-range", &node.place, message, remedy);
                return None;
            }
            Some(NotchAt::Share(share.value))
        }
        Ok(bare) if bare.dimension == Dimension::Number => {
            let message = format!("‘{text}’ has no unit");
            let remedy = "write a share of the edge (50 %) or a length from its start (12 mm)";
            reading.error("no-unit", &node.place, message, remedy);
            None
        }
        _ => reading.positive(node, "‘at’", true).map(NotchAt::FromStart),
    }
}

/// `cut` of a piece: how many of which cloth.
pub(super) fn cuts(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<CutSpec> {
    let Some(node) = fields.take("cut", reading) else {
        return Vec::new();
    };
    let Kind::Mapping(entries) = &node.kind else {
        let remedy = "name the cloth and the number: {outer: 2}";
        reading.wrong_type(node, "‘cut’", "a group of cloths with numbers", remedy);
        return Vec::new();
    };
    reading.duplicates(entries);
    let mut cuts = Vec::new();
    for entry in entries {
        let cloths = reading.cloths.clone();
        if !cloths.contains(&entry.key) {
            let options: Vec<&str> = cloths.iter().map(String::as_str).collect();
            let remedy = match options.as_slice() {
                [] => "describe it under ‘cloth:’ first".to_string(),
                _ => super::names::suggestion(&entry.key, &options),
            };
            let message = format!("there is no cloth ‘{}’", entry.key);
            reading.error("unknown-cloth", &entry.place, message, remedy);
        }
        if let Some((count, mirrored)) = cut(&entry.value, reading) {
            cuts.push(CutSpec {
                cloth: entry.key.clone(),
                count,
                mirrored,
                place: entry.place.clone(),
            });
        }
    }
    cuts
}

/// No thing has more of one piece (from judgement); for more things there are kits.
const MOST_CUT: u32 = 100;

/// `2`, `2 mirrored`, `1 pair`, `2 pairs`: pieces in all, and whether half are mirrored.
fn cut(node: &Node, reading: &mut Reading<'_>) -> Option<(u32, bool)> {
    let text = reading.text(node, "a number of pieces")?;
    let (number, word) = match text.split_once(' ') {
        Some((number, word)) => (number, word.trim()),
        None => (text.as_str(), ""),
    };
    let number = number
        .parse::<u32>()
        .ok()
        .filter(|n| (1..=MOST_CUT).contains(n));
    let found = match (number, word) {
        (Some(number), "") => Some((number, false)),
        (Some(number), "mirrored") if number % 2 == 0 => Some((number, true)),
        (Some(number), "pair" | "pairs") => Some((2 * number, true)),
        _ => None,
    };
    if found.is_none() {
        let message = match number {
            None if text.starts_with(|c: char| c.is_ascii_digit()) => {
                format!("‘{text}’ is no number of pieces from 1 to {MOST_CUT}")
            }
            _ => format!("‘{text}’ is no number of pieces"),
        };
        let remedy = "write 2, or 1 pair (two that mirror each other), or 2 mirrored (the same)";
        reading.error("cut-count", &node.place, message, remedy);
    }
    found
}
