use super::super::{Cloth, Fault, Layout, Reason, faults, greedy_strip, strip};
use super::{Item, Strip, Turns, cloth, copies, effort, hook, rectangle, ring};
use proptest::prelude::*;
use std::collections::BTreeSet;

fn assert_sound(items: &[Item], on: &Strip, layout: &Layout) {
    assert_eq!(
        faults(items, &layout.placed, &Cloth::strip(on.width), on.spacing),
        []
    );
    let copies: BTreeSet<_> = layout.placed.iter().map(|p| (p.item, p.copy)).collect();
    let wanted = items
        .iter()
        .enumerate()
        .flat_map(|(i, item)| (0..item.count).map(move |c| (i, c)));
    assert_eq!(copies, wanted.collect());
    assert_eq!(copies.len(), layout.placed.len());
}

#[test]
fn rectangles_cut_from_one_find_back_into_it() {
    // 60 × 40 mm cut by hand into six; the optimum is known by construction.
    let sizes = [
        (35.0, 25.0),
        (25.0, 10.0),
        (25.0, 15.0),
        (20.0, 15.0),
        (15.0, 15.0),
        (25.0, 15.0),
    ];
    let items: Vec<Item> = sizes
        .iter()
        .map(|&(l, w)| copies(rectangle(l, w), 1, &[0.0, 90.0]))
        .collect();
    let on = cloth(40.001);
    let layout = strip(&items, &on, &effort(400_000)).unwrap();
    assert_sound(&items, &on, &layout);
    assert!(layout.length < 60.01, "{}", layout.length);
}

#[test]
fn two_hooks_interlock_when_one_may_be_turned() {
    let items = [copies(hook(), 2, &[0.0, 180.0])];
    let on = cloth(50.001);
    let layout = strip(&items, &on, &effort(60_000)).unwrap();
    assert_sound(&items, &on, &layout);
    // Turned by 180° one hook's long side lies in the other's crook: 30 + 10 mm.
    assert!(layout.length < 40.01, "{}", layout.length);
}

#[test]
fn only_the_allowed_turns_are_used() {
    let items = [
        copies(hook(), 5, &[30.0, 210.0]),
        copies(rectangle(20.0, 8.0), 4, &[90.0]),
    ];
    let on = cloth(90.0);
    let layout = strip(&items, &on, &effort(30_000)).unwrap();
    assert_sound(&items, &on, &layout);
    for placed in &layout.placed {
        let allowed: &[f64] = if placed.item == 0 {
            &[30.0, 210.0]
        } else {
            &[90.0]
        };
        assert!(
            allowed.contains(&placed.turn_deg) && !placed.mirrored,
            "{placed:?}"
        );
    }
}

#[test]
fn pieces_that_may_lie_face_down_do_so_where_it_helps() {
    // Two right triangles make a rectangle only if one of them is laid face down and turned.
    let triangle = ring(&[(0.0, 0.0), (60.0, 0.0), (0.0, 30.0)]);
    let one_sided = [copies(triangle, 2, &[0.0, 90.0, 270.0])];
    let both_sided = [Item {
        face_down: true,
        ..one_sided[0].clone()
    }];
    let on = cloth(30.001);
    let up = strip(&one_sided, &on, &effort(60_000)).unwrap();
    let either = strip(&both_sided, &on, &effort(60_000)).unwrap();
    assert_sound(&both_sided, &on, &either);
    assert!(up.placed.iter().all(|placed| !placed.mirrored));
    assert!(either.length <= up.length + 1e-6);
}

#[test]
fn a_mirrored_copy_is_the_ring_seen_from_behind() {
    let items = [Item {
        face_down: true,
        ..copies(hook(), 1, &[0.0])
    }];
    let layout = strip(&items, &cloth(50.1), &effort(1000)).unwrap();
    let mut placed = layout.placed[0];
    placed.mirrored = true;
    let expected: Vec<_> = hook()
        .iter()
        .map(|p| kurbo::Point::new(-p.x, p.y) + placed.by)
        .collect();
    assert_eq!(placed.ring(&items), expected);
}

#[test]
fn pieces_keep_the_spacing_from_each_other_and_from_the_edges() {
    let items = [
        copies(hook(), 4, &[0.0, 180.0]),
        copies(rectangle(18.0, 9.0), 6, &[0.0, 90.0]),
    ];
    let on = Strip {
        spacing: 3.0,
        ..cloth(80.0)
    };
    let layout = strip(&items, &on, &effort(60_000)).unwrap();
    assert_sound(&items, &on, &layout);
    let wider = faults(&items, &layout.placed, &Cloth::strip(80.0), 4.5);
    assert!(
        !wider.is_empty(),
        "the layout leaves much more than was asked for"
    );
}

