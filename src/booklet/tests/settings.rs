use super::*;
use crate::booklet::setting::Setting;
use typst::layout::{Frame, FrameItem};
use typst::visualize::{Color, Paint};

/// A line of type as it stands on the page: its size in points, its words, and whether it is black.
struct Line {
    size: f64,
    words: String,
    black: bool,
}

fn lines(frame: &Frame, into: &mut Vec<Line>) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => lines(&group.frame, into),
            FrameItem::Text(text) => into.push(Line {
                size: text.size.to_pt(),
                words: text.text.to_string(),
                black: match &text.fill {
                    Paint::Solid(colour) => colour.to_hex() == Color::BLACK.to_hex(),
                    _ => false,
                },
            }),
            _ => {}
        }
    }
}

/// The lines of each page of a design with plates, two sizes, and a plan of its pages.
fn pages(setting: Setting, paper: &Paper) -> Vec<Vec<Line>> {
    pages_with(setting, paper, &[])
}

/// The same of a design that is sold on large papers besides, each with so many sheets.
fn pages_with(setting: Setting, paper: &Paper, large: &[(&str, usize)]) -> Vec<Vec<Line>> {
    let mut design = fixture::design();
    design.chapters = chapters();
    let papers = large.iter().map(|(key, _)| Paper::named(key).unwrap());
    let papers = papers.map(|paper| (paper, fixture::place()));
    design.papers.extend(papers);
    let sizes = fixture::sizes();
    let pictures = BTreeMap::from([("pictures/strap.png".to_string(), fixture::png(1400, 930))]);
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &sizes, &pictures, &mut diagnostics);
    let (mut parts, mut files) = parts();
    let plates = crate::plates::plan(
        &crate::plates::fixtures::shoe(),
        &crate::plates::fixtures::job("a4"),
    )
    .unwrap();
    files.extend(plates.files());
    parts.insert("plates".into(), plates.data());
    parts.insert("first_plate_page".into(), json!(17));
    parts.insert(
        "plan".into(),
        json!([
            {"size": "small", "title": "Small", "sheets": [0], "plates": [1],
             "groups": [{"cloths": ["wool felt"], "sheets": [0]}], "shared": ["Strap"]},
            {"size": "large", "title": "Large", "sheets": [0, 1], "plates": [1, 2],
             "groups": [{"cloths": ["wool felt"], "sheets": [0, 1]},
                        {"cloths": ["lawn", "linen"], "sheets": [1]}]},
        ]),
    );
    parts.insert("layers".into(), json!(["Size Small", "Size Large"]));
    let sheets = large.iter().map(|(key, sheets)| {
        let file = Setting::Whole.file("meadow-slipper", key);
        (file, json!(sheets))
    });
    parts.insert("large_sheets".into(), Value::Object(sheets.collect()));
    let request = Request {
        design: &design,
        prose: &prose,
        paper,
        setting,
        sizes: &sizes,
        parts: &parts,
        files: &files,
        later: None,
        templates: &OwnTemplates::default(),
        moment: Moment::from_epoch(1_790_000_000),
        stamp: None,
    };
    let (document, pdf) = compiled(&request, template::MAIN, "", &mut diagnostics).unwrap();
    // PDF/UA-1 is asked of the writer: what breaks it is an error.
    assert_eq!(diagnostics.iter().count(), 0, "{:#?}", told(&diagnostics));
    if let Some(folder) = std::env::var_os("PRESSFOOT_BOOKLET_DIR") {
        let file = std::path::Path::new(&folder).join(setting.file("slipper", &paper.key));
        std::fs::write(file, pdf.unwrap()).unwrap();
    }
    let of = |page: &typst_layout::Page| {
        let mut found = Vec::new();
        lines(&page.frame, &mut found);
        found
    };
    document.pages().iter().map(of).collect()
}

fn words(pages: &[Vec<Line>]) -> Vec<String> {
    let page = |page: &Vec<Line>| {
        let words: Vec<&str> = page.iter().map(|line| line.words.as_str()).collect();
        words.join(" ")
    };
    pages.iter().map(page).collect()
}

const FORMS: [Setting; 4] = [
    Setting::Stapled,
    Setting::PrintShop,
    Setting::LargePrint,
    Setting::InkSaving,
];

#[test]
fn every_form_has_the_same_words_on_the_same_pages_of_both_papers() {
    for setting in FORMS {
        // File names and the paper are what must differ.
        let plain = |words: String| {
            let words = words
                .replace("US Letter", "A4")
                .replace("half-letter", "a5");
            words.replace("-letter.pdf", "-a4.pdf")
        };
        let on = |paper: &Paper| -> Vec<String> {
            let pages = pages(setting, paper);
            words(&pages).into_iter().map(plain).collect()
        };
        let (a4, letter) = (on(&A4), on(&letter()));
        assert_eq!(a4.len(), letter.len(), "{setting:?}");
        for (index, (a4, letter)) in a4.iter().zip(&letter).enumerate() {
            assert_eq!(a4, letter, "{setting:?}, page {}", index + 1);
        }
    }
}

