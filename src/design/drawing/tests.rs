use super::*;
use kurbo::{Rect, Shape};

/// Bounds in mm of a unit square from 10 to 20 in a drawing with these attributes.
fn square(svg: &str, path: &str, group: &str) -> Rect {
    let text = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' {svg}><g {group}><path id='p' {path} \
         d='M10 10 H20 V20 H10 Z'/></g></svg>"
    );
    let source = Arc::new(SourceText {
        path: "toe.svg".into(),
        text,
    });
    super::path(&source, "p").unwrap().bounding_box()
}

fn near(found: Rect, wanted: [f64; 4]) {
    let found = [found.x0, found.y0, found.x1, found.y1];
    let off = found.iter().zip(&wanted).map(|(a, b)| (a - b).abs());
    assert!(
        off.fold(0.0, f64::max) < 1e-9,
        "{found:?} is not {wanted:?}"
    );
}

#[test]
fn the_view_box_is_scaled_to_the_size_of_the_page() {
    // SVG 1.1, 7.2 and 7.7: user units = viewBox units, mapped to width and height.
    let same = "width='50mm' height='40mm' viewBox='0 0 50 40'";
    near(square(same, "", ""), [10.0, 10.0, 20.0, 20.0]);
    let half = "width='50mm' height='40mm' viewBox='0 0 100 80'";
    near(square(half, "", ""), [5.0, 5.0, 10.0, 10.0]);
    let moved = "width='5cm' viewBox='10 -5 50 40'";
    near(square(moved, "", ""), [0.0, 15.0, 10.0, 25.0]);
    let inches = "width='2in' height='2in' viewBox='0 0 20 20'";
    near(square(inches, "", ""), [25.4, 25.4, 50.8, 50.8]);
}

#[test]
fn a_drawing_without_view_box_is_in_pixels() {
    // CSS Values and Units 3: 96 px = 1 in.
    let pixel = 25.4 / 96.0;
    let wanted = [10.0 * pixel, 10.0 * pixel, 20.0 * pixel, 20.0 * pixel];
    near(square("width='100' height='100'", "", ""), wanted);
    near(
        square("width='100px' viewBox='0 0 100 100'", "", ""),
        wanted,
    );
}

#[test]
fn transforms_of_the_path_and_of_its_groups_are_applied() {
    let page = "width='50mm' height='50mm' viewBox='0 0 50 50'";
    let moved = square(page, "transform='translate(1, 2)'", "");
    near(moved, [11.0, 12.0, 21.0, 22.0]);
    // the group's transform is outside the path's: scale after move
    let scaled = square(page, "transform='translate(1 2)'", "transform='scale(2)'");
    near(scaled, [22.0, 24.0, 42.0, 44.0]);
    let turned = square(page, "transform='rotate(90)'", "");
    near(turned, [-20.0, 10.0, -10.0, 20.0]);
    let about = square(page, "transform='rotate(90, 15, 15)'", "");
    near(about, [10.0, 10.0, 20.0, 20.0]);
    let matrix = square(page, "transform='matrix(1 0 0 -1 0 30)'", "");
    near(matrix, [10.0, 10.0, 20.0, 20.0]);
    let list = square(page, "transform='translate(5) scale(1, 2)'", "");
    near(list, [15.0, 20.0, 25.0, 40.0]);
}

#[test]
fn a_path_that_ends_where_it_began_counts_as_closed() {
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm' viewBox='0 0 9 9'>\
                <path id='p' d='M0 0 L5 0 L5 5 L0 0'/></svg>";
    let source = Arc::new(SourceText {
        path: "toe.svg".into(),
        text: text.into(),
    });
    let path = path(&source, "p").unwrap();
    assert!(matches!(path.elements().last(), Some(PathEl::ClosePath)));
}
