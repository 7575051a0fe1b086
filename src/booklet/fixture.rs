//! A made-up design for the tests of this folder.

use crate::booklet::SizeValues;
use crate::design::{
    Chapter, ChapterKind, Cloth, CornerSpec, CutSpec, Design, Dimension, FootSpec, GrainSpec,
    LengthStyle, Paper, Part, PieceSpec, Quantity, ShapeSpec, Size, Stock, Tracing, Trim, TrimKind,
};
use crate::diagnostic::{Place, SourceText};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use std::collections::BTreeMap;
use std::sync::Arc;

fn source() -> Arc<SourceText> {
    let text = "title: Meadow slipper\n".to_string();
    Arc::new(SourceText {
        path: "design.yaml".into(),
        text,
    })
}

/// A place in `design.yaml`.
pub fn place() -> Place {
    Place {
        source: source(),
        line: 1,
        column: 1,
    }
}

/// A grey PNG picture.
pub fn png(width: u32, height: u32) -> Vec<u8> {
    let pixels: Vec<u8> = (0..height)
        .flat_map(|y| (0..width).map(move |x| (x * 3 + y * 5) as u8 / 2 + 96))
        .collect();
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes)
        .write_image(&pixels, width, height, ExtendedColorType::L8)
        .unwrap();
    bytes
}

/// A text chapter without a head.
pub fn chapter(name: &str, text: &str) -> Chapter {
    Chapter {
        kind: ChapterKind::Text,
        standfirst: None,
        title: "A chapter".into(),
        part: Part::Make,
        first_line: 1,
        source: Arc::new(SourceText {
            path: format!("booklet/{name}"),
            text: text.into(),
        }),
    }
}

fn piece(key: &str, title: &str, cuts: &[(&str, u32, bool)]) -> PieceSpec {
    let shape = ShapeSpec::Svg {
        file: String::new(),
        id: String::new(),
        edges: Vec::new(),
        texts: BTreeMap::new(),
        place: place(),
    };
    PieceSpec {
        key: key.into(),
        title: title.into(),
        note: None,
        shape,
        points: Vec::new(),
        common_point: None,
        on_fold: None,
        mirror_on: None,
        allowance: None,
        edge_allowances: Vec::new(),
        corner: CornerSpec::Round,
        corner_specs: Vec::new(),
        grain: GrainSpec::None,
        grain_within: 0.0,
        notches: Vec::new(),
        marks: Vec::new(),
        cuts: cuts
            .iter()
            .map(|(cloth, count, mirrored)| CutSpec {
                cloth: (*cloth).into(),
                count: *count,
                mirrored: *mirrored,
                place: place(),
            })
            .collect(),
        place: place(),
    }
}

fn size(key: &str, title: &str, length: f64) -> Size {
    Size {
        declared: key.to_string(),
        only: None,
        key: key.into(),
        title: title.into(),
        words: Some(format!("for a foot of {length} mm")),
        foot: Some(FootSpec {
            tracing: Tracing::Points(Vec::new()),
            marks: None,
            inner_left: true,
            pencil: 0.0,
            measures: [
                ("ball girth", 1.1),
                ("instep girth", 1.2),
                ("toe height", 0.24),
            ]
            .map(|(name, share)| (name.to_string(), share * length))
            .into(),
            other: None,
            pair_tolerance: 0.8,
            grading: [1.0; 2],
            measures_place: None,
            place: place(),
        }),
        measures: Vec::new(),
        place: place(),
    }
}

fn trim(key: &str, name: &str, width: f64, lignes: bool) -> Trim {
    Trim {
        key: key.into(),
        name: name.into(),
        width: Some(width),
        lignes,
        kind: if lignes {
            TrimKind::Button
        } else {
            TrimKind::Elastic
        },
        length: None,
        join: None,
        tolerance: None,
        count: 2,
        small_part: lignes,
        price: None,
        weight: None,
        note: lignes.then(|| "or a bead of the same size".to_string()),
        place: place(),
    }
}

fn pieces() -> Vec<PieceSpec> {
    let both = [("outer", 2, false), ("lining", 2, false)];
    vec![
        piece("toe", "Toe piece", &both),
        piece("heel", "Heel piece", &both),
        piece("sole", "Sole", &[("outer", 2, true)]),
        piece("strap", "Strap", &[("outer", 2, false)]),
    ]
}

fn cloths() -> Vec<Cloth> {
    let cloth = |key: &str, name: &str, thickness, stock| Cloth {
        thickness: Some(thickness),
        stock: vec![stock],
        note: (key == "outer").then(|| "craft felt serves for a first try".to_string()),
        ..Cloth::named(key, name, place())
    };
    vec![
        cloth("outer", "wool felt", 1.2, Stock::Sheet([228.6, 304.8])),
        cloth("lining", "cotton lawn", 0.2, Stock::Roll(1117.6)),
    ]
}

/// The design, without chapters.
pub fn design() -> Design {
    let words = |text: &str| Some(text.to_string());
    Design {
        shoe: None,
        fit: Vec::new(),
        key: "meadow-slipper".into(),
        title: "Meadow slipper".into(),
        edition: "1.2.0".into(),
        draft: false,
        series: words("Patterns from the hay barn"),
        skill: words("confident beginner"),
        about: "A soft slipper of two pieces with a buttoned strap, sewn by hand.".into(),
        makes: "one pair".into(),
        age: words("a toy for children from six years on"),
        terms: words(
            "You may sell what you sew from this pattern, in any number. You may not sell the pattern itself.",
        ),
        contact: words("barn@meadow.example, with your size and edition number."),
        by: words("The hay barn"),
        language: "en".into(),
        words: Default::default(),
        translations: Vec::new(),
        original: None,
        papers: ["a4", "letter"]
            .into_iter()
            .filter_map(|key| Some((Paper::named(key)?, place())))
            .collect(),
        forms: Vec::new(),
        size_layout: crate::design::SizeLayout::SideBySide,
        lengths: LengthStyle {
            denominator: 16,
            ..LengthStyle::METRIC
        },
        cover: None,
        look: crate::design::Look::default(),
        measures: Vec::new(),
        sizes: vec![size("small", "Small", 45.0), size("large", "Large", 70.0)],
        cloth: cloths(),
        trims: vec![
            trim("elastic", "flat elastic", 6.0, false),
            trim("button", "shank button", 18.0 * 0.635, true),
        ],
        kits: Vec::new(),
        thread: None,
        tools: [
            "small sharp scissors",
            "hand needle, size 9",
            "pins",
            "a blunt stick",
        ]
        .map(String::from)
        .into(),
        pieces: pieces(),
        seams: Vec::new(),
        shop: Default::default(),
        finished: Vec::new(),
        look_up: Default::default(),
        chapters: Vec::new(),
        shared: Default::default(),
        source: source(),
    }
}

/// Values of both sizes.
pub fn sizes() -> Vec<SizeValues> {
    let of = |key: &str, title: &str, foot: f64| SizeValues {
        key: key.into(),
        title: title.into(),
        values: [
            ("foot.length", foot),
            ("foot.ball width", 0.4 * foot),
            ("seam", 4.7625),
            ("toe.sole edge", 1.6 * foot),
            ("sole.toe edge", 1.5 * foot),
            ("trims.elastic.length", 0.2 * foot + 12.7),
        ]
        .map(|(name, value)| {
            (
                name.to_string(),
                Quantity {
                    value,
                    dimension: Dimension::Length,
                },
            )
        })
        .into(),
    };
    vec![of("small", "Small", 45.0), of("large", "Large", 70.0)]
}
