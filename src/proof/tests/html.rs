//! `proof.html`, read by an XML parser that knows nothing of how it is written.

use super::press::{A4, Book, Style, cut, intended, panel, sole, toe};
use super::tiled::{book, windows};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::proof::{About, Report, Shown, ShownPiece, prove};
use kurbo::Point;
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeSet;
use std::sync::Arc;

fn about() -> About {
    About {
        what: "booklet".to_string(),
        paper: "A4".to_string(),
        language: "en".to_string(),
    }
}

/// A report on a page of text and two plates: a sole too near to the edge, and a toe that is missing.
fn refused() -> Report {
    let pdf = Book::new(A4)
        .typst("#at(20, 20, block(width: 120mm, lorem(80)))")
        .next_page()
        .furniture()
        .line(&sole(), Style::Cut, 3.5, 40.0)
        .next_page()
        .furniture()
        .line(&panel(), Style::Cut, 20.0, 20.0)
        .pdf();
    let wanted = intended(vec![cut("sole", &sole()), cut("toe", &toe())]);
    let mut report = Report::new("test-shoe", "Test <shoe> & co", "1.0.0");
    report.add_proof(prove(&pdf, "test-shoe-a4.pdf", &wanted), about());
    report.add_diagnostics(&said());
    report
}

/// An error, a warning and a note at one place of the design.
fn said() -> Diagnostics {
    let source = Arc::new(SourceText {
        path: "design.yaml".to_string(),
        text: "pieces:\n  toe: {width: 3 < 4}\n".to_string(),
    });
    let (line, column) = (2, 3);
    let place = Place {
        source,
        line,
        column,
    };
    let mut said = Diagnostics::default();
    let error = Diagnostic::error("seam-length", Some(&place), "0.4 mm too long");
    said.push(error.remedy("make it shorter"));
    said.push(Diagnostic::warning(
        "tool-unmentioned",
        Some(&place),
        "a <tight> curve",
    ));
    said.push(Diagnostic::note(
        "curve-clipped",
        Some(&place),
        "clip this curve",
    ));
    said
}

fn parsed(html: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(html, options).unwrap()
}

fn named<'a>(document: &'a Document<'_>, name: &'a str) -> Vec<Node<'a, 'a>> {
    let all = document.descendants();
    all.filter(|node| node.has_tag_name(name)).collect()
}

fn text(node: Node<'_, '_>) -> String {
    let texts = node.descendants().filter(Node::is_text);
    let texts = texts.filter_map(|n| n.text());
    texts.collect::<String>()
}

#[test]
fn the_page_is_well_formed_and_has_its_landmarks_and_heads_in_order() {
    for report in [refused(), Report::new("none", "Nothing", "1.0.0")] {
        let html = report.to_html();
        let document = parsed(&html);
        for landmark in ["header", "nav", "main", "footer", "h1", "title"] {
            assert_eq!(named(&document, landmark).len(), 1, "{landmark}");
        }
        assert_eq!(document.root_element().attribute("lang"), Some("en"));
        let levels: Vec<u32> = document
            .descendants()
            .filter_map(|node| node.tag_name().name().strip_prefix('h')?.parse().ok())
            .collect();
        assert_eq!(levels[0], 1);
        assert!(
            levels.windows(2).all(|two| two[1] <= two[0] + 1),
            "{levels:?}"
        );
    }
}

#[test]
fn links_stay_on_the_page_and_lead_somewhere() {
    let html = refused().to_html();
    assert!(!html.contains("http:") && !html.contains("https:"));
    assert!(!html.contains("<script") && !html.contains("@import") && !html.contains("url("));
    let document = parsed(&html);
    let ids: Vec<&str> = document
        .descendants()
        .filter_map(|n| n.attribute("id"))
        .collect();
    let unique: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(unique.len(), ids.len(), "an id stands twice");
    let links: Vec<&str> = document
        .descendants()
        .filter_map(|n| n.attribute("href"))
        .collect();
    assert!(links.len() > 8, "{links:?}");
    for link in links {
        let id = link.strip_prefix('#').unwrap();
        assert!(unique.contains(id), "{link}");
    }
}

