use super::super::{Cloth, Layout, Reason, Sheet, Sheets, Stock, faults, greedy_sheets, sheets};
use super::{Item, copies, effort, hook, rectangle, ring};
use kurbo::Point;

fn on(stock: Stock, spacing: f64) -> Sheets {
    Sheets {
        stock,
        spacing,
        simplify: 0.0,
    }
}

fn assert_sound(items: &[Item], layouts: &[Layout], sheet: &Sheet, spacing: f64) {
    let cloth = Cloth {
        outline: sheet.outline.clone(),
        holes: sheet.holes.clone(),
        fold: None,
    };
    for layout in layouts {
        assert_eq!(faults(items, &layout.placed, &cloth, spacing), []);
    }
    let count: usize = items.iter().map(|item| item.count).sum();
    assert_eq!(
        layouts
            .iter()
            .map(|layout| layout.placed.len())
            .sum::<usize>(),
        count
    );
}

/// A hide of no particular shape: legs, a hollow neck, a flank; 300 × 200 mm or so.
fn hide() -> Sheet {
    let corners = [
        (20.0, 10.0),
        (90.0, 0.0),
        (130.0, 30.0),
        (200.0, 20.0),
        (280.0, 0.0),
        (300.0, 50.0),
        (260.0, 90.0),
        (290.0, 150.0),
        (280.0, 200.0),
        (180.0, 170.0),
        (90.0, 200.0),
        (10.0, 180.0),
        (40.0, 120.0),
        (0.0, 60.0),
    ];
    let outline = corners.map(Point::from).to_vec();
    Sheet {
        outline,
        holes: vec![ring(&[(140.0, 90.0), (160.0, 95.0), (150.0, 115.0)])],
    }
}

/// Without the search for circles within it, which would take minutes.
#[test]
fn a_piece_of_very_many_points_that_no_sheet_holds_is_refused() {
    let round = (0..20_000).map(|at| {
        let angle = f64::from(at) / 20_000.0 * std::f64::consts::TAU;
        Point::new(1e6 * angle.cos(), 1e6 * angle.sin())
    });
    let items = [copies(round.collect(), 1, &[0.0])];
    let sheet = on(Stock::Equal(Sheet::rectangle(300.0, 200.0)), 1.0);
    let refused = sheets(&items, &sheet, &effort(1_000)).expect_err("no room");
    let [refusal] = &refused[..] else {
        panic!("{refused:?}");
    };
    assert!(
        matches!(refusal.why, Reason::TooLarge { needs, .. } if (needs - 2e6).abs() < 10.0),
        "{refusal:?}"
    );
}

#[test]
fn squares_fill_sheets_to_the_last_corner() {
    // Nine squares of 10 mm on a sheet of 30 × 30: common arithmetic says 2 sheets for 18.
    let items = [copies(rectangle(10.0, 10.0), 18, &[0.0])];
    let sheet = Sheet::rectangle(30.001, 30.001);
    let layouts = sheets(
        &items,
        &on(Stock::Equal(sheet.clone()), 0.0),
        &effort(20_000),
    )
    .unwrap();
    assert_eq!(layouts.len(), 2);
    assert_sound(&items, &layouts, &sheet, 0.0);
}

#[test]
fn the_search_does_with_fewer_sheets_than_greedy_placement() {
    // Two sheets of 100 × 60, each cut by hand into five rectangles: 2 is the optimum.
    let one = [
        (60.0, 35.0),
        (40.0, 45.0),
        (25.0, 25.0),
        (35.0, 25.0),
        (40.0, 15.0),
    ];
    let two = [
        (30.0, 60.0),
        (45.0, 20.0),
        (25.0, 40.0),
        (45.0, 40.0),
        (25.0, 20.0),
    ];
    let cut = |&(l, w): &(f64, f64)| copies(rectangle(l, w), 1, &[0.0]);
    let items: Vec<Item> = one.iter().chain(&two).map(cut).collect();
    let sheet = Sheet::rectangle(100.01, 60.01);
    let stock = on(Stock::Equal(sheet.clone()), 0.0);
    let greedy = greedy_sheets(&items, &stock).unwrap();
    assert_sound(&items, &greedy, &sheet, 0.0);
    let layouts = sheets(&items, &stock, &effort(1_500_000)).unwrap();
    assert_sound(&items, &layouts, &sheet, 0.0);
    assert_eq!((greedy.len(), layouts.len()), (3, 2));
}

#[test]
fn the_last_sheet_is_used_from_one_end_only() {
    let items = [copies(hook(), 9, &[0.0, 180.0])];
    let sheet = Sheet::rectangle(120.0, 105.0);
    let layouts = sheets(
        &items,
        &on(Stock::Equal(sheet.clone()), 0.0),
        &effort(200_000),
    )
    .unwrap();
    assert_sound(&items, &layouts, &sheet, 0.0);
    // Two hooks need 40 × 50 mm, twelve fit on the sheet.
    assert_eq!(layouts.len(), 1);
    assert!(layouts[0].length < 100.01, "{}", layouts[0].length);
}

#[test]
fn pieces_stay_on_a_hide_and_off_its_holes() {
    let sheet = hide();
    let items = [
        copies(hook(), 14, &[0.0, 90.0, 180.0, 270.0]),
        copies(rectangle(45.0, 25.0), 8, &[0.0, 90.0]),
    ];
    for spacing in [0.0, 2.0] {
        let stock = on(Stock::Equal(sheet.clone()), spacing);
        let layouts = sheets(&items, &stock, &effort(200_000)).unwrap();
        assert_sound(&items, &layouts, &sheet, spacing);
        assert_eq!(layouts.len(), 1);
        let greedy = greedy_sheets(&items, &stock).unwrap();
        assert_sound(&items, &greedy, &sheet, spacing);
        assert!(greedy.len() > 1 || greedy[0].length >= layouts[0].length - 1e-6);
    }
}

#[test]
fn given_sheets_are_taken_in_order_and_may_be_too_few() {
    let items = [copies(rectangle(40.0, 40.0), 3, &[0.0])];
    let small = Sheet::rectangle(50.0, 50.0);
    let given = |count: usize| on(Stock::Given(vec![small.clone(); count]), 1.0);
    assert_eq!(sheets(&items, &given(4), &effort(3000)).unwrap().len(), 3);
    let refusals = sheets(&items, &given(2), &effort(3000)).unwrap_err();
    assert_eq!(refusals.len(), 1);
    assert_eq!((refusals[0].item, refusals[0].why), (0, Reason::NoRoom));
}

#[test]
fn a_piece_larger_than_every_sheet_is_named() {
    let items = [
        copies(rectangle(10.0, 10.0), 1, &[0.0]),
        copies(rectangle(80.0, 80.0), 1, &[0.0]),
    ];
    let stock = on(Stock::Equal(Sheet::rectangle(100.0, 60.0)), 0.0);
    let refusals = sheets(&items, &stock, &effort(1000)).unwrap_err();
    assert_eq!(
        refusals
            .iter()
            .map(|refusal| refusal.item)
            .collect::<Vec<_>>(),
        [1]
    );
}
