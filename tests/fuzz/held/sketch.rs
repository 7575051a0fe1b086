//! The text of a design with pieces made of bytes.

use super::rings::{number, one_of};
use arbitrary::{Result, Unstructured};
use kurbo::Point;
use std::f64::consts::TAU;
use std::fmt::Write;

/// What stands above the pieces.
const HEAD: &str = "title: Held\nedition: 1.0.0\nabout: Pieces of any shape.\n\
    age: For grown-ups.\nterms: Sew as many as you like.\ncontact: corrections@harvest-fair.example\n\
    paper: [a4]\nsizes: {one: {title: One}}\n\
    cloth:\n  outer: {name: felt, kind: wool felt, width: 2 m}\n  lining: {name: lawn, kind: woven, sheet: 500 mm x 400 mm}\n";

/// Kinds of corners.
const CORNERS: [&str; 6] = [
    "mitre",
    "mitre up to 2",
    "round",
    "chamfer",
    "square",
    "folded",
];

/// A design of one to three pieces, with their allowances, marks and notches.
pub fn design(bytes: &mut Unstructured<'_>) -> Result<String> {
    let mut text = HEAD.to_string();
    let cutting = one_of(bytes, &["", "slits", "marked"])?;
    if !cutting.is_empty() {
        text.push_str(&format!("cutting: {{notches: {cutting}}}\n"));
    }
    text.push_str("pieces:\n");
    for index in 0..bytes.int_in_range(1..=3)? {
        piece(bytes, index, &mut text)?;
    }
    Ok(text)
}

fn piece(bytes: &mut Unstructured<'_>, index: usize, text: &mut String) -> Result<()> {
    line(text, 2, &format!("piece {index}:"));
    let edges = match bytes.int_in_range(0..=4)? {
        0 => rectangle(bytes, text)?,
        1 => {
            let sides = [length(bytes, 1.0, 150.0)?, length(bytes, 1.0, 150.0)?];
            line(
                text,
                4,
                &format!("ellipse: {{width: {}, height: {}}}", sides[0], sides[1]),
            );
            vec!["rim".to_string()]
        }
        _ => outline(bytes, text)?,
    };
    allowances(bytes, &edges, text)?;
    let corner = one_of(bytes, &CORNERS)?;
    line(text, 4, &format!("corners: {corner}"));
    let grain = one_of(bytes, &["none", "upright", "across", "bias", "30 deg"])?;
    line(text, 4, &format!("grain: {grain}"));
    let half = one_of(bytes, &["", "", "on fold", "mirror on"])?;
    if !half.is_empty() && edges.len() > 2 {
        line(text, 4, &format!("{half}: {}", edges[0]));
    }
    marks(bytes, &edges, text)?;
    let cut = one_of(
        bytes,
        &["{outer: 1}", "{outer: 1 pair}", "{outer: 2, lining: 1}"],
    )?;
    line(text, 4, &format!("cut: {cut}"));
    Ok(())
}

fn rectangle(bytes: &mut Unstructured<'_>, text: &mut String) -> Result<Vec<String>> {
    let (width, height) = (length(bytes, 1.0, 150.0)?, length(bytes, 1.0, 150.0)?);
    line(
        text,
        4,
        &format!("rectangle: {{width: {width}, height: {height}}}"),
    );
    Ok(["top", "right", "bottom", "left"]
        .map(String::from)
        .to_vec())
}

