//! A design as the later stages see it: checked for keys, names and dimensions, with formulas not
//! yet evaluated. Lengths that cannot depend on a size are plain mm.

use super::formula::Formula;
use crate::diagnostic::{Place, SourceText};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A whole design.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Name of the folder, e.g. `harvest-bar-shoe`.
    pub key: String,
    /// `title`, e.g. `Harvest bar shoe`.
    pub title: String,
    /// `edition`, e.g. `1.0.0`.
    pub edition: String,
    /// `series`: the collection the design belongs to.
    pub series: Option<String>,
    /// `skill`, in words.
    pub skill: Option<String>,
    /// `about`: one sentence for the cover.
    pub about: String,
    /// `makes`: what the cut counts are for, e.g. `one pair`.
    pub makes: String,
    /// `age`: whom the finished thing is for.
    pub age: Option<String>,
    /// `terms` of use.
    pub terms: Option<String>,
    /// `contact` for corrections.
    pub contact: Option<String>,
    /// `by`: the author as printed.
    pub by: Option<String>,
    /// `language`, a BCP 47 tag; `en` unless given.
    pub language: String,
    /// `paper`: keys of the papers to sell, e.g. `a4`, `letter`, each with its place.
    pub papers: Vec<(String, Place)>,
    /// `lengths`: how lengths are printed.
    pub lengths: LengthStyle,
    /// `measures`: named values for formulas, in order.
    pub measures: Vec<(String, Formula)>,
    /// `sizes`, in order.
    pub sizes: Vec<Size>,
    /// `cloth`: materials that pieces are cut from, in order.
    pub cloth: Vec<Cloth>,
    /// `trims`, in order.
    pub trims: Vec<Trim>,
    /// `tools`, in order.
    pub tools: Vec<String>,
    /// `pieces`, in order; the order gives their numbers.
    pub pieces: Vec<PieceSpec>,
    /// `seams`, in order.
    pub seams: Vec<SeamSpec>,
    /// `booklet/*.md`, in order of file name.
    pub chapters: Vec<Chapter>,
    /// `design.yaml` itself.
    pub source: Arc<SourceText>,
}

/// Which unit comes first in print, and how fine inches are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthStyle {
    /// Inches before centimetres.
    pub inch_first: bool,
    /// Finest printed inch as a denominator, a power of two up to 64.
    pub denominator: u32,
}

/// One size of the design.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Key, e.g. `small`.
    pub key: String,
    /// As printed; the key unless given.
    pub title: String,
    /// Words after the title, e.g. `for a foot of 45 mm`.
    pub words: Option<String>,
    /// The foot, if the design has feet.
    pub foot: Option<FootSpec>,
    /// `measures` of this size only; they override those of the design.
    pub measures: Vec<(String, Formula)>,
    /// Where it is declared.
    pub place: Place,
}

/// A foot as written in `feet/*.yaml`.
#[derive(Debug, Clone, PartialEq)]
pub struct FootSpec {
    /// The tracing as points in mm, in the axes of the file.
    pub tracing: Tracing,
    /// Centre heel and centre toe in the axes of the tracing; the ends of the longest chord unless
    /// given.
    pub marks: Option<[[f64; 2]; 2]>,
    /// `inner side`: whether it lies at the left when the toe points up, y counted downwards; it
    /// does on a right foot seen from above.
    pub inner_left: bool,
    /// Half the pencil's thickness to take off all round, mm.
    pub pencil: f64,
    /// Measures by name (`ball girth`, …), mm.
    pub measures: BTreeMap<String, f64>,
    /// Where the tracing stands.
    pub place: Place,
}

/// A foot's outline as the designer gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum Tracing {
    /// Points read off by hand or from a scan, in order round the foot, mm; smoothed later.
    Points(Vec<[f64; 2]>),
    /// A drawn closed path in mm, taken as it is.
    Path(kurbo::BezPath),
}

/// A material that pieces are cut from.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// Key, e.g. `outer`.
    pub key: String,
    /// As printed, e.g. `wool felt`.
    pub name: String,
    /// Kind, e.g. `wool felt`, `woven`, `interfacing`.
    pub kind: Option<String>,
    /// Thickness, mm.
    pub thickness: Option<f64>,
    /// Sheet size, mm, for felt and the like.
    pub sheet: Option<[f64; 2]>,
    /// Width off the roll, mm.
    pub width: Option<f64>,
    /// Words for the materials list.
    pub note: Option<String>,
}

/// A trim or notion.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// Key, e.g. `elastic`.
    pub key: String,
    /// As printed.
    pub name: String,
    /// Width or diameter, mm.
    pub width: Option<f64>,
    /// Whether the width is printed in lignes too (buttons).
    pub lignes: bool,
    /// Cut length of each, if it is cut from a length.
    pub length: Option<Formula>,
    /// How many for what the design `makes`.
    pub count: u32,
    /// Small hard part that must be named in the caution (button, bead, buckle, eyelet).
    pub small_part: bool,
    /// Words for the materials list.
    pub note: Option<String>,
    /// Where it is declared.
    pub place: Place,
}

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
    /// Notches.
    pub notches: Vec<NotchSpec>,
    /// Holes, eyelets, buttonholes, lines.
    pub marks: Vec<MarkSpec>,
    /// What is cut, by cloth key.
    pub cuts: Vec<CutSpec>,
    /// Where it is declared.
    pub place: Place,
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

/// A point: a name, or coordinates.
#[derive(Debug, Clone, PartialEq)]
pub enum PointSpec {
    /// A named point of the piece.
    Named(String, Place),
    /// `[x, y]`.
    At([Formula; 2]),
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

/// A seam as the designer declares it.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamSpec {
    /// Its name, e.g. `inner side`.
    pub name: String,
    /// Piece and edge that is joined.
    pub join: EdgeRef,
    /// Piece and edge it is joined to.
    pub to: EdgeRef,
    /// Declared easing: how much longer `join` is than `to`.
    pub easing: EasingSpec,
    /// Whether the start of one edge meets the start of the other; usually start meets end.
    pub same_way: bool,
    /// Where it is declared.
    pub place: Place,
}

/// An edge of a piece, by name.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeRef {
    /// Piece key.
    pub piece: String,
    /// Edge name.
    pub edge: String,
    /// Where it is named.
    pub place: Place,
}

/// Easing that a seam declares.
#[derive(Debug, Clone, PartialEq)]
pub enum EasingSpec {
    /// The edges are equal.
    None,
    /// Between two shares of the `to` edge, in percent.
    Percent(f64, f64),
    /// This length exactly.
    Length(Formula),
}

/// What a chapter of the booklet holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChapterKind {
    /// Text with side heads.
    Text,
    /// Each `##` is a numbered step.
    Steps,
}

/// One `booklet/*.md`.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// Kind, from the head of the file.
    pub kind: ChapterKind,
    /// One short sentence under the chapter's title.
    pub standfirst: Option<String>,
    /// Title: `title` of the head of the file.
    pub title: String,
    /// Where the chapter stands: before the pieces, as the steps, or after.
    pub part: Part,
    /// Line of the file at which the Markdown begins, from 1.
    pub first_line: usize,
    /// The whole file.
    pub source: Arc<SourceText>,
}

/// Parts of the booklet that a chapter may belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Before anything is printed or cut.
    MakeReady,
    /// The making.
    Make,
    /// To look up afterwards.
    LookUp,
}
