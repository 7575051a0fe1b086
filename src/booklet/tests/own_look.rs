//! A design with a look of its own, set and read again.

use super::*;
use crate::design::{Crop, Look, PictureSpec};

fn spec(picture: &str, alt: &str) -> PictureSpec {
    PictureSpec {
        name: None,
        picture: picture.into(),
        alt: alt.into(),
        caption: None,
        width: None,
        crop: Crop::default(),
        place: fixture::place(),
    }
}

fn set_with(design: &Design, setting: Setting) -> (Option<Typeset>, Diagnostics, Vec<u8>) {
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 10'><path d='M1 1h9' \
                stroke='#000'/></svg>";
    let files = BTreeMap::from([
        ("pictures/cover.png".to_string(), fixture::png(1920, 1280)),
        ("pictures/logo.svg".to_string(), svg.to_vec()),
        ("fonts/own.ttf".to_string(), notosans::BOLD_TTF.to_vec()),
        ("fonts/none.ttf".to_string(), b"none".to_vec()),
        ("fonts/restricted.ttf".to_string(), restricted()),
    ]);
    let mut diagnostics = Diagnostics::default();
    let prose = prose(design, &[], &files, &mut diagnostics);
    let (parts, none, templates) = (Map::new(), BTreeMap::new(), OwnTemplates::default());
    let request = Request {
        design,
        prose: &prose,
        paper: &A4,
        setting,
        sizes: &[],
        parts: &parts,
        files: &none,
        later: None,
        templates: &templates,
        moment: None,
        stamp: None,
    };
    let data = source_files(&request).remove("data.json").unwrap();
    (typeset(&request, &mut diagnostics), diagnostics, data)
}

/// Noto Sans with bit 1 of fsType set: restricted licence embedding (OpenType, table OS/2, fsType at
/// offset 8).
fn restricted() -> Vec<u8> {
    let mut bytes = notosans::BOLD_TTF.to_vec();
    let entry = bytes[12..]
        .chunks_exact(16)
        .find(|entry| &entry[..4] == b"OS/2");
    let at = entry.unwrap()[8..12]
        .iter()
        .fold(0, |at, byte| at * 256 + usize::from(*byte));
    (bytes[at + 8], bytes[at + 9]) = (0, 2);
    bytes
}

fn own() -> Design {
    let mut design = fixture::design();
    design.chapters = vec![fixture::chapter("10-a.md", "## Sew\n\nSew it.\n")];
    design.cover = Some(spec("pictures/cover.png", "Finished slippers"));
    design.look = Look {
        accent: Some([0x1f, 0x4e, 0x6b]),
        page: Some([0xfb, 0xf8, 0xf1]),
        logo: Some(spec("pictures/logo.svg", "A thimble")),
        text_face: vec![("fonts/own.ttf".into(), fixture::place())],
        label_face: Vec::new(),
    };
    design
}

#[test]
fn a_look_of_its_own_is_set_without_a_word() {
    let (typeset, diagnostics, data) = set_with(&own(), Setting::Whole);
    assert_eq!(diagnostics.iter().count(), 0, "{:?}", told(&diagnostics));
    let data: Value = serde_json::from_slice(&data).unwrap();
    assert_eq!(data["look"]["page"], "#FBF8F1");
    assert_eq!(data["look"]["text_face"], "Noto Sans");
    assert_eq!(data["cover"]["alt"], "Finished slippers");
    assert!(typeset.unwrap().pages > 3);
}

#[test]
fn pages_are_tinted_in_the_whole_booklet_only() {
    for setting in [Setting::InkSaving, Setting::LargePrint, Setting::Stapled] {
        let (typeset, diagnostics, data) = set_with(&own(), setting);
        assert_eq!(diagnostics.iter().count(), 0, "{:?}", told(&diagnostics));
        assert!(typeset.is_some());
        let data: Value = serde_json::from_slice(&data).unwrap();
        assert_eq!(data["look"]["page"], Value::Null, "{setting:?}");
    }
}

#[test]
fn typefaces_that_cannot_be_used_are_told_where_they_are_named() {
    for (file, why) in [
        ("fonts/none.ttf", "cannot be read"),
        ("fonts/restricted.ttf", "does not permit"),
    ] {
        let mut design = own();
        design.look.text_face[0].0 = file.into();
        let (_, diagnostics, _) = set_with(&design, Setting::Whole);
        let told = told(&diagnostics);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].contains("design.yaml:1:1 look-face") && told[0].contains(why));
    }
}

#[test]
fn a_letter_that_the_typeface_lacks_is_told_where_it_stands() {
    // Hebrew alef is in a face of the house, not in Noto Sans
    let mut design = own();
    design.chapters = vec![fixture::chapter("10-a.md", "Sew.\n\nAn \u{5d0} here.\n")];
    let (_, diagnostics, _) = set_with(&design, Setting::Whole);
    let told = told(&diagnostics);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0].contains("booklet/10-a.md:3:4 missing-glyph"),
        "{told:?}"
    );
}
