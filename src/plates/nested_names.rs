//! Names of nested sizes beside their own lines: at several places round each outline, along the
//! line where there is room, else at the end of a short straight leader from a dot on the line.
//! Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field::distance;
use super::label::Label;
use super::leader::DOT;
use super::nested::{Member, Nest};
use super::nested_notches::{self, Crowded};
use super::nested_setter::{LEADERS, Near, Setter};
use super::nested_stations::{STEP, stations};
use crate::language::Places;
use kurbo::{Line, Point, Rect, Vec2};

/// A dot keeps this far from other sizes' lines: its own radius and more than half a line.
const DOT_CLEAR: f64 = 1.2;
/// A name for every so many mm of outline, but three at least, or two on small pieces.
const PITCH: f64 = 150.0;
const LEAST: usize = 3;
const LEAST_SMALL: usize = 2;
/// From one meeting with another size's line to the next, a line this long has its own name.
const STRETCH: f64 = 20.0;
/// Pieces less than this across, or with an outline shorter than this, are small.
const SMALL: f64 = 40.0;
/// A leader meets its line and crosses others at this sine of the angle or more: 45 degrees.
const STEEP: f64 = 0.7;

/// How many names each size has at least.
pub fn least(nest: &Nest<'_>) -> usize {
    if nest.across() < SMALL {
        LEAST_SMALL
    } else {
        LEAST
    }
}

/// The names of all sizes and of marks that differ; places are clear of all lines, of `rooms`, and of
/// further `obstacles`, and `allowed`.
pub fn names(
    nest: &Nest<'_>,
    drawing: &Drawing,
    (obstacles, rooms): (&[Line], &[Line]),
    allowed: &dyn Fn(Rect) -> bool,
) -> Vec<Label> {
    let others: Vec<Line> = drawing
        .inner
        .iter()
        .chain(obstacles)
        .chain(rooms)
        .copied()
        .collect();
    let mut setter = Setter::new(drawing, others, allowed);
    let mut names = of_notches(nest, drawing, &mut setter);
    let all: Vec<_> = drawing.sizes.iter().map(|s| stations(&s.ring)).collect();
    let count = all.len();
    let mut named: Vec<Vec<Point>> = vec![Vec::new(); count];
    let mut keep = |setter: &mut Setter<'_>, member: &Member<'_>, mut name: Label| {
        name.size = Some(member.size);
        setter.take(&name);
        names.push(name);
    };
    for (index, member) in nest.members.iter().enumerate() {
        let stations = &all[index];
        let length = stations.len() as f64 * STEP;
        let wanted = ((length / PITCH).round() as usize).max(least(nest));
        let placed = &mut named[index];
        let apart = (0.45 * length / wanted as f64).min(60.0);
        for turn in 0..wanted {
            // each size begins a little further on, so that names do not stand in each other's way
            let share = (turn as f64 + index as f64 / (2.0 * count as f64)) / wanted as f64;
            let name = setter.best(index, member.title, stations, share, (placed, apart));
            let Some((at, name)) = name else { continue };
            placed.push(at);
            keep(&mut setter, member, name);
        }
    }
    for (index, member) in nest.members.iter().enumerate() {
        let placed = &mut named[index];
        for stretch in setter.stretches(index, &all[index]) {
            let has = |at: &Point| stretch.iter().any(|(on, _)| on.distance(*at) < STEP / 2.0);
            if placed.iter().any(has) {
                continue;
            }
            let name = setter.best(index, member.title, &stretch, 0.5, (placed, STEP));
            let Some((at, name)) = name else { continue };
            placed.push(at);
            keep(&mut setter, member, name);
        }
    }
    names
}

