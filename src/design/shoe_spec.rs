//! A shoe as the designer describes it: formulas not yet evaluated.

use super::formula::Formula;
use super::quantity::Dimension;
use crate::diagnostic::Place;

/// `shoe`: what is decided about a shoe besides the foot.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoeSpec {
    /// What the pieces are taken from.
    pub way: ShoeWay,
    /// Key of the upper's cloth.
    pub cloth: String,
    /// Key of the cloth that lines the upper, if it is lined.
    pub lining: Option<String>,
    /// Key of the sole's cloth; that of the upper unless given.
    pub sole: String,
    /// Ease round the sole.
    pub ease: Formula,
    /// Allowance of the pieces unless they say otherwise.
    pub allowance: Formula,
    /// What is left of the allowance after trimming.
    pub trim: Formula,
    /// Where the topline crosses the ridge, from the heel.
    pub throat: Formula,
    /// How steeply the topline falls from the throat, degrees.
    pub throat_angle: f64,
    /// Where the topline is lowest, from the heel.
    pub low_point: Formula,
    /// Height of the lowest point, inner and outer side.
    pub side_heights: [Formula; 2],
    /// Height at the back of the heel.
    pub back_height: Formula,
    /// Where toe piece and heel piece meet on the sole, from the heel, inner and outer side.
    pub side_marks: [Formula; 2],
    /// How far the side seams lean to the toe at the topline.
    pub seam_lean: Option<Formula>,
    /// Fullness of the toe piece; what the form wants and the cloth takes unless given.
    pub fullness: Option<Formula>,
    /// What the cloth eases, as a share; that of its kind unless given.
    pub easing_limit: Option<f64>,
    /// How it closes.
    pub closure: ClosureSpec,
    /// How far the foot gives, as a share of its girth.
    pub foot_gives: f64,
    /// Thickness of the edge at the topline; twice the cloth unless given.
    pub edge_thickness: Option<Formula>,
    /// How far the elastic stretches, as a ratio.
    pub stretch: f64,
    /// Where a strap crosses the foot, as a share of its length from the heel.
    pub strap_at: f64,
    /// Topline gathered on an elastic at the back, as a share of the foot's length.
    pub back_span: f64,
    /// Look of the drawings.
    pub look: LookSpec,
    /// Where it is declared.
    pub place: Place,
}

impl ShoeSpec {
    /// All formulas the draft needs.
    pub fn formulas(&self) -> impl Iterator<Item = &Formula> {
        let lengths = [
            &self.ease,
            &self.allowance,
            &self.trim,
            &self.throat,
            &self.low_point,
            &self.back_height,
        ];
        let optional = [&self.seam_lean, &self.fullness, &self.edge_thickness];
        lengths
            .into_iter()
            .chain(&self.side_heights)
            .chain(&self.side_marks)
            .chain(optional.into_iter().flatten())
    }
}

/// What a drawing of the finished shoe shows besides its form.
#[derive(Debug, Clone, PartialEq)]
pub struct LookSpec {
    /// Width of a strap over the foot; none is drawn without it.
    pub strap: Option<Formula>,
    /// Whether a button sits on the strap.
    pub button: bool,
    /// Whether stitching shows round the topline.
    pub topstitch: bool,
}

/// What the pieces of a shoe are taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShoeWay {
    /// A form round the foot, solved from its tape measures.
    Form,
    /// Paper strips measured over the foot.
    Strips,
}

/// How a shoe closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClosureSpec {
    /// Not at all.
    Open,
    /// A strap with elastic in it, sewn at both sides.
    ElasticStrap,
    /// Elastic at the back of the heel.
    BackElastic,
    /// Ribbons tied over the foot.
    Tie,
}

impl ClosureSpec {
    /// All, by their words in a design.
    pub const ALL: [(&'static str, Self); 4] = [
        ("none", Self::Open),
        ("strap with elastic", Self::ElasticStrap),
        ("elastic at the back", Self::BackElastic),
        ("tie", Self::Tie),
    ];

    /// As a design says it.
    pub fn words(self) -> &'static str {
        let found = Self::ALL.iter().find(|(_, closure)| *closure == self);
        found.map_or("none", |(words, _)| words)
    }
}