#[test]
fn bound_forms_have_a_multiple_of_four_pages_and_end_with_the_back_cover() {
    for setting in [Setting::Stapled, Setting::PrintShop] {
        let pages = words(&pages(setting, &A4));
        assert_eq!(pages.len() % 4, 0, "{setting:?}");
        let file = setting.file("meadow-slipper", "a4");
        let last = pages.last().unwrap();
        assert!(last.contains(&file), "{setting:?}: {last}");
        let notes = pages
            .iter()
            .filter(|page| page.starts_with("Notes"))
            .count();
        assert!(notes < 4, "{setting:?}");
    }
}

#[test]
fn large_print_has_no_line_below_18_points() {
    // 18 points is what publishers for readers with low vision call large print (common practice).
    for page in pages(Setting::LargePrint, &A4) {
        for line in page {
            assert!(line.size > 17.99, "{}: {}", line.size, line.words);
        }
    }
}

#[test]
fn where_ink_is_saved_all_type_is_black_and_pages_are_fewer() {
    let saving = pages(Setting::InkSaving, &A4);
    for line in saving.iter().flatten() {
        assert!(line.black, "{}", line.words);
    }
    let whole = words(&pages(Setting::Whole, &A4));
    let plates = whole
        .iter()
        .filter(|page| page.contains("Measure the squares before"))
        .count();
    assert!(saving.len() < whole.len() - plates);
}

#[test]
fn forms_without_plates_name_the_file_that_has_them() {
    for setting in FORMS {
        let words = words(&pages(setting, &A4)).join(" ");
        assert!(words.contains("meadow-slipper-a4.pdf"), "{setting:?}");
        assert!(!words.contains("This file is made for"), "{setting:?}");
    }
}

#[test]
fn one_large_sheet_is_called_one_and_several_are_counted() {
    let said = |large: &[(&str, usize)]| words(&pages_with(Setting::Whole, &A4, large)).join(" ");
    let one = said(&[("a0", 1)]);
    assert!(
        one.contains("All pieces also come on one large sheet."),
        "{one}"
    );
    assert!(!one.contains("1\u{a0}sheet"), "{one}");
    let two = said(&[("a2", 2), ("a0", 1)]);
    for words in [
        "All pieces also come on large sheets.",
        "A2, 2\u{a0}sheets,",
        "A0, 1\u{a0}sheet,",
        "and measure both squares of each",
    ] {
        assert!(two.contains(words), "{words}\n--- in\n{two}");
    }
}

#[test]
fn pages_to_print_follow_the_text() {
    let whole = words(&pages(Setting::Whole, &A4));
    let first = 1 + whole
        .iter()
        .position(|page| page.starts_with("Plate"))
        .unwrap();
    let said = whole.join(" ");
    let expected = format!("Small {first} ");
    assert!(said.contains(&expected), "{expected}");
    let expected = format!("Large {first} and {} ", first + 1);
    assert!(said.contains(&expected), "{expected}");
}

#[test]
fn a_chapter_runs_on_after_a_few_last_lines_and_else_begins_a_page() {
    let pages_of = |paragraphs: usize| {
        let long = "A line or two that say nothing of note about felt and thread.\n\n";
        let chapter = |name, title: &str, text: &str| Chapter {
            title: title.into(),
            part: Part::LookUp,
            ..fixture::chapter(name, text)
        };
        let mut design = fixture::design();
        design.chapters = vec![
            chapter("10-a.md", "First", &long.repeat(paragraphs)),
            chapter("20-b.md", "Second", "It is short.\n"),
        ];
        let mut diagnostics = Diagnostics::default();
        let prose = prose(&design, &[], &BTreeMap::new(), &mut diagnostics);
        let request = Request {
            design: &design,
            prose: &prose,
            paper: &A4,
            setting: Setting::Whole,
            sizes: &[],
            parts: &Map::new(),
            files: &BTreeMap::new(),
            later: None,
            templates: &OwnTemplates::default(),
            moment: None,
            stamp: None,
        };
        let (document, _) = compiled(&request, template::MAIN, "", &mut diagnostics).unwrap();
        assert_eq!(diagnostics.iter().count(), 0, "{:#?}", told(&diagnostics));
        let page_with = |title: &str| {
            let page = document.pages().iter().skip(2).position(|page| {
                let mut found = Vec::new();
                lines(&page.frame, &mut found);
                found
                    .iter()
                    .any(|line| line.words == title && line.size > 30.0)
            });
            page.unwrap()
        };
        page_with("Second") - page_with("First")
    };
    // A page of A4 holds 34 such lines below the head of a chapter.
    assert_eq!(pages_of(24), 1);
    assert_eq!(pages_of(38), 1);
    assert_eq!(pages_of(68), 2);
}

#[test]
fn other_formats_and_large_print_are_set_too() {
    let a5 = Paper {
        key: "a5".into(),
        name: "A5".into(),
        width: 148.0,
        height: 210.0,
        kind: PaperKind::Page,
    };
    let a3 = Paper::named("a3").unwrap();
    for paper in [a5, a3] {
        let (typeset, diagnostics) = set(chapters(), &paper, &OwnTemplates::default());
        assert!(typeset.is_some(), "{:#?}", told(&diagnostics));
        assert_eq!(
            diagnostics.count(Level::Error),
            0,
            "{:#?}",
            told(&diagnostics)
        );
        if let Some(folder) = std::env::var_os("PRESSFOOT_BOOKLET_DIR") {
            let file = std::path::Path::new(&folder).join(format!("slipper-{}.pdf", paper.key));
            std::fs::write(file, typeset.unwrap().pdf).unwrap();
        }
    }
}
