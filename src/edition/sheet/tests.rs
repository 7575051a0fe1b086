use super::*;
use crate::design;
use crate::diagnostic::Diagnostics;
use crate::edition::displacement::tests::board;
use crate::edition::file::tests::record;
use crate::edition::record::{GRAIN, MarkRecord, PieceRecord, PlacedRecord};
use crate::folder::DesignFolder;

const DESIGN: &str = "title: Boards\nedition: 1.0.0\nabout: Two boards.\npaper: [a4, letter]\n\
    sizes:\n  one: {title: One}\ncloth:\n  c: {name: cotton}\npieces:\n  \
    board:\n    rectangle: {width: 80 mm, height: 40 mm}\n    allowance: none\n    cut: {c: 1}\n  \
    plank:\n    rectangle: {width: 60 mm, height: 20 mm}\n    allowance: none\n    cut: {c: 1}\nfaults:\n  \
    - {edition: 1.0.0, plates: [1, 2], wrong: A notch was missing., do: Print it again.}\n  \
    - {edition: 1.1.0, wrong: A word was wrong., do: Read another.}\n";

/// A rectangle cut once, with an allowance all round and an upright grain line.
fn rectangle(key: &str, number: usize, (width, height): (f64, f64)) -> PieceRecord {
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    PieceRecord {
        piece: key.into(),
        number,
        title: key[..1].to_uppercase() + &key[1..],
        area: width * height,
        marks: vec![MarkRecord {
            mark: GRAIN.into(),
            at: vec![10.0, 5.0, 10.0, 15.0],
        }],
        ..board(&corners)
    }
}

/// An edition with two boards, each on a plate of its own.
fn content() -> Content {
    let mut content = record().content;
    content.sizes[0].pieces = vec![
        rectangle("board", 1, (80.0, 40.0)),
        rectangle("plank", 2, (60.0, 20.0)),
    ];
    content.sold.papers = vec!["a4".into()];
    content.pages[0].plates = vec![plate("board"), plate("plank")];
    content.text[0].words.clear();
    content
}

fn plate(piece: &str) -> Vec<PlacedRecord> {
    vec![PlacedRecord {
        size: "one".into(),
        piece: piece.into(),
    }]
}

/// The allowance of all edges, with the cut line at that distance: a rectangle with its corners.
fn widen(piece: &mut PieceRecord, (width, height): (f64, f64), by: f64) {
    piece.edges.iter_mut().for_each(|edge| edge.allowance = by);
    let (right, bottom) = (width + by, height + by);
    piece.cut_line = format!("M-{by} -{by}L{right} -{by}L{right} {bottom}L-{by} {bottom}Z");
}

fn told(old: &Content, new: &Content) -> Value {
    told_to(Version([1, 0, 0]), old, new)
}

/// What buyers of the edition `have` are told.
fn told_to(have: Version, old: &Content, new: &Content) -> Value {
    let folder = DesignFolder::from_memory("boards", [("design.yaml", DESIGN)]);
    let mut diagnostics = Diagnostics::default();
    let design = design::read_in_part(&folder, &mut diagnostics).unwrap().0;
    let told = Told {
        design: &design,
        have,
        old,
        new,
        comparison: &crate::edition::compare(old, new),
        note: None,
        papers: &new.pages,
    };
    data(&told, ROOMS[0]).0
}

#[test]
fn pieces_and_plates_with_other_numbers_are_told_and_not_printed_again() {
    let (old, mut new) = (content(), content());
    let pieces = &mut new.sizes[0].pieces;
    pieces.reverse();
    (pieces[0].number, pieces[1].number) = (1, 2);
    new.pages[0].plates.reverse();
    let found = told(&old, &new);
    let names = json!([
        "2 Plank is now 1 Plank",
        "1 Board is now 2 Board",
        "A4: plate 2 is now plate 1",
        "A4: plate 1 is now plate 2"
    ]);
    assert_eq!(found["names"], names);
    assert_eq!(found["rows"], json!([]));
    assert_eq!(found["plates"][0]["again"], false);
}

#[test]
fn a_piece_with_another_key_is_another_name_and_no_other_piece() {
    let (old, mut new) = (content(), content());
    let piece = &mut new.sizes[0].pieces[1];
    (piece.piece, piece.title) = ("shelf".into(), "Shelf".into());
    new.pages[0].plates[1] = plate("shelf");
    let found = told(&old, &new);
    assert_eq!(found["names"], json!(["2 Plank is now 2 Shelf"]));
    assert_eq!((&found["gone"], &found["rows"]), (&json!([]), &json!([])));
    assert_eq!(found["plates"][0]["again"], false);
    // cut from another cloth, it is another piece
    new.sizes[0].pieces[1].cut = vec!["1 felt".into()];
    let found = told(&old, &new);
    assert_eq!(found["names"], json!([]));
    // what is new is told so: it has nothing to be compared with
    let gone = json!(["2 Shelf, size One: new", "2 Plank, size One: left out"]);
    assert_eq!((&found["gone"], &found["rows"]), (&gone, &json!([])));
}

