//! Checks of the geometry of flat figures on invented pieces, and against closed forms.

use super::board::{Board, Element};
use super::fit::{lay, meeting};
use super::fold::{corner_back, laid_over, parted};
use super::half::Axis;
use super::hem::beside;
use super::notes::{bared, is_on, leader_to_line, magnified};
use super::plan::{Group, Plan};
use super::ply::Ply;
use super::rows::part_with;
use super::stitch::Look;
use super::worked::{Row, inside_edge, leaving};
use crate::design::Stitch;
use crate::figure::Tint;
use crate::geometry::{Corner, Edge, curve, cut_line};
use crate::piece::Piece;
use crate::plates::fixtures::{heel, notched, on_fold, piece, strap, toe};
use kurbo::{Affine, BezPath, Circle, Ellipse, ParamCurveNearest, Point, Shape, Vec2};
use std::f64::consts::PI;

fn around(path: &BezPath) -> f64 {
    path.perimeter(1e-6)
}

#[test]
fn a_line_through_the_middle_halves_an_ellipse() {
    let ellipse = Ellipse::new((10.0, 20.0), (30.0, 12.0), 0.4).to_path(1e-7);
    for angle in [0.0, 0.7, 1.9] {
        let point = Point::new(10.0, 20.0);
        let axis = Axis::through(point, point + Vec2::from_angle(angle)).unwrap();
        for axis in [axis, axis.turned()] {
            // area of an ellipse: pi a b
            let half = axis.closed_left(&ellipse).area();
            assert!((half - PI * 30.0 * 12.0 / 2.0).abs() < 1e-3, "{half}");
        }
    }
}

#[test]
fn the_halves_of_a_circle_have_the_length_of_arc_and_diameter() {
    let circle = Circle::new((0.0, 0.0), 25.0).to_path(1e-8);
    let axis = Axis::through(Point::new(-3.0, 0.0), Point::new(4.0, 0.0)).unwrap();
    let half = around(&axis.closed_left(&circle));
    assert!((half - (PI * 25.0 + 50.0)).abs() < 1e-4, "{half}");
    let arc = around(&axis.open_left(&circle));
    assert!((arc - PI * 25.0).abs() < 1e-4, "{arc}");
}

/// Lengths and angles stay under a motion.
fn keeps_lengths(motion: Affine) -> bool {
    let [a, b, c, d, ..] = motion.as_coeffs();
    let one = |x: f64, y: f64| (x * x + y * y - 1.0).abs() < 1e-9;
    one(a, b) && one(c, d) && (a * c + b * d).abs() < 1e-9
}

#[test]
fn folding_is_a_reflection() {
    for piece in [toe(1.7, 4.8), heel(75.0, 22.0, 4.8), strap(96.0)] {
        let ply = Ply::drawn(&piece, Tint::Right);
        let middle = ply.surface.bounding_box().center();
        let axis = Axis::through(middle, middle + Vec2::new(0.3, 1.0)).unwrap();
        let [rest, moving] = parted(&ply, &axis);
        let whole = ply.surface.area();
        let parts = rest.surface.area() + moving.surface.area();
        assert!((whole - parts).abs() < 1e-6 * whole, "{whole} {parts}");
        let group = laid_over(&ply, &axis, Tint::Wrong);
        let flap = &group.plies[1];
        assert!(keeps_lengths(flap.onto) && flap.onto.determinant() < 0.0);
        let over = flap.onto * &flap.surface;
        assert!((over.area().abs() - moving.surface.area()).abs() < 1e-6);
        assert!((around(&over) - around(&moving.surface)).abs() < 1e-6);
        // every point of the flap lies on the other side of the fold
        let turned = axis.turned();
        let points = curve::spread(&over, 50);
        assert!(points.iter().all(|p| turned.left_of(*p) > -1e-6));
    }
}

#[test]
fn a_corner_turned_back_loses_no_cloth() {
    for piece in [toe(1.7, 4.8), strap(96.0), on_fold()] {
        let ply = Ply::drawn(&piece, Tint::Wrong);
        let [rest, flap] = corner_back(&ply, Tint::Right);
        let whole = ply.surface.area();
        let turned = flap.surface.area();
        assert!(turned > 0.0 && turned < 0.09 * whole, "{turned} of {whole}");
        assert!((rest.surface.area() + turned - whole).abs() < 1e-6 * whole);
    }
}