#[test]
fn every_message_is_told_with_its_code_place_remedy_and_reason_to_matter() {
    let report = refused();
    let html = report.to_html();
    let document = parsed(&html);
    let all = text(document.root_element());
    for check in report.checks.iter().filter(|c| !c.passed) {
        let message = &check.message[1..check.message.len() - 1];
        assert!(all.contains(message), "{message}");
        assert!(all.contains(check.code), "{}", check.code);
        assert!(
            all.contains(check.remedy.trim_end_matches('.')),
            "{}",
            check.remedy
        );
        let why = crate::diagnostic::entry(check.code).unwrap().why;
        assert!(all.contains(why), "{why}");
    }
    assert!(all.contains("design.yaml:2:3"));
    assert!(all.contains("toe: {width: 3 < 4}"));
    assert!(all.contains("lip this curve"));
    let failed = |level| {
        report
            .checks
            .iter()
            .filter(|c| !c.passed && c.level == level)
            .count()
    };
    let errors = failed(crate::diagnostic::Level::Error);
    assert!(errors >= 3, "{errors}");
    let counts = format!("{errors} errors, 1 warning, 1 note");
    assert!(all.contains(&counts), "{counts}");
    assert!(html.find("Refused").unwrap() < html.find("design.yaml:2:3").unwrap());
}

#[test]
fn a_warning_that_was_let_stand_is_told_with_its_reason() {
    let mut report = refused();
    report.accept(&mut |check| (check.code == "tool-unmentioned").then(|| "it is known".into()));
    let html = report.to_html();
    let document = parsed(&html);
    let all = text(document.root_element());
    assert!(all.contains("What was let stand"));
    assert!(all.contains("Accepted because: It is known."));
    assert!(all.contains("0 warnings, 1 note"), "{all}");
}

#[test]
fn a_page_full_of_lines_is_drawn_with_few_bytes() {
    let hatching = "#for i in range(0, 900) { at(20 + calc.rem(i, 150), 20 + calc.quo(i, 150) * 20, \
                    line(angle: 60deg, length: 18mm)) }";
    let pdf = Book::new(A4).typst(hatching).pdf();
    let proof = prove(&pdf, "test.pdf", &intended(Vec::new()));
    let page = &proof.sketches.pages[0];
    assert!(
        page.lines.len() > 1000 && page.lines.len() < 4000,
        "{}",
        page.lines.len()
    );
}

#[test]
fn every_page_is_drawn_with_words_that_tell_what_it_is() {
    let html = refused().to_html();
    let document = parsed(&html);
    for page in 1..=3 {
        let id = format!("f1p{page}-page");
        let mut all = document.descendants();
        let figure = all.find(|n| n.attribute("id") == Some(&id)).unwrap();
        let drawing = figure.children().find(|n| n.has_tag_name("svg")).unwrap();
        assert_eq!(drawing.attribute("viewBox"), Some("0 0 210 297"));
        assert!(
            drawing
                .attribute("aria-label")
                .unwrap()
                .contains(&page.to_string())
        );
        assert!(
            figure.descendants().any(|n| n.has_tag_name("path")),
            "{id} is empty"
        );
    }
    // an image in the sense of the page has words, or is hidden from those who listen
    for drawing in named(&document, "svg") {
        let told = drawing
            .attribute("aria-label")
            .is_some_and(|words| !words.is_empty());
        let hidden = drawing.attribute("aria-hidden") == Some("true");
        assert!(told && drawing.attribute("role") == Some("img") || hidden);
    }
    let plate = document
        .descendants()
        .find(|n| n.attribute("id") == Some("f1p2"))
        .unwrap();
    let classes: Vec<&str> = plate
        .descendants()
        .filter_map(|n| n.attribute("class"))
        .collect();
    assert!(
        classes.contains(&"in") && classes.contains(&"fo"),
        "{classes:?}"
    );
}

