#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::design::ClothKind;
use crate::diagnostic::Level;
use crate::draft::shoe::{Shoe, draft_shoe};
use crate::foot::form::Form;
use crate::foot::form::fixture::{known, number};
use crate::geometry::curve;
use crate::geometry::pchip::Pchip;
use kurbo::Vec2;
use std::collections::BTreeMap;

#[derive(Clone)]
struct Case {
    foot: Foot,
    choices: ShoeChoices,
    shoe: Shoe,
    strips: Strips,
}

/// The four known feet, each drafted over its form, and the strips that lie on that.
fn cases() -> Vec<Case> {
    let case = |(spec, known): (crate::design::FootSpec, serde_json::Value)| {
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        let length = number(&known["foot length"]);
        let kind = ClothKind::named(known["cloth"].as_str().unwrap()).unwrap();
        let choices = ShoeChoices {
            ease: number(&known["ease"]),
            ..ShoeChoices::usual(length, kind)
        };
        let shoe = draft_shoe(&foot, &choices, &mut diagnostics).unwrap();
        let strips = Strips::over(&shoe);
        Case {
            foot,
            choices,
            shoe,
            strips,
        }
    };
    known().into_iter().map(case).collect()
}

fn drafted(case: &Case) -> FlatShoe {
    let mut diagnostics = Diagnostics::default();
    let flat = draft_from_strips(&case.foot, &case.strips, &case.choices, &mut diagnostics);
    assert_eq!(diagnostics.count(Level::Error), 0, "{diagnostics:?}");
    flat.unwrap()
}

/// Points of all edges, a hundred each.
fn points(outline: &Outline) -> Vec<Point> {
    let along = |edge: &Edge| curve::spread(&edge.curve, 100);
    outline.edges().iter().flat_map(along).collect()
}

/// Greatest distance between points at equal shares of the edges of two pieces, once these lie on
/// each other as well as can be (Kabsch 1976).
fn apart(a: &Outline, b: &Outline) -> f64 {
    let (a, b) = (points(a), points(b));
    let middle =
        |all: &[Point]| all.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / all.len() as f64;
    let (from, to) = (middle(&a), middle(&b));
    let pairs = || {
        a.iter()
            .zip(&b)
            .map(|(p, q)| (p.to_vec2() - from, q.to_vec2() - to))
    };
    let along: f64 = pairs().map(|(p, q)| p.dot(q)).sum();
    let across: f64 = pairs().map(|(p, q)| p.cross(q)).sum();
    let turn = Affine::rotate(across.atan2(along));
    let off = pairs().map(|(p, q)| (turn * p.to_point()).distance(q.to_point()));
    off.fold(0.0, f64::max)
}

/// Bounds of an independent ruler-and-compass draft against its own form: heel piece .2 to .5 mm,
/// toe piece .7 to 3.0 mm, over the feet of 25 to 95 mm.
#[test]
fn pieces_from_strips_lie_near_those_over_the_form() {
    for case in cases() {
        let (flat, shoe) = (drafted(&case), &case.shoe);
        let share = shoe.foot.length / 95.0;
        let heel = apart(&flat.heel, &shoe.heel);
        assert!(heel < (0.5 * share).max(0.2), "heel {heel}");
        let toe = apart(&flat.toe, &shoe.toe);
        assert!(toe < (3.0 * share).max(0.8), "toe {toe}");
        assert_eq!(flat.soles, shoe.soles);
        // Without a strip along the toe piece's topline its length comes out of the other strips.
        let bare = drafted(&Case {
            strips: Strips {
                toe_topline: None,
                ..case.strips.clone()
            },
            ..case.clone()
        });
        let off = length(&bare.toe, "topline") / length(&shoe.toe, "topline") - 1.0;
        assert!(off.abs() < 0.03, "topline {off}");
    }
}

fn length(outline: &Outline, edge: &str) -> f64 {
    outline.edge(edge).unwrap().length()
}

#[test]
fn pieces_from_strips_have_the_names_and_lie_as_those_over_the_form() {
    for case in cases() {
        let (flat, shoe) = (drafted(&case), &case.shoe);
        for (a, b) in [(&flat.toe, &shoe.toe), (&flat.heel, &shoe.heel)] {
            assert!(a.area() > 0.0);
            for (own, other) in a.edges().iter().zip(b.edges()) {
                assert_eq!(own.name, other.name);
                assert!(own.start().distance(other.start()) < 0.05 * shoe.foot.length);
            }
        }
        let names = |notches: &[ShoeNotch]| -> Vec<_> {
            notches.iter().map(|n| (n.piece, n.edge, n.name)).collect()
        };
        assert_eq!(names(&flat.notches), names(&shoe.notches));
        for (own, other) in flat.walk.iter().zip(&shoe.walk) {
            assert_eq!((own.from, own.to), (other.from, other.to));
            assert!((own.sole - other.sole).abs() < 1e-6, "{own:?} {other:?}");
            assert!(own.piece > own.sole - 1e-9, "{own:?}");
        }
    }
}