#[test]
fn pieces_of_the_fold_lie_on_it_with_their_own_edge() {
    let half = ring(&[(0.0, 0.0), (0.0, 40.0), (25.0, 30.0), (15.0, 0.0)]);
    let on_fold = Item {
        fold: Some(0),
        count: 2,
        face_down: true,
        ..Item::new(half)
    };
    let items = [on_fold, copies(rectangle(22.0, 12.0), 5, &[0.0, 90.0])];
    let on = Strip {
        spacing: 1.0,
        ..cloth(60.0)
    };
    for layout in [
        strip(&items, &on, &effort(40_000)),
        greedy_strip(&items, &on),
    ] {
        let layout = layout.unwrap();
        assert_sound(&items, &on, &layout);
        for placed in layout.placed.iter().filter(|placed| placed.item == 0) {
            let points = placed.ring(&items);
            assert!(
                points[0].y.abs() < 1e-9 && points[1].y.abs() < 1e-9,
                "{points:?}"
            );
            assert!(points.iter().all(|point| point.y > -1e-9), "{points:?}");
        }
        let mut lifted = layout.placed.clone();
        let first = lifted.iter().position(|placed| placed.item == 0).unwrap();
        lifted[first].by.y += 0.5;
        let found = faults(&items, &lifted, &Cloth::strip(60.0), 1.0);
        assert!(found.contains(&Fault::OffFold(first)), "{found:?}");
    }
}

#[test]
fn every_item_that_cannot_be_packed_is_named_at_once() {
    let bow = ring(&[(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]);
    let items = [
        copies(rectangle(10.0, 10.0), 1, &[0.0]),
        copies(rectangle(10.0, 70.0), 1, &[0.0, 180.0]),
        copies(bow, 1, &[0.0]),
        copies(rectangle(10.0, 10.0), 1, &[]),
        Item {
            fold: Some(9),
            ..Item::new(hook())
        },
        Item {
            fold: Some(2),
            ..Item::new(hook())
        },
        copies(rectangle(70.0, 10.0), 1, &[90.0]),
    ];
    let on = Strip {
        spacing: 2.0,
        ..cloth(60.0)
    };
    let refusals = strip(&items, &on, &effort(1000)).unwrap_err();
    let named: Vec<usize> = refusals.iter().map(|refusal| refusal.item).collect();
    assert_eq!(named, [1, 2, 3, 4, 5, 6]);
    let Reason::TooLarge { needs, has } = refusals[0].why else {
        panic!("{refusals:?}")
    };
    assert!((needs - 74.0).abs() < 0.01 && has == 60.0, "{needs} {has}");
    assert_eq!(refusals[1].why, Reason::NoRing);
    assert_eq!(refusals[2].why, Reason::NoTurn);
    assert_eq!(refusals[3].why, Reason::NoFold);
}

#[test]
fn the_layout_depends_on_seed_and_budget_alone() {
    let items = [
        copies(hook(), 6, &[0.0, 90.0, 180.0, 270.0]),
        Item {
            turns: Turns::Any,
            count: 4,
            ..Item::new(ring(&[(0.0, 0.0), (25.0, 3.0), (12.0, 20.0)]))
        },
    ];
    let packed = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| strip(&items, &cloth(85.0), &effort(40_000)).unwrap())
    };
    let one = packed(1);
    assert_eq!(one, packed(2));
    assert_eq!(one, packed(1));
    let other = strip(
        &items,
        &cloth(85.0),
        &super::Effort {
            seed: 4,
            ..effort(40_000)
        },
    )
    .unwrap();
    assert_ne!(one.placed, other.placed);
}

#[test]
fn nothing_to_pack_needs_no_cloth() {
    let layout = strip(&[], &cloth(100.0), &effort(1000)).unwrap();
    assert!(layout.placed.is_empty() && layout.length == 0.0);
    let none = [copies(hook(), 0, &[0.0])];
    assert!(
        strip(&none, &cloth(100.0), &effort(1000))
            .unwrap()
            .placed
            .is_empty()
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn any_stars_are_packed_soundly_and_no_worse_than_greedily(
        radii in prop::collection::vec(prop::collection::vec(4.0..25.0f64, 3..9), 1..6),
        spacing in prop_oneof![Just(0.0), 0.1..3.0f64],
        simplify in prop_oneof![Just(0.0), 0.05..0.5f64],
    ) {
        let star = |radii: &Vec<f64>| {
            let corner = |(i, radius): (usize, &f64)| {
                let angle = std::f64::consts::TAU * i as f64 / radii.len() as f64;
                kurbo::Point::ORIGIN + kurbo::Vec2::from_angle(angle) * *radius
            };
            copies(radii.iter().enumerate().map(corner).collect(), 2, &[0.0, 180.0])
        };
        let items: Vec<Item> = radii.iter().map(star).collect();
        let on = Strip { width: 75.0, spacing, simplify };
        let layout = strip(&items, &on, &effort(6_000)).unwrap();
        let greedy = greedy_strip(&items, &on).unwrap();
        prop_assert_eq!(faults(&items, &layout.placed, &Cloth::strip(75.0), spacing), vec![]);
        prop_assert_eq!(faults(&items, &greedy.placed, &Cloth::strip(75.0), spacing), vec![]);
        prop_assert!(layout.length <= greedy.length + 1e-6);
    }
}
