//! A design as the later stages see it: checked for keys, names and dimensions, with formulas not
//! yet evaluated. Lengths that cannot depend on a size are plain mm.

use super::chapter::Chapter;
use super::cloth::Cloth;
use super::cutting::Shop;
use super::fit_spec::FitEntry;
use super::form::Form;
use super::formula::Formula;
use super::length_style::LengthStyle;
use super::look::Look;
use super::look_up::{FinishedMeasure, LookUp};
use super::paper::Paper;
use super::picture::PictureSpec;
use super::piece_spec::PieceSpec;
use super::shoe_spec::ShoeSpec;
use super::thread::{Stitch, ThreadSpec};
use super::translation::Translation;
use super::trim::Trim;
use crate::diagnostic::{Place, SourceText};
use crate::language::Words;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A whole design.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Name of the folder, e.g. `harvest-bar-shoe`.
    pub key: String,
    /// `title`, e.g. `Harvest bar shoe`.
    pub title: String,
    /// Number of the edition, e.g. `1.0.0`: the last one released, or `edition` before there is one.
    pub edition: String,
    /// Whether what is printed differs from the edition of that number.
    pub draft: bool,
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
    /// The first of `languages`, a BCP 47 tag: that of the design's own texts; `en` unless given.
    pub language: String,
    /// The words that are printed besides the design's own.
    pub words: Words,
    /// The texts in the other languages of `languages`.
    pub translations: Vec<Translation>,
    /// The design in its own language, if this is a translation: its words tell what is used.
    pub original: Option<Arc<Design>>,
    /// `paper`: the papers to sell for, each with its place.
    pub papers: Vec<(Paper, Place)>,
    /// `forms`: further forms of the instructions, in the order of the file.
    pub forms: Vec<Form>,
    /// `plates.sizes`: how the sizes stand on the plates.
    pub size_layout: SizeLayout,
    /// `lengths`: how lengths are printed.
    pub lengths: LengthStyle,
    /// `cover`: a picture in place of the drawing on the cover.
    pub cover: Option<PictureSpec>,
    /// `look`: colours, typefaces and logo of its own.
    pub look: Look,
    /// `measures`: named values for formulas, in order.
    pub measures: Vec<(String, Formula)>,
    /// `sizes`, in order.
    pub sizes: Vec<Size>,
    /// `cloth`: materials that pieces are cut from, in order.
    pub cloth: Vec<Cloth>,
    /// `trims`, in order.
    pub trims: Vec<Trim>,
    /// `thread`, if the design tells of its thread or its stitches.
    pub thread: Option<ThreadSpec>,
    /// `tools`, in order.
    pub tools: Vec<String>,
    /// `kits`: for how many of what the design makes amounts are given, besides one.
    pub kits: Vec<u32>,
    /// `shoe`: what is drafted from the feet, if it is.
    pub shoe: Option<ShoeSpec>,
    /// `fit`: what trial shoes taught, in order.
    pub fit: Vec<FitEntry>,
    /// `pieces`, in order; the order gives their numbers.
    pub pieces: Vec<PieceSpec>,
    /// `seams`, in order.
    pub seams: Vec<SeamSpec>,
    /// `cutting` and `listing`: cut files, and pictures for the shop.
    pub shop: Shop,
    /// `finished`: what is measured on the finished thing.
    pub finished: Vec<FinishedMeasure>,
    /// What is looked up: care, words, editions.
    pub look_up: LookUp,
    /// `booklet/*.md`, in order of file name.
    pub chapters: Vec<Chapter>,
    /// Texts and lists of words that several designs share, by path.
    pub shared: BTreeMap<String, Arc<SourceText>>,
    /// `design.yaml` itself.
    pub source: Arc<SourceText>,
}

impl Design {
    /// The titles of the sizes in which left and right foot take patterns of their own, if there are any.
    pub fn left_and_right(&self) -> Option<String> {
        let apart = self.sizes.iter().filter(|size| size.only.is_some());
        let mut titles: Vec<String> = apart.map(Size::declared_title).collect();
        titles.dedup();
        (!titles.is_empty()).then(|| self.words.joined(&titles))
    }

