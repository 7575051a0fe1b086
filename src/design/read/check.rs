//! What can be checked only when the whole design is read: edges, names in formulas, dimensions,
//! feet, and formulas that go in a circle.

use super::{FootHead, Reading, Use, names};
use crate::design::formula::Dimensions;
use crate::design::{Design, Dimension, Formula, SHOE_FIGURES, ShapeSpec, ShoeWay, order};
use crate::diagnostic::Diagnostic;
use std::collections::{BTreeMap, BTreeSet};

/// Dimensions of measures are found in rounds, as one may use another; chains longer than this
/// are left to the evaluation.
const ROUNDS: usize = 32;

/// Insets of insets: a lining, its stiffener and their likes are three.
const CHAIN: usize = 8;

impl Reading<'_> {
    /// Checks how the parts of `design` hang together.
    pub fn check(&mut self, design: &Design) {
        self.check_edge_uses();
        let table = Table::of(design);
        let known: BTreeSet<&str> = measures(design).map(|(name, _)| name.as_str()).collect();
        let uses = std::mem::take(&mut self.uses);
        let forgotten = self.check_units(design, &uses);
        for (index, used) in uses.iter().enumerate() {
            self.check_names(used, &known);
            self.check_shoe_way(design, &used.formula);
            if !forgotten.explained.contains(&index) {
                self.check_dimension(used, &table);
            }
        }
        self.check_overrides(design, &table, &forgotten.measures);
        self.check_feet();
        self.check_circles(design);
        self.check_chains(design);
        self.check_allowances(design);
    }

    fn check_names(&mut self, used: &Use, known: &BTreeSet<&str>) {
        for name in used.formula.names() {
            match name.split_once('.') {
                None => self.check_measure(name, &used.formula, known),
                Some(("foot", measure)) => self.check_foot_name(measure, name, used),
                Some(("shoe", figure)) => self.check_shoe_name(figure, name, &used.formula),
                Some((piece, part)) => self.check_part(piece, part, &used.formula),
            }
        }
    }

    fn check_measure(&mut self, name: &str, formula: &Formula, known: &BTreeSet<&str>) {
        if known.contains(name) || self.failed_measures.iter().any(|failed| failed == name) {
            return;
        }
        let remedy = if self.edges_of(name).is_some() {
            format!("‘{name}’ is a piece: write ‘{name}.’ and an edge, or {name}.width")
        } else if let Some(near) = names::nearest(name, known.iter().copied()) {
            format!("did you mean ‘{near}’?")
        } else if let Some((a, b)) = name.split_once('-') {
            format!("if ‘{a}’ less ‘{b}’ is meant, put spaces round the minus")
        } else {
            "declare it under ‘measures:’, or name a piece and its edge: toe.sole edge".into()
        };
        let message = format!("the formula uses ‘{name}’, which nothing is called");
        self.error("unknown-name", &formula.place_of(name), message, remedy);
    }

    fn check_foot_name(&mut self, measure: &str, name: &str, used: &Use) {
        let mut faults = Vec::new();
        for (number, head) in self.sizes.iter().enumerate() {
            if used.size.is_some_and(|only| only != number) {
                continue;
            }
            match &head.foot {
                FootHead::Unknown => {}
                FootHead::None => faults.push((
                    "no-foot",
                    format!(
                        "‘foot.{measure}’ has no value: size ‘{}’ has no foot",
                        head.key
                    ),
                    "give the size a foot: {foot: feet/small.yaml}".to_string(),
                )),
                FootHead::Names(known, path) => {
                    if known.iter().any(|name| name == measure) {
                        continue;
                    }
                    let options: Vec<&str> = known.iter().map(String::as_str).collect();
                    let remedy = match names::nearest(measure, options.iter().copied()) {
                        Some(near) => format!("did you mean ‘foot.{near}’?"),
                        None => format!("add ‘{measure}:’ to ‘measures:’ in {path}"),
                    };
                    let message = format!(
                        "the foot of size ‘{}’ has no ‘{measure}’ ({path})",
                        head.key
                    );
                    faults.push(("unknown-name", message, remedy));
                }
            }
        }
        // one of several sizes with the same fault is enough to see it
        if let Some((code, message, remedy)) = faults.into_iter().next() {
            self.error(code, &used.formula.place_of(name), message, remedy);
        }
    }

    fn check_shoe_name(&mut self, figure: &str, name: &str, formula: &Formula) {
        let place = formula.place_of(name);
        if self.shoe.is_none() {
            let message = format!("‘{name}’ has no value: the design has no ‘shoe:’");
            let remedy = "describe the shoe: shoe: {cloth: outer}";
            self.error("no-shoe", &place, message, remedy);
        } else if !SHOE_FIGURES.iter().any(|known| known.name == figure) {
            let names: Vec<&str> = SHOE_FIGURES.iter().map(|known| known.name).collect();
            let message = format!("the shoe's draft gives no ‘{figure}’");
            let remedy = names::suggestion(figure, &names);
            self.error("unknown-name", &place, message, remedy);
        }
    }

    /// What only a draft on the form gives cannot be asked of one from strips.
    fn check_shoe_way(&mut self, design: &Design, formula: &Formula) {
        if !design
            .shoe
            .as_ref()
            .is_some_and(|shoe| shoe.way == ShoeWay::Strips)
        {
            return;
        }
        for name in formula.names() {
            let Some(figure) = name.strip_prefix("shoe.") else {
                continue;
            };
            if SHOE_FIGURES
                .iter()
                .any(|f| f.name == figure && f.needs_form)
            {
                let message = format!("‘{name}’ is known only of a shoe drafted from the form");
                let remedy = "measure it on the trial shoe, or draft from the form";
                self.error("no-shoe", &formula.place_of(name), message, remedy);
            }
        }
    }

    fn check_part(&mut self, piece: &str, part: &str, formula: &Formula) {
        let name = format!("{piece}.{part}");
        if self.edges_of(piece).is_none() {
            let mut options = self.piece_keys();
            options.extend(["foot", "shoe"]);
            let remedy = names::suggestion(piece, &options);
            let message = format!("the formula uses ‘{name}’, but there is no piece ‘{piece}’");
            self.error("unknown-piece", &formula.place_of(&name), message, remedy);
            return;
        }
        if names::OF_A_PIECE.contains(&part) {
            return;
        }
        let Some(edges) = self.edge_names(piece) else {
            return;
        };
        if edges.iter().any(|edge| edge == part) {
            return;
        }
        let edges = edges.iter().map(String::as_str);
        let options: Vec<&str> = edges.chain(names::OF_A_PIECE).collect();
        let remedy = names::suggestion(part, &options);
        let message = format!("piece ‘{piece}’ has no edge ‘{part}’");
        self.error("unknown-edge", &formula.place_of(&name), message, remedy);
    }

    fn check_dimension(&mut self, used: &Use, table: &Table) {
        let result = match used.wanted {
            Some(wanted) => used.formula.check(table, wanted),
            None => used.formula.dimension(table).map(|_| ()),
        };
        if let Err(diagnostic) = result {
            self.diagnostics.push(diagnostic);
            return;
        }
        // a formula without names can be worked out at once
        if used.formula.names().is_empty()
            && let Err(why) = used.formula.quantity(&crate::design::formula::NoNames)
        {
            let place = &used.formula.place;
            self.error("formula", place, why, "correct the formula");
        }
    }

    fn check_overrides(&mut self, design: &Design, table: &Table, told: &BTreeSet<String>) {
        for size in &design.sizes {
            for (name, formula) in &size.measures {
                let (Some(usual), Ok(Some(own))) =
                    (table.dimension(name), formula.dimension(table))
                else {
                    continue;
                };
                if usual != own && !told.contains(name) {
                    let message = format!(
                        "‘{name}’ is {} in this size but {} elsewhere",
                        own.words(),
                        usual.words()
                    );
                    let remedy = "give it the same kind of value";
                    self.error("wrong-dimension", &formula.place, message, remedy);
                }
            }
        }
    }

    fn check_feet(&mut self) {
        let without = self
            .sizes
            .iter()
            .find(|size| matches!(size.foot, FootHead::None));
        let Some(key) = without.map(|size| size.key.clone()) else {
            return;
        };
        if let Some(place) = self.shoe.clone() {
            let message = format!("a shoe is drafted from the foot, but size ‘{key}’ has no foot");
            let remedy = "give the size a foot: {foot: feet/small.yaml}";
            self.error("no-foot", &place, message, remedy);
        }
        for (piece, place) in std::mem::take(&mut self.traced) {
            let message = format!(
                "piece ‘{piece}’ is made from the foot's tracing, but size ‘{key}’ has no foot"
            );
            let remedy = "give the size a foot: {foot: feet/small.yaml}";
            self.error("no-foot", &place, message, remedy);
        }
    }

    fn check_circles(&mut self, design: &Design) {
        let mut said: Vec<String> = Vec::new();
        for size in &design.sizes {
            let Err(circles) = order::order(design, size) else {
                continue;
            };
            for diagnostic in circles {
                if !said.contains(&diagnostic.message) {
                    said.push(diagnostic.message.clone());
                    self.diagnostics.push(diagnostic);
                }
            }
        }
    }

    /// Refuses the piece with which a chain of insets and outsets grows too long.
    fn check_chains(&mut self, design: &Design) {
        let before = |key: &str| {
            let piece = design.pieces.iter().find(|piece| piece.key == key)?;
            match &piece.shape {
                ShapeSpec::Inset { of, .. } => Some(of.as_str()),
                _ => None,
            }
        };
        for piece in &design.pieces {
            let links = std::iter::successors(before(&piece.key), |key| before(key));
            // of longer ones the first that is too long was told; a circle has no end
            if links.take(CHAIN + 2).count() == CHAIN + 1
                && let ShapeSpec::Inset { place, .. } = &piece.shape
            {
                let message = format!(
                    "piece ‘{}’ is the inset or outset of another, that again, and so on, {} times",
                    piece.key,
                    CHAIN + 1
                );
                let remedy =
                    "name an earlier piece under ‘of:’, and add up the distances under ‘by:’";
                self.error("inset-chain", place, message, remedy);
            }
        }
    }

    fn check_allowances(&mut self, design: &Design) {
        for piece in &design.pieces {
            let sewn = design
                .seams
                .iter()
                .any(|seam| seam.join.piece == piece.key || seam.to.piece == piece.key);
            if sewn && self.without_allowance.contains(&piece.key) {
                let message = format!("piece ‘{}’ is sewn but has no allowance", piece.key);
                let remedy = "add ‘allowance: 3/16 in’, or ‘allowance: none’ if that is meant";
                self.diagnostics.push(
                    Diagnostic::warning("no-allowance", Some(&piece.place), message).remedy(remedy),
                );
            }
        }
    }
}

