//! What viewers show beside the pages of a PDF (labels of the pages, bookmarks), and whether each page's
//! boxes lie in each other. Pages are counted from 1.

use super::objects::{name_is, words};
use hayro_syntax::Pdf;
use hayro_syntax::object::{
    Array, Dict, Name, Object, ObjectIdentifier, Rect as Box, String as Text,
};
use std::collections::BTreeMap;

/// Trees of objects nested deeper than this are not followed: a circle must not hold us up.
const MAX_DEPTH: usize = 24;

/// More bookmarks than this are not read.
const MAX_BOOKMARKS: usize = 100_000;

/// A box may stand over the one round it by this, points: the rounding of a PDF's numbers.
const BOX_SLACK: f64 = 1e-3;

/// What viewers show beside the pages.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Viewing {
    /// Label of each page.
    pub labels: Vec<String>,
    /// All bookmarks, each after the one it lies under.
    pub bookmarks: Vec<Bookmark>,
    /// What is wrong with each page's boxes, if anything.
    pub box_faults: Vec<Option<String>>,
}

/// A bookmark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bookmark {
    /// Its title after those of the bookmarks it lies under, the outermost first.
    pub titles: Vec<String>,
    /// The page it leads to, from 1, if it leads to one.
    pub page: Option<usize>,
}

/// Reads what viewers show; what cannot be read counts as missing.
pub fn read(pdf: &Pdf, catalogue: &Dict<'_>) -> Viewing {
    let pages = pdf.pages();
    let ids = page_numbers(pdf);
    let mut bookmarks = Vec::new();
    if let Some(root) = catalogue.get::<Dict<'_>>("Outlines") {
        let targets = Targets {
            catalogue,
            pages: &ids,
        };
        targets.bookmarks(&root, &[], &mut bookmarks);
    }
    Viewing {
        labels: labels(catalogue, pages.len()),
        bookmarks,
        box_faults: pages.iter().map(|page| box_fault(page.raw())).collect(),
    }
}

/// Number of each page, from 1, by its object.
pub(super) fn page_numbers(pdf: &Pdf) -> BTreeMap<ObjectIdentifier, usize> {
    let pages = pdf.pages().iter().enumerate();
    pages
        .filter_map(|(index, page)| Some((page.raw().obj_id()?, index + 1)))
        .collect()
}

/// TrimBox within BleedBox within MediaBox, and no ArtBox beside a TrimBox (ISO 15930, PDF/X; a BleedBox
/// that is missing is the CropBox, a CropBox the MediaBox: ISO 32000-1, table 30).
fn box_fault(page: &Dict<'_>) -> Option<String> {
    let inherited = |key: &str| {
        let mut dict = page.clone();
        for _ in 0..MAX_DEPTH {
            match dict.get::<Box>(key) {
                Some(found) => return Some(found),
                None => dict = dict.get::<Dict<'_>>("Parent")?,
            }
        }
        None
    };
    let Some(media) = inherited("MediaBox") else {
        return Some("it has no MediaBox".to_string());
    };
    let Some(trim) = page.get::<Box>("TrimBox") else {
        return Some("it has no TrimBox".to_string());
    };
    if page.contains_key("ArtBox") {
        return Some("it has an ArtBox beside its TrimBox".to_string());
    }
    let crop = inherited("CropBox").unwrap_or(media);
    let bleed = page.get::<Box>("BleedBox").unwrap_or(crop);
    let within = |inner: Box, outer: Box| {
        inner.x0 >= outer.x0 - BOX_SLACK
            && inner.y0 >= outer.y0 - BOX_SLACK
            && inner.x1 <= outer.x1 + BOX_SLACK
            && inner.y1 <= outer.y1 + BOX_SLACK
    };
    match (within(trim, bleed), within(bleed, media)) {
        (false, _) => Some("its TrimBox stands over its BleedBox".to_string()),
        (_, false) => Some("its BleedBox stands over its MediaBox".to_string()),
        _ => None,
    }
}

/// Labels of all pages (ISO 32000-1, 12.4.2); a page without one is counted.
fn labels(catalogue: &Dict<'_>, pages: usize) -> Vec<String> {
    let mut ranges: BTreeMap<usize, Dict<'_>> = BTreeMap::new();
    if let Some(tree) = catalogue.get::<Dict<'_>>("PageLabels") {
        number_tree(&tree, MAX_DEPTH, &mut ranges);
    }
    (0..pages)
        .map(|index| match ranges.range(..=index).next_back() {
            Some((first, range)) => label(range, index - first),
            None => (index + 1).to_string(),
        })
        .collect()
}

/// The dictionaries of a number tree by their keys (ISO 32000-1, 7.9.7).
fn number_tree<'a>(tree: &Dict<'a>, depth: usize, found: &mut BTreeMap<usize, Dict<'a>>) {
    if let Some(numbers) = tree.get::<Array<'_>>("Nums") {
        let mut numbers = numbers.flex_iter();
        while let (Some(key), Some(value)) = (numbers.next::<i32>(), numbers.next::<Dict<'_>>()) {
            if let Ok(key) = usize::try_from(key) {
                found.insert(key, value);
            }
        }
    }
    if depth > 0
        && let Some(kids) = tree.get::<Array<'_>>("Kids")
    {
        for kid in kids.iter::<Dict<'_>>() {
            number_tree(&kid, depth - 1, found);
        }
    }
}

