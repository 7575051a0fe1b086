//! What a flat figure is asked to show, in the names of the design. Every name keeps its place, so
//! that what is wrong with it is told there. Lengths are formulas, evaluated for the size drawn.

use super::stitch::Look;
use crate::design::Formula;
use crate::diagnostic::Place;
use crate::figure::Tint;

/// A name as the designer wrote it.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The name.
    pub text: String,
    /// Where it stands.
    pub place: Place,
}

/// A whole flat figure.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatRequest {
    /// How the pieces lie.
    pub scene: Scene,
    /// Lines of stitching.
    pub stitching: Vec<Stitching>,
    /// Allowances cut down.
    pub trims: Vec<Trim>,
    /// What is left open, with an arrow if the work is turned through it.
    pub opening: Option<Opening>,
    /// An edge drawn up on threads.
    pub gather: Option<Gather>,
    /// Elastic or ribbon that lies on a piece.
    pub strip: Option<Strip>,
    /// Places called by a letter, in order.
    pub letters: Vec<Letter>,
    /// A place drawn larger.
    pub detail: Option<Detail>,
}

/// How the pieces lie.
#[derive(Debug, Clone, PartialEq)]
pub enum Scene {
    /// Side by side.
    Apart(Vec<Shown>),
    /// One on the other, right sides together; one piece alone is there twice.
    Together(Vec<Shown>),
    /// A piece laid on another along a line of that one.
    On {
        /// What is laid.
        piece: Shown,
        /// What it is laid on.
        ground: Shown,
        /// Words of the line.
        line: Named,
    },
    /// Two edges that are sewn together.
    Seam {
        /// Name of the seam.
        name: Named,
        /// Whether they lie right sides together, stitched.
        together: bool,
        /// How it is sewn, unless as the design says.
        stitch: Option<Look>,
    },
    /// A piece folded along a line.
    Fold {
        /// What is folded.
        piece: Shown,
        /// Where.
        along: Along,
        /// Which states are drawn: before, after.
        states: [bool; 2],
        /// Whether it is turned over once it is folded.
        over: bool,
    },
    /// An edge turned to the wrong side.
    Hem {
        /// The piece.
        piece: Shown,
        /// The edge.
        edge: Named,
        /// How it is sewn down, and how far from the fold.
        stitch: Option<(Look, Formula)>,
        /// How it is turned in.
        turned: TurnedIn,
    },
}

/// How an edge is turned in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TurnedIn {
    /// Whether the cut edge is turned in before, so that half the allowance is left to be seen.
    pub twice: bool,
    /// Whether elastic runs in it.
    pub elastic: bool,
}

/// A piece and how it is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Key of the piece.
    pub piece: Named,
    /// Which side is up.
    pub side: Option<Side>,
    /// Of which cloth.
    pub cloth: Option<Named>,
    /// Whether it is the mirrored one of a pair.
    pub mirrored: bool,
    /// Whether a piece that is drawn as a half lies open.
    pub opened: bool,
    /// Whether its allowances are turned in.
    pub finished: bool,
    /// The edges alone whose allowances are turned in; all if none is named.
    pub turned: Vec<Named>,
}

impl Shown {
    /// The piece with this key, as it is drawn on its plate.
    #[must_use]
    pub fn plain(key: &str, place: &Place) -> Self {
        Self {
            piece: Named {
                text: key.to_string(),
                place: place.clone(),
            },
            side: None,
            cloth: None,
            mirrored: false,
            opened: false,
            finished: false,
            turned: Vec::new(),
        }
    }
}

/// Which side of the cloth is up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The right side.
    Right,
    /// The wrong side.
    Wrong,
}

impl Side {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Right => Self::Wrong,
            Self::Wrong => Self::Right,
        }
    }

    /// How it is tinted on a cloth whose right side has the tint `right`. A stiffener has no sides.
    #[must_use]
    pub fn tint(self, right: Tint) -> Tint {
        match (self, right) {
            (Self::Wrong, Tint::Right | Tint::Lining) => Tint::Wrong,
            _ => right,
        }
    }
}

/// Where a piece is folded.
#[derive(Debug, Clone, PartialEq)]
pub enum Along {
    /// On a line of the piece, by its words, or on its fold edge.
    Line(Named),
    /// So that one edge lies on the other.
    Edges {
        /// The edge that moves.
        lay: Named,
        /// The edge it is laid on.
        on: Named,
    },
}

