//! The settings of a booklet: whole with its plates, or the instructions alone in a further form.
//! Lengths in mm. It says how large the page is and how the file is called; how a page looks is the
//! template's.

use crate::design::{Design, Form, Paper, PaperKind};
use serde_json::{Value, json};

/// What is set from one design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Setting {
    /// Instructions and plates, page by page.
    #[default]
    Whole,
    /// The instructions on half of a sheet, trimmed; see [`TRIMMED_OFF`].
    Stapled,
    /// The instructions on half of a sheet, untrimmed: a print shop adds bleed and trims it.
    PrintShop,
    /// The instructions in one column of large letters.
    LargePrint,
    /// The instructions in black only, with little of it.
    InkSaving,
}

/// What is cut off a stapled booklet at head, foot and fore-edge, mm: printers at home leave up to
/// 6.7 mm unprinted (common practice), and marks for folding and trimming stand beyond the trim.
pub const TRIMMED_OFF: f64 = 10.0;

/// A page that is set, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// By which the template knows its margins.
    pub key: &'static str,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

impl From<Form> for Setting {
    fn from(form: Form) -> Self {
        match form {
            Form::Stapled => Self::Stapled,
            Form::PrintShop => Self::PrintShop,
            Form::LargePrint => Self::LargePrint,
            Form::InkSaving => Self::InkSaving,
        }
    }
}

impl Setting {
    /// As the template is told.
    pub fn words(self) -> &'static str {
        match self {
            Self::Whole => "whole",
            Self::Stapled => Form::Stapled.words(),
            Self::PrintShop => Form::PrintShop.words(),
            Self::LargePrint => Form::LargePrint.words(),
            Self::InkSaving => Form::InkSaving.words(),
        }
    }

    /// Whether the plates are bound in; else the text says in which file they are.
    pub fn has_plates(self) -> bool {
        self == Self::Whole
    }

    /// The page set for a sheet of `paper`, if it is another than the sheet: half of it for booklets.
    /// `None` too for a paper that has no half pages; see [`Setting::has_forms`].
    pub fn half_page(self, paper: &Paper) -> Option<Page> {
        let trimmed = match self {
            Self::Stapled => TRIMMED_OFF,
            Self::PrintShop => 0.0,
            _ => return None,
        };
        let key = match (paper.key.as_str(), self) {
            ("a4", Self::Stapled) => "stapled a4",
            ("letter", Self::Stapled) => "stapled letter",
            ("a4", _) => "a5",
            ("letter", _) => "half letter",
            _ => return None,
        };
        // ISO 216 rounds half of 297 mm down to 148 for A5; a sheet folded by hand has 148.5.
        let width = match key {
            "a5" => 148.0,
            _ => paper.height / 2.0 - trimmed,
        };
        Some(Page {
            key,
            width,
            height: paper.width - 2.0 * trimmed,
        })
    }

    /// Whether there are forms for a paper: only for A4 and US Letter.
    pub fn has_forms(paper_key: &str) -> bool {
        ["a4", "letter"].contains(&paper_key)
    }

    /// The name under which the file of `design` is sold.
    pub fn file(self, design: &str, paper_key: &str) -> String {
        let paper = match (self, paper_key) {
            (Self::PrintShop, "a4") => "a5",
            (Self::PrintShop, "letter") => "half-letter",
            _ => paper_key,
        };
        match self {
            Self::Whole => format!("{design}-{paper}.pdf"),
            _ => format!("{design}-{}-{paper}.pdf", self.words().replace(' ', "-")),
        }
    }
}

/// The name of a paper in the language of the booklet.
pub fn paper_name(design: &Design, paper: &Paper) -> String {
    let found = design.words.find(&format!("papers.{}", paper.key));
    found.map_or_else(|| paper.name.clone(), str::to_string)
}

/// The files that the text speaks of: this one, the booklet with the plates, and those of the large
/// sheets that the design sells.
pub fn files(design: &Design, setting: Setting, paper: &Paper) -> Value {
    let large = design.papers.iter().map(|(paper, _)| paper);
    let large = large.filter(|paper| paper.kind != PaperKind::Page);
    let large: Vec<Value> = large
        .map(|paper| {
            json!({
                "name": paper_name(design, paper),
                "file": Setting::Whole.file(&design.file_stem(), &paper.key),
                "width": paper.width,
                "height": paper.height,
                "roll": paper.kind == PaperKind::Roll,
            })
        })
        .collect();
    json!({
        "this": setting.file(&design.file_stem(), &paper.key),
        "booklet": Setting::Whole.file(&design.file_stem(), &paper.key),
        "large": large,
        "fitting": format!("{}-fitting-{}.pdf", design.file_stem(), paper.key),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(key: &str) -> Paper {
        Paper::named(key).unwrap()
    }

    #[test]
    fn half_pages_are_halves_of_their_sheets() {
        let of = |setting: Setting, key| {
            let page = setting.half_page(&sheet(key)).unwrap();
            (page.width, page.height)
        };
        // ISO 216: A5 is 148 x 210 mm. Half of ANSI A (8.5 x 11 in) is 5.5 x 8.5 in.
        assert_eq!(of(Setting::PrintShop, "a4"), (148.0, 210.0));
        let (width, height) = of(Setting::PrintShop, "letter");
        assert!((width - 5.5 * 25.4).abs() < 1e-9 && (height - 8.5 * 25.4).abs() < 1e-9);
        // Less 10 mm at three edges; at the fold nothing is cut.
        assert_eq!(of(Setting::Stapled, "a4"), (138.5, 190.0));
        let (width, height) = of(Setting::Stapled, "letter");
        assert!((width - 129.7).abs() < 1e-9 && (height - 195.9).abs() < 1e-9);
    }

    #[test]
    fn whole_pages_and_other_papers_have_no_halves() {
        for setting in [Setting::Whole, Setting::LargePrint, Setting::InkSaving] {
            assert_eq!(setting.half_page(&sheet("a4")), None);
        }
        assert_eq!(Setting::Stapled.half_page(&sheet("a3")), None);
        assert!(Setting::has_forms("letter") && !Setting::has_forms("either"));
    }

    #[test]
    fn files_are_named_after_form_and_paper() {
        let names = [
            (Setting::Whole, "a4", "pouch-a4.pdf"),
            (Setting::Stapled, "letter", "pouch-stapled-letter.pdf"),
            (Setting::LargePrint, "a4", "pouch-large-print-a4.pdf"),
            (Setting::InkSaving, "letter", "pouch-ink-saving-letter.pdf"),
            (Setting::PrintShop, "a4", "pouch-print-shop-a5.pdf"),
            (
                Setting::PrintShop,
                "letter",
                "pouch-print-shop-half-letter.pdf",
            ),
        ];
        for (setting, paper, name) in names {
            assert_eq!(setting.file("pouch", paper), name);
        }
    }
}
