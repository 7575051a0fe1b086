use super::*;
use crate::edition::displacement::tests::board;
use crate::edition::file::tests::record;
use crate::edition::record::{MarkRecord, PieceRecord, SectionRecord, hash};
use crate::edition::{Record, Version};

fn content() -> Content {
    record().content
}

fn piece(content: &mut Content) -> &mut PieceRecord {
    &mut content.sizes[0].pieces[0]
}

fn section(head: &str, text: &str) -> SectionRecord {
    SectionRecord {
        head: head.into(),
        hash: hash(text.as_bytes()),
        text: text.into(),
    }
}

#[test]
fn what_is_the_same_does_not_differ_and_pages_alone_do_not_count() {
    let old = content();
    assert!(compare(&old, &old).is_same());
    let mut new = content();
    new.pages[0].pages = 14;
    // the last figure of what another machine computed
    piece(&mut new).edges[0].length += 0.001;
    let found = compare(&old, &new);
    assert!(
        found.is_same() && found.pages == [("a4".to_string(), 12, 14)],
        "{found:?}"
    );
}

#[test]
fn a_longer_piece_asks_for_the_middle_figure_and_for_its_plate() {
    let (old, mut new) = (content(), content());
    let longer = board(&[(0.0, 0.0), (82.0, 0.0), (70.123, 40.0), (0.0, 40.0)]);
    *piece(&mut new) = longer;
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Geometry);
    assert_eq!(found.plates, [("a4".to_string(), vec![1])]);
    let [change] = &found.pieces[..] else {
        panic!("one piece: {found:?}")
    };
    assert!((change.most() - 2.0).abs() < 1e-6);
    let edges: Vec<&str> = change.edges.iter().map(|edge| edge.edge.as_str()).collect();
    assert_eq!(edges, ["top", "right"]);
    assert_eq!(change.edges[0].old, Some([80.0, 0.0]));
    assert_eq!(change.edges[0].new, Some([82.0, 0.0]));
}

#[test]
fn words_ask_for_the_last_figure() {
    let (old, mut new) = (content(), content());
    piece(&mut new).title = "Plank".into();
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Words);
    assert!(found.plates[0].1.is_empty() && found.pieces[0].words);
    let mut new = content();
    new.hashes
        .get_mut("look")
        .unwrap()
        .insert("template/cover.typ".into(), "x".into());
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Words);
    assert!(!found.is_same_design());
    let mut new = content();
    let look = new.hashes.get_mut("look").unwrap();
    look.insert("pressfoot".into(), "x".into());
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Words);
    assert!(found.is_same_design(), "a later program makes no draft");
}

#[test]
fn materials_ask_for_the_middle_figure_and_what_goes_for_the_first() {
    let (old, mut new) = (content(), content());
    new.materials[0].words[1] = "13".into();
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Geometry);
    assert_eq!(
        (&found.materials[0].old[..], &found.materials[0].new[..]),
        (&["12".to_string()][..], &["13".to_string()][..])
    );
    let mut new = content();
    new.sizes[0].pieces.clear();
    assert_eq!(compare(&old, &new).change(), Change::Removed);
    new.sizes.clear();
    let found = compare(&old, &new);
    assert_eq!(
        (found.change(), &found.sizes_removed[..]),
        (Change::Removed, &["One".to_string()][..])
    );
}

#[test]
fn steps_that_came_went_or_changed_are_told_by_their_numbers() {
    let (old, mut new) = (content(), content());
    new.text[0].chapters[0].sections = vec![
        section("", "  begins with blanks\nand goes on"),
        section("Press", "Press it."),
        section("Cut", "Cut it."),
    ];
    let found = compare(&old, &new).text;
    let told: Vec<_> = found
        .iter()
        .map(|t| (t.head.as_str(), t.step, t.kind))
        .collect();
    assert_eq!(
        told,
        [
            ("Press", Some(1), Kind::Added),
            ("Cut", Some(2), Kind::Changed),
            ("Odd", Some(2), Kind::Removed),
        ]
    );
}

#[test]
fn a_step_with_another_head_is_changed_and_not_new() {
    let (old, mut new) = (content(), content());
    new.text[0].chapters[0].sections[1].head = "Cut out".into();
    let found = compare(&old, &new).text;
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].head.as_str(), found[0].kind),
        ("Cut out", Kind::Changed)
    );
}

#[test]
fn a_mark_that_moved_with_its_piece_has_not_changed() {
    let mark = |x: f64, diameter: f64| MarkRecord {
        mark: "button".into(),
        at: vec![x, 10.0, diameter],
    };
    let notch = |x: f64, along: f64| MarkRecord {
        mark: "n on top, 1".into(),
        at: vec![along, x, 0.0],
    };
    let (mut old, mut new) = (content(), content());
    *piece(&mut new) = board(&[(5.0, 0.0), (85.0, 0.0), (75.123, 40.0), (5.0, 40.0)]);
    piece(&mut old).marks.push(mark(20.0, 9.0));
    piece(&mut new).marks.push(mark(25.0, 9.0));
    piece(&mut old).notches.push(notch(30.0, 30.0));
    piece(&mut new).notches.push(notch(35.0, 30.0));
    assert!(compare(&old, &new).is_same());
    piece(&mut new).marks[0] = mark(25.0, 10.0);
    piece(&mut new).notches[0] = notch(36.0, 31.0);
    let found = compare(&old, &new);
    assert_eq!(found.pieces[0].marks, ["n on top, 1", "button"]);
    assert_eq!(found.plates[0].1, [1]);
}

#[test]
fn the_next_number_tells_how_much_changed() {
    let Record {
        edition,
        content: old,
        ..
    } = record();
    let mut new = old.clone();
    new.text[0].words.insert("title".into(), "Other".into());
    assert_eq!(
        edition.after(compare(&old, &new).change()),
        Version([1, 2, 1])
    );
}

#[test]
fn a_piece_that_is_only_called_otherwise_asks_for_the_last_figure() {
    let (old, mut new) = (content(), content());
    piece(&mut new).piece = "plank".into();
    piece(&mut new).title = "Plank".into();
    new.pages[0].plates[0][0].piece = "plank".into();
    let found = compare(&old, &new);
    assert_eq!(found.change(), Change::Words);
    let before = &found.pieces[0].before;
    assert_eq!((&*before.piece, &*before.title), ("board", "Board"));
    assert!(found.plates[0].1.is_empty() && found.plates_renumbered.is_empty());
}
