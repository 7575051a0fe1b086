//! Drawings of the report: pages, places on them, pieces with their edges. Millimetres, at any size.

use super::write::{escaped, push};
use crate::proof::Report;
use crate::proof::check::{Check, Shown, ShownPiece};
use crate::proof::sketch::{COARSE, FINE, OutlineSketch, PageSketch};
use kurbo::{Rect, Shape};

/// White round a piece that is drawn by itself, mm.
const ROUND: f64 = 3.0;

/// Radius of a ring round a point, share of its piece's length.
const RING: f64 = 0.03;

/// Around a place so much of its page is shown at least, mm across.
const NEIGHBOURHOOD: f64 = 80.0;

/// Height to width of the picture of a place.
const PLACE_SHAPE: f64 = 0.7;

/// A mark round a place is so large at least, share of the picture's width.
const MARK_FROM: f64 = 0.05;

/// Name of a page within the report.
pub fn id(file: usize, page: usize) -> String {
    format!("f{}p{page}", file + 1)
}

/// The drawing of a page, by its name in the report; `words` tell what it shows.
pub fn page(out: &mut String, sketch: &PageSketch, id: &str, words: &str) {
    push(
        out,
        format_args!(
            "<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\"><g id=\"{id}\">",
            round(sketch.width),
            round(sketch.height),
            escaped(words)
        ),
    );
    let scale = 1.0 / COARSE;
    push(out, format_args!("<g transform=\"scale({scale})\">"));
    let path = |out: &mut String, class: &str, data: &str| {
        if !data.is_empty() {
            push(out, format_args!("<path class=\"{class}\" d=\"{data}\"/>"));
        }
    };
    path(out, "t", &sketch.tints);
    path(out, "s", &sketch.shapes);
    path(out, "l", &sketch.lines);
    for (thickness, data) in &sketch.words {
        push(
            out,
            format_args!("<path class=\"w\" stroke-width=\"{thickness}\" d=\"{data}\"/>"),
        );
    }
    out.push_str("</g>");
    outlines(out, &sketch.outlines);
    out.push_str("</g></svg>");
}

/// The outlines that were meant, and over them those that were found.
pub fn outlines(out: &mut String, list: &[OutlineSketch]) {
    if list.is_empty() {
        return;
    }
    push(out, format_args!("<g transform=\"scale({})\">", 1.0 / FINE));
    for (class, of) in [
        ("in", (|o| &o.intended) as fn(&OutlineSketch) -> &String),
        ("fo", |o| &o.found),
    ] {
        let data: String = list.iter().map(|o| absolute(of(o))).collect();
        push(out, format_args!("<path class=\"{class}\" d=\"{data}\"/>"));
    }
    out.push_str("</g>");
}

/// Path data whose first move counts from the corner of the page, so that several can follow each other.
fn absolute(data: &str) -> String {
    match data.strip_prefix('m') {
        Some(rest) => {
            let numbers = rest.find(['m', 'z']).unwrap_or(rest.len());
            let first = second_end(&rest[..numbers]);
            format!("M{}l{}", &rest[..first], rest[first..].trim_start())
        }
        None => String::new(),
    }
}

/// Where the second number of `text` ends.
fn second_end(text: &str) -> usize {
    let is_start = |(at, c): &(usize, char)| *at > 0 && (*c == '-' || *c == ' ');
    let mut starts = text.char_indices().filter(is_start);
    starts.nth(1).map_or(text.len(), |(at, _)| at)
}

/// The picture of a check, if there is one.
pub fn of_check(out: &mut String, report: &Report, check: &Check) {
    let file = report.files.iter().position(|f| f.file == check.file);
    match (&check.shown, file.zip(check.page)) {
        (Some(Shown::Place(place)), Some((file, number))) => {
            if let Some(sketch) = report.files[file].sketches.pages.get(number - 1) {
                place_on(out, sketch, (file, number), *place);
            }
        }
        (Some(Shown::Pieces(pieces)), _) => figures(out, pieces),
        (_, Some((file, number))) => {
            if let Some(sketch) = report.files[file].sketches.pages.get(number - 1) {
                let whole = Rect::new(0.0, 0.0, sketch.width, sketch.height);
                view(out, (file, number), whole, None);
            }
        }
        _ => {}
    }
}

