//! Forms in which the instructions are sold besides the booklet itself.

/// A further form of the booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// The instructions set on half pages and laid out for printing two-up, folding and stapling.
    Stapled,
    /// The instructions in large letters, in one column.
    LargePrint,
    /// The instructions in black only and with little of it.
    InkSaving,
    /// The instructions on half pages for a print shop: bleed, crop marks, page boxes.
    PrintShop,
}

impl Form {
    /// All forms.
    pub const ALL: [Self; 4] = [
        Self::Stapled,
        Self::LargePrint,
        Self::InkSaving,
        Self::PrintShop,
    ];

    /// Whether its pages are half as large as those of the booklet.
    pub fn has_half_pages(self) -> bool {
        matches!(self, Self::Stapled | Self::PrintShop)
    }

    /// The words for it in a design file and on the command line.
    pub fn words(self) -> &'static str {
        match self {
            Self::Stapled => "stapled",
            Self::LargePrint => "large print",
            Self::InkSaving => "ink saving",
            Self::PrintShop => "print shop",
        }
    }

    /// The same in names of files: `large-print`.
    pub fn file_word(self) -> String {
        self.words().replace(' ', "-")
    }

    /// The form that `words` name, with spaces or hyphens.
    pub fn named(words: &str) -> Option<Self> {
        let words = words.replace('-', " ");
        Self::ALL.into_iter().find(|form| form.words() == words)
    }
}
