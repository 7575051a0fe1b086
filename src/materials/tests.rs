//! Cloth for designs of plain shapes, whose layouts can be reckoned by hand.

use super::{Amount, Bought, Layout};
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::pipeline::{Computed, Options, compute};
use kurbo::{Point, Shape};

fn computed(cloth: &str, pieces: &str) -> (Option<Computed>, Vec<String>) {
    let files = [("design.yaml", text(cloth, pieces))];
    computed_of(DesignFolder::from_memory("test", files))
}

fn text(cloth: &str, pieces: &str) -> String {
    format!(
        "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\nsizes:\n  one: {{title: One size}}\n\
         {cloth}\npieces:\n{pieces}\n"
    )
}

fn computed_of(folder: DesignFolder) -> (Option<Computed>, Vec<String>) {
    let mut diagnostics = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut diagnostics);
    let codes = diagnostics
        .iter()
        .filter(|d| d.level == crate::diagnostic::Level::Error);
    (made, codes.map(|d| d.code.to_string()).collect())
}

fn bought(cloth: &str, pieces: &str) -> Vec<Bought> {
    let (made, errors) = computed(cloth, pieces);
    assert_eq!(errors, [""; 0]);
    made.expect("sound").materials.bought
}

fn square(side: u32, cut: &str) -> String {
    format!(
        "  square: {{rectangle: {{width: {side} mm, height: {side} mm}}, allowance: none, cut: {{c: {cut}}}}}"
    )
}

fn one(bought: &[Bought]) -> &Bought {
    let [only] = bought else {
        panic!("one cloth in one size: {bought:?}");
    };
    only
}

fn needed(bought: &Bought) -> f64 {
    match bought.amount {
        Amount::Length { needed_mm, .. } => needed_mm,
        Amount::Sheets { .. } => panic!("a length"),
    }
}

/// The boxes of all pieces as they lie.
fn boxes(layout: &Layout) -> Vec<kurbo::Rect> {
    let laid = layout.laid.iter().flat_map(|laid| &laid.placed);
    laid.map(|p| (p.onto * &layout.lay.pieces[p.piece].path).bounding_box())
        .collect()
}

#[test]
fn four_squares_on_twice_their_width_need_twice_their_length() {
    // by hand: 2 x 2 squares of 50 mm on 100 mm: 100 mm, which is 10 cm, or 1/8 yd of 114.3 mm
    let cloth = "cloth: {c: {name: felt, width: 100 mm, spacing: none}}";
    let bought = bought(cloth, &square(50, "4"));
    let only = one(&bought);
    assert!((needed(only) - 100.0).abs() < 0.1, "{}", needed(only));
    assert_eq!(only.text, "10 cm (1\u{2044}8 yd)");
    // 4 x 2500 mm² of 100 x 100 mm
    assert!(
        (only.used_percent - 100.0).abs() < 0.2,
        "{}",
        only.used_percent
    );
}

#[test]
fn selvedges_spacing_and_shrinkage_are_taken_off_before_the_pieces_are_laid() {
    // by hand: 124 mm less twice 10 mm leave 104 mm, on which 3 + 2 squares of 32 mm and 2 mm between
    // and at the edges need 2 + 32 + 2 + 32 + 2 = 70 mm; at 20 % along, 70 / 0.8 = 87.5 mm are bought
    let cloth = "cloth: {c: {name: felt, width: 124 mm, selvedge: 10 mm, spacing: 2 mm, \
                 shrinkage: {along: 20 %}}}";
    let bought = bought(cloth, &square(32, "5"));
    let only = one(&bought);
    assert!((needed(only) - 87.5).abs() < 1.0, "{}", needed(only));
    let all = boxes(&only.layout);
    assert_eq!(all.len(), 5);
    assert!(
        all.iter()
            .all(|b| b.y0 >= 10.0 - 1e-6 && b.y1 <= 114.0 + 1e-6),
        "{all:?}"
    );
}

#[test]
fn a_sheet_is_one_sheet_and_holds_what_its_area_allows() {
    // by hand: 6 squares of 40 mm in a row of 3 and one of 3 on 120 x 80 mm; 2 of them a time, 3 times
    let cloth = "cloth: {c: {name: felt, sheet: 120 mm x 80 mm, spacing: none}}\nkits: [3, 4]";
    let bought = bought(cloth, &square(40, "2"));
    let only = one(&bought);
    assert_eq!(only.amount, Amount::Sheets { count: 1 });
    assert_eq!(only.per_sheet, Some(3));
    let kits: Vec<&str> = only.kits.iter().map(|kit| kit.text.as_str()).collect();
    assert_eq!(kits, ["1 sheet", "2 sheets"]);
    // two squares of 40 mm in a column leave 80 x 80 mm
    let [Some([along, across])] = only.left_of_each_mm[..] else {
        panic!("a rest: {:?}", only.left_of_each_mm);
    };
    assert!(
        (along - 80.0).abs() < 0.5 && (across - 80.0).abs() < 0.5,
        "{along} {across}"
    );
}

