//! Notches of nested sizes that stand on, or hardly beside, the cut line of another size: nobody could
//! tell whose they are, so a short leader names each. Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field::distance;
use super::label::Label;
use super::nested::Nest;
use super::nested_setter::{LEADERS, Setter};
use super::notch::{self, HALF_BASE};
use kurbo::{Affine, Line, Point, Vec2};

/// A notch whose base keeps less than this from another size's cut line, and from its tip, is crowded: as
/// much as its own triangle is broad, so that the eye follows one line into it.
const ROOM: f64 = 2.0 * HALF_BASE;
/// White between a notch and its leader.
const GAP: f64 = 1.0;
/// A leader goes in or out of the cloth at this cosine or more.
const STRAIGHT: f64 = 0.5;

/// A notch that needs a name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crowded {
    /// Index among the members of the nest.
    pub member: usize,
    /// The middle of its base on the cut line.
    pub base: Point,
    /// Where it ends in the cloth.
    pub tip: Point,
    /// Out of the cloth, a unit vector.
    pub outward: Vec2,
}

/// The notches of all sizes that are crowded; none where the piece stands in one size.
pub fn crowded(nest: &Nest<'_>, drawing: &Drawing) -> Vec<Crowded> {
    let all = all(nest, drawing).into_iter();
    all.filter(|(_, notch)| is_crowded(notch, drawing))
        .map(|(_, notch)| notch)
        .collect()
}

/// The notches that are crowded in another size only: named alone, those would leave the eye to ask whose these
/// are.
pub fn like_crowded(nest: &Nest<'_>, drawing: &Drawing) -> Vec<Crowded> {
    let (tight, free): (Vec<_>, Vec<_>) = all(nest, drawing)
        .into_iter()
        .partition(|(_, notch)| is_crowded(notch, drawing));
    let like = |(number, _): &(usize, Crowded)| tight.iter().any(|(other, _)| other == number);
    free.into_iter()
        .filter(like)
        .map(|(_, notch)| notch)
        .collect()
}

/// Every notch of every size, with its number on its piece.
fn all(nest: &Nest<'_>, drawing: &Drawing) -> Vec<(usize, Crowded)> {
    let mut found = Vec::new();
    for (index, member) in nest.members.iter().enumerate() {
        let placed = drawing.placed * Affine::translate(nest.onto_common(member));
        for (number, own) in member.piece.notches.iter().enumerate() {
            let middles = notch::middles(own, &member.piece.cut_line);
            let sum: Vec2 = middles.iter().map(|p| p.to_vec2()).sum();
            let base = (sum / middles.len().max(1) as f64).to_point();
            let deep = notch::tick(own, base)[1];
            let outward = placed * (base + own.outward) - placed * base;
            let notch = Crowded {
                member: index,
                base: placed * base,
                tip: placed * deep,
                outward,
            };
            found.push((number, notch));
        }
    }
    found
}

fn is_crowded(notch: &Crowded, drawing: &Drawing) -> bool {
    let others = drawing.sizes.iter().enumerate();
    let others = others.filter(|(index, _)| *index != notch.member);
    let mut lines = others.flat_map(|(_, size)| {
        let ring = &size.ring;
        (0..ring.len()).map(|i| Line::new(ring[i], ring[(i + 1) % ring.len()]))
    });
    lines.any(|line| distance(notch.base, line) < ROOM || distance(notch.tip, line) < ROOM)
}

/// Whether every crowded notch has its name; others are named only where all of those are.
pub fn are_named(nest: &Nest<'_>, drawing: &Drawing, names: &[Label]) -> bool {
    let named = names.iter().filter(|name| name.of_notch).count();
    named >= crowded(nest, drawing).len()
}