    /// The design in its own language: by its words cloth, trims and tools are known.
    pub fn own(&self) -> &Design {
        self.original.as_deref().unwrap_or(self)
    }

    /// Its edition as it is printed: `edition 1.0.0`, or `draft after 1.0.0`.
    pub fn edition_words(&self) -> String {
        let key = if self.draft {
            "edition.draft"
        } else {
            "edition.number"
        };
        self.words.say(key, &[("edition", &self.edition)])
    }

    /// The same without the word for an edition: `1.0.0`, or `draft after 1.0.0`.
    pub fn edition_number(&self) -> String {
        match self.draft {
            true => self.edition_words(),
            false => self.edition.clone(),
        }
    }

    /// How the names of its files begin: its key, in a further language with the language's tag.
    pub fn file_stem(&self) -> String {
        match self.original {
            Some(_) => format!("{}-{}", self.key, self.language),
            None => self.key.clone(),
        }
    }
}

/// How the sizes of a piece stand on the plates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SizeLayout {
    /// Each size by itself.
    #[default]
    SideBySide,
    /// All sizes drawn over each other on their common point.
    Nested,
}

/// One size of the design.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Key, e.g. `small`.
    pub key: String,
    /// As printed; the key unless given.
    pub title: String,
    /// Key as it was declared: that of both feet where they take patterns of their own.
    pub declared: String,
    /// The only foot it is for, where left and right take patterns of their own.
    pub only: Option<FootSide>,
    /// Words after the title, e.g. `for a foot of 45 mm`.
    pub words: Option<String>,
    /// The foot, if the design has feet.
    pub foot: Option<FootSpec>,
    /// `measures` of this size: they override those of the design, or stand in every size.
    pub measures: Vec<(String, Formula)>,
    /// Where it is declared.
    pub place: Place,
}

impl Size {
    /// Its title as it was declared, without the side of a foot that has its own pattern.
    pub fn declared_title(&self) -> String {
        let of_side = self.only.is_some();
        // the side is the last word: see `of_side` of the pipeline
        let whole = self.title.rsplit_once(' ').filter(|_| of_side);
        whole
            .map_or(self.title.as_str(), |(whole, _)| whole)
            .to_string()
    }
}

/// Left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FootSide {
    /// The left foot.
    Left,
    /// The right foot.
    Right,
}

impl FootSide {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            FootSide::Left => "left",
            FootSide::Right => "right",
        }
    }
}

/// A foot as written in `feet/*.yaml`.
#[derive(Debug, Clone, PartialEq)]
pub struct FootSpec {
    /// The tracing as points in mm, in the axes of the file.
    pub tracing: Tracing,
    /// Centre heel and centre toe in the axes of the tracing; the ends of the longest chord unless
    /// given.
    pub marks: Option<[[f64; 2]; 2]>,
    /// Whether the inner side of the foot lies at the left when the toe points up: a right foot
    /// seen from above.
    pub inner_left: bool,
    /// Half the pencil's thickness to take off all round, mm.
    pub pencil: f64,
    /// Measures by name (`ball girth`, …), mm.
    pub measures: BTreeMap<String, f64>,
    /// The other foot, if it was traced and measured too; else it is the mirror image.
    pub other: Option<Box<FootSpec>>,
    /// Up to this difference of their outlines, mm, both feet take one mirrored pattern.
    pub pair_tolerance: f64,
    /// Shares by which the tracing is made longer and wider: a foot derived from another.
    pub grading: [f64; 2],
    /// Where the first of the measures stands; `None` if its file has none.
    pub measures_place: Option<Place>,
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
    /// Its stitch; that of the thread unless given.
    pub stitch: Option<Stitch>,
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
    /// What the shoe's draft gives the toe piece.
    FromShoe,
    /// Between two shares of the `to` edge, in percent.
    Percent(f64, f64),
    /// This length exactly.
    Length(Formula),
}