#[test]
fn of_several_sheets_it_is_said_what_is_left_of_each() {
    // by hand: 6 squares of 40 mm fill a sheet of 120 x 80 mm, the seventh leaves 80 x 80 mm of the second
    let cloth = "cloth: {c: {name: felt, sheet: 120 mm x 80 mm, spacing: none}}";
    let bought = bought(cloth, &square(40, "7"));
    let [None, Some([along, across])] = one(&bought).left_of_each_mm[..] else {
        panic!("a rest: {:?}", one(&bought).left_of_each_mm);
    };
    assert!(
        (along - 80.0).abs() < 0.5 && (across - 80.0).abs() < 0.5,
        "{along} {across}"
    );
}

#[test]
fn on_a_double_lay_a_piece_lies_at_the_fold_and_a_pair_is_cut_at_once() {
    let cloth = "cloth: {c: {name: linen, kind: woven, width: 300 mm, selvedge: none, lay: double, spacing: none}}";
    let pieces = "  half: {rectangle: {width: 60 mm, height: 90 mm}, allowance: none, on fold: left, cut: {c: 1}}\n  \
                  side: {rectangle: {width: 50 mm, height: 70 mm}, allowance: none, grain: lengthwise, cut: {c: 1 pair}}";
    let bought = bought(cloth, pieces);
    let layout = &one(&bought).layout;
    assert!(layout.double);
    let [half, side] = &layout.lay.pieces[..] else {
        panic!("two pieces: {:?}", layout.lay.pieces);
    };
    assert!(half.on_fold && !side.on_fold);
    assert_eq!(
        (half.gives, half.count, side.gives, side.count),
        (1, 1, 2, 1)
    );
    let all = boxes(layout);
    assert!(all[0].y0.abs() < 1e-6, "at the fold: {:?}", all[0]);
    // its fold edge, 90 mm long, lies along the cloth
    assert!((all[0].width() - 90.0).abs() < 1e-6 && (all[0].height() - 60.0).abs() < 1e-6);
    // by hand: 90 + 0 mm of length beside or below each other on 150 mm: 60 + 50 = 110 mm
    assert!((needed(one(&bought)) - 90.0).abs() < 0.5);
}

#[test]
fn on_a_single_lay_a_piece_on_the_fold_is_opened_out() {
    let cloth =
        "cloth: {c: {name: linen, kind: woven, width: 300 mm, selvedge: none, spacing: none}}";
    let pieces = "  half: {rectangle: {width: 60 mm, height: 90 mm}, allowance: {all: 10 mm, left: none}, \
                  on fold: left, grain: lengthwise, cut: {c: 1}}";
    let bought = bought(cloth, pieces);
    let piece = &one(&bought).layout.lay.pieces[0];
    assert!(piece.opened_at.is_some());
    // (60 + 10) x 2 by 90 + 2 x 10 mm, its grain along the cloth
    let size = piece.path.bounding_box().size();
    assert!(
        (size.width - 110.0).abs() < 1e-6 && (size.height - 140.0).abs() < 1e-6,
        "{size:?}"
    );
    assert!((piece.path.area().abs() - 110.0 * 140.0).abs() < 1e-6);
}

#[test]
fn grain_lies_along_the_cloth_and_turned_pieces_are_turned_over_where_sides_differ() {
    let pieces = "  leg: {outline: {start: [0 mm, 0 mm], edges: [{name: top, to: [60 mm, 0 mm]}, \
                  {name: outside, to: [40 mm, 80 mm]}, {name: hem, to: [0 mm, 80 mm]}, \
                  {name: inside, to: [0 mm, 0 mm]}]}, allowance: none, grain: lengthwise, cut: {c: 1 pair}}";
    for (kind, entries) in [("woven", 2), ("wool felt", 1)] {
        let cloth = format!("cloth: {{c: {{name: cloth, kind: {kind}, width: 300 mm}}}}");
        let bought = bought(&cloth, pieces);
        let layout = &one(&bought).layout;
        assert_eq!(layout.lay.pieces.len(), entries, "{kind}");
        for placed in &layout.laid[0].placed {
            let piece = &layout.lay.pieces[placed.piece];
            let [from, to] = piece.grain.expect("a grain line").map(|p| placed.onto * p);
            if kind == "woven" {
                assert!(
                    (to - from).cross(kurbo::Vec2::new(1.0, 0.0)).abs() < 1e-6,
                    "along the cloth"
                );
            }
        }
    }
}