/// A line of stitching along edges.
#[derive(Debug, Clone, PartialEq)]
pub struct Stitching {
    /// The piece; the uppermost unless given.
    pub piece: Option<Named>,
    /// The edges; all round unless given.
    pub edges: Vec<Named>,
    /// Lines of the piece to sew along instead, by their words.
    pub line: Option<Named>,
    /// A line of the piece to sew round instead, by its words: it begins at an edge and is cut open later.
    pub round: Option<Named>,
    /// How far inside the seam line, or from the line that it goes round.
    pub inside: Option<Formula>,
    /// A notch at which it ends; the shorter part of the notch's edge stays without.
    pub up_to: Option<Named>,
    /// How far it goes where no other of its edges follows.
    pub ends: RowEnds,
    /// The stitch.
    pub look: Look,
    /// Where it is asked for.
    pub place: Place,
}

/// How far a row goes at the ends of its edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RowEnds {
    /// To the seam line of the edge that follows.
    #[default]
    SeamLine,
    /// On through its allowance.
    CutEdge,
}

/// An allowance cut down.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// The piece; the uppermost unless given.
    pub piece: Option<Named>,
    /// The edges; all with an allowance unless given.
    pub edges: Vec<Named>,
    /// What is left; the whole allowance if only corners are cut.
    pub to: Option<Formula>,
    /// Whether the corners are cut across.
    pub corners: bool,
    /// Where it is asked for.
    pub place: Place,
}

/// What a seam leaves open.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The edge it is in.
    pub edge: Named,
    /// How long.
    pub length: Formula,
    /// Whether the work is turned through it.
    pub turn: bool,
}

/// An edge drawn up on two threads.
#[derive(Debug, Clone, PartialEq)]
pub struct Gather {
    /// The piece; the first unless given.
    pub piece: Option<Named>,
    /// The edge.
    pub edge: Named,
    /// From and to these notches; the whole edge unless given.
    pub between: Option<[Named; 2]>,
}

/// A length of elastic or ribbon on a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// The trim.
    pub trim: Named,
    /// Where it lies.
    pub lies: StripLies,
    /// How it is sewn down.
    pub sewn: StripSewn,
    /// How far beyond the edge a line is drawn across it; of one that lies along an edge, how far from
    /// either of its ends.
    pub marked: Option<Formula>,
}

/// Where elastic or ribbon lies.
#[derive(Debug, Clone, PartialEq)]
pub enum StripLies {
    /// From a line of the piece out over an edge.
    Over(OverEdge),
    /// Along an edge.
    Along(AlongEdge),
}

/// From a line of the piece out over an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct OverEdge {
    /// Words of the line at which it begins, its middle on that of the line.
    pub from: Named,
    /// The edge beyond which it hangs out.
    pub past: Named,
}

/// Along an edge of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct AlongEdge {
    /// The edge.
    pub edge: Named,
    /// How far inside the edge its nearer side lies.
    pub inside: Option<Formula>,
    /// From the first of these notches towards the second; along the whole edge unless given.
    pub between: Option<[Named; 2]>,
    /// How far beyond the notch it begins.
    pub beyond: Option<Formula>,
    /// Whether it reaches as far beyond the second notch, however long it is when it is not stretched.
    pub stretched: bool,
    /// Whether it lies under the cloth.
    pub hidden: bool,
}

/// How elastic or ribbon is sewn down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StripSewn {
    /// Not at all.
    No,
    /// In a square: what lies on the cloth, or along an edge the end beyond the notch.
    Square,
    /// Across it at the notch.
    Across,
}

/// A place of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// The piece; the first that has it unless given.
    pub piece: Option<Named>,
    /// What is meant.
    pub what: SpotKind,
    /// Where it is asked for.
    pub place: Place,
}

/// Kinds of places.
#[derive(Debug, Clone, PartialEq)]
pub enum SpotKind {
    /// The middle of an edge.
    Edge(Named),
    /// A notch.
    Notch(Named),
    /// A mark or a line, by its words.
    Mark(Named),
    /// Where two edges meet.
    Corner([Named; 2]),
    /// The middle of the piece.
    Piece(Named),
}

/// A place called by a letter.
#[derive(Debug, Clone, PartialEq)]
pub struct Letter {
    /// The letter.
    pub letter: String,
    /// Where.
    pub spot: Spot,
    /// What it is, in the designer's words.
    pub says: Option<String>,
}

/// A place drawn larger.
#[derive(Debug, Clone, PartialEq)]
pub struct Detail {
    /// Where.
    pub spot: Spot,
    /// How many times larger.
    pub times: f64,
}
