//! Bookmarks for sizes and pieces, after those that the headings gave (ISO 32000-1, 12.3.3).

use super::file::{self, POINTS};
use lopdf::{Dictionary, Document, Object, ObjectId};

/// A bookmark and those under it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bookmark {
    /// As shown.
    pub title: String,
    /// Index of the page it leads to, from 0.
    pub page: usize,
    /// Place on the page, mm from its upper left corner.
    pub at: [f64; 2],
    /// Bookmarks under it, shown when it is opened.
    pub inner: Vec<Bookmark>,
}

/// Adds `bookmarks`, closed, after the last of the file.
///
/// # Errors
/// A sentence, if the file has no catalogue or its bookmarks are none.
pub fn add(document: &mut Document, bookmarks: &[Bookmark]) -> Result<(), String> {
    if bookmarks.is_empty() {
        return Ok(());
    }
    let known = file::catalogue(document)?
        .get(b"Outlines")
        .and_then(Object::as_reference)
        .ok();
    let root = match known {
        Some(root) => root,
        None => {
            let root = document.add_object(Dictionary::new());
            file::catalogue(document)?.set("Outlines", Object::Reference(root));
            root
        }
    };
    let pages = file::pages(document);
    let list = write(document, bookmarks, root, &pages)?;
    let outlines = file::dictionary(document, root)?;
    let last = outlines.get(b"Last").and_then(Object::as_reference).ok();
    let count = outlines.get(b"Count").and_then(Object::as_i64).unwrap_or(0);
    let (first_new, last_new) = (list[0], list[list.len() - 1]);
    outlines.set("Last", Object::Reference(last_new));
    outlines.set("Count", Object::Integer(count.max(0) + list.len() as i64));
    match last {
        Some(last) => {
            file::dictionary(document, last)?.set("Next", Object::Reference(first_new));
            file::dictionary(document, first_new)?.set("Prev", Object::Reference(last));
        }
        None => outlines.set("First", Object::Reference(first_new)),
    }
    Ok(())
}

/// Writes bookmarks of one level and all below; not empty.
fn write(
    document: &mut Document,
    bookmarks: &[Bookmark],
    parent: ObjectId,
    pages: &[ObjectId],
) -> Result<Vec<ObjectId>, String> {
    let mut list: Vec<ObjectId> = Vec::new();
    for bookmark in bookmarks {
        let page = *pages.get(bookmark.page).ok_or_else(|| {
            let title = &bookmark.title;
            format!("the bookmark of {title} leads to a page that is not there")
        })?;
        let mut item = Dictionary::new();
        item.set("Title", file::text(&bookmark.title));
        item.set("Parent", Object::Reference(parent));
        item.set("Dest", destination(document, page, bookmark.at));
        let id = document.add_object(item);
        if let Some(before) = list.last().copied() {
            file::dictionary(document, id)?.set("Prev", Object::Reference(before));
            file::dictionary(document, before)?.set("Next", Object::Reference(id));
        }
        if !bookmark.inner.is_empty() {
            let inner = write(document, &bookmark.inner, id, pages)?;
            let item = file::dictionary(document, id)?;
            item.set("First", Object::Reference(inner[0]));
            item.set("Last", Object::Reference(inner[inner.len() - 1]));
            // negative: closed
            item.set("Count", Object::Integer(-(inner.len() as i64)));
        }
        list.push(id);
    }
    Ok(list)
}

fn destination(document: &Document, page: ObjectId, [x, y]: [f64; 2]) -> Object {
    let media = file::inherited(document, page, b"MediaBox");
    let sides = media.as_ref().and_then(|m| m.as_array().ok());
    let side = |i: usize| {
        sides
            .and_then(|s| s.get(i)?.as_float().ok())
            .map_or(0.0, f64::from)
    };
    Object::Array(vec![
        Object::Reference(page),
        Object::Name(b"XYZ".to_vec()),
        file::number(side(0) + x * POINTS),
        file::number(side(3) - y * POINTS),
        Object::Null,
    ])
}