fn label(range: &Dict<'_>, further: usize) -> String {
    let prefix = range.get::<Text<'_>>("P");
    let prefix = prefix.map_or_else(String::new, |text| words(text.as_bytes()));
    let first = range.get::<i32>("St").unwrap_or(1);
    let number = usize::try_from(first).unwrap_or(1).saturating_add(further);
    let style = range.get::<Name<'_>>("S");
    let number = match style.as_ref().map(AsRef::as_ref) {
        None => String::new(),
        Some(b"r") => roman(number),
        Some(b"R") => roman(number).to_uppercase(),
        Some(b"a") => letters(number),
        Some(b"A") => letters(number).to_uppercase(),
        Some(_) => number.to_string(),
    };
    prefix + &number
}

fn roman(mut number: usize) -> String {
    if number > 3999 {
        return number.to_string();
    }
    let digits = [
        (1000, "m"),
        (900, "cm"),
        (500, "d"),
        (400, "cd"),
        (100, "c"),
        (90, "xc"),
        (50, "l"),
        (40, "xl"),
        (10, "x"),
        (9, "ix"),
        (5, "v"),
        (4, "iv"),
        (1, "i"),
    ];
    let mut text = String::new();
    for (value, digit) in digits {
        while number >= value {
            text.push_str(digit);
            number -= value;
        }
    }
    text
}

/// a to z, then aa to zz.
fn letters(number: usize) -> String {
    let index = number.saturating_sub(1);
    let letter = char::from(b'a' + (index % 26) as u8);
    let times = (index / 26 + 1).min(64);
    std::iter::repeat_n(letter, times).collect()
}

/// Where bookmarks and links lead to.
pub(super) struct Targets<'d, 'a> {
    /// The catalogue of the file.
    pub catalogue: &'d Dict<'a>,
    /// Numbers of the pages by their objects.
    pub pages: &'d BTreeMap<ObjectIdentifier, usize>,
}

impl Targets<'_, '_> {
    /// The links of a page to pages of the file: where they stand, in the page's own axes, and to which
    /// page they lead, from 1.
    pub(super) fn links(&self, page: &Dict<'_>) -> Vec<(Box, usize)> {
        let Some(all) = page.get::<Array<'_>>("Annots") else {
            return Vec::new();
        };
        all.iter::<Dict<'_>>()
            .filter(|one| name_is(one, "Subtype", b"Link"))
            .filter_map(|one| Some((one.get::<Box>("Rect")?, self.target(&one)?)))
            .collect()
    }

    fn bookmarks(&self, parent: &Dict<'_>, above: &[String], found: &mut Vec<Bookmark>) {
        let mut next = parent.get::<Dict<'_>>("First");
        while let Some(item) = next {
            if found.len() >= MAX_BOOKMARKS || above.len() > MAX_DEPTH {
                return;
            }
            let title = item.get::<Text<'_>>("Title");
            let title = title.map_or_else(String::new, |text| words(text.as_bytes()));
            let titles = [above, &[title]].concat();
            found.push(Bookmark {
                titles: titles.clone(),
                page: self.target(&item),
            });
            self.bookmarks(&item, &titles, found);
            next = item.get::<Dict<'_>>("Next");
        }
    }

    /// The page a bookmark leads to, by its destination or by an action that goes there.
    fn target(&self, item: &Dict<'_>) -> Option<usize> {
        if let Some(destination) = item.get::<Object<'_>>("Dest") {
            return self.page(destination, MAX_DEPTH);
        }
        let action = item.get::<Dict<'_>>("A")?;
        if !name_is(&action, "S", b"GoTo") {
            return None;
        }
        self.page(action.get::<Object<'_>>("D")?, MAX_DEPTH)
    }

    fn page(&self, destination: Object<'_>, depth: usize) -> Option<usize> {
        let depth = depth.checked_sub(1)?;
        match destination {
            Object::Array(place) => {
                let first = place.raw_iter().next()?;
                let id: ObjectIdentifier = first.as_obj_ref()?.into();
                self.pages.get(&id).copied()
            }
            Object::Dict(place) => self.page(place.get::<Object<'_>>("D")?, depth),
            Object::String(name) => {
                let names = self.catalogue.get::<Dict<'_>>("Names")?;
                let tree = names.get::<Dict<'_>>("Dests")?;
                self.page(named(&tree, name.as_bytes(), depth)?, depth)
            }
            Object::Name(name) => {
                let all = self.catalogue.get::<Dict<'_>>("Dests")?;
                self.page(all.get::<Object<'_>>(&*name)?, depth)
            }
            _ => None,
        }
    }
}

/// What a name tree has under `name` (ISO 32000-1, 7.9.6).
fn named<'a>(tree: &Dict<'a>, name: &[u8], depth: usize) -> Option<Object<'a>> {
    if let Some(names) = tree.get::<Array<'_>>("Names") {
        let mut names = names.flex_iter();
        while let (Some(key), Some(value)) = (names.next::<Text<'_>>(), names.next::<Object<'_>>())
        {
            if key.as_bytes() == name {
                return Some(value);
            }
        }
    }
    let depth = depth.checked_sub(1)?;
    let kids = tree.get::<Array<'_>>("Kids")?;
    kids.iter::<Dict<'_>>()
        .find_map(|kid| named(&kid, name, depth))
}
