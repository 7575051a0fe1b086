//! The layers of a finished PDF, tried out: the file is read once more with each layer hidden, and then
//! exactly what the layer stands for must be gone.

use super::FAULT_OF_PRESSFOOT;
use super::Proof;
use super::document::Document;
use super::guide::same_shape;
use super::hint::words_of;
use super::ink::{DrawnLine, InkKind};
use super::intended::{Intended, IntendedLayer, IntendedLine, IntendedOutline, LayerHolds};
use super::outline::{Drawn, Finding};
use super::reading::{self, Reading};
use super::sheet::Sheet;
use super::square::squares;
use lopdf::{Document as Objects, Object};
use std::collections::BTreeSet;

/// The lines of one outline when a layer is hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Gone,
    There,
    /// Some of its sheets have it, some do not.
    Partly,
}

impl Proof {
    /// Hides each layer in turn and looks what is gone.
    pub(super) fn check_layers(
        &mut self,
        bytes: &[u8],
        document: &Document,
        drawn: &Drawn<'_>,
        intended: &Intended,
        findings: &[Finding],
    ) {
        let layers = intended.layers.as_deref().unwrap_or_default();
        let named = layers.iter().map(|layer| &layer.name);
        // wrong names are told already
        if layers.is_empty() || !named.eq(document.layers.iter()) {
            return;
        }
        let classes = classes(intended);
        let drawings = findings.iter().flat_map(Finding::drawings);
        let plates: BTreeSet<usize> = drawings.map(|drawing| drawing.sheet).collect();
        for (index, layer) in layers.iter().enumerate() {
            match read_without(bytes, &[index], &plates) {
                Some(reading) => {
                    let states = states(findings, drawn, &reading);
                    self.check_layer(layer, &states, &classes, intended);
                }
                None => self.say_unreadable(&layer.name),
            }
        }
        let all: Vec<usize> = (0..layers.len()).collect();
        match read_without(bytes, &all, &plates) {
            Some(reading) => self.check_furniture(drawn, &reading, intended, &plates),
            None => self.say_unreadable("all"),
        }
    }

    fn say_unreadable(&mut self, name: &str) {
        let message = format!("the file cannot be read with the layer “{name}” hidden");
        self.note("layers", None, false, message, FAULT_OF_PRESSFOOT);
    }

    /// Congruent outlines cannot be told from each other: of each class as many must be gone as the
    /// layer holds of it.
    fn check_layer(
        &mut self,
        layer: &IntendedLayer,
        states: &[Option<State>],
        classes: &[usize],
        intended: &Intended,
    ) {
        let outlines = &intended.outlines;
        let held: Vec<bool> = outlines.iter().map(|o| holds(layer, o, outlines)).collect();
        let mut sound = true;
        for class in 0..outlines.len() {
            let of_class: Vec<usize> = (0..outlines.len())
                .filter(|i| classes[*i] == class && states[*i].is_some())
                .collect();
            let partly = of_class.iter().find(|i| states[**i] == Some(State::Partly));
            let gone = |i: &&usize| states[**i] == Some(State::Gone);
            let are_gone = of_class.iter().filter(gone).count();
            let are_held = of_class.iter().filter(|i| held[**i]).count();
            let wrong = match (partly, are_gone.cmp(&are_held)) {
                (Some(index), _) => Some((*index, "is hidden on some sheets only")),
                (None, std::cmp::Ordering::Less) => {
                    let stays = |i: &&usize| held[**i] && states[**i] == Some(State::There);
                    let any = of_class.iter().find(stays).or(of_class.first());
                    any.map(|index| (*index, "can still be seen"))
                }
                (None, std::cmp::Ordering::Greater) => {
                    let goes = |i: &&usize| !held[**i] && states[**i] == Some(State::Gone);
                    let any = of_class.iter().find(goes).or(of_class.first());
                    any.map(|index| (*index, "is hidden too"))
                }
                _ => None,
            };
            if let Some((index, what)) = wrong {
                sound = false;
                let outline = &outlines[index];
                let message = format!(
                    "with the layer “{}” hidden, the {} of {} in size {} {what}",
                    layer.name,
                    words_of(outline.line),
                    outline.title,
                    outline.size
                );
                self.note("layers", None, false, message, FAULT_OF_PRESSFOOT);
            }
        }
        if sound {
            let count = held.iter().filter(|held| **held).count();
            let message = format!(
                "with the layer “{}” hidden, exactly its {count} of {} lines are gone",
                layer.name,
                outlines.len()
            );
            self.note("layers", None, true, message, "");
        }
    }