/// Seams that meet have one length, corners run on smoothly through them, and the walk tells what
/// the toe piece is fuller than the sole.
#[test]
fn seams_of_pieces_from_strips_are_true() {
    for case in cases() {
        let flat = drafted(&case);
        for (side, strip) in ["inner side", "outer side"]
            .into_iter()
            .zip(case.strips.sides)
        {
            let [toe, heel] = [&flat.toe, &flat.heel].map(|piece| length(piece, side));
            assert!((toe - heel).abs() < 1e-3, "{toe} {heel}");
            assert!((toe - strip.seam).abs() < 0.06, "{toe} {}", strip.seam);
        }
        let sole = &flat.soles.sole;
        let heel = length(&flat.heel, "sole edge") - length(sole, "heel edge");
        assert!(heel.abs() < 0.02, "{heel}");
        let eased = length(&flat.toe, "sole edge") - length(sole, "toe edge");
        assert!((eased - flat.easing.used).abs() < 0.02, "{eased}");
        let walked: f64 = flat.walk.iter().map(|s| s.piece - s.sole).sum();
        assert!((walked - flat.easing.used).abs() < 1e-9);
        assert!((length(&flat.heel, "topline") - case.strips.heel_topline).abs() < 1e-3);
        assert!((length(&flat.toe, "topline") - case.strips.toe_topline.unwrap()).abs() < 1e-3);
        let corner = |piece: &Outline, before: usize| {
            let edges = piece.edges();
            let (a, b) = (&edges[before], &edges[(before + 1) % 4]);
            let (a, b) = (a.end_tangent(), b.start_tangent());
            180.0 - a.cross(b).atan2(a.dot(b)).to_degrees()
        };
        for (toe, heel) in [(3, 0), (0, 3), (2, 1), (1, 2)] {
            let together = corner(&flat.toe, toe) + corner(&flat.heel, heel);
            assert!((together - 180.0).abs() < 0.4, "{toe} {heel}: {together}");
        }
    }
}

/// Closed form: on a round half pipe of radius 10 mm the shortest way is straight on the unrolled
/// sheet.
#[test]
fn a_strip_over_a_half_pipe_is_as_long_as_on_the_unrolled_sheet() {
    let (length, radius) = (60.0, 10.0);
    let side = |y: f64| {
        let mut path = BezPath::new();
        path.move_to((length, y));
        path.line_to((0.0, y));
        path
    };
    let level = |value: f64| Pchip::new(&[(0.0, value), (length, value)]).unwrap();
    let pipe = Form {
        edge: FeatherEdge::new(&side(radius), &side(-radius)).unwrap(),
        fans: [-1.0, length + 1.0],
        ridge: level(radius),
        centre: level(0.0),
        plan: level(2.0),
        rise: None,
    };
    // A place is a share of the height, whose angle follows from it.
    let place = |angle: f64| (1.0 - angle.cos()).sqrt();
    for (from, to) in [
        ((10.0, 0.2), (45.0, 1.3)),
        ((50.0, 0.0), (20.0, 1.5)),
        ((5.0, 0.9), (9.0, 0.1)),
    ] {
        let laid = over::way(
            &pipe,
            FootSide::Inner,
            [from.0, place(from.1)],
            [to.0, place(to.1)],
        );
        let wanted = f64::hypot(from.0 - to.0, radius * (from.1 - to.1));
        assert!((laid / wanted - 1.0).abs() < 2e-4, "{laid} for {wanted}");
    }
}

#[test]
fn strips_that_do_not_meet_are_named() {
    let case = &cases()[2];
    let mut strips = case.strips.clone();
    strips.sides[1].toe_to_ball = 4.0;
    strips.sides[0].throat_to_seam_top = 90.0;
    strips.heel_topline = 200.0;
    let mut diagnostics = Diagnostics::default();
    assert!(draft_from_strips(&case.foot, &strips, &case.choices, &mut diagnostics).is_none());
    let said: Vec<&str> = diagnostics.iter().map(|d| d.message.as_str()).collect();
    for words in [
        "‘throat to toe’ (35.3 mm), ‘throat to ball outer’ (28.0 mm) and ‘toe to ball outer’ (4.0 mm)",
        "‘throat to side mark inner’ (30.8 mm), ‘throat to seam top inner’ (90.0 mm) and ‘side seam inner’ (12.9 mm)",
        "‘heel topline’ (200.0 mm)",
    ] {
        assert!(said.iter().any(|m| m.contains(words)), "{words}: {said:#?}");
    }
}

