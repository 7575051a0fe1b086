use super::*;
use crate::design::{Chapter, ChapterKind, PaperKind, Part};
use crate::diagnostic::{Level, SourceText};
use serde_json::json;
use std::sync::{Arc, LazyLock};

mod colours;
mod own_look;
mod settings;

static A4: LazyLock<Paper> = LazyLock::new(|| Paper::named("a4").unwrap());

fn letter() -> Paper {
    Paper::named("letter").unwrap()
}

/// A piece drawn as an outline with a seam line; `path` in mm.
fn outline(width: f64, height: f64, path: &str) -> Vec<u8> {
    format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{0}mm' height='{1}mm' \
         viewBox='-1 -1 {0} {1}'><path d='{path}' fill='white' stroke='#1B1A18' stroke-width='0.5' \
         stroke-linejoin='round'/></svg>",
        width + 2.0,
        height + 2.0
    )
    .into_bytes()
}

const TOE: &str = "M0 8 L18 0 C22 12 44 12 48 0 L66 8 C62 40 50 52 33 52 C16 52 4 40 0 8 Z";
const HEEL: &str = "M6 0 C30 6 60 6 84 0 L90 26 C60 34 30 34 0 26 Z";
const SOLE: &str =
    "M22 0 C38 0 42 16 40 34 C38 48 40 62 38 76 C36 92 8 92 6 76 C4 60 6 50 4 34 C2 16 6 0 22 0 Z";
const STRAP: &str = "M0 0 L76 0 L76 14 L0 14 Z";

fn parts() -> (Map<String, Value>, BTreeMap<String, Vec<u8>>) {
    let drawn = [
        ("toe", "Toe piece", "2 felt, 2 lining", 66.0, 52.0, TOE),
        ("heel", "Heel piece", "2 felt, 2 lining", 90.0, 32.0, HEEL),
        ("sole", "Sole", "2 felt", 44.0, 90.0, SOLE),
        ("strap", "Strap", "2 felt", 76.0, 14.0, STRAP),
    ];
    let mut files = BTreeMap::new();
    let mut pieces = Vec::new();
    for (index, (key, title, cuts, width, height, path)) in drawn.into_iter().enumerate() {
        files.insert(format!("key/{key}.svg"), outline(width, height, path));
        pieces.push(json!({
            "number": index + 1, "title": title, "cuts": cuts, "svg": format!("/key/{key}.svg"),
            "alt": format!("{title}, drawn flat."), "w": width, "h": height,
        }));
    }
    files.insert("figures/1.svg".into(), outline(66.0, 52.0, TOE));
    files.insert("figures/2.svg".into(), outline(90.0, 34.0, HEEL));
    let parts = json!({
        "key": {"title": "The pieces", "size": "Large", "scale": 0.25, "unused": "Cut counts are for \
            one pair.", "pieces": pieces, "lines": {"grain": false}},
    });
    match parts {
        Value::Object(map) => (map, files),
        _ => unreachable!(),
    }
}

const MAKING: &str = include_str!("tests/making.md");
const PREPARING: &str = include_str!("tests/preparing.md");
const WORDS: &str = include_str!("tests/words.md");

fn chapters() -> Vec<Chapter> {
    let of = |name, title: &str, kind, part, stand: Option<&str>, text| Chapter {
        title: title.into(),
        kind,
        part,
        standfirst: stand.map(String::from),
        ..fixture::chapter(name, text)
    };
    vec![
        of(
            "10-preparing.md",
            "Preparation",
            ChapterKind::Text,
            Part::MakeReady,
            None,
            PREPARING,
        ),
        of(
            "20-making.md",
            "Making the slipper",
            ChapterKind::Steps,
            Part::Make,
            Some("Make both slippers together, a step at a time."),
            MAKING,
        ),
        of(
            "30-words.md",
            "Words used",
            ChapterKind::Text,
            Part::LookUp,
            None,
            WORDS,
        ),
    ]
}

/// Sets the chapters on `paper`.
fn set(
    chapters: Vec<Chapter>,
    paper: &Paper,
    templates: &OwnTemplates,
) -> (Option<Typeset>, Diagnostics) {
    let mut design = fixture::design();
    design.chapters = chapters;
    let sizes = fixture::sizes();
    let pictures = BTreeMap::from([("pictures/strap.png".to_string(), fixture::png(1400, 930))]);
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &sizes, &pictures, &mut diagnostics);
    let (parts, files) = parts();
    let request = Request {
        design: &design,
        prose: &prose,
        paper,
        setting: Setting::Whole,
        sizes: &sizes,
        parts: &parts,
        files: &files,
        later: None,
        templates,
        moment: Moment::from_epoch(1_790_000_000),
        stamp: None,
    };
    let typeset = typeset(&request, &mut diagnostics);
    (typeset, diagnostics)
}