#[test]
fn a_piece_may_lie_off_the_grain_by_as_much_as_it_says() {
    // by hand: a strip of 100 x 10 mm turned by t needs 100 sin t + 10 cos t across: on a cloth 15 mm
    // wide it lies at most 2.9 degrees off, so that it lies straight or by 2.5 degrees
    let pieces = |within: &str| {
        format!(
            "  strip: {{rectangle: {{width: 10 mm, height: 100 mm}}, allowance: none, \
        grain: lengthwise, {within} cut: {{c: 1}}}}"
        )
    };
    let cloth =
        "cloth: {c: {name: lawn, kind: woven, width: 15 mm, selvedge: none, spacing: none}}";
    let turns = |within: &str| {
        one(&bought(cloth, &pieces(within))).layout.lay.pieces[0]
            .turns
            .clone()
    };
    assert_eq!(turns(""), [0.0, 180.0]);
    let free = turns("grain within: 5 deg,");
    assert_eq!(
        free,
        [0.0, -5.0, -2.5, 2.5, 5.0, 180.0, 175.0, 177.5, 182.5, 185.0]
    );
    assert_eq!(
        computed(cloth, &pieces("grain within: 50 deg,")).1,
        ["out-of-range"]
    );
}

#[test]
fn a_piece_wider_than_its_cloth_is_an_error() {
    let cloth = "cloth: {c: {name: ribbon, kind: woven, width: 60 mm, selvedge: none}}";
    let (_, errors) = computed(cloth, &square(90, "1"));
    assert_eq!(errors, ["cloth-too-small"]);
}

#[test]
fn a_width_that_is_too_narrow_is_left_out_where_another_holds_the_piece() {
    let cloth = "cloth: {c: {name: lawn, kind: woven, width: [60 mm, 1 m], selvedge: none}}";
    let bought = bought(cloth, &square(90, "1"));
    assert!(one(&bought).sold.contains("100 cm"), "{bought:?}");
}

#[test]
fn a_cloth_that_shrinks_is_washed_first() {
    let cloth = "cloth: {c: {name: lawn, kind: woven, width: 1 m, shrinkage: {along: 6 %}}}";
    let (made, _) = computed(cloth, &square(90, "1"));
    let facts = made.expect("sound").materials.cloth[0].facts.join(", ");
    assert!(facts.contains("6 %") && facts.contains("wash"), "{facts}");
}

#[test]
fn amounts_are_never_less_than_the_drawn_layout_needs() {
    let cloth = "cloth:\n  c: {name: felt, sheet: 150 mm x 90 mm}\n  d: {name: lawn, kind: woven, width: [60 cm, 1 m], shrinkage: 4 %}";
    let pieces = "  a: {ellipse: {width: 61 mm, height: 33 mm}, allowance: 4 mm, grain: lengthwise, cut: {c: 1 pair, d: 3}}\n  \
                  b: {rectangle: {width: 90 mm, height: 21 mm}, allowance: 4 mm, cut: {c: 2, d: 1 pair}}";
    for bought in bought(cloth, pieces) {
        let layout = &bought.layout;
        let lies: u32 = layout.lay.pieces.iter().map(|p| p.count).sum();
        let placed: usize = layout.laid.iter().map(|laid| laid.placed.len()).sum();
        assert_eq!(placed as u32, lies);
        for laid in &layout.laid {
            let cloth = super::layouts::bounds(&laid.outline).inflate(0.011, 0.011);
            for p in &laid.placed {
                let lies = (p.onto * &layout.lay.pieces[p.piece].path).bounding_box();
                assert!(cloth.contains_rect(lies), "{lies:?} on {cloth:?}");
                assert!(laid.used.inflate(0.011, 0.011).contains_rect(lies));
            }
        }
        match bought.amount {
            Amount::Sheets { count } => assert_eq!(count as usize, layout.laid.len()),
            Amount::Length {
                metric_mm,
                yards_mm,
                ..
            } => {
                let washed = super::layouts::bounds(&layout.laid[0].outline).width();
                assert!(washed / 0.96 <= metric_mm + 1e-6 && washed / 0.96 <= yards_mm + 1e-6);
            }
        }
    }
}

#[test]
fn a_hide_is_cut_within_its_outline() {
    // an L of 100 x 100 mm with a corner of 50 x 50 mm missing: by hand, three squares of 44 mm fit
    // (one in each quarter that is there), so that four need two hides
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"100mm\" \
                   viewBox=\"0 0 100 100\"><path id=\"skin\" d=\"M0 0H50V50H100V100H0Z\"/></svg>";
    let cloth = "cloth: {c: {name: leather, spacing: 1 mm, hide: {file: skin.svg, path: skin}}}";
    for (count, hides) in [("3", 1), ("4", 2)] {
        let files = [
            ("design.yaml", text(cloth, &square(44, count))),
            ("skin.svg", drawing.to_string()),
        ];
        let (made, errors) = computed_of(DesignFolder::from_memory("test", files));
        assert_eq!(errors, [""; 0]);
        let bought = made.expect("sound").materials.bought;
        assert_eq!(one(&bought).amount, Amount::Sheets { count: hides });
        for b in boxes(&one(&bought).layout) {
            assert!(b.x1 <= 50.0 || b.y0 >= 50.0, "in the missing corner: {b:?}");
        }
    }
}

