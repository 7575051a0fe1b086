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

/// What is said of a drawing with the attributes `svg` and this inside.
fn refused(svg: &str, inside: &str) -> String {
    let text = format!("<svg xmlns='http://www.w3.org/2000/svg' {svg}>{inside}</svg>");
    let source = Arc::new(SourceText {
        path: "toe.svg".into(),
        text,
    });
    match path(&source, "p") {
        Ok(path) => format!("read: {:?}", path.bounding_box()),
        Err(said) => {
            assert!(!said.remedy.is_empty(), "{}", said.message);
            said.message
        }
    }
}

const PAGE: &str = "width='50mm' height='50mm' viewBox='0 0 50 50'";
const PATH: &str = "<path id='p' d='M10 10 H20 V20 H10 Z'/>";

#[test]
fn a_drawing_that_does_not_say_its_size_in_lengths_of_the_ruler_is_refused() {
    for (svg, told) in [
        (
            "width='60' height='40' viewBox='0 0 60 40'",
            "its width is ‘60’",
        ),
        (
            "width='60px' height='40px' viewBox='0 0 60 40'",
            "its width is ‘60px’",
        ),
        (
            "width='60mm' height='4em' viewBox='0 0 60 40'",
            "its height is ‘4em’",
        ),
        ("width='60mm' height='40mm'", "it has no viewBox"),
        ("viewBox='0 0 60 40'", "it does not say how large it is"),
        (
            "width='100%' viewBox='0 0 60 40'",
            "it does not say how large it is",
        ),
        (
            "width='60mm' viewBox='0 0 60 40mm'",
            "its viewBox is not four numbers",
        ),
    ] {
        let message = refused(svg, PATH);
        assert!(message.contains(told), "{message}");
    }
}

#[test]
fn what_moves_a_path_unseen_is_refused() {
    let styled = |style: &str| format!("<g style='{style}'>{PATH}</g>");
    let sheet = |css: &str| format!("<style>{css}</style>{PATH}");
    for (inside, told) in [
        (styled("fill:none; transform: scale(0.5)"), "‘transform’"),
        (styled("-webkit-transform:scale(2)"), "‘transform’"),
        (styled("SCALE: 2"), "‘scale’"),
        (styled("stroke:red;zoom:2"), "‘zoom’"),
        (
            sheet("path { fill: none } #p { translate: 3px }"),
            "‘translate’",
        ),
        (sheet("#p{d:path(\"M0 0\")}"), "‘d’"),
        (sheet("@import url(other.css);"), "‘@import’"),
        (sheet("#p { tr\\61nsform: none }"), "‘\\’"),
        (
            format!("<g transform-origin='5 5' transform='scale(2)'>{PATH}</g>"),
            "‘transform-origin’",
        ),
        (
            format!("<svg width='30' height='20' viewBox='0 0 60 40'>{PATH}</svg>"),
            "inside the drawing",
        ),
        (format!("<defs>{PATH}</defs>"), "in a ‘defs’"),
        (format!("<g>{PATH}<animateTransform/></g>"), "it moves"),
        (
            format!("{PATH}<circle id='p' r='3'/>"),
            "two things in it are called ‘p’",
        ),
        (
            format!("<g transform='translate(10px, 5)'>{PATH}</g>"),
            "a transform cannot be read",
        ),
    ] {
        let message = refused(PAGE, &inside);
        assert!(message.contains(told), "{inside}: {message}");
    }
}

#[test]
fn styles_that_move_nothing_are_passed_over() {
    let inside = format!(
        "<style>/* transform: none */ .a {{ fill: none; stroke-width: 0.5px }}</style>\
         <g class='a' style='stroke:#000;stroke-linecap:round'><a>{PATH}</a></g>"
    );
    assert!(refused(PAGE, &inside).starts_with("read: "));
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