fn told(diagnostics: &Diagnostics) -> Vec<String> {
    let line = |d: &&Diagnostic| {
        let place = d.place.as_ref().map_or("-".to_string(), |place| {
            format!("{}:{}:{}", place.source.path, place.line, place.column)
        });
        format!(
            "{:?} {place} {}: {} {}",
            d.level, d.code, d.message, d.remedy
        )
    };
    diagnostics.sorted().iter().map(line).collect()
}

/// With PRESSFOOT_BOOKLET_DIR set, the booklets are written there to be looked at.
#[test]
fn a_whole_booklet_is_set_for_both_papers() {
    for paper in [A4.clone(), letter()] {
        let (typeset, diagnostics) = set(chapters(), &paper, &OwnTemplates::default());
        assert_eq!(
            diagnostics.count(Level::Error),
            0,
            "{:#?}",
            told(&diagnostics)
        );
        assert_eq!(
            diagnostics.count(Level::Warning),
            0,
            "{:#?}",
            told(&diagnostics)
        );
        let typeset = typeset.unwrap();
        assert!(typeset.pages >= 8, "{} pages", typeset.pages);
        assert_eq!(typeset.plate_pages, None);
        if let Some(folder) = std::env::var_os("PRESSFOOT_BOOKLET_DIR") {
            let file = std::path::Path::new(&folder).join(format!("slipper-{}.pdf", paper.key));
            std::fs::write(file, &typeset.pdf).unwrap();
        }
    }
}

#[test]
fn the_same_booklet_has_the_same_bytes() {
    let bytes = || {
        forget(0);
        set(chapters(), &A4, &OwnTemplates::default())
            .0
            .unwrap()
            .pdf
    };
    assert_eq!(bytes(), bytes());
}

#[test]
fn both_papers_have_the_same_pages() {
    let pages = |paper: &Paper| {
        set(chapters(), paper, &OwnTemplates::default())
            .0
            .unwrap()
            .pages
    };
    assert_eq!(pages(&A4), pages(&letter()));
}

#[test]
fn a_fault_in_the_designers_template_is_told_at_its_place() {
    let text = "#let sprig(k) = []\n#let emblem(k) = []\n#undefined-name\n";
    let source = SourceText {
        path: "template/ornament.typ".into(),
        text: text.into(),
    };
    let templates = OwnTemplates {
        folder: String::new(),
        files: BTreeMap::from([("ornament.typ".to_string(), Arc::new(source))]),
    };
    let (typeset, diagnostics) = set(chapters(), &A4, &templates);
    assert!(typeset.is_none());
    let told = told(&diagnostics);
    assert!(
        told[0].starts_with("Error template/ornament.typ:3:2 template-error: Unknown"),
        "{told:?}"
    );
}

#[test]
fn a_fault_in_a_template_of_ours_is_said_to_be_ours() {
    let mut parts = Map::new();
    parts.insert("sizes".into(), json!("no list"));
    let design = fixture::design();
    let sizes = fixture::sizes();
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &sizes, &BTreeMap::new(), &mut diagnostics);
    let (none, templates) = (BTreeMap::new(), OwnTemplates::default());
    let request = Request {
        design: &design,
        prose: &prose,
        paper: &A4,
        setting: Setting::Whole,
        sizes: &sizes,
        parts: &parts,
        files: &none,
        later: None,
        templates: &templates,
        moment: None,
        stamp: Some("not proofed"),
    };
    assert!(typeset(&request, &mut diagnostics).is_none());
    assert!(
        diagnostics.iter().any(|d| d.code == "internal-template"),
        "{:?}",
        told(&diagnostics)
    );
}

#[test]
fn a_broken_picture_is_told_in_the_markdown_and_its_words_are_set() {
    let mut png = fixture::png(1400, 600);
    png.truncate(200);
    let mut design = fixture::design();
    design.chapters = vec![fixture::chapter(
        "10-a.md",
        "One.\n\n![A strap](pictures/a.png)\n",
    )];
    let files = BTreeMap::from([("pictures/a.png".to_string(), png)]);
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &[], &files, &mut diagnostics);
    let told = told(&diagnostics);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0].contains("booklet/10-a.md:3:1 picture-format") && told[0].contains("breaks off"),
        "{told:?}"
    );
    assert!(prose.typst.contains("image: none, alt: \"A strap\""));
}

