//! What a machine that cuts would read of our files: SVG and DXF, by readers that know nothing of how they
//! were written. Lengths are mm.

use kurbo::{BezPath, Point};
use pressfoot::geometry::curve;
use roxmltree::{Document, Node};

/// A drawing for a cutter.
pub struct Drawing {
    /// The lines that are cut round pieces.
    pub outlines: Vec<BezPath>,
    /// How many holes are cut.
    pub holes: usize,
}

impl Drawing {
    /// Reads the SVG in `text`, whose unit must be the millimetre.
    pub fn read(text: &str) -> Self {
        let document = Document::parse(text).unwrap_or_else(|why| panic!("{why}: {text}"));
        let root = document.root_element();
        let number = |text: &str| -> f64 {
            let value: f64 = text
                .parse()
                .unwrap_or_else(|_| panic!("{text} is no number"));
            assert!(value.is_finite(), "{text}");
            value
        };
        let value = |node: &Node<'_, '_>, name: &str| {
            let text = node.attribute(name);
            text.map(str::to_string)
                .unwrap_or_else(|| panic!("no {name}"))
        };
        let view: Vec<f64> = value(&root, "viewBox").split(' ').map(number).collect();
        for (side, name) in view[2..].iter().zip(["width", "height"]) {
            let written = value(&root, name);
            let mm = written.strip_suffix("mm").map(number);
            assert_eq!(mm, Some(*side), "the unit is no millimetre");
        }
        let mut drawing = Self {
            outlines: Vec::new(),
            holes: 0,
        };
        for node in root.descendants().filter(Node::is_element) {
            match node.tag_name().name() {
                "path" => {
                    let data = value(&node, "d");
                    let path =
                        BezPath::from_svg(&data).unwrap_or_else(|why| panic!("{why}: {data}"));
                    if node.attribute("class") == Some("outline") {
                        drawing.outlines.push(path);
                    }
                }
                "circle" => {
                    let measures = ["cx", "cy", "r"].map(|name| number(&value(&node, name)));
                    assert!(measures[2] > 0.0, "a hole of no size");
                    let group = node.parent().and_then(|parent| parent.attribute("id"));
                    drawing.holes += usize::from(group == Some("cut"));
                }
                _ => {}
            }
        }
        drawing
    }

    /// The length of all outlines.
    pub fn length(&self) -> f64 {
        let lengths = self.outlines.iter().map(|path| curve::length(path, 1e-6));
        lengths.sum()
    }
}

/// A block of a DXF file: a piece.
#[derive(Debug, Default)]
pub struct Block {
    /// The closed rows of its boundary.
    pub boundary: Vec<Vec<Point>>,
    /// How many drill holes it has.
    pub drilled: usize,
}

impl Block {
    /// The length of its boundary.
    pub fn length(&self) -> f64 {
        let round = |row: &Vec<Point>| -> f64 {
            let next = row.iter().cycle().skip(1);
            row.iter().zip(next).map(|(a, b)| a.distance(*b)).sum()
        };
        self.boundary.iter().map(round).sum()
    }
}

/// The blocks in the text of a DXF file: pairs of a group code and a value, each on a line.
pub fn blocks(text: &str) -> Vec<Block> {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0, "codes and values stand in turn");
    let pairs = lines.chunks_exact(2).map(|pair| {
        let code = pair[0].trim().parse::<u16>();
        (
            code.unwrap_or_else(|_| panic!("{} is no code", pair[0])),
            pair[1],
        )
    });
    let mut entities: Vec<Vec<(u16, &str)>> = Vec::new();
    for pair in pairs {
        match entities.last_mut() {
            Some(entity) if pair.0 != 0 => entity.push(pair),
            _ => entities.push(vec![pair]),
        }
    }
    let last = entities.last().and_then(|entity| entity.first());
    assert_eq!(last, Some(&(0, "EOF")), "the file ends");
    let mut blocks = Vec::new();
    let mut open = false;
    for entity in &entities {
        let value = |code: u16| {
            entity
                .iter()
                .find(|(c, _)| *c == code)
                .map(|(_, v)| v.trim())
        };
        let number = |code: u16| -> f64 {
            let text = value(code).unwrap_or_else(|| panic!("no group {code}: {entity:?}"));
            let number: f64 = text
                .parse()
                .unwrap_or_else(|_| panic!("{text} is no number"));
            assert!(number.is_finite(), "{text}");
            number
        };
        let on = |layer: &str| value(8) == Some(layer);
        let block = blocks.last_mut();
        match (value(0), block) {
            (Some("BLOCK"), _) => blocks.push(Block::default()),
            (Some("ENDBLK"), _) => open = false,
            (Some("POLYLINE"), Some(block)) if on("1") => {
                assert_eq!(value(70), Some("1"), "a boundary is closed");
                block.boundary.push(Vec::new());
                open = true;
            }
            (Some("SEQEND"), _) => open = false,
            (Some("VERTEX"), Some(block)) if open && on("1") => {
                let row = block.boundary.last_mut().expect("it was pushed");
                row.push(Point::new(number(10), number(20)));
            }
            (Some("POINT"), Some(block)) if on("13") => block.drilled += 1,
            _ => {}
        }
    }
    blocks
}
