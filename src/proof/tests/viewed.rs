//! Labels, bookmarks and boxes of pages, set by hand.

use super::press::{A4, Book, Style, circle, cut, intended, sole};
use super::{failed, messages};
use crate::proof::{Intended, IntendedBookmark, prove};
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};

fn text(words: &str) -> Object {
    Object::String(words.as_bytes().to_vec(), StringFormat::Literal)
}

fn numbers(values: [f32; 4]) -> Object {
    Object::Array(values.map(Object::Real).to_vec())
}

/// A page of words, then two plates with a piece each.
fn booklet() -> Document {
    let book = Book::new(A4)
        .typst("#at(30, 30)[Words]")
        .next_page()
        .furniture()
        .line(&sole(), Style::Cut, 40.0, 40.0)
        .next_page()
        .furniture()
        .line(&circle(20.0), Style::Cut, 80.0, 80.0);
    let mut document = Document::load_mem(&book.pdf()).unwrap();
    let mut wishes = Dictionary::new();
    wishes.set("PrintScaling", Object::Name(b"None".to_vec()));
    wishes.set("DisplayDocTitle", Object::Boolean(true));
    document
        .catalog_mut()
        .unwrap()
        .set("ViewerPreferences", Object::Dictionary(wishes));
    for page in pages(&document) {
        let trim = numbers([0.0, 0.0, 595.2756, 841.8898]);
        document
            .get_dictionary_mut(page)
            .unwrap()
            .set("TrimBox", trim);
    }
    document
}

fn pages(document: &Document) -> Vec<ObjectId> {
    document.get_pages().into_values().collect()
}

/// 1, Plate 1, Plate 2 or what `last` says.
fn label(document: &mut Document, last: &str) {
    let range = |key: &str, value: Object| {
        let mut range = Dictionary::new();
        range.set(key, value);
        Object::Dictionary(range)
    };
    let tree = vec![
        Object::Integer(0),
        range("S", Object::Name(b"D".to_vec())),
        Object::Integer(1),
        range("P", text("Plate 1")),
        Object::Integer(2),
        range("P", text(last)),
    ];
    let mut labels = Dictionary::new();
    labels.set("Nums", Object::Array(tree));
    document
        .catalog_mut()
        .unwrap()
        .set("PageLabels", Object::Dictionary(labels));
}

/// `Small`, under it a bookmark for each piece, which lead to these pages, from 0.
fn mark(document: &mut Document, targets: [usize; 2]) {
    let ids = pages(document);
    let root = document.new_object_id();
    let (size, first, second) = (
        document.new_object_id(),
        document.new_object_id(),
        document.new_object_id(),
    );
    let item = |title: &str, parent: ObjectId, page: usize| {
        let mut item = Dictionary::new();
        item.set("Title", text(title));
        item.set("Parent", Object::Reference(parent));
        let place = vec![Object::Reference(ids[page]), Object::Name(b"Fit".to_vec())];
        item.set("Dest", Object::Array(place));
        item
    };
    let mut outlines = Dictionary::new();
    outlines.set("First", Object::Reference(size));
    outlines.set("Last", Object::Reference(size));
    let mut size_item = item("Small", root, 1);
    size_item.set("First", Object::Reference(first));
    size_item.set("Last", Object::Reference(second));
    let mut first_item = item("1 Sole", size, targets[0]);
    first_item.set("Next", Object::Reference(second));
    let second_item = item("2 Round", size, targets[1]);
    for (id, dict) in [
        (root, outlines),
        (size, size_item),
        (first, first_item),
        (second, second_item),
    ] {
        document.objects.insert(id, Object::Dictionary(dict));
    }
    document
        .catalog_mut()
        .unwrap()
        .set("Outlines", Object::Reference(root));
}

fn wanted() -> Intended {
    let mut wanted = intended(vec![cut("sole", &sole()), cut("round", &circle(20.0))]);
    let bookmark = |titles: &[&str], piece: Option<&str>| IntendedBookmark {
        titles: titles.iter().map(|t| (*t).to_string()).collect(),
        size: "small".to_string(),
        piece: piece.map(str::to_string),
    };
    wanted.layers = Some(Vec::new());
    wanted.labels = vec!["Plate 1".to_string(), "Plate 2".to_string()];
    wanted.bookmarks = vec![
        bookmark(&["Small"], None),
        bookmark(&["Small", "1 Sole"], Some("sole")),
        bookmark(&["Small", "2 Round"], Some("round")),
    ];
    wanted
}

fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn sound() -> Document {
    let mut document = booklet();
    label(&mut document, "Plate 2");
    mark(&mut document, [1, 2]);
    document
}

#[test]
fn labels_bookmarks_and_boxes_that_are_right_pass() {
    let proof = prove(&saved(sound()), "test.pdf", &wanted());
    assert_eq!(failed(&proof), [""; 0], "{:?}", proof.checks);
}

#[test]
fn a_wrong_label_is_reported_with_its_page() {
    let mut document = sound();
    label(&mut document, "Plate 3");
    let proof = prove(&saved(document), "test.pdf", &wanted());
    assert_eq!(failed(&proof), ["page-labels"]);
    let told = messages(&proof, "page-labels");
    assert_eq!(told, ["viewers call the page “Plate 3”, not “Plate 2”"]);
}

#[test]
fn bookmarks_that_lead_elsewhere_or_are_missing_are_reported() {
    let mut document = sound();
    mark(&mut document, [1, 0]);
    let proof = prove(&saved(document), "test.pdf", &wanted());
    assert_eq!(failed(&proof), ["bookmarks"]);
    let told = messages(&proof, "bookmarks");
    assert_eq!(
        told,
        ["the bookmark “Small › 2 Round” leads to page 1, not to page 3"]
    );

    let mut document = booklet();
    label(&mut document, "Plate 2");
    let told = messages(&prove(&saved(document), "test.pdf", &wanted()), "bookmarks");
    assert_eq!(told.len(), 3);
    assert_eq!(told[0], "there is no bookmark “Small”");
}

#[test]
fn boxes_that_stand_over_each_other_are_reported() {
    let larger = numbers([-9.0, -9.0, 604.0, 850.0]);
    let smaller = numbers([9.0, 9.0, 580.0, 830.0]);
    for (key, value, fault) in [
        ("BleedBox", larger, "its BleedBox stands over its MediaBox"),
        (
            "BleedBox",
            smaller.clone(),
            "its TrimBox stands over its BleedBox",
        ),
        ("ArtBox", smaller, "it has an ArtBox beside its TrimBox"),
    ] {
        let mut document = sound();
        let page = pages(&document)[0];
        document.get_dictionary_mut(page).unwrap().set(key, value);
        let proof = prove(&saved(document), "test.pdf", &wanted());
        assert_eq!(failed(&proof), ["page-boxes"]);
        let told = messages(&proof, "page-boxes");
        assert_eq!(told, [format!("the boxes of the page are wrong: {fault}")]);
    }
}
