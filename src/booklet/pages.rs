//! A booklet as pages to look at: set as it would be printed, each page drawn as SVG at true scale, mm,
//! and never written as PDF. What it costs is the typesetting alone, and pages that are known already
//! are not drawn again.

use super::large::MAIN as LARGE;
use super::{Request, plate_pages, set, tell_of_tall_steps, template};
use crate::diagnostic::Diagnostics;
use std::ops::RangeInclusive;
use typst::layout::{Abs, Frame, FrameItem};
use typst::utils::hash128;
use typst_layout::PagedDocument;
use typst_svg::SvgOptions;

/// The pages of a booklet.
#[derive(Debug, Clone)]
pub struct PageSet {
    document: PagedDocument,
    /// The true-scale pages, from 1.
    pub plate_pages: Option<RangeInclusive<usize>>,
}

/// Sets the booklet of `request`, or its large sheet. `None` if it cannot be set; then at least one error
/// was said.
pub fn set_pages(
    request: &Request<'_>,
    is_large: bool,
    diagnostics: &mut Diagnostics,
) -> Option<PageSet> {
    let main = if is_large { LARGE } else { template::MAIN };
    let document = set(request, main, diagnostics)?;
    if !is_large {
        tell_of_tall_steps(&document, request, diagnostics);
    }
    let plate_pages = match is_large {
        true => Some(1..=document.pages().len()),
        false => plate_pages(&document),
    };
    Some(PageSet {
        document,
        plate_pages,
    })
}

impl PageSet {
    /// How many pages there are.
    pub fn count(&self) -> usize {
        self.document.pages().len()
    }

    /// By which the page of this number, from 0, is known again: two pages with one mark look the same.
    pub fn mark(&self, page: usize) -> Option<u128> {
        self.document.pages().get(page).map(hash128)
    }

    /// Width and height of the page of this number, from 0, mm.
    pub fn size(&self, page: usize) -> Option<[f64; 2]> {
        let size = self.document.pages().get(page)?.frame.size();
        Some([size.x, size.y].map(|side: Abs| side.to_mm()))
    }

    /// The page of this number, from 0, as SVG.
    pub fn drawing(&self, page: usize) -> Option<String> {
        let page = self.document.pages().get(page)?;
        Some(typst_svg::svg(page, &SvgOptions::default()))
    }

    /// The first words on the page of this number, from 0: whole words, hardly more than `letters`.
    pub fn first_words(&self, page: usize, letters: usize) -> String {
        let mut text = String::new();
        if let Some(page) = self.document.pages().get(page) {
            gather(&page.frame, letters, &mut text);
        }
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// Adds the words of a frame until there are so many letters.
fn gather(frame: &Frame, letters: usize, text: &mut String) {
    for (_, item) in frame.items() {
        if text.len() >= letters {
            return;
        }
        match item {
            FrameItem::Text(words) => {
                text.push_str(&words.text);
                text.push(' ');
            }
            FrameItem::Group(group) => gather(&group.frame, letters, text),
            _ => {}
        }
    }
}
