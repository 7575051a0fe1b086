//! Which content of a page belongs to pictures, told by the tags: content of a `Figure`, or of anything
//! inside one (ISO 32000-1, 14.7).

use super::objects::name_is;
use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, MaybeRef, ObjRef, Object};
use hayro_syntax::page::Page;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Structure nested deeper than this is not followed: a circle must not hold us up.
const MAX_DEPTH: usize = 64;

/// Which marked content belongs to pictures.
pub struct Pictures<'a> {
    pdf: &'a Pdf,
    /// Entries of the parent tree that are lists: the elements of a page's marked content.
    parents: BTreeMap<i32, Array<'a>>,
    /// Whether an element is a figure or inside one, as far as it was asked: the content of a page has few
    /// elements above it, and each is unpacked to be read.
    known: HashMap<ObjRef, bool>,
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
        Self {
            pdf,
            parents,
            known: HashMap::new(),
        }
    }

    /// Numbers of the marked content of `page` that belongs to pictures.
    pub fn on(&mut self, page: &Page<'_>) -> BTreeSet<i32> {
        let key = page.raw().get::<i32>("StructParents");
        let Some(elements) = key.and_then(|key| self.parents.get(&key)) else {
            return BTreeSet::new();
        };
        let elements = elements.clone();
        (0..)
            .zip(elements.raw_iter())
            .filter(|(_, element)| match element {
                MaybeRef::Ref(at) => self.is_in_figure(*at),
                MaybeRef::NotRef(Object::Dict(element)) => {
                    name_is(element, "S", b"Figure")
                        || element.get_ref("P").is_some_and(|at| self.is_in_figure(at))
                }
                MaybeRef::NotRef(_) => false,
            })
            .map(|(number, _)| number)
            .collect()
    }

    /// Whether the element is a figure or inside one, asking those above it.
    fn is_in_figure(&mut self, element: ObjRef) -> bool {
        let mut passed = Vec::new();
        let mut next = Some(element);
        let mut found = false;
        while let Some(at) = next.filter(|_| passed.len() < MAX_DEPTH) {
            if let Some(known) = self.known.get(&at) {
                found = *known;
                break;
            }
            passed.push(at);
            let element = self.pdf.xref().get::<Dict<'_>>(at.into());
            let element = element.unwrap_or_default();
            found = name_is(&element, "S", b"Figure");
            next = element.get_ref("P").filter(|_| !found);
        }
        self.known.extend(passed.into_iter().map(|at| (at, found)));
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