/// All measures, those of the design and those of single sizes.
pub(super) fn measures(design: &Design) -> impl Iterator<Item = &(String, Formula)> {
    let own = design.sizes.iter().flat_map(|size| &size.measures);
    design.measures.iter().chain(own)
}

/// Dimensions of all names of a design.
pub(super) struct Table {
    measures: BTreeMap<String, Option<Dimension>>,
}

impl Table {
    pub(super) fn of(design: &Design) -> Self {
        Self::with_lengths(design, &BTreeSet::new())
    }

    /// The same if the measures called so were lengths.
    pub(super) fn with_lengths(design: &Design, names: &BTreeSet<&str>) -> Self {
        let known = |name: &&str| (name.to_string(), Some(Dimension::Length));
        let mut table = Self {
            measures: names.iter().map(known).collect(),
        };
        for _ in 0..ROUNDS {
            let mut changed = false;
            for (name, formula) in measures(design) {
                changed |= table.learn(name, formula);
            }
            if !changed {
                break;
            }
        }
        table
    }

    fn learn(&mut self, name: &str, formula: &Formula) -> bool {
        let known = formula.dimension(self).ok().flatten();
        if known.is_none() || self.dimension(name).is_some() {
            return false;
        }
        self.measures.insert(name.to_string(), known);
        true
    }
}

impl Dimensions for Table {
    fn dimension(&self, name: &str) -> Option<Dimension> {
        match name.split_once('.') {
            None => self.measures.get(name).copied().flatten(),
            Some((piece, "area")) if piece != "foot" => Some(Dimension::Area),
            Some(_) => Some(Dimension::Length),
        }
    }
}
