//! Layers tried out: outlines of two sizes, written by hand into content that can be hidden.

use super::press::{A4, Book, cut, intended, seam, sole};
use super::{failed, messages};
use crate::proof::{Intended, IntendedLayer, IntendedOutline, LayerHolds, Proof, prove};
use kurbo::{Affine, BezPath, PathEl, Point};
use lopdf::{Dictionary, Document, Object, Stream, StringFormat};
use std::fmt::Write;

/// Layers of the test: two sizes and the allowances.
const NAMES: [&str; 3] = ["Size Small", "Size Large", "Seam allowances"];

/// The operators that draw `path` with its origin at `x`, `y` (mm from the upper left of an A4 page).
fn drawn(path: &BezPath, dashed: bool, x: f64, y: f64) -> String {
    let points = 72.0 / 25.4;
    let place = Affine::new([points, 0.0, 0.0, -points, x * points, (A4[1] - y) * points]);
    let mut text = String::from("q 0 G ");
    text.push_str(if dashed {
        "0.7087 w [6.8 3.4] 0 d\n"
    } else {
        "1.4173 w [] 0 d\n"
    });
    let at = |p: Point| format!("{:.5} {:.5}", p.x, p.y);
    for element in (place * path).elements() {
        match element {
            PathEl::MoveTo(p) => writeln!(text, "{} m", at(*p)).unwrap(),
            PathEl::LineTo(p) => writeln!(text, "{} l", at(*p)).unwrap(),
            PathEl::CurveTo(a, b, p) => {
                writeln!(text, "{} {} {} c", at(*a), at(*b), at(*p)).unwrap();
            }
            PathEl::QuadTo(..) => unreachable!("the outlines have none"),
            PathEl::ClosePath => text.push_str("h\n"),
        }
    }
    text + "S Q\n"
}

fn on(layer: usize, body: &str) -> String {
    format!("/OC /L{layer} BDC\n{body}EMC\n")
}

/// A plate with both squares, and `content` written after them.
fn plate(content: &str, hide_all: bool) -> Vec<u8> {
    let mut document = Document::load_mem(&Book::new(A4).furniture().pdf()).unwrap();
    let page = *document.get_pages().values().next().unwrap();
    let own = document.get_page_content(page);
    let own = String::from_utf8_lossy(&own).into_owned();
    let all = match hide_all {
        true => format!("{}{content}", on(0, &format!("{own}\n"))),
        false => format!("q {own}\nQ\n{content}"),
    };
    let stream = document.add_object(Stream::new(Dictionary::new(), all.into_bytes()));
    let mut named = Dictionary::new();
    let mut groups = Vec::new();
    for (index, name) in NAMES.iter().enumerate() {
        let mut group = Dictionary::new();
        group.set("Type", Object::Name(b"OCG".to_vec()));
        group.set(
            "Name",
            Object::String(name.as_bytes().to_vec(), StringFormat::Literal),
        );
        let id = document.add_object(group);
        named.set(format!("L{index}"), Object::Reference(id));
        groups.push(Object::Reference(id));
    }
    let mut shown = Dictionary::new();
    shown.set(
        "Name",
        Object::String(b"All".to_vec(), StringFormat::Literal),
    );
    let mut properties = Dictionary::new();
    properties.set("OCGs", Object::Array(groups));
    properties.set("D", Object::Dictionary(shown));
    let mut wishes = Dictionary::new();
    wishes.set("PrintScaling", Object::Name(b"None".to_vec()));
    wishes.set("DisplayDocTitle", Object::Boolean(true));
    let catalogue = document.catalog_mut().unwrap();
    catalogue.set("OCProperties", Object::Dictionary(properties));
    catalogue.set("ViewerPreferences", Object::Dictionary(wishes));
    let resources = {
        let dict = document.get_dictionary(page).unwrap();
        match dict.get(b"Resources").unwrap() {
            Object::Reference(id) => document.get_dictionary(*id).unwrap().clone(),
            other => other.as_dict().unwrap().clone(),
        }
    };
    let mut resources = resources;
    resources.set("Properties", Object::Dictionary(named));
    let dict = document.get_dictionary_mut(page).unwrap();
    let media = dict.get(b"MediaBox").unwrap().clone();
    dict.set("TrimBox", media);
    dict.set("Resources", Object::Dictionary(resources));
    dict.set("Contents", Object::Reference(stream));
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn large() -> BezPath {
    Affine::scale(1.2) * sole()
}

fn inner(path: &BezPath) -> BezPath {
    Affine::scale(0.8) * path
}

fn in_size(mut outline: IntendedOutline, size: &str) -> IntendedOutline {
    outline.size = size.to_string();
    outline
}

/// Two soles in two sizes, each with an allowance.
fn wanted() -> Intended {
    let mut wanted = intended(vec![
        in_size(cut("sole", &sole()), "small"),
        in_size(seam("sole", &inner(&sole())), "small"),
        in_size(cut("sole", &large()), "large"),
        in_size(seam("sole", &inner(&large())), "large"),
    ]);
    let holds = [
        LayerHolds::Size("small".to_string()),
        LayerHolds::Size("large".to_string()),
        LayerHolds::Allowances,
    ];
    let layers = NAMES.iter().zip(holds).map(|(name, holds)| IntendedLayer {
        name: (*name).to_string(),
        holds,
    });
    wanted.layers = Some(layers.collect());
    wanted
}

/// Cut line and seam line of one size.
fn size(layer: usize, path: &BezPath, x: f64, allowance: bool) -> String {
    let cut = drawn(path, false, x, 40.0);
    let cut = if allowance { on(2, &cut) } else { cut };
    on(layer, &(cut + &drawn(&inner(path), true, x + 5.0, 45.0)))
}

fn proof(content: &str, hide_all: bool) -> Proof {
    prove(&plate(content, hide_all), "test.pdf", &wanted())
}

#[test]
fn layers_that_hold_what_they_should_pass() {
    let content = size(0, &sole(), 30.0, true) + &size(1, &large(), 100.0, true);
    let proof = proof(&content, false);
    assert_eq!(failed(&proof), [""; 0], "{:?}", proof.checks);
    let tried = proof.checks.iter().filter(|c| c.code == "layers").count();
    // names, each of three layers, and all of them together
    assert_eq!(tried, 5);
}

#[test]
fn a_line_on_another_sizes_layer_is_reported() {
    let content = size(0, &sole(), 30.0, true) + &size(0, &large(), 100.0, true);
    let proof = proof(&content, false);
    assert_eq!(failed(&proof), ["layers"]);
    let told = messages(&proof, "layers");
    let too =
        "with the layer “Size Small” hidden, the cut line of sole in size large is hidden too";
    assert!(told.iter().any(|m| m == too), "{told:?}");
    let stays =
        "with the layer “Size Large” hidden, the cut line of sole in size large can still be seen";
    assert!(told.iter().any(|m| m == stays), "{told:?}");
}

#[test]
fn a_cut_line_that_stays_without_the_allowances_is_reported() {
    let content = size(0, &sole(), 30.0, false) + &size(1, &large(), 100.0, true);
    let told = messages(&proof(&content, false), "layers");
    let stays = "with the layer “Seam allowances” hidden, the cut line of sole in size small can still be seen";
    assert_eq!(told, [stays]);
}

#[test]
fn squares_that_vanish_with_a_layer_are_reported() {
    let content = size(0, &sole(), 30.0, true) + &size(1, &large(), 100.0, true);
    let told = messages(&proof(&content, true), "layers");
    assert_eq!(
        told,
        ["with all layers hidden, a test square of the page is hidden too"]
    );
}