/// A ring of edges; the first one is straight and upright at the left, so that it can be a fold.
fn outline(bytes: &mut Unstructured<'_>, text: &mut String) -> Result<Vec<String>> {
    let count = bytes.int_in_range(3..=7)?;
    let far = one_of(bytes, &[8.0, 30.0, 90.0])?;
    let mut corners = vec![Point::new(0.0, far), Point::new(0.0, -far)];
    for index in 2..count {
        let turn = ((index as f64 - 1.0) / (count as f64 - 1.0) - 0.5) * TAU / 2.0;
        let radius = number(bytes, 0.2 * far, 1.5 * far)?;
        corners.push(Point::new(radius * turn.cos(), radius * turn.sin()));
    }
    let at = |point: Point| format!("[{:.3} mm, {:.3} mm]", point.x, point.y);
    line(text, 4, "outline:");
    line(text, 6, &format!("start: {}", at(corners[0])));
    line(text, 6, "edges:");
    let mut names = Vec::new();
    for index in 0..count {
        let (from, to) = (corners[index], corners[(index + 1) % count]);
        let handles = match bytes.int_in_range(0..=2)? {
            0 if index > 0 => {
                let bend = number(bytes, -0.5, 0.5)?;
                let along = to - from;
                let across = bend * kurbo::Vec2::new(along.y, -along.x);
                let ends = [from.lerp(to, 0.3) + across, from.lerp(to, 0.7) + across];
                format!(", handles: [{}, {}]", at(ends[0]), at(ends[1]))
            }
            _ => String::new(),
        };
        let name = format!("edge {index}");
        line(
            text,
            8,
            &format!("- {{name: {name}, to: {}{handles}}}", at(to)),
        );
        names.push(name);
    }
    Ok(names)
}

fn allowances(bytes: &mut Unstructured<'_>, edges: &[String], text: &mut String) -> Result<()> {
    let mut all = vec![format!("all: {}", length(bytes, 0.0, 12.0)?)];
    for edge in edges {
        if bytes.ratio(1_u8, 3_u8)? {
            let own = match bytes.arbitrary()? {
                true => "none".to_string(),
                false => length(bytes, 0.0, 20.0)?,
            };
            all.push(format!("{edge}: {own}"));
        }
    }
    line(text, 4, &format!("allowance: {{{}}}", all.join(", ")));
    Ok(())
}

fn marks(bytes: &mut Unstructured<'_>, edges: &[String], text: &mut String) -> Result<()> {
    if bytes.arbitrary()? {
        line(text, 4, "holes:");
        for _ in 0..bytes.int_in_range(1..=3)? {
            let edge = one_of(bytes, &[0, 1, 2])? % edges.len();
            let (at, inward) = (number(bytes, 0.0, 100.0)?, length(bytes, 0.5, 30.0)?);
            let place = format!("{{edge: {}, at: {at:.1} %, inward: {inward}}}", edges[edge]);
            line(
                text,
                6,
                &format!("- {{at: {place}, diameter: {}}}", length(bytes, 0.1, 6.0)?),
            );
        }
    }
    if bytes.arbitrary()? {
        line(text, 4, "notches:");
        for _ in 0..bytes.int_in_range(1..=3)? {
            let edge = one_of(bytes, &[0, 1, 2])? % edges.len();
            let (at, count) = (number(bytes, 0.0, 100.0)?, bytes.int_in_range(1..=3)?);
            line(
                text,
                6,
                &format!("- {{edge: {}, at: {at:.1} %, count: {count}}}", edges[edge]),
            );
        }
    }
    if bytes.arbitrary()? {
        line(text, 4, "lines:");
        for kind in ["placement", "stitching", "fold"] {
            let mut end = || -> Result<String> {
                let edge = one_of(bytes, &[0, 1, 2])? % edges.len();
                Ok(format!(
                    "{{edge: {}, at: {:.1} %}}",
                    edges[edge],
                    number(bytes, 0.0, 100.0)?
                ))
            };
            line(
                text,
                6,
                &format!("- {{kind: {kind}, through: [{}, {}]}}", end()?, end()?),
            );
        }
    }
    Ok(())
}

/// A length in words: whole, a fraction of an inch, or any.
fn length(bytes: &mut Unstructured<'_>, from: f64, to: f64) -> Result<String> {
    let mm = number(bytes, from, to)?;
    Ok(match bytes.int_in_range(0..=2)? {
        0 => format!("{:.0} mm", mm.ceil()),
        1 => format!("{}/8 in", (mm / 3.175).ceil().max(1.0)),
        _ => format!("{mm:.4} mm"),
    })
}

fn line(text: &mut String, indent: usize, words: &str) {
    writeln!(text, "{:indent$}{words}", "").expect("writing to a String never fails");
}