#[test]
fn papers_and_languages_that_are_new_are_told() {
    let (old, mut new) = (content(), content());
    new.sold.papers.push("letter".into());
    new.sold.languages.push("de".into());
    new.sold.forms.push("large-print".into());
    let found = told(&old, &new);
    let all = json!([
        "Paper US Letter: new",
        "Language Deutsch: new",
        "Instructions in large print: new"
    ]);
    assert_eq!(found["gone"], all);
    assert_eq!(told(&new, &old)["gone"][0], "Paper US Letter: left out");
}

#[test]
fn an_allowance_alone_is_told_with_both_lengths() {
    let (mut old, mut new) = (content(), content());
    // 3/8 and 1/2 inch
    widen(&mut old.sizes[0].pieces[0], (80.0, 40.0), 9.525);
    widen(&mut new.sizes[0].pieces[0], (80.0, 40.0), 12.7);
    let row = |found: &Value| found["rows"][0].clone();
    let found = row(&told(&old, &new));
    assert_eq!(found["moved"], "seam allowance only");
    let both = "seam allowance 9.5 mm (3⁄8 in), now 12.7 mm (1⁄2 in)";
    assert_eq!(found["edges"], json!([both]));
    new.sizes[0].pieces[0].edges[2].allowance = 9.525;
    let found = row(&told(&old, &new));
    assert_eq!(
        found["edges"],
        json!([format!("top, right and left: {both}")])
    );
}

#[test]
fn lengths_are_told_in_the_forms_that_the_design_prints() {
    let (old, mut new) = (content(), content());
    new.sizes[0].pieces[0] = rectangle("board", 1, (82.0, 40.0));
    let found = told(&old, &new)["rows"][0].clone();
    let edges: Vec<&str> = found["edges"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(Value::as_str)
        .collect();
    // 80 / 25.4 = 3.15 in and 82 / 25.4 = 3.23 in, to the nearest sixteenth
    let longer = "80.0 mm (3 1⁄8 in), now 82.0 mm (3 1⁄4 in)";
    assert_eq!(
        edges.iter().filter(|told| told.ends_with(longer)).count(),
        2,
        "{edges:?}"
    );
    let moved = found["moved"].as_str().unwrap();
    assert!(
        moved.contains(" mm (") && moved.ends_with(" in)"),
        "{moved}"
    );
}

#[test]
fn a_grain_line_that_turned_is_told_by_its_degrees() {
    let (old, mut new) = (content(), content());
    new.sizes[0].pieces[0].marks[0].at = vec![10.0, 5.0, 20.0, 15.0];
    let found = told(&old, &new);
    assert_eq!(found["rows"][0]["moved"], "grain line only");
    assert_eq!(
        found["rows"][0]["edges"],
        json!(["grain line turned by 45°"])
    );
    // the same line from its other end has not turned
    new.sizes[0].pieces[0].marks[0].at = vec![10.0, 15.0, 10.0, 5.0];
    let found = told(&old, &new);
    assert_eq!(found["rows"][0]["moved"], "notches or marks only");
    assert_eq!(found["rows"][0]["edges"], json!([]));
}

#[test]
fn a_sheet_always_says_what_changed() {
    let (old, mut new) = (content(), content());
    let look = new.hashes.get_mut("look").unwrap();
    look.insert("template/cover.typ".into(), "x".into());
    let only = "Words, pictures or the look of the pages only.";
    assert_eq!(told(&old, &new)["steps"], json!([only]));
}

#[test]
fn faults_are_told_to_owners_of_that_edition_and_of_later_ones() {
    let (old, mut new) = (content(), content());
    new.sizes[0].pieces[0].title = "Shelf".into();
    let heads = |have: [u32; 3]| -> Vec<String> {
        let found = told_to(Version(have), &old, &new);
        let faults = found["faults"].as_array().unwrap().iter();
        faults
            .map(|fault| fault["head"].as_str().unwrap().to_string())
            .collect()
    };
    let (first, second) = (
        "Edition 1.0.0 had a fault on plates 1 and 2",
        "Edition 1.1.0 had a fault",
    );
    assert_eq!(heads([1, 0, 0]), [first]);
    assert_eq!(
        heads([1, 0, 1]),
        [first],
        "the sheet of 1.0.0 is made no more"
    );
    assert_eq!(heads([1, 1, 0]), [first, second]);
    assert_eq!(heads([0, 9, 0]), [""; 0]);
}