#[test]
fn a_known_motion_is_found_again() {
    let edge = Edge::new("a", BezPath::from_svg("M0 0C10 4 30 -6 50 3").unwrap());
    for (turned_over, flip) in [(false, 1.0), (true, -1.0)] {
        let motion = Affine::translate((12.0, -7.0))
            * Affine::rotate(0.8)
            * Affine::new([flip, 0.0, 0.0, 1.0, 0.0, 0.0]);
        let moved = Edge::new("b", curve::reversed(&(motion * &edge.curve)));
        let laid = lay(&meeting(&edge, &moved, false), turned_over);
        assert!(laid.apart < 1e-5, "{}", laid.apart);
        let (found, known) = (laid.motion.as_coeffs(), motion.as_coeffs());
        assert!(found.iter().zip(known).all(|(a, b)| (a - b).abs() < 1e-5));
        assert!(keeps_lengths(laid.motion));
    }
}

/// Two pieces whose sides are sewn together, with a notch that is carried over.
fn sides() -> [Piece; 2] {
    let left = piece(
        1,
        "left",
        "Left",
        &[
            ("top", "M0 0L40 0"),
            ("side", "M40 0C44 20 38 40 42 60"),
            ("base", "M42 60L0 0"),
        ],
        5.0,
    );
    let right = piece(
        2,
        "right",
        "Right",
        &[
            ("top", "M0 0L40 0"),
            ("base", "M40 0L-2 60"),
            ("side", "M-2 60C2 40 -4 20 0 0"),
        ],
        5.0,
    );
    [
        notched(left, "side", 0.3, 1, false),
        notched(right, "side", 0.7, 1, false),
    ]
}

#[test]
fn edges_laid_together_meet_with_their_notches() {
    let [left, right] = sides();
    let (own, other) = (
        left.outline.edge("side").unwrap(),
        right.outline.edge("side").unwrap(),
    );
    let laid = lay(&meeting(own, other, false), true);
    // the sides are mirror images, so that they meet when one piece is turned over
    assert!(laid.apart < 1e-6, "{}", laid.apart);
    let apart = curve::deviation(&(laid.motion * &own.curve), &other.curve, 40);
    assert!(apart < 1e-6, "{apart}");
    let (a, b) = (&left.notches[0], &right.notches[0]);
    assert!((laid.motion * a.point).distance(b.point) < 0.1);
    // walked along the seam, as with the pieces themselves: start meets end
    assert!((own.length() - a.at - b.at).abs() < 0.1);
}

#[test]
fn a_trimmed_edge_keeps_what_was_said() {
    let piece = toe(1.7, 4.8);
    let rest = 2.0;
    let allowances = vec![rest; piece.allowances.len()];
    let corners = vec![Corner::Mitre { limit: 4.0 }; allowances.len()];
    let line = cut_line(&piece.outline, &allowances, &corners, 0.01).unwrap();
    for edge in piece.outline.edges() {
        for share in [0.2, 0.4, 0.5, 0.7] {
            let at = edge.station(share * edge.length()).point;
            let near = line
                .segments()
                .map(|s| s.nearest(at, 1e-6).distance_sq.sqrt());
            let distance = near.fold(f64::MAX, f64::min);
            assert!((distance - rest).abs() < 0.02, "{} {distance}", edge.name);
        }
    }
}

#[test]
fn a_line_beside_an_edge_keeps_its_distance() {
    // a circle of radius 30 inside one of 40: the outline runs clockwise on the page
    let circle = Circle::new((0.0, 0.0), 40.0).to_path(1e-6);
    let edge = Edge::new("rim", curve::chained(circle.segments()));
    for point in curve::spread(&beside(&edge, 10.0), 100) {
        let radius = point.to_vec2().hypot();
        assert!((radius - 30.0).abs() < 0.01, "{radius}");
    }
}

#[test]
fn a_detail_is_so_many_times_larger_about_its_place() {
    let (at, middle) = (Point::new(12.0, 9.0), Point::new(60.0, 20.0));
    let map = magnified(at, middle, 3.5);
    assert_eq!(map * at, middle);
    let (a, b) = (Point::new(1.0, 2.0), Point::new(4.0, 6.0));
    assert!(((map * a).distance(map * b) - 3.5 * 5.0).abs() < 1e-9);
}

