use super::super::fixture::{half, mark, notch, square};
use super::*;
use crate::booklet::fixture;
use crate::piece::MarkKind;
use kurbo::Shape;

/// A group of the file: code and value.
fn groups(text: &str) -> Vec<(u32, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let (pairs, rest) = lines.as_chunks::<2>();
    assert!(rest.is_empty(), "codes and values stand in turn");
    let group = |[code, value]: &[&str; 2]| {
        let code = code.trim().parse().expect("a code");
        (code, (*value).to_string())
    };
    pairs.iter().map(group).collect()
}

/// The entities of a file, each with its groups.
fn entities(text: &str) -> Vec<Vec<(u32, String)>> {
    let mut entities: Vec<Vec<(u32, String)>> = Vec::new();
    for group in groups(text) {
        if group.0 == 0 || entities.is_empty() {
            entities.push(Vec::new());
        }
        if let Some(entity) = entities.last_mut() {
            entity.push(group);
        }
    }
    entities
}

fn value(entity: &[(u32, String)], code: u32) -> &str {
    let found = entity.iter().find(|(c, _)| *c == code);
    found.map_or("", |(_, value)| value.as_str())
}

fn on_layer<'e>(
    all: &'e [Vec<(u32, String)>],
    kind: &str,
    layer: u32,
) -> Vec<&'e Vec<(u32, String)>> {
    let layer = layer.to_string();
    let here = |e: &&Vec<(u32, String)>| value(e, 0) == kind && value(e, 8) == layer;
    all.iter().filter(here).collect()
}

fn sized(size: &str, pieces: Vec<crate::piece::Piece>) -> SizedPieces {
    SizedPieces {
        size: size.to_string(),
        title: "Small".to_string(),
        words: None,
        pieces,
        seams: Vec::new(),
    }
}

#[test]
fn a_square_is_a_block_of_four_turns_with_its_seam_line_notch_and_holes() {
    let mut piece = square();
    piece.notches = vec![notch(1)];
    piece.grain = Some([Point::new(20.0, 5.0), Point::new(20.0, 35.0)]);
    piece.marks = vec![mark(MarkKind::Hole {
        at: Point::new(10.0, 12.0),
        diameter: 3.0,
    })];
    let text = dxf(&fixture::design(), &[sized("small", vec![piece])], None);
    let all = entities(&text);
    let [block] = on_layer(&all, "BLOCK", 1).try_into().expect("one block");
    assert_eq!(value(block, 2), "panel_small");
    let corners: Vec<[f64; 2]> = on_layer(&all, "VERTEX", 1)
        .iter()
        .map(|v| [10, 20].map(|code| value(v, code).parse().expect("a number")))
        .collect();
    // y points up
    assert_eq!(
        corners,
        [[-5.0, 5.0], [45.0, 5.0], [45.0, -45.0], [-5.0, -45.0]]
    );
    assert_eq!(value(on_layer(&all, "POLYLINE", 1)[0], 70), "1");
    assert_eq!(on_layer(&all, "POINT", 2).len(), 4);
    assert!(on_layer(&all, "POINT", 3).is_empty());
    assert_eq!(on_layer(&all, "VERTEX", 14).len(), 4);
    let [notch] = on_layer(&all, "POINT", 4).try_into().expect("one notch");
    assert_eq!((value(notch, 10), value(notch, 20)), ("20.0000", "5.0000"));
    let grain = on_layer(&all, "LINE", 7)[0];
    assert_eq!(
        (value(grain, 20), value(grain, 21)),
        ("-5.0000", "-35.0000")
    );
    assert_eq!(on_layer(&all, "POINT", 13).len(), 1);
    assert_eq!(value(on_layer(&all, "CIRCLE", 11)[0], 40), "1.5000");
    let texts: Vec<&str> = on_layer(&all, "TEXT", 1)
        .iter()
        .map(|t| value(t, 1))
        .collect();
    let wanted = [
        "Piece Name: Panel & flap",
        "Size: small",
        "Quantity: 1",
        "Material: felt",
        "Quantity: 1",
        "Material: cotton lawn",
        "Style Name: Meadow slipper",
        "Author: The hay barn",
        "Units: METRIC",
    ];
    assert_eq!(texts, wanted);
    let notes: Vec<&str> = on_layer(&all, "TEXT", 15)
        .iter()
        .map(|t| value(t, 1))
        .collect();
    assert!(
        notes.contains(&"Size Small") && notes.contains(&"edition 1.2.0"),
        "{notes:?}"
    );
}

#[test]
fn a_half_stays_a_half_with_its_mirror_line() {
    let day = Day {
        year: 2026,
        month: 3,
        day: 7,
    };
    let text = dxf(
        &fixture::design(),
        &[sized("small", vec![half()])],
        Some(day),
    );
    let all = entities(&text);
    assert_eq!(on_layer(&all, "VERTEX", 1).len(), 4);
    let [mirror] = on_layer(&all, "LINE", 6).try_into().expect("one line");
    assert_eq!(
        (value(mirror, 10), value(mirror, 20)),
        ("0.0000", "-60.0000")
    );
    assert_eq!((value(mirror, 11), value(mirror, 21)), ("0.0000", "0.0000"));
    // without allowance there is no seam line beside the boundary
    assert!(on_layer(&all, "VERTEX", 14).is_empty());
    assert!(text.contains("Creation Date: 2026-03-07"));
}

#[test]
fn blocks_have_names_of_their_own_and_lie_apart() {
    let named = |key: &str| crate::piece::Piece {
        key: key.to_string(),
        ..square()
    };
    let long = "a piece whose name is longer than thirty-one letters";
    let pieces = vec![named("Straße"), named("Stra-e"), named(long), named("toe")];
    let sizes = [sized("small", pieces.clone()), sized("large", pieces)];
    let mut design = fixture::design();
    design.shop.cutting.without_allowance = vec!["felt".to_string()];
    let text = dxf(&design, &sizes, None);
    let all = entities(&text);
    let names: Vec<&str> = on_layer(&all, "BLOCK", 1)
        .iter()
        .map(|b| value(b, 2))
        .collect();
    let distinct: BTreeSet<&str> = names.iter().copied().collect();
    // four pieces in two forms in two sizes
    assert_eq!((names.len(), distinct.len()), (16, 16), "{names:?}");
    assert!(names.contains(&"toe_small") && names.contains(&"toe-bare_large"));
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    assert!(
        names
            .iter()
            .all(|name| name.len() <= 31 && name.chars().all(plain))
    );
    let inserts = on_layer(&all, "INSERT", 1);
    let inserted: Vec<&str> = inserts.iter().map(|b| value(b, 2)).collect();
    assert_eq!(inserted, names);
    let boxes: Vec<Rect> = inserts
        .iter()
        .map(|insert| {
            let at = [10, 20].map(|code| value(insert, code).parse::<f64>().expect("a number"));
            // none is larger than the square with its allowance
            let own = square().cut_line.bounding_box();
            own + kurbo::Vec2::new(at[0], -at[1])
        })
        .collect();
    for (index, one) in boxes.iter().enumerate() {
        assert!(
            boxes[..index].iter().all(|other| !one.overlaps(*other)),
            "{index}"
        );
    }
}
