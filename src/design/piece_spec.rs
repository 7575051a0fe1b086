//! A piece as the designer describes it: shape, allowances, corners, notches, marks and cuts, with
//! formulas not yet evaluated.

use super::formula::Formula;
use super::shoe_spec::ShoePart;
use crate::diagnostic::{Place, SourceText};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A piece as the designer describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceSpec {
    /// Key, e.g. `toe`.
    pub key: String,
    /// As printed; the key with a capital unless given.
    pub title: String,
    /// Words for the label and the piece list.
    pub note: Option<String>,
    /// Where the seam line comes from.
    pub shape: ShapeSpec,
    /// Named points (for marks and outlines), in order; `[x, y]` as formulas, mm.
    pub points: Vec<(String, [Formula; 2])>,
    /// `common point`: where the sizes are laid on each other when they are nested.
    pub common_point: Option<PointSpec>,
    /// Edge that lies on the fold of the cloth: the piece is drawn as a half.
    pub on_fold: Option<(String, Place)>,
    /// Edge about which a drawn half is mirrored to give the whole piece.
    pub mirror_on: Option<(String, Place)>,
    /// Allowance of each edge that is not named in `edge_allowances`.
    pub allowance: Option<Formula>,
    /// Allowances by edge name; `None` is the word `none`.
    pub edge_allowances: Vec<(String, Option<Formula>, Place)>,
    /// Corner treatment unless `corner_specs` says otherwise.
    pub corner: CornerSpec,
    /// Treatment of single corners: the edges that meet there, by name, in either order.
    pub corner_specs: Vec<([String; 2], CornerSpec, Place)>,
    /// Grain line.
    pub grain: GrainSpec,
    /// How far the grain line may lie off the grain of the cloth, degrees.
    pub grain_within: f64,
    /// Notches.
    pub notches: Vec<NotchSpec>,
    /// Holes, eyelets, buttonholes, lines.
    pub marks: Vec<MarkSpec>,
    /// What is cut, by cloth key.
    pub cuts: Vec<CutSpec>,
    /// Where it is declared.
    pub place: Place,
}

impl PieceSpec {
    /// Where the mark of this number is declared, or else the piece.
    pub fn place_of_mark(&self, number: usize) -> &Place {
        self.marks
            .get(number)
            .map_or(&self.place, |mark| &mark.place)
    }
}

/// Where a seam line comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum ShapeSpec {
    /// The foot's smoothed tracing moved outward by the ease; edges `toe edge` and `heel edge`,
    /// parted at the side marks (given as a distance from the heel along the foot).
    Tracing {
        /// Ease all round.
        ease: Formula,
        /// Side mark on the inner side, from the heel.
        inner_mark: Formula,
        /// Side mark on the outer side, from the heel.
        outer_mark: Formula,
    },
    /// Edges drawn from point to point.
    Drawn {
        /// First point.
        start: PointSpec,
        /// The edges in order; the last returns to `start`.
        edges: Vec<DrawnEdge>,
    },
    /// Edges `top`, `right`, `bottom`, `left` (and `corner 1` … `corner 4` if rounded, clockwise
    /// from the top right).
    Rectangle {
        /// Across.
        width: Formula,
        /// Down.
        height: Formula,
        /// Radius of the corners.
        radius: Option<Formula>,
    },
    /// One edge `rim`, starting at the right and running clockwise.
    Ellipse {
        /// Whole width.
        width: Formula,
        /// Whole height.
        height: Formula,
    },
    /// A closed path of an SVG drawing in true size.
    Svg {
        /// Path below the design folder; `{size}` stands for the size's key.
        file: String,
        /// `id` of the path element.
        id: String,
        /// Names for the stretches between corners, in the order of the path.
        edges: Vec<String>,
        /// The drawings' texts by size key.
        texts: BTreeMap<String, Arc<SourceText>>,
        /// Where the drawing is named.
        place: Place,
    },
    /// A piece of the shoe that is drafted from the foot.
    Shoe {
        /// Which.
        part: ShoePart,
        /// Where it is named.
        place: Place,
    },
    /// Another piece's seam line moved inward (positive) or outward (negative).
    Inset {
        /// Key of the other piece.
        of: String,
        /// How far inward; negative moves outward.
        by: Formula,
        /// Where it is named.
        place: Place,
    },
}

