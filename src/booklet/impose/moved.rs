//! Pages that become forms on the side of a sheet, with all that points at them: tags, links,
//! destinations. Lengths are points, y up.

use super::super::pdf::file;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::{BTreeMap, BTreeSet};

/// Where a page comes to lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// The page.
    pub page: ObjectId,
    /// The form that holds its content.
    pub form: ObjectId,
    /// The side of the sheet.
    pub side: ObjectId,
    /// Its lower left corner on the side, points.
    pub by: [f64; 2],
}

/// Makes the forms and moves what points at the pages.
///
/// # Errors
/// A sentence, if a page or an object that points at one cannot be read.
pub fn move_all(document: &mut Document, places: &[Place]) -> Result<(), String> {
    let mut by_page = BTreeMap::new();
    for place in places {
        by_page.insert(place.page, *place);
        make_form(document, place)?;
        move_links(document, place)?;
    }
    let ids: Vec<ObjectId> = document.objects.keys().copied().collect();
    // before the tags: they still name the pages
    for (id, by) in boxes_without_page(document, &ids, &by_page) {
        if let Ok(attributes) = file::dictionary(document, id)?.get_mut(b"A") {
            move_boxes(attributes, by);
        }
    }
    for id in ids {
        let Some(object) = document.objects.get_mut(&id) else {
            continue;
        };
        move_tags(object, &by_page);
        move_destinations(object, &by_page);
    }
    Ok(())
}

/// The page's content as a form (ISO 32000-1, 8.10). It keeps its number in the parent tree, so that
/// the tree stays as it is (14.7.4.4).
fn make_form(document: &mut Document, place: &Place) -> Result<(), String> {
    let content = document.get_page_content(place.page);
    let media = file::inherited(document, place.page, b"MediaBox");
    let resources = file::inherited(document, place.page, b"Resources");
    let parents = file::inherited(document, place.page, b"StructParents");
    let group = file::inherited(document, place.page, b"Group");
    let mut form = Dictionary::new();
    form.set("Type", Object::Name(b"XObject".to_vec()));
    form.set("Subtype", Object::Name(b"Form".to_vec()));
    let named: [(&str, Option<Object>); 4] = [
        ("BBox", media),
        ("Resources", resources),
        ("StructParents", parents),
        ("Group", group),
    ];
    for (key, value) in named {
        if let Some(value) = value {
            form.set(key, value);
        }
    }
    let mut stream = Stream::new(form, content);
    stream
        .compress()
        .map_err(|fault| format!("a page cannot be written: {fault}"))?;
    document.objects.insert(place.form, Object::Stream(stream));
    let page = file::dictionary(document, place.page)?;
    if let Ok(content) = page.get(b"Contents").and_then(Object::as_reference) {
        document.objects.remove(&content);
    }
    Ok(())
}

fn move_links(document: &mut Document, place: &Place) -> Result<(), String> {
    let Some(Object::Array(links)) = file::inherited(document, place.page, b"Annots") else {
        return Ok(());
    };
    for link in links {
        let Ok(id) = link.as_reference() else {
            continue;
        };
        let link = file::dictionary(document, id)?;
        for key in [&b"Rect"[..], b"QuadPoints"] {
            if let Ok(Object::Array(numbers)) = link.get_mut(key) {
                for (index, number) in numbers.iter_mut().enumerate() {
                    shift(number, place.by[index % 2]);
                }
            }
        }
        if link.has(b"P") {
            link.set("P", Object::Reference(place.side));
        }
    }
    Ok(())
}

fn shift(number: &mut Object, by: f64) {
    if let Ok(value) = number.as_float() {
        *number = file::number(f64::from(value) + by);
    }
}

type Places = BTreeMap<ObjectId, Place>;

fn place_of(dictionary: &Dictionary, places: &Places) -> Option<Place> {
    let page = dictionary.get(b"Pg").ok()?.as_reference().ok()?;
    places.get(&page).copied()
}

/// The elements that have a box but name no page, such as a table: its page is that of the first of
/// what it holds (ISO 32000-1, 14.8.5.4.3: the box is of the page on which the element is).
fn boxes_without_page(
    document: &Document,
    ids: &[ObjectId],
    places: &Places,
) -> Vec<(ObjectId, [f64; 2])> {
    let by_of = |id: &ObjectId| {
        let element = document.get_dictionary(*id).ok()?;
        if !element.has(b"S") || !element.has(b"K") || !element.has(b"A") || element.has(b"Pg") {
            return None;
        }
        Some((*id, first_place(document, element, places)?.by))
    };
    ids.iter().filter_map(by_of).collect()
}

