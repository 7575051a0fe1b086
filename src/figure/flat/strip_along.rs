//! Elastic and ribbon that lie along an edge, from a notch towards another, as wide and as long as the
//! design has them; on the cloth or hidden under it. Millimetres.

use super::find::Finder;
use super::hem::{PER_MM, beside};
use super::plan::Plan;
use super::ply::Ply;
use super::request::{AlongEdge, Strip, StripSewn};
use super::strip::{self, INSIDE, MARK, STITCHES};
use super::target::target;
use super::threads::{place_on, reached};
use super::worked::LaidStrip;
use crate::geometry::{Edge, curve};
use crate::plates::ink::{Stroke, path_of, stroke};
use kurbo::{BezPath, Point, Vec2};

/// A hidden strip is drawn this share of its width inside its sides, so that it stands clear of the rows
/// between which it lies.
const HIDDEN_INSIDE: f64 = 0.12;

/// Stitches across it reach beyond its sides by this share of its width.
const ACROSS: f64 = 0.22;

/// They are short, so that some of them find room.
const SEWN_ACROSS: Stroke = stroke(0.42, Some([0.8, 0.4]));

/// How a strip lies, in the axes of its ply.
struct Course {
    /// Its middle, along the whole edge.
    line: BezPath,
    /// From the start of the line to the beginning of the strip, and which way it runs: 1 or -1.
    begin: f64,
    way: f64,
}

impl Course {
    /// The place so far along the strip and to its side; beyond the ends of the edge it goes on straight.
    fn at(&self, along: f64, aside: f64) -> Option<Point> {
        let wanted = self.begin + self.way * along;
        let within = wanted.clamp(0.0, curve::length(&self.line, 1e-3));
        let station = curve::station(&self.line, within, 1e-3)?;
        let across = Vec2::new(-station.tangent.y, station.tangent.x);
        Some(station.point + station.tangent * (wanted - within) + across * aside)
    }

    /// Its part between two places along it, `half` mm to either side, closed.
    fn stretch(&self, [from, to]: [f64; 2], half: f64) -> BezPath {
        let count = ((to - from).abs() * PER_MM).ceil().clamp(2.0, 2000.0) as usize;
        let along = |i: usize| from + (to - from) * i as f64 / count as f64;
        let side = |aside: f64| (0..=count).filter_map(move |i| self.at(along(i), aside));
        let mut points: Vec<Point> = side(-half).collect();
        let mut back: Vec<Point> = side(half).collect();
        back.reverse();
        points.append(&mut back);
        let mut path = path_of(&points);
        path.close_path();
        path
    }

    /// A line across it.
    fn across(&self, along: f64, half: f64) -> BezPath {
        let ends = [-half, half].into_iter();
        path_of(
            &ends
                .filter_map(|aside| self.at(along, aside))
                .collect::<Vec<_>>(),
        )
    }
}

/// Lays the strip along the edge; `None` after a report.
pub(super) fn add(
    plan: &mut Plan,
    (asked, lies): (&Strip, &AlongEdge),
    finder: &mut Finder,
) -> Option<()> {
    let [width, own] = strip::measured(&asked.trim, finder)?;
    let [g, p] = target(plan, None, Some(&lies.edge), finder)?;
    let ply = plan.groups[g].plies[p].clone();
    let edge = finder.edge(&ply.piece, &lies.edge)?.clone();
    let length = |formula: &Option<_>, finder: &mut Finder| match formula {
        Some(formula) => finder.length(formula),
        None => Some(0.0),
    };
    let inside = length(&lies.inside, finder)?;
    let beyond = length(&lies.beyond, finder)?;
    let line = beside(&edge, inside + width / 2.0);
    let ends = ends(&ply, (&edge, &line), lies, inside + width / 2.0, finder)?;
    let way = if ends[1] < ends[0] { -1.0 } else { 1.0 };
    let course = Course {
        line,
        begin: ends[0] - way * beyond,
        way,
    };
    let long = match lies.stretched {
        true => (ends[1] - ends[0]).abs() + 2.0 * beyond,
        false => own,
    };
    let group = &mut plan.groups[g];
    let seen = if lies.hidden { HIDDEN_INSIDE } else { 0.0 };
    let surface = ply.onto * course.stretch([0.0, long], (0.5 - seen) * width);
    if let Some(from_end) = &asked.marked {
        let by = finder.length(from_end)?;
        if 2.0 * by >= long {
            let message = format!("The lines lie beyond the middle of ‘{}’", asked.trim.text);
            finder.wrong(&from_end.place, message, "Give a shorter length.");
            return None;
        }
        let marks = [by, long - by].map(|along| course.across(along, (0.5 - seen) * width));
        let marks = marks.into_iter().map(|mark| (ply.onto * mark, MARK));
        group.lines.extend(marks);
    }
    group.strips.push(LaidStrip {
        edge: surface.clone(),
        surface,
        hidden: lies.hidden,
    });
    let sewn = sewn_down(&course, asked.sewn, (width, beyond.min(long)));
    group
        .lines
        .extend(sewn.map(|(path, stroke)| (ply.onto * path, stroke)));
    Some(())
}

/// How far along its middle `line` the strip runs from and to; `None` after a report. It lies `inside` mm
/// inside the edge.
fn ends(
    ply: &Ply,
    (edge, line): (&Edge, &BezPath),
    lies: &AlongEdge,
    inside: f64,
    finder: &mut Finder,
) -> Option<[f64; 2]> {
    let Some(names) = &lies.between else {
        return Some([0.0, curve::length(line, 1e-3)]);
    };
    let mut ends = [0.0; 2];
    for (end, name) in ends.iter_mut().zip(names) {
        let station = edge.station(place_on(ply, edge, name, finder)?.0);
        let inward = Vec2::new(-station.tangent.y, station.tangent.x);
        *end = reached(line, station.point + inward * inside);
    }
    Some(ends)
}

/// The stitches of a strip of this width that goes so far beyond the notch.
fn sewn_down(
    course: &Course,
    sewn: StripSewn,
    (width, beyond): (f64, f64),
) -> Option<(BezPath, Stroke)> {
    match sewn {
        StripSewn::No => None,
        // the end beyond the notch
        StripSewn::Square => {
            let down = if beyond > 0.0 { beyond } else { width };
            let clear = (INSIDE * width).min(down / 4.0);
            let square = course.stretch([clear, down - clear], (0.5 - INSIDE) * width);
            Some((square, STITCHES))
        }
        StripSewn::Across => {
            let row = course.across(beyond, (0.5 + ACROSS) * width);
            Some((row, SEWN_ACROSS))
        }
    }
}