impl ShapeSpec {
    /// The names of the points that the draft gives a piece of this shape.
    #[must_use]
    pub fn points(&self) -> &'static [&'static str] {
        match self {
            Self::Shoe { part, .. } => part.points(),
            _ => &[],
        }
    }
}

/// A point: a name, or coordinates.
#[derive(Debug, Clone, PartialEq)]
pub enum PointSpec {
    /// A named point of the piece.
    Named(String, Place),
    /// `[x, y]`.
    At([Formula; 2]),
    /// On an edge of the finished seam line, for marks only.
    OnEdge {
        /// The edge.
        edge: String,
        /// Where on it.
        at: NotchAt,
        /// How far inside the piece.
        inward: Option<Formula>,
        /// Where it is named.
        place: Place,
    },
}

/// One stretch of a drawn outline. Consecutive stretches of the same name are one edge.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnEdge {
    /// Name of the edge.
    pub name: String,
    /// Where it ends.
    pub to: PointSpec,
    /// None: a straight line. One: a quadratic, two: a cubic Bézier's control points.
    pub handles: Vec<PointSpec>,
    /// Where it stands.
    pub place: Place,
}

/// A corner treatment by name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CornerSpec {
    /// `mitre`, or `mitre up to 3`.
    Mitre(f64),
    /// `round`.
    Round,
    /// `chamfer`.
    Chamfer,
    /// `square`.
    Square,
    /// `folded`: the edge of the two with the larger allowance is the hem.
    Folded,
}

/// Direction of the grain line on the piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GrainSpec {
    /// No grain line (felt).
    None,
    /// At this angle in degrees from upright, clockwise. 0 is along y, 90 along x, 45 the bias.
    Angle(f64),
}

/// Where a notch stands on its edge.
#[derive(Debug, Clone, PartialEq)]
pub enum NotchAt {
    /// A share of the edge's length from its start, 0 to 1.
    Share(f64),
    /// A length from the start of the edge.
    FromStart(Formula),
    /// A length back from the end of the edge.
    FromEnd(Formula),
}

/// A notch.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchSpec {
    /// Its name, unique in the piece; `EDGE 1`, … unless given.
    pub name: String,
    /// The edge.
    pub edge: String,
    /// Where on it.
    pub at: NotchAt,
    /// A centre mark (tick) besides the triangle.
    pub centre: bool,
    /// Triangles side by side, 1 to 3.
    pub count: u32,
    /// Carried over the seam to the partner's edge.
    pub carry: bool,
    /// Where it is declared.
    pub place: Place,
}

/// A mark inside the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkSpec {
    /// What it is.
    pub kind: MarkKindSpec,
    /// Words printed beside it, and its name in lists.
    pub words: Option<String>,
    /// Where it is declared.
    pub place: Place,
}

/// Kinds of marks.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkKindSpec {
    /// A drill hole.
    Hole {
        /// Centre.
        at: PointSpec,
        /// Diameter.
        diameter: Formula,
    },
    /// An eyelet.
    Eyelet {
        /// Centre.
        at: PointSpec,
        /// Diameter of the hole.
        diameter: Formula,
    },
    /// A button's place.
    Button {
        /// Centre.
        at: PointSpec,
        /// Diameter of the button.
        diameter: Formula,
    },
    /// A buttonhole.
    Buttonhole {
        /// Middle of the slit.
        at: PointSpec,
        /// Length of the slit.
        length: Formula,
        /// Direction in degrees clockwise from upright; 90 lies across.
        angle: f64,
    },
    /// A line from point to point.
    Line {
        /// What it is for.
        line: LineKind,
        /// Points in order; at least two.
        through: Vec<PointSpec>,
        /// Handles of a curve between two points: none, one or two.
        handles: Vec<PointSpec>,
    },
}

/// Kinds of lines on a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// Where something is laid.
    Placement,
    /// Stitching that shows, or that is sewn along.
    Stitching,
    /// A crease.
    Fold,
}

/// How many are cut from one cloth, for what the design makes.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSpec {
    /// Cloth key.
    pub cloth: String,
    /// Pieces in all; a pair counts two.
    pub count: u32,
    /// Half of them mirrored.
    pub mirrored: bool,
    /// Where it is declared.
    pub place: Place,
}