/// Where the first page lies that an element or anything in it names. Every element is looked at once,
/// so that a ring of elements ends.
fn first_place(document: &Document, element: &Dictionary, places: &Places) -> Option<Place> {
    let mut seen = BTreeSet::new();
    let mut open = vec![element];
    while let Some(next) = open.pop() {
        if let Some(place) = place_of(next, places) {
            return Some(place);
        }
        let kids = match next.get(b"K") {
            Ok(Object::Array(kids)) => kids.as_slice(),
            Ok(kid) => std::slice::from_ref(kid),
            Err(_) => &[],
        };
        for kid in kids.iter().rev() {
            match kid {
                Object::Dictionary(content) => open.push(content),
                Object::Reference(id) if seen.insert(*id) => {
                    open.extend(document.get_dictionary(*id).ok());
                }
                _ => {}
            }
        }
    }
    None
}

/// A structure element's kids that are marked content of a page become those of its form.
fn move_tags(object: &mut Object, places: &Places) {
    let Object::Dictionary(element) = object else {
        return;
    };
    let own = place_of(element, places);
    if !element.has(b"S") || !element.has(b"K") {
        return;
    }
    if let Ok(kids) = element.get_mut(b"K") {
        match kids {
            Object::Array(kids) => kids.iter_mut().for_each(|kid| move_kid(kid, own, places)),
            kid => move_kid(kid, own, places),
        }
    }
    if let Some(own) = own {
        element.set("Pg", Object::Reference(own.side));
        if let Ok(attributes) = element.get_mut(b"A") {
            move_boxes(attributes, own.by);
        }
    }
}

/// The boxes of figures are told on the page.
fn move_boxes(attributes: &mut Object, by: [f64; 2]) {
    match attributes {
        Object::Array(list) => list.iter_mut().for_each(|o| move_boxes(o, by)),
        Object::Dictionary(dictionary) => {
            if let Ok(Object::Array(numbers)) = dictionary.get_mut(b"BBox") {
                for (index, number) in numbers.iter_mut().enumerate() {
                    shift(number, by[index % 2]);
                }
            }
        }
        _ => {}
    }
}

fn move_kid(kid: &mut Object, own: Option<Place>, places: &Places) {
    match kid {
        Object::Integer(number) => {
            let Some(place) = own else { return };
            let mut content = Dictionary::new();
            content.set("Type", Object::Name(b"MCR".to_vec()));
            content.set("Pg", Object::Reference(place.side));
            content.set("Stm", Object::Reference(place.form));
            content.set("MCID", Object::Integer(*number));
            *kid = Object::Dictionary(content);
        }
        Object::Dictionary(content) => {
            let Some(place) = place_of(content, places).or(own) else {
                return;
            };
            if content.has(b"MCID") {
                content.set("Stm", Object::Reference(place.form));
                content.set("Pg", Object::Reference(place.side));
            } else if content.has(b"Obj") {
                content.set("Pg", Object::Reference(place.side));
            }
        }
        _ => {}
    }
}

/// Destinations anywhere in an object: arrays of a page, a name and numbers (ISO 32000-1, 12.3.2).
fn move_destinations(object: &mut Object, places: &Places) {
    match object {
        Object::Array(list) => {
            let place = list
                .first()
                .and_then(|first| first.as_reference().ok())
                .and_then(|page| places.get(&page).copied());
            let fits = list.get(1).is_some_and(|form| form.as_name().is_ok());
            match place.filter(|_| fits) {
                Some(place) => {
                    list[0] = Object::Reference(place.side);
                    if list[1].as_name().is_ok_and(|name| name == b"XYZ") {
                        for (index, by) in place.by.into_iter().enumerate() {
                            list.get_mut(2 + index)
                                .into_iter()
                                .for_each(|n| shift(n, by));
                        }
                    }
                }
                None => list.iter_mut().for_each(|o| move_destinations(o, places)),
            }
        }
        Object::Dictionary(dictionary) => {
            for (_, value) in dictionary.iter_mut() {
                move_destinations(value, places);
            }
        }
        _ => {}
    }
}
