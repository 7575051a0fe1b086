//! What is to be read in a finished PDF, as it was meant. Words are compared by their letters and figures
//! alone, however they are broken into lines.

/// What a reader should find on the pages of one file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedWords {
    /// The text before the plates; `None` for a file without contents and steps.
    pub book: Option<IntendedBook>,
    /// The plates, which are the last pages, in order.
    pub plates: Vec<IntendedPlate>,
    /// What each test square is called, in the order in which their sides are intended.
    pub squares: Vec<String>,
}

/// The text of a booklet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedBook {
    /// How the page of the contents is headed.
    pub contents: String,
    /// Titles of the chapters of the design, which the contents must list.
    pub chapters: Vec<String>,
    /// The steps, the first one first.
    pub steps: Vec<IntendedStep>,
    /// The figures of the text.
    pub figures: Vec<IntendedFigure>,
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
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct IntendedFigure {
    /// What it shows, in words, as the tags should tell it.
    pub alt: String,
    /// Words of its caption.
    pub phrases: Vec<String>,
}

/// What is printed on a plate.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
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
