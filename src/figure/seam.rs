//! Two pieces side by side, the edges that are joined drawn heavy, an arrow from one to the other.
//! Millimetres on paper.

use super::Figure;
use super::group::largest_scale;
use super::small::{self, Manner, OUTER};
use super::tint::Tint;
use crate::geometry::Edge;
use crate::language::Words;
use crate::piece::Piece;
use crate::plates::drawing::{Stroke, path_of};
use crate::plates::svg::Svg;
use kurbo::{Affine, BezPath, Point, Vec2};

/// Space between the pieces, for the arrow.
const GAP: f64 = 14.0;
/// Room of the numbers under the pieces.
const NUMBER_ROOM: f64 = 5.0;

const HEAVY: Stroke = Stroke {
    width: 0.9,
    dash: None,
    round: true,
};
const SHAFT: Stroke = Stroke {
    width: 0.6,
    dash: None,
    round: false,
};
const HALO: Stroke = Stroke {
    width: 1.9,
    dash: None,
    round: true,
};

/// `piece` and `other` with their edges that are joined, at the largest scale in whole percent at
/// which both fit side by side in `width` by `height` mm. `None` if an edge is not there.
pub fn seam(
    (piece, edge): (&Piece, &str),
    (other, other_edge): (&Piece, &str),
    [width, height]: [f64; 2],
    words: &Words,
) -> Option<Figure> {
    let joined = [
        (piece, piece.outline.edge(edge)?),
        (other, other.outline.edge(other_edge)?),
    ];
    let extent = |scale: f64| {
        let [a, b] = [small::size(piece, scale), small::size(other, scale)];
        Vec2::new(a.x + GAP + b.x, a.y.max(b.y) + NUMBER_ROOM)
    };
    let scale = largest_scale(|s| extent(s).x <= width && extent(s).y <= height);
    let size = extent(scale);
    let mut svg = Svg::new(size.x, size.y);
    let (places, ends) = arranged(&joined, scale, size);
    for (index, (piece, edge)) in joined.iter().enumerate() {
        let onto = small::placed(piece, scale, places[index]);
        draw(&mut svg, piece, edge, onto, &format!("p{index}"));
        let x = places[index].x + small::size(piece, scale).x / 2.0;
        let middle = Point::new(x, size.y - NUMBER_ROOM / 2.0);
        svg.fill(&small::numeral(piece.number, middle));
    }
    arrow(&mut svg, ends[0], ends[1]);
    Some(Figure {
        svg: svg.finish(),
        width: size.x,
        height: size.y,
        alt: words.say(
            "figures.seam",
            &[
                ("from", &piece.title),
                ("to", &other.title),
                ("edge", &words.named("edges", edge)),
                ("other edge", &words.named("edges", other_edge)),
                ("number", &piece.number),
                ("other number", &other.number),
            ],
        ),
        scale,
    })
}

/// Places of both pieces, the first at the left or at the right, whichever makes the arrow shorter,
/// and the middles of the joined edges.
fn arranged(joined: &[(&Piece, &Edge); 2], scale: f64, size: Vec2) -> ([Point; 2], [Point; 2]) {
    let sizes = joined.map(|(piece, _)| small::size(piece, scale));
    let top = |i: usize| (size.y - NUMBER_ROOM - sizes[i].y) / 2.0;
    let lefts = [[0.0, sizes[0].x + GAP], [sizes[1].x + GAP, 0.0]];
    let [usual, swapped] = lefts.map(|left| {
        let places = [Point::new(left[0], top(0)), Point::new(left[1], top(1))];
        let end = |i: usize| {
            let (piece, edge) = joined[i];
            small::placed(piece, scale, places[i]) * edge.station(edge.length() / 2.0).point
        };
        (places, [end(0), end(1)])
    });
    let length = |a: &([Point; 2], [Point; 2])| a.1[0].distance(a.1[1]);
    if length(&swapped) < length(&usual) - 1e-6 {
        swapped
    } else {
        usual
    }
}

fn draw(svg: &mut Svg, piece: &Piece, edge: &Edge, onto: Affine, id: &str) {
    let manner = Manner {
        tint: Tint::Right,
        seam_lines: true,
        notches: true,
    };
    small::draw(svg, piece, onto, manner, id);
    svg.stroke(None, &(onto * &edge.curve), HEAVY);
}

/// A straight arrow on a white ground, ending short of the heavy line it points at.
fn arrow(svg: &mut Svg, from: Point, to: Point) {
    let way = to - from;
    let length = way.hypot();
    if length < 8.0 {
        return;
    }
    let along = way / length;
    let across = Vec2::new(-along.y, along.x);
    let start = from + along * (HEAVY.width + OUTER.width);
    let tip = to - along * (HEAVY.width + OUTER.width);
    let back = tip - along * 2.8;
    let shaft: BezPath = path_of(&[start, back + along * 0.6]);
    svg.white(&shaft, HALO);
    svg.stroke(None, &shaft, SHAFT);
    let side = across * (2.8 * 0.36);
    let mut head = path_of(&[tip, back + side, back + along * 0.62, back - side]);
    head.close_path();
    svg.fill(&head);
}
