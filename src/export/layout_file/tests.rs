use crate::design::Design;
use crate::diagnostic::Diagnostics;
use crate::export::cut_files;
use crate::export::fixture::{Read, length};
use crate::folder::DesignFolder;
use crate::pipeline::{Computed, Options, compute};
use kurbo::{BezPath, Shape};

fn computed(cloth: &str, more: &str) -> Computed {
    let text = format!(
        "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\nsizes:\n  one: {{title: One size}}\n\
         cloth:\n  c: {{name: felt, {cloth}}}\n{more}\n"
    );
    let folder = DesignFolder::from_memory("test", [("design.yaml", text)]);
    let mut said = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut said);
    assert!(!said.has_errors());
    made.expect("sound")
}

/// The drawing of this name.
fn drawing(made: &Computed, name: &str) -> Read {
    let design: &Design = &made.design;
    let files = cut_files(design, &made.sizes, &made.materials.bought);
    let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
    let file = files.iter().find(|file| file.name == name);
    Read::of(
        &file
            .unwrap_or_else(|| panic!("{name} among {names:?}"))
            .text,
    )
}

const NO_SQUARE: &str = "cutting: {reference square: none}";

#[test]
fn neighbours_without_space_between_them_share_their_lines() {
    let pieces = format!(
        "pieces:\n  square: {{rectangle: {{width: 50 mm, height: 50 mm}}, allowance: none, cut: {{c: 4}}}}\n\
         {NO_SQUARE}"
    );
    let made = computed("sheet: 100 mm x 100 mm, spacing: none", &pieces);
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    assert_eq!(read.view, [0.0, 0.0, 100.0, 100.0]);
    // two rows of two: three lines across and three down, each of 100 mm, where four squares have 800 mm
    let cut = length(&read.group("cut").outlines);
    assert!((cut - 600.0).abs() < 0.1, "{cut}");
    // all of the sheet's border is cut
    assert!(read.groups.iter().all(|(name, _)| name != "guide"));
}

#[test]
fn every_piece_is_drawn_where_it_lies_and_the_border_is_only_looked_at() {
    let pieces = format!(
        "pieces:\n  flag:\n    outline:\n      start: [0 mm, 0 mm]\n      edges:\n        \
         - {{name: top, to: [60 mm, 0 mm]}}\n        - {{name: slope, to: [0 mm, 30 mm]}}\n        \
         - {{name: left, to: [0 mm, 0 mm]}}\n    allowance: none\n    cut: {{c: 1 pair}}\n{NO_SQUARE}"
    );
    let made = computed("sheet: 9 in x 12 in, sides: right and wrong", &pieces);
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    let outlines = &read.group("cut").outlines;
    let [one, other] = outlines.as_slice() else {
        panic!("a pair");
    };
    for outline in outlines {
        // half of 60 x 30 mm
        assert!((outline.area().abs() - 900.0).abs() < 0.01);
    }
    // one is the mirror image of the other: it runs round the other way
    assert!(one.area() * other.area() < 0.0);
    let border = length(&read.group("guide").paths);
    assert!((border - 2.0 * (304.8 + 228.6)).abs() < 1e-3, "{border}");
    // they lie where the layout has them, on the sheet
    let sheet = kurbo::Rect::new(0.0, 0.0, 304.8, 228.6).inflate(0.02, 0.02);
    let layout = &made.materials.bought[0].layout;
    for (placed, outline) in layout.laid[0].placed.iter().zip(outlines) {
        let wanted = (placed.onto * &layout.lay.pieces[placed.piece].path).bounding_box();
        let found = outline.bounding_box();
        assert!((wanted.x0 - found.x0).abs() < 1e-4 && (wanted.y1 - found.y1).abs() < 1e-4);
        assert!(sheet.contains_rect(found), "{found:?}");
    }
}

#[test]
fn on_the_roll_a_half_is_opened_out_and_on_the_fold_it_is_not() {
    let pieces = format!(
        "pieces:\n  half:\n    rectangle: {{width: 30 mm, height: 60 mm}}\n    on fold: left\n    \
         allowance: none\n    grain: lengthwise\n    lines: [{{kind: fold, through: [[5 mm, 10 mm], [25 mm, 10 mm]]}}]\n    \
         cut: {{c: 1}}\n{NO_SQUARE}"
    );
    let single = computed("width: 200 mm, grain: yes", &pieces);
    let read = drawing(&single, "cut/one/c-roll.svg");
    let cut = &read.group("cut").outlines;
    assert!((cut[0].area().abs() - 3600.0).abs() < 0.01);
    assert!((length(&read.group("score").paths) - 40.0).abs() < 1e-3);
    // its upright grain lies along the cloth
    let bounds = cut[0].bounding_box();
    assert!((bounds.width() - 60.0).abs() < 1e-3);
    let double = computed("width: 200 mm, grain: yes, lay: double", &pieces);
    let read = drawing(&double, "cut/one/c-roll.svg");
    // three sides of the half; the fourth is the fold of the cloth
    let cut = length(&read.group("cut").outlines);
    assert!((cut - 120.0).abs() < 1e-3, "{cut}");
    assert!((length(&read.group("score").paths) - 20.0).abs() < 1e-3);
}

