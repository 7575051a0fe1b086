//! The fullness of the toe: drawn up on its threads, and pressed away.

use super::super::seam::Seam;
use super::super::{Shoe, ShoeInTheMaking, State, brim, part, parts};
use super::{LENGTHS, count, drawing, form, shoe_look, with_shoe, work};

/// What is pressed does not ripple again: its threads stay in, and it lies even on the sole.
#[test]
fn a_pressed_toe_ripples_no_more() {
    let form = form(70.0);
    let kept = ShoeInTheMaking::new(&form, shoe_look(70.0), work(70.0));
    let [rippled, even] = [false, true].map(|pressed| {
        let shoe = kept.shoe(&kept.look, pressed);
        let [outer, inner] = shoe.seam.ease;
        let brim = parts::brim(&shoe);
        let heights = Seam::places([outer, inner], 400);
        let heights = heights.iter().map(|p| brim.point(*p, 1.0).z);
        let (low, high) = heights.fold((f64::MAX, 0.0), |(low, high), z| {
            (f64::min(low, z), f64::max(high, z))
        });
        high - low
    });
    assert!(rippled > 0.1 * work(70.0).allowance && even < 1e-9);
    with_shoe(70.0, |shoe| {
        let threads = |state| count(&drawing(shoe, state, 62.0), part::THREADS);
        assert_eq!(threads(State::Upper), 0);
        assert!(threads(State::Pressed) > 0);
        // pinned to the sole they are still in, if they were run in
        assert_eq!(threads(State::UpperOnTheSole), 0);
        let pinned = drawing(
            &Shoe {
                pressed: true,
                ..*shoe
            },
            State::UpperOnTheSole,
            62.0,
        );
        assert!(count(&pinned, part::THREADS) > 0);
    });
}

/// Beside a step, 62 mm wide, what is drawn up ripples by more than its line is wide and has folds; what
/// is pressed has neither.
#[test]
fn drawn_up_and_pressed_can_be_told_apart_beside_a_step() {
    for length in LENGTHS {
        with_shoe(length, |shoe| {
            let seen = [State::Easing, State::Pressed].map(|state| drawing(shoe, state, 62.0));
            let folds = seen.each_ref().map(|seen| count(seen, part::PUCKERS));
            assert!(folds[0] >= 5 && folds[1] == 0, "{length}: {folds:?}");
            let rises = [1.0, 0.0].map(|drawn_up| {
                let brim = parts::hanging(shoe, drawn_up);
                let places = [0.0, 0.5 * brim::WAVE * length];
                let [crest, valley] = places.map(|place| brim.point(place, 1.0).z);
                (crest - valley) * seen[0].scale
            });
            assert!(rises[0] > 0.6, "{length}: {rises:?} mm on paper");
            assert!(rises[1].abs() < 1e-9, "{length}: {rises:?}");
        });
    }
}
