//! What is to be read in a finished PDF, as it was meant. Words are compared by their letters and figures
//! alone, however they are broken into lines.

use kurbo::{Point, Rect};

/// What a reader should find on the pages of one file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct IntendedWords {
    /// The text before the plates; `None` for a file without contents and steps.
    pub book: Option<IntendedBook>,
    /// The plates, which are the last pages, in order.
    pub plates: Vec<IntendedPlate>,
    /// What each test square is called, in the order in which their sides are intended.
    pub squares: Vec<String>,
}

/// The text of a booklet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct IntendedBook {
    /// How the page of the contents is headed.
    pub contents: String,
    /// Titles of the chapters of the design, which the contents must list.
    pub chapters: Vec<String>,
    /// Its first page; `None` if it has no page to itself.
    pub cover: Option<IntendedCover>,
    /// All chapters in their order; none if they are not looked at.
    pub parts: Vec<IntendedPart>,
    /// What the chapter on printing says of the pages of the plates; it is looked at if all are there.
    pub to_print: IntendedPart,
    /// The steps, the first one first.
    pub steps: Vec<IntendedStep>,
    /// The figures of the text.
    pub figures: Vec<IntendedFigure>,
}

/// The cover of a booklet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedCover {
    /// Its title, which is set larger than all else on the page.
    pub title: String,
    /// What else it says.
    pub words: Vec<String>,
    /// What its picture shows, in words.
    pub picture: Option<String>,
}

/// A chapter.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedPart {
    /// How it is headed.
    pub title: String,
    /// Whether it must be there; else it is looked at only where it is.
    pub demanded: bool,
    /// What stands between its head and the next, in any order.
    pub words: Vec<String>,
    /// Its tables: of each entry, which may be set in several ways, one is to be there.
    pub tables: Vec<Vec<IntendedTable>>,
    /// What its drawings show, in words.
    pub figures: Vec<String>,
}

/// A table as it was meant. Where there is no room for its columns it may be set as a list: each row begins
/// with its leading cells, and each further one stands behind the head of its column.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedTable {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// How many cells of a row lead it.
    pub lead: usize,
    /// The rows; empty cells are left out. Cells that go on in words of their own may be left out at the end.
    pub rows: Vec<Vec<String>>,
    /// Whether further columns stand behind these.
    pub goes_on: bool,
}

/// A numbered step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedStep {
    /// Its head, if it is known to the letter.
    pub title: Option<String>,
    /// Some of its words, in order; each stands on its page.
    pub phrases: Vec<String>,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct IntendedFigure {
    /// What it shows, in words, as the tags should tell it.
    pub alt: String,
    /// Words of its caption.
    pub phrases: Vec<String>,
    /// Width and height of the drawing with the little white round it, mm; `None` if they are not known.
    pub shape: Option<[f64; 2]>,
}

/// What is printed on a plate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct IntendedPlate {
    /// How it is headed.
    pub head: String,
    /// Its page as its foot tells it, with `{n}` for the number.
    pub page: String,
    /// Edition and paper as its foot tells them.
    pub edition: String,
    /// What tells to print it at true scale, and to measure.
    pub scale: Vec<String>,
    /// The labels of the pieces, line by line.
    pub labels: Vec<Vec<String>>,
    /// All other words beside lines and marks.
    pub names: Vec<String>,
    /// What the label of each piece must say, whatever else it says.
    pub pieces: Vec<IntendedLabel>,
    /// Where the pieces lie, to tell the places of words and marks from.
    pub places: Vec<IntendedPlace>,
    /// Words with their places.
    pub words_at: Vec<IntendedWordsAt>,
    /// Lines that are neither cut nor sewn along, with their places.
    pub marks: Vec<IntendedMark>,
}

/// A piece on a plate. Places on the plate are in mm, from any point that all of them share.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedPlace {
    /// Key of the piece.
    pub piece: String,
    /// Keys of its sizes there.
    pub sizes: Vec<String>,
    /// Box of their cut lines, also of what is on another sheet.
    pub cut: Rect,
}

/// Words in their place on a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedWordsAt {
    /// The words.
    pub words: String,
    /// The middle of their baseline if they are centred, its start if not.
    pub at: Point,
    /// Whether `at` is the middle.
    pub centred: bool,
    /// They may stand so far from it, mm.
    pub within: f64,
    /// Index of the piece among those of the plate from which the place is told.
    pub of: usize,
    /// What they belong to.
    pub what: String,
}

/// A stroke in its place on a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedMark {
    /// Its box, without the width of the stroke.
    pub bounds: Rect,
    /// Whether what it goes round is tinted; `None` if it is not looked at.
    pub tinted: Option<bool>,
    /// Index of the piece among those of the plate from which the place is told.
    pub of: usize,
    /// What it is.
    pub what: String,
}

/// What the label of a piece must say.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedLabel {
    /// The piece as printed.
    pub title: String,
    /// Its number.
    pub number: usize,
    /// What to cut.
    pub cuts: Vec<String>,
}
