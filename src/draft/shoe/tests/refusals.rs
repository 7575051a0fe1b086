//! What cannot be drafted is told in words.

use super::*;
use crate::design::ClothKind;
use crate::diagnostic::Level;
use crate::foot::form::fixture::known;

fn told(choose: impl Fn(&mut ShoeChoices)) -> (Option<Shoe>, Diagnostics) {
    let (spec, known) = known().swap_remove(2);
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    let mut choices = choices(&known);
    choices.fineness = 30.0;
    choose(&mut choices);
    let shoe = draft_shoe(&foot, &choices, &mut diagnostics);
    (shoe, diagnostics)
}

fn refused(choose: impl Fn(&mut ShoeChoices), words: &str) {
    let (shoe, diagnostics) = told(choose);
    let said = messages(&diagnostics);
    assert!(shoe.is_none(), "{words}: drafted");
    assert!(diagnostics.has_errors());
    assert!(said.iter().any(|m| m.contains(words)), "{words}: {said:?}");
}

#[test]
fn what_is_in_the_way_is_told() {
    refused(
        |c| c.cut.throat = 66.5,
        "The throat must lie between 29 and 61 mm from the heel",
    );
    refused(|c| c.cut.throat = f64::NAN, "The throat must lie between");
    refused(
        |c| c.cut.side_heights = [21.0, 11.0],
        "side of the topline (21.0 mm) must be lower than the throat (18.",
    );
    refused(
        |c| c.corrections.heel_clip = -3.0,
        "There is not enough ease at the heel",
    );
    refused(|c| c.ease = f64::NAN, "is no outline");
    refused(|c| c.cut.side_marks = [45.0, 31.0], "inner side seam");
    refused(|c| c.cut.side_marks = [f64::NAN, 31.0], "inner side seam");
    refused(|c| c.cut.throat_angle = 0.0, "The throat angle of 0°");
    refused(|c| c.cut.low_point = 44.0, "The low point of the topline");
    refused(|c| c.cut.side_heights = [2.0; 2], "comes down to the sole");
    refused(
        |c| c.fullness = Some(20.0),
        "The flat toe piece folds over itself",
    );
    refused(
        |c| c.corrections.take_in = [60.0, 0.0],
        "cannot be taken in by 60.0 mm",
    );
}

#[test]
fn all_of_it_is_told_at_once() {
    let (_, diagnostics) = told(|c| {
        c.cut.side_heights = [21.0, 22.0];
    });
    assert_eq!(
        diagnostics.count(Level::Error),
        2,
        "{:?}",
        messages(&diagnostics)
    );
}

#[test]
fn what_the_designer_should_know_is_told() {
    let warned = |choose: fn(&mut ShoeChoices), words: &str| {
        let (shoe, diagnostics) = told(choose);
        let said = messages(&diagnostics);
        assert!(shoe.is_some(), "{words}: {said:?}");
        assert!(said.iter().any(|m| m.contains(words)), "{words}: {said:?}");
    };
    warned(
        |c| c.cloth = UpperCloth::usual(ClothKind::FauxLeather),
        "this cloth eases 2.2 mm",
    );
    warned(|c| c.fullness = Some(9.0), "wool felt eases 7.2 mm");
    warned(|c| c.cut.back_height = 26.5, "near the bend of the ankle");
    warned(|c| c.allowance = 15.0, "The throat is rounded with about");
    warned(|c| c.trim = 11.0, "The stiffener is less than 4 mm wide");
    warned(
        |c| c.trim = 20.0,
        "leaves nothing, or two parts, of the sole",
    );
    warned(
        |c| c.corrections.heel_clip = 1.5,
        "A heel held closer by 1.5 mm",
    );
    warned(|c| c.ease = 0.8, "Between the foot and the cloth");
    warned(|c| c.ease = 0.5, "The foot stands out of the shoe");
}
