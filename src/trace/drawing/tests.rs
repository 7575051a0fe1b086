//! Drawings with known outlines, and drawings that are refused.

use super::*;

const EGG: &str = "M -12 0 A 12 40 0 0 0 12 0 A 12 30 0 0 0 -12 0 Z";

fn read(svg: &str) -> (Option<Sheet>, Vec<&'static str>) {
    let mut said = Diagnostics::default();
    let sheet = trace("foot.svg", svg.as_bytes(), None, &mut said);
    (sheet, said.iter().map(|d| d.code).collect())
}

fn drawing(head: &str, inside: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {head}>{inside}</svg>")
}

/// Closed form: two half ellipses, 70 by 24 units; 1 in is 25.4 mm, 96 px (CSS Values 3, 5.2).
#[test]
fn units_view_boxes_and_nested_transforms_lead_to_mm() {
    let path = format!("<path d=\"{EGG}\"/>");
    let moved = format!("<g transform=\"translate(40 50)\">{path}</g>");
    let turned = format!(
        "<g transform=\"scale(2)\"><g transform=\"translate(60 50) rotate(35)\"><path d=\"{EGG}\" \
         transform=\"scale(0.5)\"/></g></g>"
    );
    let cases = [
        (
            "width=\"100mm\" height=\"120mm\" viewBox=\"0 0 100 120\"",
            &moved,
            70.0,
            false,
        ),
        (
            "width=\"10cm\" height=\"12cm\" viewBox=\"0 0 200 240\"",
            &moved,
            35.0,
            false,
        ),
        (
            "width=\"4in\" viewBox=\"0 0 101.6 120\"",
            &moved,
            70.0,
            false,
        ),
        (
            "width=\"384px\" height=\"384px\" viewBox=\"0 0 101.6 101.6\"",
            &moved,
            70.0,
            true,
        ),
        ("", &moved, 70.0 * 25.4 / 96.0, true),
        (
            "width=\"200mm\" height=\"200mm\" viewBox=\"0 0 200 200\"",
            &turned,
            70.0,
            false,
        ),
    ];
    for (head, inside, length, pixels) in cases {
        let (sheet, codes) = read(&drawing(head, inside));
        let sheet = sheet.unwrap_or_else(|| panic!("{head}: {codes:?}"));
        assert_eq!(codes.contains(&"trace-pixels"), pixels, "{head}");
        let shape = &sheet.shapes[0];
        assert!(
            (shape.length / length - 1.0).abs() < 5e-4,
            "{head}: {}",
            shape.length
        );
        assert!(
            (shape.width / length - 24.0 / 70.0).abs() < 5e-4,
            "{head}: {}",
            shape.width
        );
        let drawn = BezPath::from_svg(shape.drawn.as_deref().unwrap()).unwrap();
        assert!(curve::deviation(&drawn, &shape.outline, 50) < 1.5e-3);
    }
}

#[test]
fn drawings_without_size_or_shape_are_refused() {
    let inside = format!("<path transform=\"translate(40 50)\" d=\"{EGG}\"/>");
    let cases = [
        ("viewBox=\"0 0 100 120\"", inside.as_str(), "trace-drawing"),
        (
            "width=\"10mm\" height=\"40mm\" viewBox=\"0 0 100 120\"",
            &inside,
            "trace-drawing",
        ),
        (
            "width=\"3em\" viewBox=\"0 0 100 120\"",
            &inside,
            "trace-drawing",
        ),
        (
            "width=\"100mm\" viewBox=\"0 0 100 120\"",
            "<text>foot</text>",
            "trace-no-shape",
        ),
        (
            "width=\"100mm\" viewBox=\"0 0 100 100\"",
            "<path d=\"M 0 0 L 50 0 L 40 30\"/>",
            "trace-no-shape",
        ),
        (
            "width=\"100mm\" viewBox=\"0 0 100 100\"",
            "<circle cx=\"50\" cy=\"50\" r=\"30\"/>",
            "trace-heel",
        ),
        // there the outline is as high as a point
        (
            "width=\"100mm\" viewBox=\"0 4e111 100 120\"",
            &inside,
            "trace-no-shape",
        ),
    ];
    for (head, inside, code) in cases {
        let (sheet, codes) = read(&drawing(head, inside));
        assert!(sheet.is_none(), "{head} {inside}");
        assert_eq!(codes, [code], "{head} {inside}");
    }
    assert_eq!(read("<svg").1, ["trace-drawing"]);
}