/// A piece that a drafted shoe gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShoePart {
    /// The sole.
    Sole,
    /// The sole of the lining.
    LiningSole,
    /// The stiffener.
    Stiffener,
    /// The toe piece.
    Toe,
    /// The heel piece.
    Heel,
    /// The toe piece of the upper's lining.
    ToeLining,
    /// The heel piece of the upper's lining.
    HeelLining,
}

impl ShoePart {
    /// All, by the words that follow `shoe.`.
    pub const ALL: [(&'static str, ShoePart); 7] = [
        ("sole", ShoePart::Sole),
        ("lining sole", ShoePart::LiningSole),
        ("stiffener", ShoePart::Stiffener),
        ("toe", ShoePart::Toe),
        ("heel", ShoePart::Heel),
        ("toe lining", ShoePart::ToeLining),
        ("heel lining", ShoePart::HeelLining),
    ];

    /// The points that its draft names.
    #[must_use]
    pub fn points(self) -> &'static [&'static str] {
        match self {
            ShoePart::Sole | ShoePart::LiningSole | ShoePart::Stiffener => &[],
            ShoePart::Toe | ShoePart::ToeLining => &["throat"],
            ShoePart::Heel | ShoePart::HeelLining => &["back"],
        }
    }

    /// Its edges, clockwise.
    #[must_use]
    pub fn edges(self) -> &'static [&'static str] {
        match self {
            ShoePart::Sole | ShoePart::LiningSole | ShoePart::Stiffener => {
                &["toe edge", "heel edge"]
            }
            ShoePart::Toe | ShoePart::ToeLining => {
                &["sole edge", "outer side", "topline", "inner side"]
            }
            ShoePart::Heel | ShoePart::HeelLining => {
                &["sole edge", "inner side", "topline", "outer side"]
            }
        }
    }
}

/// A value that a drafted shoe gives to formulas and to the text, as `shoe.NAME`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShoeFigure {
    /// What follows `shoe.`.
    pub name: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// What it is.
    pub meaning: &'static str,
    /// Whether only a draft on the form has it.
    pub needs_form: bool,
}

const fn figure(name: &'static str, meaning: &'static str) -> ShoeFigure {
    ShoeFigure {
        name,
        dimension: Dimension::Length,
        meaning,
        needs_form: false,
    }
}

const fn of_form(name: &'static str, meaning: &'static str) -> ShoeFigure {
    ShoeFigure {
        needs_form: true,
        ..figure(name, meaning)
    }
}

/// All values of a drafted shoe.
pub const SHOE_FIGURES: &[ShoeFigure] = &[
    figure("ease", "ease round the sole, corrections included"),
    figure("allowance", "the usual allowance"),
    figure("trim", "what is left of it after trimming"),
    figure("throat", "from the heel to the throat"),
    figure(
        "inner side height",
        "height of the topline on the inner side",
    ),
    figure(
        "outer side height",
        "height of the topline on the outer side",
    ),
    figure("back height", "height at the back of the heel"),
    figure("fullness", "how much longer than the sole the toe piece is"),
    of_form(
        "lining fullness",
        "the same of the lining's toe piece, if it has one",
    ),
    figure(
        "lining inset",
        "how far inside the sole the lining sole lies",
    ),
    figure(
        "stiffener inset",
        "how far inside the sole the stiffener lies",
    ),
    figure("topline", "the whole topline as drafted"),
    of_form(
        "wanted fullness",
        "fullness at which the toe is least distorted",
    ),
    of_form(
        "opening",
        "what the opening must measure for the heel to pass",
    ),
    of_form("room", "least room between foot and cloth"),
    of_form("strap", "way over the foot of a strap as worn"),
    of_form(
        "strap elastic",
        "elastic in a strap, relaxed, without its ends",
    ),
    of_form(
        "strap cloth",
        "cloth or ribbon of a strap, without its ends",
    ),
    of_form("strap opening", "what topline and strap open to"),
    of_form("back cloth", "topline gathered on an elastic at the back"),
    of_form(
        "back added",
        "how much longer the heel's topline is cut for that",
    ),
    of_form(
        "back elastic",
        "elastic at the back, relaxed, without its ends",
    ),
    of_form(
        "back opening",
        "what the topline with that elastic opens to",
    ),
    of_form(
        "tie ribbon",
        "each ribbon of a tie with its half of the bow",
    ),
    of_form("tie slit", "how far the throat is slit for a tie"),
];
