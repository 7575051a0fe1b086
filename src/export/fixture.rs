//! Pieces whose lines are known by hand, and what is read of a drawing.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use crate::design::{CutColours, LineKind};
use crate::diagnostic::{Place, SourceText};
use crate::geometry::{Edge, Outline};
use crate::piece::{Cut, Mark, MarkKind, Notch, Piece};
use kurbo::{BezPath, Point, Vec2};
use std::sync::Arc;

/// A piece of these edges, each with this allowance, and this cut line.
pub(super) fn piece(edges: &[(&str, &str)], cut_line: &str, allowance: f64) -> Piece {
    let edges: Vec<Edge> = edges
        .iter()
        .map(|(name, path)| Edge::new(*name, BezPath::from_svg(path).unwrap()))
        .collect();
    let source = SourceText {
        path: "design.yaml".to_string(),
        text: String::new(),
    };
    Piece {
        key: "panel".to_string(),
        number: 1,
        title: "Panel & flap".to_string(),
        note: None,
        allowances: vec![allowance; edges.len()],
        outline: Outline::new(edges).unwrap(),
        cut_line: BezPath::from_svg(cut_line).unwrap(),
        fold: None,
        grain: None,
        grain_within: 0.0,
        common_point: None,
        notches: Vec::new(),
        marks: Vec::new(),
        cuts: Vec::new(),
        place: Place {
            source: Arc::new(source),
            line: 1,
            column: 1,
        },
    }
}

/// A square of 40 mm with 5 mm of allowance all round: 50 mm as it is cut. Its seam line begins at the
/// origin. Cut from `felt` and from `lining`.
pub(super) fn square() -> Piece {
    let edges = [
        ("top", "M0 0L40 0"),
        ("right", "M40 0L40 40"),
        ("bottom", "M40 40L0 40"),
        ("left", "M0 40L0 0"),
    ];
    let cut = |material: &str| Cut {
        material: material.to_string(),
        count: 1,
        mirrored: false,
    };
    Piece {
        cuts: vec![cut("felt"), cut("lining")],
        ..piece(&edges, "M-5 -5L45 -5L45 45L-5 45Z", 5.0)
    }
}

/// Half of a square of 60 mm without allowance, 30 by 60 mm, its fold at x = 0.
pub(super) fn half() -> Piece {
    let edges = [
        ("top", "M0 0L30 0"),
        ("side", "M30 0L30 60"),
        ("bottom", "M30 60L0 60"),
        ("fold", "M0 60L0 0"),
    ];
    Piece {
        fold: Some("fold".to_string()),
        ..piece(&edges, "M0 0L30 0L30 60L0 60Z", 0.0)
    }
}

/// A notch in the middle of the top of [`square`].
pub(super) fn notch(count: u32) -> Notch {
    Notch {
        name: "middle".to_string(),
        edge: "top".to_string(),
        at: 20.0,
        point: Point::new(20.0, 0.0),
        outward: Vec2::new(0.0, -1.0),
        allowance: 5.0,
        centre: false,
        count,
    }
}

/// A mark without words.
pub(super) fn mark(kind: MarkKind) -> Mark {
    Mark { kind, words: None }
}

/// A line of this kind.
pub(super) fn line(kind: LineKind, path: &str) -> Mark {
    let path = BezPath::from_svg(path).unwrap();
    mark(MarkKind::Line { kind, path })
}

/// What is in a group of a drawing.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Group {
    pub stroke: String,
    pub outlines: Vec<BezPath>,
    pub paths: Vec<BezPath>,
    pub circles: Vec<[f64; 3]>,
}

/// A drawing read back.
pub(super) struct Read {
    pub groups: Vec<(String, Group)>,
    pub title: String,
    pub size: [String; 2],
    pub view: [f64; 4],
}

impl Read {
    pub fn of(text: &str) -> Self {
        let tree = roxmltree::Document::parse(text).unwrap();
        let root = tree.root_element();
        let view = root.attribute("viewBox").unwrap().split(' ');
        let view: Vec<f64> = view.map(|v| v.parse().unwrap()).collect();
        let groups = root.children().filter(|n| n.tag_name().name() == "g");
        let title = root.children().find(|n| n.tag_name().name() == "title");
        Self {
            groups: groups.map(group).collect(),
            title: title.unwrap().text().unwrap().to_string(),
            size: ["width", "height"].map(|key| root.attribute(key).unwrap().to_string()),
            view: view.try_into().unwrap(),
        }
    }

    pub fn group(&self, name: &str) -> &Group {
        let found = self.groups.iter().find(|(id, _)| id == name);
        &found.unwrap_or_else(|| panic!("there is a group {name}")).1
    }
}

fn group(node: roxmltree::Node<'_, '_>) -> (String, Group) {
    let mut group = Group {
        stroke: node.attribute("stroke").unwrap().to_string(),
        ..Group::default()
    };
    for child in node.children().filter(|n| n.is_element()) {
        let number = |key: &str| child.attribute(key).unwrap().parse::<f64>().unwrap();
        match child.tag_name().name() {
            "circle" => group.circles.push(["cx", "cy", "r"].map(number)),
            _ => {
                let path = BezPath::from_svg(child.attribute("d").unwrap()).unwrap();
                match child.attribute("class") {
                    Some("outline") => group.outlines.push(path),
                    _ => group.paths.push(path),
                }
            }
        }
    }
    (node.attribute("id").unwrap().to_string(), group)
}

/// All lengths of a group's paths, mm.
pub(super) fn length(paths: &[BezPath]) -> f64 {
    let lengths = paths.iter();
    lengths
        .map(|path| crate::geometry::curve::length(path, 1e-9))
        .sum()
}

/// The colours of the house, as they are written.
pub(super) fn usual_colours() -> [String; 4] {
    let CutColours {
        cut,
        score,
        mark,
        guide,
    } = CutColours::default();
    [cut, score, mark, guide].map(|c| crate::design::look::written(c).to_lowercase())
}