/// The names of notches that differ and stand close: they have the least choice of places.
fn of_notches(nest: &Nest<'_>, drawing: &Drawing, setter: &mut Setter<'_>) -> Vec<Label> {
    let crowded = nested_notches::crowded(nest, drawing);
    let mut names = Vec::new();
    let named = |notch: &Crowded, setter: &mut Setter<'_>| {
        let member = &nest.members[notch.member];
        let places: Places<'_> = &[("size", &member.title)];
        let long = nest.words.say("plates.notch of size", places);
        // in two lines it is less wide
        let below = format!("\n{}", member.title);
        let stacked = nest.words.say("plates.notch of size", &[("size", &below)]);
        let texts = [long, stacked, member.title.to_string()];
        let mut name = setter.notch(&texts, notch)?;
        name.size = Some(member.size);
        setter.take(&name);
        Some(name)
    };
    names.extend(crowded.iter().filter_map(|notch| named(notch, setter)));
    if names.len() == crowded.len() {
        let others = nested_notches::like_crowded(nest, drawing);
        names.extend(others.iter().filter_map(|notch| named(notch, setter)));
    }
    names
}

impl Setter<'_> {
    /// The stretches of a size's cut line between places where it meets another size's, if they are long enough
    /// for the eye to lose it: after each crossing a line is named anew. None if it meets no other.
    fn stretches(&self, index: usize, stations: &[(Point, Vec2)]) -> Vec<Vec<(Point, Vec2)>> {
        let foreign: Vec<Line> = self.foreign_cuts(index).collect();
        let alone = |(at, _): &(Point, Vec2)| foreign.iter().all(|l| distance(*at, *l) >= STEP);
        let Some(first) = stations.iter().position(|station| !alone(station)) else {
            return Vec::new();
        };
        let mut round = stations.to_vec();
        round.rotate_left(first);
        let runs = round.split(|station| !alone(station));
        let long = runs.filter(|run| run.len() as f64 * STEP >= STRETCH);
        long.map(<[_]>::to_vec).collect()
    }

    /// The best place near `share` of the outline, and at least `apart` from those `placed`.
    fn best(
        &self,
        index: usize,
        text: &str,
        stations: &[(Point, Vec2)],
        share: f64,
        (placed, apart): (&[Point], f64),
    ) -> Option<(Point, Label)> {
        let count = stations.len();
        let mut best: Option<(f64, Point, Label)> = None;
        for (i, (at, tangent)) in stations.iter().enumerate() {
            if placed.iter().any(|p| p.distance(*at) < apart) {
                continue;
            }
            let off = (i as f64 / count as f64 - share).abs();
            let off = off.min(1.0 - off) * count as f64 * STEP;
            let price = 0.12 * off;
            if best.as_ref().is_some_and(|b| price >= b.0) {
                continue;
            }
            let near = self.near(index, *at);
            for (more, label) in self.tries(text, *at, *tangent, &near) {
                let price = price + more;
                if best.as_ref().is_none_or(|b| price < b.0 - 1e-9) {
                    best = Some((price, *at, label));
                }
            }
        }
        best.map(|b| (b.1, b.2))
    }

    /// Every way to name a line at this station, with its price.
    fn tries(&self, text: &str, at: Point, tangent: Vec2, near: &Near) -> Vec<(f64, Label)> {
        let mut found = Vec::new();
        for outward in [false, true] {
            if let Some(label) = self.along(text, at, tangent, outward, near) {
                found.push((self.beyond(&label), label));
            }
        }
        // a dot on a place where the line could be another's tells nothing
        let lonely = near.foreign.iter().all(|l| distance(at, *l) >= DOT_CLEAR)
            && near
                .seam
                .iter()
                .chain(&near.others)
                .all(|l| distance(at, *l) >= DOT);
        if !lonely {
            return found;
        }
        for way in [
            Vec2::new(1.0, 0.0),
            Vec2::new(-1.0, 0.0),
            Vec2::new(0.0, 1.0),
            Vec2::new(0.0, -1.0),
        ] {
            if way.cross(tangent).abs() < STEEP {
                continue;
            }
            for length in LEADERS {
                if let Some((crossed, label)) = self.led(text, at, way * length, near) {
                    let price = 4.0 + 0.6 * length + 2.0 * crossed as f64 + self.beyond(&label);
                    found.push((price, label));
                    break;
                }
            }
        }
        found
    }
}
