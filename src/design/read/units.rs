//! Measures whose unit was forgotten: told once where the number stands, and not at every formula that uses it.

use super::check::{Table, measures};
use super::{Reading, Use};
use crate::design::{Design, Dimension, Formula};
use std::collections::{BTreeMap, BTreeSet};

/// Lines that are named before the rest is counted.
const NAMED: usize = 3;

/// Measures whose unit was forgotten.
#[derive(Debug, Default)]
pub(super) struct Forgotten {
    /// Their names.
    pub measures: BTreeSet<String>,
    /// The indices of the uses that are wrong for no other reason.
    pub explained: BTreeSet<usize>,
}

impl Reading<'_> {
    /// Tells every measure that is a bare number and whose formulas are right as soon as it is a length. A
    /// number that any formula needs as it is stays one.
    pub(super) fn check_units(&mut self, design: &Design, uses: &[Use]) -> Forgotten {
        let bare: BTreeSet<&str> = measures(design)
            .filter(|(_, formula)| is_bare(formula))
            .map(|(name, _)| name.as_str())
            .collect();
        let usual = Table::of(design);
        let wrong: Vec<usize> = (0..uses.len())
            .filter(|index| !is_right(&uses[*index], &usual))
            .collect();
        if bare.is_empty() || wrong.is_empty() {
            return Forgotten::default();
        }
        let mut forgotten: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
        let mut explained = BTreeSet::new();
        let alone = bare.iter().map(|name| BTreeSet::from([*name]));
        let together = wrong
            .iter()
            .map(|index| reached(design, &uses[*index].formula, &bare))
            .filter(|names| names.len() > 1);
        for names in alone.chain(together) {
            if names.iter().any(|name| forgotten.contains_key(name)) {
                continue;
            }
            let table = Table::with_lengths(design, &names);
            let spoilt = |used: &Use| is_right(used, &usual) && !is_right(used, &table);
            let mended: BTreeSet<usize> = wrong
                .iter()
                .copied()
                .filter(|index| is_right(&uses[*index], &table))
                .collect();
            if mended.is_empty() || uses.iter().any(spoilt) {
                continue;
            }
            explained.extend(&mended);
            for name in names {
                let users = mended.iter().copied();
                let users =
                    users.filter(|i| reached(design, &uses[*i].formula, &bare).contains(name));
                forgotten.insert(name, users.collect());
            }
        }
        for (name, users) in &forgotten {
            self.tell_forgotten(design, name, users.iter().map(|index| &uses[*index]));
        }
        Forgotten {
            measures: forgotten.into_keys().map(String::from).collect(),
            explained,
        }
    }

    fn tell_forgotten<'u>(
        &mut self,
        design: &Design,
        name: &str,
        users: impl Iterator<Item = &'u Use>,
    ) {
        let lines: BTreeSet<usize> = users.map(|used| used.formula.place.line).collect();
        let named: Vec<String> = lines.iter().take(NAMED).map(ToString::to_string).collect();
        let more = lines.len().saturating_sub(NAMED);
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        let word = if lines.len() == 1 { "line" } else { "lines" };
        let all = measures(design).filter(|(other, formula)| other == name && is_bare(formula));
        for (_, formula) in all {
            let text = formula.text.trim();
            let message = format!(
                "‘{name}: {text}’ has no unit, but a length is wanted of it in {word} {}{more}",
                named.join(", ")
            );
            let remedy = format!("write {name}: {text} mm, or {name}: {text} in");
            self.error("no-unit", &formula.place, message, remedy);
        }
    }
}

/// Whether a formula is a number and nothing else, and no share either.
fn is_bare(formula: &Formula) -> bool {
    let number = formula.fixed();
    number.is_some_and(|q| q.dimension == Dimension::Number) && !formula.text.contains('%')
}

fn is_right(used: &Use, table: &Table) -> bool {
    match used.wanted {
        Some(wanted) => used.formula.check(table, wanted).is_ok(),
        None => used.formula.dimension(table).is_ok(),
    }
}

/// The names of `bare` that a formula uses, itself or by other measures.
fn reached<'b>(design: &Design, formula: &Formula, bare: &BTreeSet<&'b str>) -> BTreeSet<&'b str> {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut open: Vec<String> = formula.names().into_iter().map(String::from).collect();
    let mut found = BTreeSet::new();
    while let Some(name) = open.pop() {
        if !seen.insert(name.clone()) {
            continue;
        }
        found.extend(bare.get(name.as_str()));
        let further = measures(design).filter(|(other, _)| *other == name);
        open.extend(
            further
                .flat_map(|(_, formula)| formula.names())
                .map(String::from),
        );
    }
    found
}