#[test]
fn the_reference_square_stands_clear_of_the_pieces() {
    let pieces = "pieces:\n  square: {rectangle: {width: 50 mm, height: 50 mm}, allowance: none, cut: {c: 4}}";
    let near = |read: &Read| {
        let squares = read.group("mark").paths.iter();
        let sides: Vec<&BezPath> = squares.take(1).collect();
        let square = sides[0].bounding_box();
        assert!((square.width() - 25.0).abs() < 1e-9);
        let outlines = read.group("cut").outlines.iter();
        let clear = outlines
            .map(|o| o.bounding_box())
            .all(|b| !b.overlaps(square));
        (square, clear)
    };
    let made = computed("sheet: 300 mm x 200 mm", pieces);
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    let (square, clear) = near(&read);
    assert!(
        clear && square.x1 <= 300.0 && square.y1 <= 200.0,
        "{square:?}"
    );
    assert_eq!(read.view, [0.0, 0.0, 300.0, 200.0]);
    // a full sheet has no room for it
    let made = computed("sheet: 112 mm x 112 mm", pieces);
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    let (square, clear) = near(&read);
    assert!(clear && square.y0 == 116.0, "{square:?}");
    assert_eq!(read.view, [0.0, 0.0, 112.0, 142.0]);
}

#[test]
fn what_is_cut_without_allowance_is_drawn_so_where_it_lies() {
    let pieces = "pieces:\n  square: {rectangle: {width: 50 mm, height: 50 mm}, allowance: 5 mm, cut: {c: 2}}\n\
        cutting: {without allowance: c, reference square: none}";
    let made = computed("sheet: 300 mm x 200 mm", pieces);
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    assert_eq!(read.group("cut").outlines.len(), 2);
    assert!((length(&read.group("cut").outlines) - 400.0).abs() < 1e-3);
    // the seam line is the cut line: nothing is left to be drawn
    let names: Vec<&str> = read.groups.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["cut", "guide"]);
}

#[test]
fn what_is_cut_without_allowance_is_packed_so() {
    // by hand: two squares of 50 mm fill 100 x 50 mm; with 5 mm round each they would need 120 x 60 mm,
    // which the paper pieces of the booklet do
    let pieces = "pieces:\n  square: {rectangle: {width: 50 mm, height: 50 mm}, allowance: 5 mm, cut: {c: 2}}\n\
        cutting: {without allowance: c, reference square: none}";
    let made = computed("sheet: 120 mm x 60 mm, spacing: none", pieces);
    let bought = &made.materials.bought[0];
    let taken = |layout: &crate::materials::Layout| layout.laid[0].taken(&layout.lay).size();
    let by_machine = taken(bought.for_machine());
    assert!((by_machine.width - 100.0).abs() < 0.2 && (by_machine.height - 50.0).abs() < 0.2);
    let by_hand = taken(&bought.layout);
    assert!((by_hand.width - 120.0).abs() < 0.2 && (by_hand.height - 60.0).abs() < 0.2);
}

#[test]
fn a_pair_of_felt_has_its_marks_on_one_face_and_what_bears_none_lies_as_it_fits() {
    let pieces = |mark: &str| {
        format!(
            "pieces:\n  flag:\n    outline:\n      start: [0 mm, 0 mm]\n      edges:\n        \
             - {{name: top, to: [60 mm, 0 mm]}}\n        - {{name: slope, to: [0 mm, 30 mm]}}\n        \
             - {{name: left, to: [0 mm, 0 mm]}}\n    allowance: none\n    {mark}\n    cut: {{c: 1 pair}}\n{NO_SQUARE}"
        )
    };
    // a pair is one and its mirror image: only so are both marked on the same face
    let made = computed(
        "sheet: 9 in x 12 in, sides: alike",
        &pieces("holes: [{at: [9 mm, 9 mm], diameter: 2 mm}]"),
    );
    let read = drawing(&made, "cut/one/c-sheet-1.svg");
    let outlines = &read.group("cut").outlines;
    let flags: Vec<f64> = outlines.iter().map(Shape::area).collect();
    let large: Vec<f64> = flags
        .into_iter()
        .filter(|area| area.abs() > 800.0)
        .collect();
    assert!(large.len() == 2 && large[0] * large[1] < 0.0, "{large:?}");
    let made = computed("sheet: 9 in x 12 in, sides: alike", &pieces("grain: none"));
    let lay = &made.materials.bought[0].layout.lay;
    assert!(lay.pieces.len() == 1 && lay.pieces[0].either_face);
}