    /// With every layer hidden, squares, join marks and heads are still there.
    fn check_furniture(
        &mut self,
        drawn: &Drawn<'_>,
        bare: &Reading,
        intended: &Intended,
        plates: &BTreeSet<usize>,
    ) {
        let mut sound = true;
        for index in plates.iter().copied() {
            let (before, Some(after)) = (&drawn.sheets[index], bare.sheets.get(index)) else {
                continue;
            };
            let found = |sheet: &Sheet| squares(sheet, &intended.squares, &[]);
            let exact = |sheet: &Sheet| {
                let all = found(sheet);
                let right = all.iter().flatten();
                right
                    .filter(|square| square.deviation() <= intended.tolerance)
                    .count()
            };
            let letters = |sheet: &Sheet| sheet.ink.iter().any(|i| i.kind == InkKind::Glyph);
            let lost = if exact(after) < exact(before) {
                "a test square"
            } else if after.half_rings.len() < before.half_rings.len() {
                "a join mark"
            } else if letters(before) && !letters(after) {
                "the head"
            } else {
                continue;
            };
            sound = false;
            let message = format!("with all layers hidden, {lost} of the page is hidden too");
            self.note(
                "layers",
                Some(index + 1),
                false,
                message,
                FAULT_OF_PRESSFOOT,
            );
        }
        if sound {
            let message = "with all layers hidden, test squares, join marks and heads can be seen";
            self.note("layers", None, true, message.to_string(), "");
        }
    }
}

/// For each outline the first one that is congruent with it.
fn classes(intended: &Intended) -> Vec<usize> {
    let outlines = &intended.outlines;
    let mut classes: Vec<usize> = Vec::new();
    for (index, outline) in outlines.iter().enumerate() {
        let firsts = (0..index).filter(|i| classes[*i] == *i);
        let mut alike = firsts.filter(|i| same_shape(&outlines[*i], outline, intended.tolerance));
        let class = alike.next().unwrap_or(index);
        classes.push(class);
    }
    classes
}

fn holds(layer: &IntendedLayer, outline: &IntendedOutline, all: &[IntendedOutline]) -> bool {
    match &layer.holds {
        LayerHolds::Size(size) => outline.size == *size,
        LayerHolds::Allowances => {
            let seam = |other: &IntendedOutline| {
                other.line == IntendedLine::Seam
                    && other.piece == outline.piece
                    && other.size == outline.size
            };
            outline.line == IntendedLine::Cut && all.iter().any(seam)
        }
    }
}

/// What became of each outline that was found; `None` of one that was not.
fn states(findings: &[Finding], drawn: &Drawn<'_>, hidden: &Reading) -> Vec<Option<State>> {
    let there = |sheet: usize, line: usize| {
        let line = &drawn.sheets[sheet].lines[line];
        let same = |other: &DrawnLine| {
            other.bounds == line.bounds && other.window == line.window && other.path == line.path
        };
        hidden
            .sheets
            .get(sheet)
            .is_some_and(|sheet| sheet.lines.iter().any(same))
    };
    let state = |finding: &Finding| {
        let drawings = finding.drawings();
        let seen = drawings.iter().filter(|d| there(d.sheet, d.line)).count();
        match (seen, drawings.len()) {
            (_, 0) => None,
            (0, _) => Some(State::Gone),
            (some, all) if some == all => Some(State::There),
            _ => Some(State::Partly),
        }
    };
    findings.iter().map(state).collect()
}

/// The lines of these pages, with these layers, by index, not shown at first.
fn read_without(bytes: &[u8], layers: &[usize], pages: &BTreeSet<usize>) -> Option<Reading> {
    let mut objects = Objects::load_mem(bytes).ok()?;
    let properties = resolved(&objects, objects.catalog().ok()?.get(b"OCProperties").ok()?)?;
    let mut properties = properties.as_dict().ok()?.clone();
    let groups = resolved(&objects, properties.get(b"OCGs").ok()?)?;
    let groups = groups.as_array().ok()?.clone();
    let mut shown = resolved(&objects, properties.get(b"D").ok()?)?
        .as_dict()
        .ok()?
        .clone();
    let off: Option<Vec<Object>> = layers.iter().map(|i| groups.get(*i).cloned()).collect();
    shown.set("OFF", Object::Array(off?));
    properties.set("D", Object::Dictionary(shown));
    objects
        .catalog_mut()
        .ok()?
        .set("OCProperties", Object::Dictionary(properties));
    let mut written = Vec::new();
    objects.save_to(&mut written).ok()?;
    reading::read_lines(&written, pages).ok()
}

fn resolved<'a>(objects: &'a Objects, object: &'a Object) -> Option<&'a Object> {
    objects.dereference(object).ok().map(|(_, object)| object)
}