#[test]
fn a_half_lies_open_with_both_its_sides() {
    let half = on_fold();
    let ply = Ply::opened(&half, Tint::Right);
    let (own, whole) = (half.cut_line.area(), ply.surface.area());
    assert!((whole - 2.0 * own).abs() < 1e-6 * whole, "{own} {whole}");
    assert!(ply.piece.fold.is_none());
}

#[test]
fn a_row_stops_at_what_is_sewn_round() {
    let row = BezPath::from_svg("M0 0 L40 0").unwrap();
    let round = BezPath::from_svg("M18 -5 L22 -5 L22 5 L18 5 Z").unwrap();
    let left = leaving(row.clone(), std::slice::from_ref(&round));
    assert!((around(&left) - 36.0).abs() < 0.25, "{}", around(&left));
    let middle = Point::new(20.0, 0.0);
    let near = left.segments().map(|s| s.nearest(middle, 1e-6).distance_sq);
    assert!(near.fold(f64::MAX, f64::min).sqrt() > 1.9);
    assert_eq!(leaving(row.clone(), &[]), row);
}

#[test]
fn a_row_is_seen_beside_its_edge_at_every_scale() {
    let bare = piece(
        1,
        "bare",
        "Bare",
        &[
            ("top", "M0 0 L80 0"),
            ("side", "M80 0 L80 60"),
            ("rest", "M80 60 L0 60 L0 0"),
        ],
        0.0,
    );
    let ply = Ply::drawn(&bare, Tint::Right);
    let edge = bare.outline.edge("top").unwrap();
    let look = Look::Seam(Stitch::Running);
    let row = inside_edge(&ply, edge, 1.5, look).unwrap();
    for (scale, away) in [(0.2, 1.0), (0.4, 1.0), (1.0, 1.5), (2.0, 3.0)] {
        let path = row.at(scale, false).unwrap();
        let points = curve::spread(&path, 20);
        let off = points.iter().map(|p| p.y * scale);
        assert!(off.into_iter().all(|y| (y - away).abs() < 0.01), "{scale}");
    }
}

#[test]
fn a_row_along_an_edge_that_is_folded_stays_on_the_folded_piece() {
    let ply = Ply::drawn(&strap(96.0), Tint::Right);
    let axis = Axis::through(Point::new(0.0, 6.0), Point::new(96.0, 6.0)).unwrap();
    let group = laid_over(&ply, &axis, Tint::Wrong);
    let room = group.bounds().inflate(1e-6, 1e-6);
    for name in ["right", "left", "top", "bottom"] {
        let edge = ply.piece.outline.edge(name).unwrap();
        let part = part_with(&group, &ply, &edge.curve);
        let look = Look::Seam(Stitch::Backstitch);
        let row = inside_edge(&part, edge, 1.5, look).unwrap();
        let path = row.at(2.0, false).unwrap();
        assert!(!path.is_empty(), "{name}");
        let points = curve::spread(&path, 40);
        assert!(
            points.iter().all(|p| room.contains(*p)),
            "{name}: {points:?}"
        );
    }
}

#[test]
fn a_row_in_a_narrow_strip_is_left_to_the_larger_drawing() {
    let path = BezPath::from_svg("M0 0 L40 0").unwrap();
    let row = Row::in_strip(path, Look::Slip, 6.0);
    assert!(row.at(0.14, true).is_none());
    assert!(row.at(0.14, false).is_some() && row.at(0.56, true).is_some());
}

#[test]
fn the_two_of_a_pair_stand_side_by_side() {
    let toe = toe(1.7, 4.8);
    let over = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    let own = Ply::drawn(&toe, Tint::Right);
    let other = own.clone().moved(over);
    let tall = |group: &Group| group.bounds().height();
    let plan = |second: Ply| Plan {
        groups: vec![Group::of(own.clone()), Group::of(second)],
        ..Plan::default()
    };
    let size = own.outline().bounding_box().size();
    // room for 30 % side by side, and for 36 % below each other
    let room = Vec2::new(
        0.6 * size.width + 6.1,
        2.0 * (0.36 * size.height + 5.0) + 5.1,
    );
    let down = |plan: &Plan| {
        let placed = plan.placed(room);
        let tops = [0, 1].map(|i| (placed.onto[i] * Point::new(0.0, tall(&plan.groups[i]))).y);
        (tops[0] - tops[1]).abs()
    };
    assert!(
        down(&plan(own.clone())) > 5.0,
        "two alike need not be level"
    );
    assert!(down(&plan(other)) < 0.5);
}

