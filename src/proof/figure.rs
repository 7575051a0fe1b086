//! Figures as the tags tell them (ISO 32000-1, 14.7): what each shows in words, and which marked content
//! it is made of.

use super::objects::{name_is, words};
use hayro_syntax::object::{Array, Dict, Object, ObjectIdentifier, String as Text};
use std::collections::BTreeMap;

/// Structure nested deeper than this is not followed: a circle must not hold us up.
const MAX_DEPTH: usize = 64;

/// More elements than this are not followed.
const MAX_ELEMENTS: usize = 2_000_000;

/// An element that the tags call a figure.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PrintedFigure {
    /// What it shows, in words.
    pub alt: String,
    /// Its marked content: page, from 1, and number.
    pub content: Vec<(usize, i32)>,
}

/// All figures of the file with this catalogue, in the order of reading; none if it has no tags.
/// `pages` are the numbers of the pages by their objects.
pub fn figures(
    catalogue: &Dict<'_>,
    pages: &BTreeMap<ObjectIdentifier, usize>,
) -> Vec<PrintedFigure> {
    let mut walk = Walk {
        pages,
        found: Vec::new(),
        left: MAX_ELEMENTS,
    };
    if let Some(root) = catalogue.get::<Dict<'_>>("StructTreeRoot")
        && let Some(kids) = root.get::<Object<'_>>("K")
    {
        walk.kids(kids, None, None, MAX_DEPTH);
    }
    walk.found
}

struct Walk<'p> {
    pages: &'p BTreeMap<ObjectIdentifier, usize>,
    found: Vec<PrintedFigure>,
    left: usize,
}

impl Walk<'_> {
    /// Follows what an element holds; `figure` is the one round it, `page` the one it lies on.
    fn kids(&mut self, kids: Object<'_>, figure: Option<usize>, page: Option<usize>, depth: usize) {
        let (Some(depth), Some(left)) = (depth.checked_sub(1), self.left.checked_sub(1)) else {
            return;
        };
        self.left = left;
        match kids {
            Object::Array(all) => self.each(&all, figure, page, depth),
            Object::Dict(one) => self.element(&one, figure, page, depth),
            Object::Number(number) => self.note(figure, page, number.as_i64() as i32),
            _ => {}
        }
    }

    fn each(&mut self, all: &Array<'_>, figure: Option<usize>, page: Option<usize>, depth: usize) {
        let mut all = all.flex_iter();
        while let Some(kid) = all.next::<Object<'_>>() {
            self.kids(kid, figure, page, depth);
        }
    }

    fn element(
        &mut self,
        element: &Dict<'_>,
        figure: Option<usize>,
        page: Option<usize>,
        depth: usize,
    ) {
        let own = element.get::<Dict<'_>>("Pg").and_then(|page| page.obj_id());
        let page = own.and_then(|id| self.pages.get(&id).copied()).or(page);
        if let Some(number) = element.get::<i32>("MCID") {
            self.note(figure, page, number);
            return;
        }
        let figure = match figure {
            None if name_is(element, "S", b"Figure") => {
                let alt = element.get::<Text<'_>>("Alt");
                let alt = alt.map_or_else(String::new, |text| words(text.as_bytes()));
                self.found.push(PrintedFigure {
                    alt,
                    content: Vec::new(),
                });
                Some(self.found.len() - 1)
            }
            outer => outer,
        };
        if let Some(kids) = element.get::<Object<'_>>("K") {
            self.kids(kids, figure, page, depth);
        }
    }

    fn note(&mut self, figure: Option<usize>, page: Option<usize>, number: i32) {
        if let (Some(figure), Some(page)) = (figure, page) {
            self.found[figure].content.push((page, number));
        }
    }
}