#[test]
fn the_mark_of_a_place_lies_round_it_and_within_the_picture() {
    let report = refused();
    let check = report
        .checks
        .iter()
        .find(|c| c.code == "ink-margin" && !c.passed)
        .unwrap();
    let Some(Shown::Place(place)) = &check.shown else {
        panic!("the place is not known");
    };
    assert!((place.x0 - 3.25).abs() < 0.5, "{place:?}");
    let html = report.to_html();
    let document = parsed(&html);
    let marks = named(&document, "rect");
    let mark = marks
        .iter()
        .find(|n| n.attribute("class") == Some("mark"))
        .unwrap();
    let number = |key: &str| mark.attribute(key).unwrap().parse::<f64>().unwrap();
    let (x, y) = (number("x"), number("y"));
    assert!(x <= place.x0 && x + number("width") >= place.x1);
    assert!(y <= place.y0 && y + number("height") >= place.y1);
    let view = mark.parent().unwrap().attribute("viewBox").unwrap();
    let view: Vec<f64> = view.split(' ').map(|n| n.parse().unwrap()).collect();
    assert!(
        view[1] <= y && view[1] + view[3] >= y + number("height"),
        "{view:?}"
    );
}

#[test]
fn a_missing_piece_is_drawn_and_a_marked_edge_too() {
    let mut report = refused();
    report.picture(&mut |check| {
        (check.code == "seam-length").then(|| {
            Shown::Pieces(vec![ShownPiece {
                title: "Toe & heel".to_string(),
                lines: vec![toe()],
                edges: vec![("sole edge".to_string(), toe())],
                points: vec![Point::new(1.0, 2.0)],
            }])
        })
    });
    let html = report.to_html();
    let document = parsed(&html);
    let captions: Vec<String> = named(&document, "figcaption")
        .into_iter()
        .map(text)
        .collect();
    let has = |words: &str| captions.iter().any(|caption| caption == words);
    assert!(has("toe, small"), "{captions:?}");
    assert!(
        has("Toe & heel: sole edge drawn thick, the place in a ring"),
        "{captions:?}"
    );
    let circle = named(&document, "circle")[0];
    assert_eq!(
        (circle.attribute("cx"), circle.attribute("cy")),
        (Some("1"), Some("2"))
    );
}

#[test]
fn sheets_are_shown_joined_with_their_seams_and_the_misfit() {
    let wanted = intended(vec![cut("panel", &panel())]);
    let proof = prove(&book(&windows(8.0, 6.5)), "test.pdf", &wanted);
    assert!(proof.passed());
    let joined = &proof.sketches.joined[0];
    assert_eq!(joined.pages, [1, 2, 3, 4]);
    // the windows overlap by 8 mm across and 6.5 mm down, whatever their pages
    assert!((joined.frames[1][0].x - joined.frames[0][1].x + 8.0).abs() < 0.01);
    assert!((joined.frames[2][0].y - joined.frames[0][3].y + 6.5).abs() < 0.01);
    let mut report = Report::new("test", "Test", "1.0.0");
    report.add_proof(proof, about());
    let html = report.to_html();
    let document = parsed(&html);
    assert_eq!(named(&document, "polygon").len(), 4);
    let captions: Vec<String> = named(&document, "figcaption")
        .into_iter()
        .map(text)
        .collect();
    let told = "test.pdf, pages 1, 2, 3 and 4. Joined, the outlines are off by under 0.0001 mm at most; \
                the sheets overlap by 6.5 mm at least.";
    assert!(captions.iter().any(|c| c == told), "{captions:?}");
}

#[test]
fn heads_of_tables_say_what_they_are_for() {
    let html = refused().to_html();
    let document = parsed(&html);
    let heads = named(&document, "th");
    assert!(heads.len() > 10);
    for head in heads {
        let scope = head.attribute("scope");
        assert!(
            scope == Some("col") || scope == Some("row"),
            "{}",
            text(head)
        );
    }
    for table in named(&document, "table") {
        assert!(table.children().any(|n| n.has_tag_name("caption")));
    }
}
