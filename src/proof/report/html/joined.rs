//! Plates of several sheets, rejoined by their marks alone.

use super::write::{departure, escaped, listed, push};
use super::{Report, head, pages, picture};
use crate::proof::measured::Measured;
use crate::proof::sketch::joined::JoinedSketch;
use kurbo::{Point, Vec2};

/// Whether there is a plate of several sheets.
pub fn any(report: &Report) -> bool {
    report
        .files
        .iter()
        .any(|file| !file.sketches.joined.is_empty())
}

/// The part with the rejoined plates.
pub fn sheets(page: &mut String, report: &Report) {
    if !any(report) {
        return;
    }
    head(page, "joined", "Sheets rejoined");
    page.push_str(
        "<p>Each sheet was laid on its neighbours where its join marks put it, as a buyer does it, and the \
         whole was compared with the piece. Dotted frames show the sheets, so that two of them run along \
         each joint; rings show the join marks.</p>\n",
    );
    pages::legend(page);
    page.push_str("<div class=\"pages sheets\">\n");
    for file in &report.files {
        let measured = report.measured.get(&file.file);
        for sketch in &file.sketches.joined {
            plate(page, &file.file, sketch, measured);
        }
    }
    page.push_str("</div>\n");
}

fn plate(page: &mut String, file: &str, sketch: &JoinedSketch, measured: Option<&Measured>) {
    let bounds = sketch.bounds;
    let names: Vec<String> = sketch.outlines.iter().map(|o| o.name.clone()).collect();
    let pages: Vec<String> = sketch.pages.iter().map(usize::to_string).collect();
    push(
        page,
        format_args!(
            "<figure><svg viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"Pages {} joined, with the {}\">",
            picture::round(bounds.x0),
            picture::round(bounds.y0),
            picture::round(bounds.width()),
            picture::round(bounds.height()),
            listed(&pages),
            escaped(&listed(&names))
        ),
    );
    for frame in &sketch.frames {
        let corners: Vec<String> = frame.iter().map(coordinates).collect();
        push(
            page,
            format_args!(
                "<polygon class=\"frame\" points=\"{}\"/>",
                corners.join(" ")
            ),
        );
    }
    picture::outlines(page, &sketch.outlines);
    for mark in &sketch.marks {
        push(
            page,
            format_args!(
                "<circle class=\"dim\" cx=\"{}\" cy=\"{}\" r=\"5\"/>",
                picture::round(mark.x),
                picture::round(mark.y)
            ),
        );
    }
    let size = picture::round(bounds.width().max(bounds.height()) / 28.0);
    for (number, frame) in sketch.pages.iter().zip(&sketch.frames) {
        let at = corner(frame) + Vec2::new(size * 0.8, size * 1.6);
        push(
            page,
            format_args!(
                "<text x=\"{}\" y=\"{}\" style=\"font-size:{size}px\">{number}</text>",
                picture::round(at.x),
                picture::round(at.y)
            ),
        );
    }
    push(
        page,
        format_args!(
            "</svg><figcaption>{}, pages {}. {}</figcaption></figure>\n",
            escaped(file),
            listed(&pages),
            misfit(sketch, measured)
        ),
    );
}

fn coordinates(point: &Point) -> String {
    format!("{},{}", picture::round(point.x), picture::round(point.y))
}

/// The corner of a frame that is uppermost on the left.
fn corner(frame: &[Point; 4]) -> Point {
    let x = frame.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    let y = frame.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    Point::new(x, y)
}

/// How far the joined pieces are off, and how far the sheets overlap.
fn misfit(sketch: &JoinedSketch, measured: Option<&Measured>) -> String {
    let outlines = measured.map_or(&[][..], |m| m.outlines.as_slice());
    let own = |o: &&crate::proof::MeasuredOutline| {
        let key = (o.piece.clone(), o.size.clone());
        sketch.keys.contains(&key) && o.pages.len() > 1
    };
    let own: Vec<_> = outlines.iter().filter(own).collect();
    let off = own.iter().filter_map(|o| o.joined).reduce(f64::max);
    let overlap = own.iter().filter_map(|o| o.overlap).reduce(f64::min);
    let mut words = match off {
        Some(off) => format!(
            "Joined, the outlines are off by {} mm at most",
            departure(off)
        ),
        None => "The misfit was not measured".to_string(),
    };
    if let Some(overlap) = overlap {
        words.push_str(&format!("; the sheets overlap by {overlap:.1} mm at least"));
    }
    words.push('.');
    words
}