#[test]
fn prices_are_shared_by_what_comes_out_of_a_sheet() {
    // by hand: 3 of a sheet at 1.50: 0.50 each used, 1.50 paid for one, 3.00 for four
    let cloth = "cloth: {c: {name: felt, sheet: 120 mm x 80 mm, spacing: none, price: 1.50 EUR per sheet, \
                 weight: 250 g/m2}}\nkits: [4]";
    let (made, errors) = computed(cloth, &square(40, "2"));
    assert_eq!(errors, [""; 0]);
    let materials = made.expect("sound").materials;
    let cost = &materials.costs[0];
    let found = [
        cost.used,
        cost.bought,
        cost.kits[0].bought,
        cost.kits[0].each,
    ];
    let wanted = [0.5, 1.5, 3.0, 0.75];
    assert!(
        found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9),
        "{found:?}"
    );
    // 2 x 1600 mm² at 250 g/m²
    assert!((materials.weights[0].grams - 0.8).abs() < 1e-9);
}

#[test]
fn off_the_roll_what_is_left_over_in_one_piece_costs_nothing() {
    // by hand: two squares of 50 mm side by side in 100 mm of a cloth 500 mm wide: a tenth of 1 EUR
    let cloth = "cloth: {c: {name: felt, width: 500 mm, spacing: none, price: 10 EUR per m}}";
    let (made, errors) = computed(cloth, &square(50, "2"));
    assert_eq!(errors, [""; 0]);
    let cost = &made.expect("sound").materials.costs[0];
    assert!(
        (cost.used - 0.1).abs() < 1e-3 && (cost.bought - 1.0).abs() < 1e-9,
        "{cost:?}"
    );
}

#[test]
fn trims_and_thread_are_added_to_the_cost_of_the_cloth() {
    // by hand: 0.50 of felt, 2 buttons at 0.20: 0.90 used, 1.50 + 0.40 paid; of 4: 3.00 + 4 x 0.40
    let cloth = "cloth: {c: {name: felt, sheet: 120 mm x 80 mm, spacing: none, price: 1.50 EUR per sheet}}\n\
                 kits: [4]\n\
                 trims: {button: {kind: button, width: 12 mm, count: 2, price: 0.20 EUR each, weight: 0.5 g each}}";
    let (made, errors) = computed(cloth, &square(40, "2"));
    assert_eq!(errors, [""; 0]);
    let materials = made.expect("sound").materials;
    let cost = &materials.costs[0];
    let found = [
        cost.used,
        cost.bought,
        cost.kits[0].bought,
        cost.kits[0].each,
    ];
    let wanted = [0.9, 1.9, 4.6, 1.15];
    assert!(
        found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9),
        "{found:?}"
    );
    assert!((materials.weights[0].grams - 1.0).abs() < 1e-9);
    assert_eq!(materials.weights[0].without_weight, ["felt"]);
}

#[test]
fn prices_that_cannot_be_added_or_do_not_fit_the_cloth_are_errors() {
    let two = "cloth:\n  c: {name: felt, sheet: 120 mm x 80 mm, price: 1.50 EUR per sheet}\n  \
               d: {name: lawn, width: 1 m, price: 9 USD per m}";
    assert_eq!(computed(two, &square(40, "1")).1, ["several-currencies"]);
    let wrong = "cloth: {c: {name: felt, sheet: 120 mm x 80 mm, price: 9 EUR per m}}";
    assert_eq!(computed(wrong, &square(40, "1")).1, ["price-unit"]);
}

#[test]
fn the_ring_of_a_piece_follows_its_cut_line() {
    let cloth = "cloth: {c: {name: felt, width: 1 m}}";
    let bought = bought(
        cloth,
        "  a: {ellipse: {width: 61 mm, height: 33 mm}, allowance: none, cut: {c: 1}}",
    );
    let piece = &one(&bought).layout.lay.pieces[0];
    let ring = piece.ring();
    let next = ring.iter().cycle().skip(1);
    let cross = ring
        .iter()
        .zip(next)
        .map(|(a, b): (&Point, &Point)| a.to_vec2().cross(b.to_vec2()));
    // area of an ellipse: pi a b
    let wanted = std::f64::consts::PI * 30.5 * 16.5;
    let area = cross.sum::<f64>().abs() / 2.0;
    assert!((area - wanted).abs() / wanted < 2e-3, "{area} {wanted}");
}
