//! How much work a PDF is, before it is done: drawing operations, counted through nested forms.
//! A few hundred bytes of forms that draw each other twice can ask for more operations than there
//! is time; such a file is refused instead.

use hayro_syntax::content::TypedIter;
use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::{Array, Dict, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Resources};
use std::collections::BTreeMap;

/// More drawing operations than this are refused; a booklet of 100 pages has about half a
/// million, and five million take some seconds.
pub const MAX_OPERATIONS: usize = 5_000_000;

/// Forms nested deeper than this are refused.
const MAX_DEPTH: usize = 40;

/// Drawing operations of all pages; `usize::MAX` if forms are nested too deeply or in a circle.
pub fn operations(pages: &[Page<'_>]) -> usize {
    let mut counts = BTreeMap::new();
    let mut total: usize = 0;
    for page in pages {
        let own = count(
            page.typed_operations(),
            page.resources(),
            &mut counts,
            MAX_DEPTH,
        );
        total = total.saturating_add(own);
        for form in appearances(page) {
            total =
                total.saturating_add(form_count(&form, page.resources(), &mut counts, MAX_DEPTH));
        }
        if total > MAX_OPERATIONS {
            break;
        }
    }
    total
}

/// The forms that show the page's annotations.
fn appearances<'a>(page: &Page<'a>) -> Vec<Stream<'a>> {
    let Some(annotations) = page.raw().get::<Array<'_>>("Annots") else {
        return Vec::new();
    };
    annotations
        .iter::<Dict<'_>>()
        .filter_map(|a| a.get::<Dict<'_>>("AP")?.get::<Stream<'_>>("N"))
        .collect()
}

fn count(
    mut operations: TypedIter<'_>,
    resources: &Resources<'_>,
    counts: &mut BTreeMap<ObjectIdentifier, usize>,
    depth: usize,
) -> usize {
    let mut total: usize = 0;
    while let Some(operation) = operations.next() {
        total = total.saturating_add(1);
        if let TypedInstruction::XObject(drawn) = operation
            && let Some(form) = resources.get_x_object(drawn.0)
        {
            total = total.saturating_add(form_count(&form, resources, counts, depth));
        }
        if total > MAX_OPERATIONS {
            break;
        }
    }
    total
}

fn form_count<'a>(
    form: &Stream<'a>,
    outer: &Resources<'a>,
    counts: &mut BTreeMap<ObjectIdentifier, usize>,
    depth: usize,
) -> usize {
    let dict = form.dict();
    let is_form = dict
        .get::<hayro_syntax::object::Name<'_>>("Subtype")
        .is_some_and(|name| name.as_ref() == b"Form");
    if !is_form {
        return 1;
    }
    if depth == 0 {
        return usize::MAX;
    }
    if let Some(known) = counts.get(&form.obj_id()) {
        return *known;
    }
    // A form that draws itself meets this entry on its way down.
    counts.insert(form.obj_id(), usize::MAX);
    let own = dict.get::<Dict<'_>>("Resources").unwrap_or_default();
    let resources = Resources::from_parent(own, outer.clone());
    let total = match form.decoded() {
        Ok(content) => count(
            TypedIter::new(content.as_ref()),
            &resources,
            counts,
            depth - 1,
        ),
        Err(_) => 1,
    };
    counts.insert(form.obj_id(), total);
    total
}
