//! Which content of a page belongs to pictures, told by the tags: content of a `Figure`, or of anything
//! inside one (ISO 32000-1, 14.7).

use super::objects::name_is;
use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Object};
use hayro_syntax::page::Page;
use std::collections::{BTreeMap, BTreeSet};

/// Structure nested deeper than this is not followed: a circle must not hold us up.
const MAX_DEPTH: usize = 64;

/// Which marked content belongs to pictures.
pub struct Pictures<'a> {
    /// Entries of the parent tree that are lists: the elements of a page's marked content.
    parents: BTreeMap<i32, Array<'a>>,
}

impl<'a> Pictures<'a> {
    /// Reads the structure of `pdf`; none if it has no tags.
    pub fn of(pdf: &'a Pdf) -> Self {
        let xref = pdf.xref();
        let catalogue = xref.get::<Dict<'_>>(xref.root_id()).unwrap_or_default();
        let mut parents = BTreeMap::new();
        let tree = catalogue
            .get::<Dict<'_>>("StructTreeRoot")
            .and_then(|root| root.get::<Dict<'_>>("ParentTree"));
        if let Some(tree) = tree {
            collect(&tree, MAX_DEPTH, &mut parents);
        }
        Self { parents }
    }

    /// Numbers of the marked content of `page` that belongs to pictures.
    pub fn on(&self, page: &Page<'_>) -> BTreeSet<i32> {
        let key = page.raw().get::<i32>("StructParents");
        let Some(elements) = key.and_then(|key| self.parents.get(&key)) else {
            return BTreeSet::new();
        };
        let mut found = BTreeSet::new();
        let mut elements = elements.flex_iter();
        let mut number = 0;
        while let Some(element) = elements.next::<Object<'_>>() {
            if let Object::Dict(element) = element
                && is_in_figure(element)
            {
                found.insert(number);
            }
            number += 1;
        }
        found
    }
}

fn collect<'a>(tree: &Dict<'a>, depth: usize, found: &mut BTreeMap<i32, Array<'a>>) {
    if let Some(numbers) = tree.get::<Array<'_>>("Nums") {
        let mut numbers = numbers.flex_iter();
        while let (Some(key), Some(value)) = (numbers.next::<i32>(), numbers.next::<Object<'_>>()) {
            if let Object::Array(elements) = value {
                found.insert(key, elements);
            }
        }
    }
    if depth > 0
        && let Some(kids) = tree.get::<Array<'_>>("Kids")
    {
        for kid in kids.iter::<Dict<'_>>() {
            collect(&kid, depth - 1, found);
        }
    }
}

fn is_in_figure(mut element: Dict<'_>) -> bool {
    for _ in 0..MAX_DEPTH {
        if name_is(&element, "S", b"Figure") {
            return true;
        }
        match element.get::<Dict<'_>>("P") {
            Some(parent) => element = parent,
            None => return false,
        }
    }
    false
}