/// A place on a page, with what is round it.
fn place_on(out: &mut String, sketch: &PageSketch, page: (usize, usize), place: Rect) {
    let width = (place.width() * 1.5)
        .max(place.height() * 1.5 / PLACE_SHAPE)
        .max(NEIGHBOURHOOD)
        .min(sketch.width);
    let height = width * PLACE_SHAPE;
    let middle = place.center();
    let corner = |at: f64, size: f64, all: f64| (at - size / 2.0).min(all - size).max(0.0);
    let x = corner(middle.x, width, sketch.width);
    let y = corner(middle.y, height, sketch.height);
    let window = Rect::new(x, y, x + width, y + height);
    let least = MARK_FROM * width / 2.0;
    let more = |side: f64| (least - side / 2.0).max(1.0);
    let mark = place.inflate(more(place.width()), more(place.height()));
    view(out, page, window, Some(mark));
}

/// Part of a page, drawn once more where it is needed.
fn view(out: &mut String, (file, number): (usize, usize), window: Rect, mark: Option<Rect>) {
    let id = id(file, number);
    let words = match mark {
        Some(_) => format!("Part of page {number}, with the place marked"),
        None => format!("Page {number}"),
    };
    push(
        out,
        format_args!(
            "<figure><svg viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"{words}\"><use href=\"#{id}\"/>",
            round(window.x0),
            round(window.y0),
            round(window.width()),
            round(window.height())
        ),
    );
    if let Some(mark) = mark {
        push(
            out,
            format_args!(
                "<rect class=\"mark\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"1\"/>",
                round(mark.x0),
                round(mark.y0),
                round(mark.width()),
                round(mark.height())
            ),
        );
    }
    push(
        out,
        format_args!(
            "</svg><figcaption><a href=\"#{id}-page\">Page {number}</a>{}</figcaption></figure>",
            match mark {
                Some(_) => ": the place is framed in red",
                None => "",
            }
        ),
    );
}

/// Pieces with the edges and points that a message speaks of.
fn figures(out: &mut String, pieces: &[ShownPiece]) {
    for piece in pieces {
        let boxes = piece.lines.iter().map(Shape::bounding_box);
        let points = piece.points.iter().map(|p| Rect::from_points(*p, *p));
        let Some(bounds) = boxes.chain(points).reduce(|a, b| a.union(b)) else {
            continue;
        };
        let ring = bounds.width().max(bounds.height()) * RING;
        let room = bounds.inflate(ROUND.max(1.5 * ring), ROUND.max(1.5 * ring));
        let title = escaped(&piece.title);
        push(
            out,
            format_args!(
                "<figure><svg viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"{title}, outline\">",
                round(room.x0),
                round(room.y0),
                round(room.width()),
                round(room.height())
            ),
        );
        for (index, line) in piece.lines.iter().enumerate() {
            let class = if index == 0 { "cut" } else { "seam" };
            let data = svg_path(line);
            push(out, format_args!("<path class=\"{class}\" d=\"{data}\"/>"));
        }
        for (_, edge) in &piece.edges {
            let data = svg_path(edge);
            push(out, format_args!("<path class=\"edge\" d=\"{data}\"/>"));
        }
        let radius = round(ring);
        for point in &piece.points {
            let (x, y) = (round(point.x), round(point.y));
            push(
                out,
                format_args!("<circle class=\"mark\" cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"/>"),
            );
        }
        push(
            out,
            format_args!(
                "</svg><figcaption>{title}{}</figcaption></figure>",
                marked(piece)
            ),
        );
    }
}

/// What is marked on a piece, in words.
fn marked(piece: &ShownPiece) -> String {
    let edges: Vec<String> = piece.edges.iter().map(|(name, _)| escaped(name)).collect();
    let mut words = String::new();
    if !edges.is_empty() {
        words = format!(": {} drawn thick", super::write::listed(&edges));
    }
    if !piece.points.is_empty() {
        words.push_str(if words.is_empty() { ": " } else { ", " });
        words.push_str("the place in a ring");
    }
    words
}

/// A course as absolute path data, to a hundredth of a millimetre.
fn svg_path(path: &kurbo::BezPath) -> String {
    let mut rounded = path.clone();
    let near = |p: &mut kurbo::Point| *p = kurbo::Point::new(round(p.x), round(p.y));
    for element in rounded.elements_mut() {
        match element {
            kurbo::PathEl::MoveTo(a) | kurbo::PathEl::LineTo(a) => near(a),
            kurbo::PathEl::QuadTo(a, b) => [a, b].into_iter().for_each(near),
            kurbo::PathEl::CurveTo(a, b, c) => [a, b, c].into_iter().for_each(near),
            kurbo::PathEl::ClosePath => {}
        }
    }
    rounded.to_svg()
}

/// To a hundredth of a millimetre; never minus zero.
pub fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}
