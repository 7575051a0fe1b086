#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::*;
use crate::design::LengthStyle;
use crate::diagnostic::{Place, SourceText};
use crate::geometry::Edge;
use std::sync::Arc;

fn source() -> Arc<SourceText> {
    Arc::new(SourceText {
        path: "design.yaml".to_string(),
        text: String::new(),
    })
}

fn design() -> Design {
    Design {
        cover: None,
        look: crate::design::Look::default(),
        shoe: None,
        fit: Vec::new(),
        key: "seed-pouch".to_string(),
        title: "Seed pouch".to_string(),
        edition: "1.2.0".to_string(),
        draft: false,
        series: None,
        skill: None,
        about: String::new(),
        makes: "one".to_string(),
        age: None,
        terms: None,
        contact: None,
        by: None,
        language: "en".to_string(),
        words: Default::default(),
        translations: Vec::new(),
        original: None,
        papers: Vec::new(),
        forms: Vec::new(),
        size_layout: crate::design::SizeLayout::SideBySide,
        lengths: LengthStyle {
            inch_first: false,
            denominator: 16,
            ..LengthStyle::METRIC
        },
        measures: Vec::new(),
        sizes: Vec::new(),
        cloth: Vec::new(),
        trims: Vec::new(),
        thread: None,
        tools: Vec::new(),
        kits: Vec::new(),
        pieces: Vec::new(),
        seams: Vec::new(),
        shop: Default::default(),
        finished: Vec::new(),
        look_up: Default::default(),
        chapters: Vec::new(),
        shared: Default::default(),
        source: source(),
    }
}

/// A rectangle of 30 by 40 mm, with 10 mm of allowance all round.
fn panel() -> Piece {
    let edge = |name: &str, path: &str| Edge::new(name, BezPath::from_svg(path).unwrap());
    let outline = Outline::new(vec![
        edge("top", "M0 0 L30 0"),
        edge("right", "M30 0 L30 40"),
        edge("bottom", "M30 40 L0 40"),
        edge("left", "M0 40 L0 0"),
    ])
    .unwrap();
    Piece {
        key: "panel".to_string(),
        number: 1,
        title: "Panel".to_string(),
        note: None,
        outline,
        cut_line: BezPath::from_svg("M-10 -10 L40 -10 L40 50 L-10 50 Z").unwrap(),
        allowances: vec![10.0; 4],
        fold: None,
        grain: Some([Point::new(15.0, 5.0), Point::new(15.0, 35.0)]),
        grain_within: 0.0,
        common_point: None,
        notches: vec![Notch {
            name: "centre".to_string(),
            edge: "top".to_string(),
            at: 15.0,
            point: Point::new(15.0, 0.0),
            outward: kurbo::Vec2::new(0.0, -1.0),
            allowance: 10.0,
            centre: true,
            count: 1,
        }],
        marks: vec![Mark {
            kind: MarkKind::Eyelet {
                at: Point::new(15.0, 20.0),
                diameter: 4.0,
            },
            words: Some("cord".to_string()),
        }],
        cuts: vec![Cut {
            material: "linen".to_string(),
            count: 2,
            mirrored: true,
        }],
        place: Place {
            source: source(),
            line: 9,
            column: 3,
        },
    }
}

fn value() -> Value {
    let seams = vec![WalkedSeam {
        wants_longer: false,
        name: "side".to_string(),
        from: ("panel".to_string(), "right".to_string()),
        to: ("panel".to_string(), "left".to_string()),
        length_from: 40.0,
        length_to: 40.0,
        eased: [0.0, 0.0],
        easing_percent: 0.0,
        gap: -0.0,
        end_angles: [180.0, 180.0],
        notch_pairs: vec![("a".to_string(), "b".to_string(), 1.0 / 3.0)],
    }];
    let size = SizedPieces {
        size: "one".to_string(),
        title: "One size".to_string(),
        words: None,
        pieces: vec![panel()],
        seams,
    };
    let foot = BTreeMap::from([("length".to_string(), 45.000_000_4)]);
    let papers = BTreeMap::from([(
        "a4".to_string(),
        PagesFact {
            pages: 12,
            plates: 4,
            sheets_across: 2,
            sheets_down: 2,
            sizes: vec![("one".to_string(), vec![9, 10, 11, 12])],
            sheet: None,
        },
    )]);
    Numbers {
        design: &design(),
        sizes: &[size],
        feet: &BTreeMap::from([("one".to_string(), foot)]),
        fits: &BTreeMap::new(),
        values: &BTreeMap::from([(
            "one".to_string(),
            BTreeMap::from([("seam".to_string(), 4.7625)]),
        )]),
        materials: &json!([{ "key": "linen" }]),
        pages: &papers,
    }
    .to_value()
}

#[test]
fn the_keys_of_numbers_json_are_those_of_schema_1() {
    let value = value();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["design"], "seed-pouch");
    assert_eq!(value["edition"], "1.2.0");
    let one = &value["sizes"]["one"];
    assert_eq!(one["foot"]["length"], 45.0);
    assert_eq!(one["values_mm"]["seam"], 4.7625);
    let panel = &one["pieces"]["panel"];
    assert_eq!(panel["edges"]["right"]["length_mm"], 40.0);
    assert_eq!(panel["notches"][0]["name"], "centre");
    assert_eq!(panel["notches"][0]["edge"], "top");
    assert_eq!(panel["notches"][0]["at_mm"], 15.0);
    assert_eq!(
        panel["cuts"][0],
        json!({"material": "linen", "count": 2, "mirrored": true})
    );
    let seam = &one["seams"][0];
    assert_eq!(seam["from"], json!(["panel", "right"]));
    assert_eq!(seam["to"], json!(["panel", "left"]));
    for key in ["length_from_mm", "length_to_mm", "easing_percent", "gap_mm"] {
        assert!(seam[key].is_number(), "{key}");
    }
    assert!(one["fit"].is_object());
    assert_eq!(value["materials"][0]["key"], "linen");
    let paper = json!({
        "pages": 12, "plates": 4, "sheets_across": 2, "sheets_down": 2,
        "sizes": {"one": [9, 10, 11, 12]},
    });
    assert_eq!(value["pages"]["a4"], paper);
}

#[test]
fn lines_carry_perimeter_area_box_and_path() {
    // A rectangle of 30 by 40, and one of 50 by 60.
    let value = value();
    let panel = &value["sizes"]["one"]["pieces"]["panel"];
    let seam_line = json!({
        "perimeter_mm": 140.0,
        "area_mm2": 1200.0,
        "bounds_mm": [0.0, 0.0, 30.0, 40.0],
        "path": "M0,0 L30,0 L30,40 L0,40 L0,0 Z",
    });
    assert_eq!(panel["seam_line"], seam_line);
    assert_eq!(panel["cut_line"]["perimeter_mm"], 220.0);
    assert_eq!(panel["cut_line"]["area_mm2"], 3000.0);
}

#[test]
fn zero_has_no_sign_and_thirds_end() {
    let text = value().to_string();
    assert!(text.contains("\"apart_mm\":0.333333"), "{text}");
    assert!(!text.contains("-0.0"), "{text}");
}

#[test]
fn what_is_not_finite_is_null() {
    assert_eq!(number(f64::NAN), Value::Null);
    assert_eq!(number(f64::INFINITY), Value::Null);
}