#[test]
fn a_notch_without_allowance_is_a_tick() {
    let drawn = |allowance: f64| {
        let shape = [("top", "M0 0 L80 0"), ("rest", "M80 0 L80 60 L0 60 L0 0")];
        let notched = notched(piece(1, "a", "A", &shape, allowance), "top", 0.5, 1, false);
        let mut board = Board::default();
        Ply::drawn(&notched, Tint::Right).draw(&mut board, Affine::scale(0.5));
        let filled = |e: &&Element| matches!(e, Element::Fill { white: false, .. });
        board.elements.iter().filter(filled).count()
    };
    assert_eq!([drawn(5.0), drawn(0.0)], [1, 0]);
}

#[test]
fn a_joined_edge_stands_apart_from_the_cut_edge() {
    let shape = [("top", "M0 0 L80 0"), ("rest", "M80 0 L80 60 L0 60 L0 0")];
    let widths = |scale: f64| {
        let mut ply = Ply::drawn(&piece(1, "a", "A", &shape, 10.0), Tint::Right);
        ply.joined.push(BezPath::from_svg("M0 0 L80 0").unwrap());
        let mut board = Board::default();
        ply.draw(&mut board, Affine::scale(scale));
        let drawn = board.elements.iter().filter_map(|e| match e {
            Element::Line { stroke, .. } => Some(stroke.width),
            _ => None,
        });
        drawn.fold(0.0, f64::max)
    };
    // 10 mm of allowance are 1.2 mm on paper, or 4 mm
    let white = 1.2 - 0.35 - widths(0.12) / 2.0;
    assert!(white > 0.3, "{white}");
    assert!((widths(0.4) - 1.3).abs() < 1e-9);
}

#[test]
fn a_leader_leaves_a_bold_edge_whole() {
    let mut board = Board::default();
    let edge = BezPath::from_svg("M-10 0 L10 0").unwrap();
    board.line(edge, super::ply::EDGE);
    let leader = BezPath::from_svg("M0 -5 L0 5").unwrap();
    let bared = bared(&board, &leader);
    // half the edge and half the white on both sides
    assert!((around(&bared) - (10.0 - 0.7 - 0.9)).abs() < 0.25);
    let points = curve::spread(&bared, 60);
    assert!(points.iter().all(|p| p.y.abs() >= 0.35 + 0.35));
}

#[test]
fn a_leader_leaves_a_short_mark_whole() {
    let mut board = Board::default();
    leader_to_line(&mut board, [Point::new(0.0, 1.5), Point::new(4.0, 1.5)]);
    let fills = board.elements.iter().filter_map(|element| match element {
        Element::Fill { path, white } => Some((path, white)),
        _ => None,
    });
    let fills: Vec<_> = fills.collect();
    let [(bare, true), (head, false)] = fills.as_slice() else {
        panic!("white under the leader, and its head");
    };
    let nearest = bare.bounding_box().x0;
    assert!(nearest > 0.1, "white over the mark from {nearest}");
    let head = head.bounding_box();
    assert!(head.x0.abs() < 1e-9 && head.x1 < 2.0, "its tip at the mark");
}

#[test]
fn a_place_is_on_a_line_or_beside_it() {
    let mark = vec![vec![Point::new(0.0, 0.0), Point::new(0.0, 3.0)]];
    assert!(is_on(&mark, Point::new(0.1, 1.5)));
    assert!(!is_on(&mark, Point::new(0.5, 1.5)));
    assert!(!is_on(&mark, Point::new(0.0, 3.5)), "past its end");
}

#[test]
fn marks_are_seen_on_the_wrong_side_only_if_they_are_asked_for() {
    let lines = |marked: bool| {
        let mut ply = Ply::drawn(&strap(96.0), Tint::Wrong);
        ply.marked = marked;
        let mut board = Board::default();
        ply.draw(&mut board, Affine::scale(0.5));
        let line = |e: &&Element| matches!(e, Element::Line { .. });
        board.elements.iter().filter(line).count()
    };
    // a fold line and a buttonhole
    assert_eq!(lines(true), lines(false) + 2);
}