#[test]
fn strips_are_read_by_name_and_all_missing_ones_are_told() {
    let mut measures: BTreeMap<String, f64> = [
        ("throat to toe", 35.0),
        ("throat to ball inner", 28.1),
        ("throat to ball outer", 28.0),
        ("toe to ball", 32.0),
        ("throat to side mark", 31.0),
        ("ball to side mark", 17.6),
        ("throat to seam top", 20.5),
        ("side seam", 13.0),
        ("side seam outer", 12.6),
        ("back height", 17.4),
        ("heel topline", 78.9),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into();
    let strips = Strips::from_measures(&measures).unwrap();
    assert_eq!(strips.sides[0].throat_to_ball, 28.1);
    assert_eq!(strips.sides[1].throat_to_ball, 28.0);
    assert_eq!([strips.sides[0].seam, strips.sides[1].seam], [13.0, 12.6]);
    assert_eq!(strips.sides[0].toe_to_ball, strips.sides[1].toe_to_ball);
    assert_eq!(strips.toe_topline, None);
    for name in ["throat to ball outer", "toe to ball", "back height"] {
        measures.remove(name);
    }
    let missing = Strips::from_measures(&measures).unwrap_err();
    let expected = ["toe to ball", "throat to ball outer", "back height"];
    assert_eq!(missing, expected);
    let mut case = cases().swap_remove(2);
    case.foot.measures = measures;
    let mut diagnostics = Diagnostics::default();
    assert!(Strips::read(&case.foot, &mut diagnostics).is_none());
    let said = diagnostics.iter().next().unwrap();
    assert!(
        said.message
            .contains("‘toe to ball’, ‘throat to ball outer’, ‘back height’")
    );
}

/// The easing that the strips leave over is told where it is less than nothing.
#[test]
fn a_toe_piece_shorter_than_its_sole_is_told() {
    let case = &cases()[2];
    let mut strips = case.strips.clone();
    for side in &mut strips.sides {
        side.toe_to_ball -= 5.0;
    }
    let mut diagnostics = Diagnostics::default();
    draft_from_strips(&case.foot, &strips, &case.choices, &mut diagnostics).unwrap();
    let told = diagnostics
        .iter()
        .find(|d| d.code == "shoe-strips")
        .unwrap();
    assert!(
        told.message.contains("shorter than the sole"),
        "{}",
        told.message
    );
}

/// Numbers from a seed, evenly between 0 and 1 (SplitMix64, Steele, Lea & Flood 2014).
fn number_of(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *seed;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

/// Strips misread by up to a given share give pieces that can be cut, or words; so do the wildest.
#[test]
fn misread_strips_give_pieces_or_words() {
    let cases = cases();
    let mut seed = 11;
    for (share, least) in [(0.03, 0.9), (0.2, 0.0), (1.5, 0.0)] {
        let mut count = 0;
        for round in 0..60 {
            let case = &cases[round % 4];
            let mut strips = case.strips.clone();
            let mut misread = |value: &mut f64| {
                *value *= 1.0 + share * (2.0 * number_of(&mut seed) - 1.0);
                if share > 1.0 && number_of(&mut seed) < 0.05 {
                    *value = f64::NAN;
                }
            };
            misread(&mut strips.throat_to_toe);
            misread(&mut strips.back_height);
            misread(&mut strips.heel_topline);
            for side in &mut strips.sides {
                misread(&mut side.throat_to_ball);
                misread(&mut side.toe_to_ball);
                misread(&mut side.throat_to_side_mark);
                misread(&mut side.ball_to_side_mark);
                misread(&mut side.throat_to_seam_top);
                misread(&mut side.seam);
            }
            let mut diagnostics = Diagnostics::default();
            let drafted = draft_from_strips(&case.foot, &strips, &case.choices, &mut diagnostics);
            let Some(flat) = drafted else {
                assert!(diagnostics.has_errors(), "{strips:?}");
                continue;
            };
            count += 1;
            for piece in [&flat.toe, &flat.heel] {
                piece.check_simple().unwrap();
                assert!(piece.area() > 0.0, "{strips:?}");
            }
        }
        assert!(f64::from(count) >= least * 60.0, "{share}: {count}");
    }
}

/// A fullness that was chosen is what the toe piece has.
#[test]
fn a_chosen_fullness_is_used() {
    for mut case in cases() {
        let wanted = 0.07 * case.shoe.foot.length;
        case.choices.fullness = Some(wanted);
        let flat = drafted(&case);
        let used = flat.easing.used;
        assert!((used - wanted).abs() < 0.01, "{used}");
        let eased = length(&flat.toe, "sole edge") - length(&flat.soles.sole, "toe edge");
        assert!((eased - wanted).abs() < 0.02, "{eased}");
        assert!(apart(&flat.toe, &case.shoe.toe) < 0.04 * case.shoe.foot.length);
    }
}