#[test]
fn a_step_taller_than_a_page_is_told() {
    let long = "Sew one stitch after the other.\n\n".repeat(90);
    // the first of its chapter, below the head of that, and another
    for (before, line) in [("", 1), ("## Cut\n\nCut it out.\n\n", 5)] {
        let mut chapter = fixture::chapter("20-a.md", &format!("{before}## Sew\n\n{long}"));
        chapter.kind = ChapterKind::Steps;
        let (_, diagnostics) = set(vec![chapter], &A4, &OwnTemplates::default());
        let told = told(&diagnostics);
        let expected = format!("Error booklet/20-a.md:{line}:1 step-too-tall");
        assert!(told[0].starts_with(&expected), "{told:?}");
    }
}

#[test]
fn the_head_of_a_chapter_stands_with_its_first_step_or_is_told() {
    let told_of = |lines: usize| {
        let text = format!("## Sew\n\n{}", "Sew one stitch.\n\n".repeat(lines));
        let mut chapter = fixture::chapter("20-a.md", &text);
        chapter.kind = ChapterKind::Steps;
        let (_, diagnostics) = set(vec![chapter], &A4, &OwnTemplates::default());
        told(&diagnostics)
    };
    // 39 lines are a page, but not one with a head
    let told = told_of(37);
    assert!(
        told.iter()
            .any(|t| t.starts_with("Warning booklet/20-a.md:1:1 head-alone")),
        "{told:?}"
    );
    assert!(!told_of(20).iter().any(|t| t.contains("head-alone")));
}

#[test]
fn a_bare_design_and_a_stamp_are_set_too() {
    let mut design = fixture::design();
    (design.series, design.skill, design.age, design.terms) = (None, None, None, None);
    (design.contact, design.by) = (None, None);
    design.cloth.clear();
    design.trims.clear();
    design.tools.clear();
    design.pieces.clear();
    design.sizes.truncate(1);
    design.sizes[0].foot = None;
    design.title = "Incomprehensibilities".into();
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &[], &BTreeMap::new(), &mut diagnostics);
    let (parts, none, templates) = (Map::new(), BTreeMap::new(), OwnTemplates::default());
    let request = Request {
        design: &design,
        prose: &prose,
        paper: &letter(),
        setting: Setting::Whole,
        sizes: &[],
        parts: &parts,
        files: &none,
        later: None,
        templates: &templates,
        moment: None,
        stamp: Some("not proofed"),
    };
    let typeset = typeset(&request, &mut diagnostics);
    assert_eq!(diagnostics.iter().count(), 0, "{:?}", told(&diagnostics));
    if let (Some(folder), Some(typeset)) = (std::env::var_os("PRESSFOOT_BOOKLET_DIR"), &typeset) {
        std::fs::write(std::path::Path::new(&folder).join("bare.pdf"), &typeset.pdf).unwrap();
    }
    assert!(typeset.is_some());
    let files = source_files(&request);
    assert!(files.contains_key("booklet.typ") && files.contains_key("fonts/NotoSans-Bold.ttf"));
}

#[test]
fn plates_come_last_and_are_counted() {
    let pieces = crate::plates::fixtures::shoe();
    let plates = crate::plates::plan(&pieces, &crate::plates::fixtures::job("a4")).unwrap();
    let mut design = fixture::design();
    design.chapters = chapters();
    let (sizes, templates) = (fixture::sizes(), OwnTemplates::default());
    let mut diagnostics = Diagnostics::default();
    let pictures = BTreeMap::from([("pictures/strap.png".to_string(), fixture::png(1400, 930))]);
    let prose = prose(&design, &sizes, &pictures, &mut diagnostics);
    let (mut parts, mut files) = parts();
    files.extend(plates.files());
    parts.insert("plates".into(), plates.data());
    let request = Request {
        design: &design,
        prose: &prose,
        paper: &A4,
        setting: Setting::Whole,
        sizes: &sizes,
        parts: &parts,
        files: &files,
        later: None,
        templates: &templates,
        moment: None,
        stamp: Some("not proofed"),
    };
    let typeset = typeset(&request, &mut diagnostics);
    assert_eq!(diagnostics.iter().count(), 0, "{:#?}", told(&diagnostics));
    let typeset = typeset.unwrap();
    let pages = typeset.plate_pages.unwrap();
    assert_eq!(*pages.end(), typeset.pages);
    assert_eq!(pages.count(), plates.page_count());
    if let Some(folder) = std::env::var_os("PRESSFOOT_BOOKLET_DIR") {
        std::fs::write(
            std::path::Path::new(&folder).join("plates.pdf"),
            &typeset.pdf,
        )
        .unwrap();
    }
}
