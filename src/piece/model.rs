//! Finished pieces of one size, in mm, y down, in the piece's own axes.

use crate::design::LineKind;
use crate::diagnostic::Place;
use crate::geometry::Outline;
use kurbo::{BezPath, Point, Vec2};

/// All pieces of one size, with the seams walked.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedPieces {
    /// Key of the size.
    pub size: String,
    /// The size as printed.
    pub title: String,
    /// Words after the title.
    pub words: Option<String>,
    /// The pieces, in the design's order.
    pub pieces: Vec<Piece>,
    /// The seams, in the design's order.
    pub seams: Vec<WalkedSeam>,
}

/// A finished piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Key, e.g. `toe`.
    pub key: String,
    /// Number in the design, from 1.
    pub number: usize,
    /// As printed.
    pub title: String,
    /// Words for the label.
    pub note: Option<String>,
    /// The seam line.
    pub outline: Outline,
    /// The cut line: closed, clockwise, not crossing itself.
    pub cut_line: BezPath,
    /// Allowance of each edge, mm.
    pub allowances: Vec<f64>,
    /// Edge on the fold of the cloth: the piece is drawn as a half.
    pub fold: Option<String>,
    /// Grain line from end to end.
    pub grain: Option<[Point; 2]>,
    /// How far the grain line may lie off the grain of the cloth, degrees.
    pub grain_within: f64,
    /// Where the design lays the sizes of the piece on each other.
    pub common_point: Option<Point>,
    /// Notches.
    pub notches: Vec<Notch>,
    /// Marks inside.
    pub marks: Vec<Mark>,
    /// What is cut.
    pub cuts: Vec<Cut>,
    /// Where the design declares it.
    pub place: Place,
}

/// A notch on an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Notch {
    /// Its name.
    pub name: String,
    /// The edge.
    pub edge: String,
    /// Distance from the start of the edge on the seam line, mm.
    pub at: f64,
    /// On the seam line.
    pub point: Point,
    /// Unit vector outward.
    pub outward: Vec2,
    /// Allowance there, mm: the notch on the cut line stands at `point + outward * allowance`.
    pub allowance: f64,
    /// With a centre tick.
    pub centre: bool,
    /// Triangles side by side.
    pub count: u32,
}

/// A mark inside a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// What it is.
    pub kind: MarkKind,
    /// Words printed beside it.
    pub words: Option<String>,
}

/// Kinds of marks, lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkKind {
    /// A drill hole.
    Hole {
        /// Centre.
        at: Point,
        /// Diameter.
        diameter: f64,
    },
    /// An eyelet.
    Eyelet {
        /// Centre.
        at: Point,
        /// Diameter of the hole.
        diameter: f64,
    },
    /// A button's place.
    Button {
        /// Centre.
        at: Point,
        /// Diameter.
        diameter: f64,
    },
    /// A buttonhole from end to end of the slit.
    Buttonhole {
        /// One end.
        from: Point,
        /// Other end.
        to: Point,
    },
    /// A line.
    Line {
        /// What it is for.
        kind: LineKind,
        /// Its course.
        path: BezPath,
    },
}

/// What is cut from one cloth, for what the design makes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Cloth key.
    pub material: String,
    /// Pieces in all.
    pub count: u32,
    /// Half of them mirrored.
    pub mirrored: bool,
}

/// A seam after walking.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkedSeam {
    /// Its name.
    pub name: String,
    /// Piece and edge that is joined.
    pub from: (String, String),
    /// Piece and edge it is joined to.
    pub to: (String, String),
    /// Length of the joined edge, mm.
    pub length_from: f64,
    /// Length of the other, mm.
    pub length_to: f64,
    /// Least and greatest excess of `from` over `to` that the design declares, mm.
    pub eased: [f64; 2],
    /// Excess of `from` over `to`, percent of `to`.
    pub easing_percent: f64,
    /// What no declared easing explains, mm.
    pub gap: f64,
    /// Whether `from` would have to be longer for that, not shorter.
    pub wants_longer: bool,
    /// Sum of the two corner angles where the seam starts and ends (along `from`), degrees.
    pub end_angles: [f64; 2],
    /// Notches that meet: names on `from` and `to`, and how far apart they are, mm.
    pub notch_pairs: Vec<(String, String, f64)>,
}
