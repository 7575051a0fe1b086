//! A line drawing as SVG: black lines with round ends over a white silhouette, no type, 1 unit a
//! millimetre, two decimals.

use super::LineDrawing;
use super::arrow::{Arrow, HALO, SHAFT};
use super::line_kind::width_factor;
use super::tint::{self, DOT, Pattern, Tints};
use crate::geometry::path_text;
use crate::geometry::rounding::push_decimals;
use crate::plates::svg::escaped;
use kurbo::{Affine, BezPath};

/// The drawing as a file. `alt` tells what is seen to those who do not see it; `shrunk` is the
/// factor by which a drawing made larger is scaled down, line widths not.
#[must_use]
pub fn svg(drawing: &LineDrawing, tints: Tints, alt: &str, shrunk: f64) -> Vec<u8> {
    let (width, height) = (drawing.width * shrunk, drawing.height * shrunk);
    let onto = Affine::scale(shrunk);
    let factor = width_factor(width);
    let alt = escaped(alt);
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{alt}\" \
         width=\"{width:.2}mm\" height=\"{height:.2}mm\" viewBox=\"0 0 {width:.2} {height:.2}\">\
         <title>{alt}</title>\n<g fill=\"none\" stroke=\"#000\" stroke-linecap=\"round\" \
         stroke-linejoin=\"round\">\n"
    );
    fill(&mut text, &(onto * &drawing.silhouette), "#ffffff");
    for region in &drawing.regions {
        let region = super::Region {
            face: region.face,
            path: onto * &region.path,
        };
        match tints {
            Tints::None => {}
            Tints::Greys => fill(&mut text, &region.path, tint::grey(region.face)),
            Tints::Lines => write_pattern(&mut text, &region),
        }
    }
    for line in &drawing.lines {
        let data = path_data(&(onto * &line.path));
        let width = line.kind.width() * factor;
        let dash = line.kind.dash().map_or(String::new(), |[on, off]| {
            format!(
                " stroke-dasharray=\"{:.2} {:.2}\"",
                on * factor,
                off * factor
            )
        });
        let name = line.kind.name();
        put(
            &mut text,
            &format!("<path class=\"{name}\" stroke-width=\"{width:.2}\"{dash} d=\"{data}\"/>\n"),
        );
    }
    for arrow in &drawing.arrows {
        write_arrow(&mut text, &Arrow::new(onto * *arrow, factor), factor);
    }
    text.push_str("</g>\n</svg>\n");
    text.into_bytes()
}

/// White round it first, so that it stands off from the lines it crosses.
fn write_arrow(text: &mut String, arrow: &Arrow, factor: f64) {
    let (shaft, head) = (path_data(&arrow.shaft), path_data(&arrow.head));
    let width = SHAFT * factor;
    let (halo, round) = (width + HALO * factor, HALO * factor);
    put(
        text,
        &format!(
            "<path stroke=\"#fff\" stroke-width=\"{halo:.2}\" d=\"{shaft}\"/>\n\
             <path stroke=\"#fff\" stroke-width=\"{round:.2}\" d=\"{head}\"/>\n\
             <path class=\"arrow\" stroke-width=\"{width:.2}\" d=\"{shaft}\"/>\n\
             <path stroke=\"none\" fill=\"#000\" d=\"{head}\"/>\n"
        ),
    );
}

fn put(text: &mut String, element: &str) {
    text.push_str(element);
}

fn fill(text: &mut String, path: &BezPath, colour: &str) {
    let data = path_data(path);
    put(
        text,
        &format!("<path stroke=\"none\" fill=\"{colour}\" fill-rule=\"evenodd\" d=\"{data}\"/>\n"),
    );
}

fn write_pattern(text: &mut String, region: &super::Region) {
    match tint::pattern(region) {
        None => {}
        Some(Pattern::Strokes(path, width)) => {
            let data = path_data(&path);
            put(
                text,
                &format!("<path stroke-width=\"{width:.2}\" d=\"{data}\"/>\n"),
            );
        }
        Some(Pattern::Dots(dots)) => {
            // A line too short to see with round ends is a dot.
            let mut data = String::new();
            for dot in dots {
                data.push('M');
                push_decimals(&mut data, dot.x, 2);
                data.push(' ');
                push_decimals(&mut data, dot.y, 2);
                data.push_str("h.01");
            }
            put(
                text,
                &format!("<path stroke-width=\"{DOT:.2}\" d=\"{data}\"/>\n"),
            );
        }
    }
}

/// Path data to two decimals.
fn path_data(path: &BezPath) -> String {
    path_text::path_data(path, 2)
}
