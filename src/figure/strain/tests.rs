#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::design::ClothKind;
use crate::diagnostic::Diagnostics;
use crate::draft::shoe::{ShoeChoices, draft_shoe};
use crate::foot::Foot;
use crate::foot::form::fixture::{known, number};

fn shoes() -> Vec<Shoe> {
    let shoe = |(spec, known): (crate::design::FootSpec, serde_json::Value)| {
        let kind = ClothKind::named(known["cloth"].as_str().unwrap()).unwrap();
        let choices = ShoeChoices {
            ease: number(&known["ease"]),
            ..ShoeChoices::usual(number(&known["foot length"]), kind)
        };
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        draft_shoe(&foot, &choices, &mut diagnostics).unwrap()
    };
    known().into_iter().map(shoe).collect()
}

#[test]
fn the_picture_fits_its_room_and_reads_as_svg() {
    for shoe in shoes() {
        for width in [80.0, 162.0] {
            let figure = strain_picture(&shoe, width);
            assert!(figure.width <= width + 1e-9, "{}", figure.width);
            assert!(figure.scale <= LARGEST);
            let text = String::from_utf8(figure.svg).unwrap();
            let document = roxmltree::Document::parse(&text).unwrap();
            let count = |name: &str| {
                document
                    .descendants()
                    .filter(|n| n.has_tag_name(name))
                    .count()
            };
            // No type, no grey.
            assert_eq!(count("text"), 0);
            assert!(count("clipPath") > 5);
            for fill in document.descendants().filter_map(|n| n.attribute("fill")) {
                assert!(["none", "#ffffff", "#1b1a18"].contains(&fill), "{fill}");
            }
        }
    }
}

/// The domed toe has more cloth than the form round its tip, the conical heel lies flat.
#[test]
fn the_words_tell_where_the_toe_wants_easing() {
    for shoe in shoes() {
        let alt = strain_picture(&shoe, 120.0).alt;
        assert!(alt.contains("wants most easing near the "), "{alt}");
        assert!(alt.contains("The heel piece lies flat."), "{alt}");
        let used = format!("{:.1} mm fuller", shoe.easing.used);
        assert!(alt.contains(&used), "{alt}");
        assert!(alt.len() < 600, "{}", alt.len());
    }
}

/// The regions of all steps together are the piece.
#[test]
fn steps_cover_the_piece_once() {
    for shoe in shoes() {
        for piece in [UpperPiece::Toe, UpperPiece::Heel] {
            let shown = Shown::new(&shoe, piece);
            let sum: f64 = Step::ALL
                .into_iter()
                .map(|step| {
                    let (low, high) = step.limits();
                    share(&shown, low, high)
                })
                .sum();
            assert!((sum - 1.0).abs() < 0.02, "{sum}");
        }
    }
}