impl Setter<'_> {
    /// The name of a notch at the end of a leader: the first of `texts` that finds room.
    pub(super) fn notch(&self, texts: &[String], notch: &Crowded) -> Option<Label> {
        texts.iter().find_map(|text| self.notch_called(text, notch))
    }

    fn notch_called(&self, text: &str, notch: &Crowded) -> Option<Label> {
        let near = self.near(notch.member, notch.base);
        let mut best: Option<(f64, Label)> = None;
        for way in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(Vec2::from) {
            let out = way.dot(notch.outward);
            if out.abs() < STRAIGHT {
                continue;
            }
            let end = if out > 0.0 { notch.base } else { notch.tip };
            let from = end + way * GAP;
            for length in LEADERS {
                let Some((crossed, label)) = self.led(text, from, way * length, &near) else {
                    continue;
                };
                let price = length + 3.0 * crossed as f64 + self.beyond(&label);
                if best.as_ref().is_none_or(|b| price < b.0 - 1e-9) {
                    // the leader tells the notch; a dot would be one more mark
                    let label = Label {
                        dot: None,
                        of_notch: true,
                        ..label
                    };
                    best = Some((price, label));
                }
                break;
            }
        }
        best.map(|b| b.1)
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{piece, size};
    use super::super::nested_groups::all_are_named;
    use super::super::nested_names::names;
    use super::*;
    use crate::language::Words;
    use crate::piece::{Notch, Piece, SizedPieces};

    /// A rectangle 60 `k` mm wide, its top on the common point in every size, all round 4 mm of allowance: the
    /// tops lie on each other. A notch stands on it `aside` mm right of the middle.
    fn bib(k: f64, aside: f64) -> Piece {
        let (x, y) = (60.0 * k, 70.0 * k * k);
        let data = [
            format!("M0 0 L{x} 0"),
            format!("M{x} 0 L{x} {y}"),
            format!("M{x} {y} L0 {y}"),
            format!("M0 {y} L0 0"),
        ];
        let edges = [
            ("top", data[0].as_str()),
            ("right", data[1].as_str()),
            ("bottom", data[2].as_str()),
            ("left", data[3].as_str()),
        ];
        let mut bib = piece(1, "bib", "Bib", &edges, 4.0);
        bib.common_point = Some(Point::new(x / 2.0, 0.0));
        bib.notches = vec![Notch {
            name: "strap".into(),
            edge: "top".into(),
            at: x / 2.0 + aside,
            point: Point::new(x / 2.0 + aside, 0.0),
            outward: Vec2::new(0.0, -1.0),
            allowance: 4.0,
            centre: false,
            count: 1,
        }];
        bib
    }

    /// Half widths as cut: 34, 44.5 and 55 mm; 48 mm from the middle only the last has an edge, and the next
    /// corner is 3.5 mm off.
    fn bibs() -> Vec<SizedPieces> {
        let made = [
            ("Small", 1.0, 20.0),
            ("Medium", 1.35, 35.0),
            ("Large", 1.7, 48.0),
        ];
        let sized = |(title, k, aside)| size(title, title, "", vec![bib(k, aside)]);
        made.into_iter().map(sized).collect()
    }

    #[test]
    fn a_name_that_finds_no_room_in_one_line_has_two() {
        let sizes = bibs();
        let nest = Nest::of("bib", &[0, 1, 2], &sizes, &Words::default()).expect("three sizes");
        let drawing = Drawing::of(&nest, 0);
        let set = names(&nest, &drawing, (&[], &[]), &|room| room.width() < 11.0);
        let name = set.iter().find(|name| name.of_notch).expect("a name");
        let said: Vec<&str> = name.lines.iter().map(|line| line.text.as_str()).collect();
        assert_eq!(said, ["notch,", "Small"]);
        let apart = name.lines[1].at.y - name.lines[0].at.y;
        assert!((2.0..4.0).contains(&apart), "{apart}");
        assert!(name.words.height() > apart && name.words.width() < 11.0);
    }

    #[test]
    fn a_notch_on_the_line_of_another_size_is_named_and_then_those_like_it() {
        let sizes = bibs();
        let nest = Nest::of("bib", &[0, 1, 2], &sizes, &Words::default()).expect("three sizes");
        let drawing = Drawing::of(&nest, 0);
        let members: Vec<usize> = crowded(&nest, &drawing).iter().map(|c| c.member).collect();
        assert_eq!(members, [0, 1]);
        let like = like_crowded(&nest, &drawing);
        assert_eq!(like.iter().map(|c| c.member).collect::<Vec<_>>(), [2]);
        let set = names(&nest, &drawing, (&[], &[]), &|_| true);
        let of_notches: Vec<&Label> = set.iter().filter(|name| name.of_notch).collect();
        let said: Vec<&str> = of_notches
            .iter()
            .map(|n| n.lines[0].text.as_str())
            .collect();
        assert_eq!(said, ["notch, Small", "notch, Medium", "notch, Large"]);
        assert!(are_named(&nest, &drawing, &set) && all_are_named(&nest, &set));
        for (name, notch) in of_notches.iter().zip(crowded(&nest, &drawing)) {
            let start = name.rules[0].p0;
            let near = start.distance(notch.base).min(start.distance(notch.tip));
            assert!(near <= GAP + 1e-9 && name.dot.is_none(), "{near}");
        }
    }
}
