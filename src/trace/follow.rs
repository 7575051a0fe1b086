//! A shape followed more closely than its pixels: the middle of a pen line, or the edge of a filled shape,
//! where they lie across the ring at many places. In pixels, but for constants that say mm.

use super::card::half_way;
use super::plane::Plane;
use super::ring::{self, bridged, gaps, outward, smoothed, spread};
use super::shapes::{Drawn, Shape, View};
use kurbo::{Point, Vec2};

/// Places round the ring, one for so many mm.
const EVERY: f64 = 0.4;

/// How far inside and outside of the rough ring a line is looked for, mm, beyond what was bridged.
const LOOKED: [f64; 2] = [0.6, 1.8];

/// Steps across the line, pixels.
const STEP: f64 = 0.25;

/// A shape that was followed.
#[derive(Debug, Clone, PartialEq)]
pub struct Followed {
    /// Points round it, clockwise on the page, pixels.
    pub ring: Vec<Point>,
    /// Which points were seen; the others are bridged.
    pub seen: Vec<bool>,
    /// Where nothing was drawn: the middle and the length of each gap, pixels.
    pub gaps: Vec<(Point, f64)>,
    /// How thick the line is, pixels; `None` for the edge of a filled shape.
    pub thickness: Option<f64>,
}

/// What was seen across the ring at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Across {
    /// The line or edge: how far outwards, and how thick, pixels.
    Seen(f64, f64),
    /// Something else is there, such as a second line that crosses.
    Odd,
    /// Nothing is there.
    Bare,
}

/// Follows `shape`. `None` if less than three quarters of it are there.
pub fn follow(view: &View<'_>, shape: &Shape) -> Option<Followed> {
    let count = (ring::length(&shape.ring) / (EVERY * view.per_mm)).round();
    let count = count.clamp(120.0, 900.0) as usize;
    let mut ring = smoothed(&spread(&shape.ring, count), 6);
    let mut looks = match shape.drawn {
        Drawn::Line(reach) => [
            LOOKED[0] * view.per_mm + 1.0,
            LOOKED[1] * view.per_mm + reach + 2.0,
        ],
        Drawn::Filled => [0.0, 0.0],
    };
    let mut all = Vec::new();
    let mut thickness = 0.0;
    for _ in 0..3 {
        let normals = outward(&ring, 3);
        all = (0..count)
            .map(|i| match shape.drawn {
                Drawn::Line(_) => line(view, ring[i], normals[i], looks),
                Drawn::Filled => edge(view, ring[i], normals[i]),
            })
            .collect();
        thickness = weed(&mut all, view.per_mm)?;
        let known: Vec<bool> = all.iter().map(|a| matches!(a, Across::Seen(..))).collect();
        let moved: Vec<Point> = (0..count)
            .map(|i| match all[i] {
                Across::Seen(off, _) => ring[i] + normals[i] * off,
                _ => ring[i],
            })
            .collect();
        ring = bridged(&moved, &known);
        let near = (0.8 * thickness + 0.2 * view.per_mm).max(2.0);
        looks = [near, near];
    }
    Some(told(view, ring, &all, shape.drawn, thickness))
}

fn told(
    view: &View<'_>,
    ring: Vec<Point>,
    all: &[Across],
    drawn: Drawn,
    thickness: f64,
) -> Followed {
    let count = ring.len();
    let seen: Vec<bool> = all.iter().map(|a| matches!(a, Across::Seen(..))).collect();
    let bare = |(first, missing): &(usize, usize)| {
        let own = (0..*missing).filter(|i| all[(first + i) % count] == Across::Bare);
        own.count() * 2 > *missing
    };
    let gap = |(first, missing): (usize, usize)| {
        let step =
            |i: usize| ring[(first + count - 1 + i) % count].distance(ring[(first + i) % count]);
        let length: f64 = (0..=missing).map(step).sum();
        (ring[(first + missing / 2) % count], length)
    };
    let found = gaps(&seen).into_iter().filter(bare).map(gap);
    Followed {
        gaps: found
            .filter(|(_, length)| *length > EVERY * 1.5 * view.per_mm)
            .collect(),
        thickness: matches!(drawn, Drawn::Line(_)).then_some(thickness),
        seen,
        ring,
    }
}

/// The first line across the ring at `place`: its centre of gravity above three tenths of its darkest.
fn line(view: &View<'_>, place: Point, normal: Vec2, [inward, outward]: [f64; 2]) -> Across {
    let count = ((inward + outward) / STEP).ceil() as usize;
    let at = |i: usize| i as f64 * STEP - inward;
    let value = |i: usize| view.fine.between(place + normal * at(i));
    let values: Vec<f64> = (0..=count).map(value).collect();
    let darkest = values.iter().copied().fold(0.0, f64::max);
    if darkest < f64::from(view.level) {
        return Across::Bare;
    }
    let clear = (0.5 * darkest).max(f64::from(view.level));
    let Some(mut peak) = values.iter().position(|v| *v >= clear) else {
        return Across::Bare;
    };
    while peak < count && values[peak + 1] >= values[peak] {
        peak += 1;
    }
    let least = 0.3 * values[peak];
    let begins = (0..=peak).rev().find(|i| values[*i] < least);
    let ends = (peak..=count).find(|i| values[*i] < least);
    // a line that is only partly in view would be found too near
    let (Some(begins), Some(ends)) = (begins, ends) else {
        return Across::Odd;
    };
    let (mut sum, mut weights) = (0.0, 0.0);
    for (i, value) in values.iter().enumerate().take(ends + 1).skip(begins) {
        let weight = (value - least).max(0.0);
        sum += weight * at(i);
        weights += weight;
    }
    let thickness = weights * STEP / (values[peak] - least).max(1e-9);
    Across::Seen(sum / weights.max(1e-9), thickness)
}

/// The edge of a dark area across the ring at `place`.
fn edge(view: &View<'_>, place: Point, normal: Vec2) -> Across {
    let reach = (0.8 * view.per_mm).clamp(3.0, 12.0);
    match half_way(view.ink, place, normal, reach) {
        Some(off) => Across::Seen(off, 0.0),
        None => Across::Bare,
    }
}

/// Marks as odd what differs from its neighbours: much thicker, or far to the side. Gives the usual
/// thickness; `None` if less than three quarters of the ring were seen.
fn weed(all: &mut [Across], per_mm: f64) -> Option<f64> {
    let seen = |a: &Across| match a {
        Across::Seen(off, thickness) => Some((*off, *thickness)),
        _ => None,
    };
    let mut thick: Vec<f64> = all.iter().filter_map(seen).map(|s| s.1).collect();
    if 4 * thick.len() < 3 * all.len() {
        return None;
    }
    let usual = median(&mut thick);
    let count = all.len();
    let last = all.to_vec();
    for (i, slot) in all.iter_mut().enumerate() {
        let Some((off, thickness)) = seen(slot) else {
            continue;
        };
        let near = (0..15).filter_map(|n| seen(&last[(i + count + n - 7) % count]));
        let mut near: Vec<f64> = near.map(|s| s.0).collect();
        let aside = (off - median(&mut near)).abs();
        if thickness > 2.0 * usual + 1.0 || aside > (0.3 * per_mm).max(1.0) {
            *slot = Across::Odd;
        }
    }
    Some(usual)
}

fn median(values: &mut [f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    *values.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// Ink that is narrow: lines up to 2 mm thick.
pub fn fine(ink: &Plane, per_mm: f64) -> Plane {
    ink.fine((1.1 * per_mm).ceil().max(2.0) as usize)
}
