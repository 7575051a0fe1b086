//! Pages with words, set here, of which is known what they say and where they are wrong.

use super::messages;
use super::press::{A4, Book};
use crate::proof::letter::runs;
use crate::proof::reading;
use crate::proof::{
    IntendedBook, IntendedCover, IntendedFigure, IntendedPart, IntendedStep, IntendedText, Proof,
    prove_text,
};

fn wanted(book: Option<IntendedBook>) -> IntendedText {
    IntendedText {
        page: A4,
        smallest_points: None,
        black_only: false,
        bleed: None,
        thinnest_points: None,
        book,
    }
}

fn page(body: &str) -> Proof {
    let pdf = Book::new(A4).typst(body).pdf();
    prove_text(&pdf, "test.pdf", &wanted(None))
}

fn told(body: &str, code: &str) -> Vec<String> {
    messages(&page(body), code)
}

#[test]
fn letters_are_read_with_their_size_and_place() {
    let pdf = Book::new(A4)
        .typst("#set text(size: 12pt, top-edge: \"baseline\")")
        .typst("#at(30, 40)[Sew the sides]")
        .typst("#at(30, 60, rotate(90deg, origin: top + left, reflow: true)[turned])")
        .pdf();
    let reading = reading::read(&pdf).unwrap();
    let runs = runs(&reading.sheets[0].letters);
    let texts: Vec<&str> = runs.iter().map(|run| run.text.as_str()).collect();
    assert_eq!(texts, ["Sew the sides", "turned"]);
    // where they were put, to the rounding of a PDF's numbers
    assert!((runs[0].start.x - 30.0).abs() < 0.01 && (runs[0].start.y - 40.0).abs() < 0.01);
    assert!((runs[0].points - 12.0).abs() < 0.01);
    assert!(runs[0].upright && !runs[1].upright);
}

#[test]
fn words_over_words_are_told_and_close_lines_are_not() {
    let two = |down: f64| {
        format!(
            "#at(30, 30)[Cut two soles] #at(30, {})[Sew the sides]",
            30.0 + down
        )
    };
    let close = told(&two(3.2), "text-over-text");
    assert!(close.is_empty(), "{close:?}");
    let over = told(&two(1.0), "text-over-text");
    assert!(
        over[0].starts_with("“Sew the sides” lies over “Cut two soles”"),
        "{over:?}"
    );
    // what a patch of paper hides is painted over, and not read together with what is on it
    let patched = "#at(30, 30)[Cut two] #at(28, 28, rect(width: 40mm, height: 8mm, fill: white)) #at(30, 30)[Sew]";
    assert!(told(patched, "text-over-text").is_empty());
    assert_eq!(told(patched, "text-cut").len(), 1);
}

#[test]
fn a_line_through_words_is_told_unless_they_are_struck_or_stand_on_bared_paper() {
    let line = "#at(45, 20, line(start: (0mm, 0mm), end: (0mm, 30mm), stroke: 0.5mm))";
    let words = "#at(30, 30)[#text(size: 20pt)[mmmmmmmmm]]";
    let through = told(&format!("{line} {words}"), "text-over-line");
    assert!(
        through[0].starts_with("a line runs through “mmmmmmmmm”"),
        "{through:?}"
    );
    let bared = format!("{line} #at(29, 29, rect(width: 60mm, height: 9mm, fill: white)) {words}");
    assert!(told(&bared, "text-over-line").is_empty());
    assert!(told("#at(30, 30)[#strike[Cut two soles]]", "text-over-line").is_empty());
    let beside = "#at(30, 30)[Cut] #at(30, 36, line(length: 60mm))";
    assert!(told(beside, "text-over-line").is_empty());
}

#[test]
fn cut_words_and_hairlines_are_told() {
    let boxed = |height: f64| {
        format!(
            "#at(30, 30, block(width: 60mm, height: {height}mm, clip: true)[Sew\\ the\\ sides])"
        )
    };
    assert!(told(&boxed(30.0), "text-cut").is_empty());
    let cut = told(&boxed(8.0), "text-cut");
    assert!(
        cut[0].starts_with("“the” is cut off") || cut[0].starts_with("“sides” is cut off"),
        "{cut:?}"
    );
    let line = |width: f64| {
        format!("#at(30, 30)[Word] #at(30, 60, line(length: 60mm, stroke: {width}mm))")
    };
    assert!(told(&line(0.05), "line-too-thin").is_empty());
    assert_eq!(told(&line(0.02), "line-too-thin").len(), 1);
    // a rectangle as thin as a line is one
    let rect = "#at(30, 30)[Word] #at(30, 60, rect(width: 60mm, height: 0.02mm, fill: black))";
    assert_eq!(told(rect, "line-too-thin").len(), 1);
}

/// The chapters of the booklet.
fn parts() -> Vec<IntendedPart> {
    let part = |title: &str, words: &[&str]| IntendedPart {
        title: title.to_string(),
        demanded: true,
        words: words.iter().map(|words| words.to_string()).collect(),
        ..IntendedPart::default()
    };
    vec![
        part("Contents", &[]),
        part("Making it", &[]),
        part("Words used", &["grain The way of the threads."]),
    ]
}

/// Cover, contents, a page with two steps and a figure, a last page; `changed` replaces words of it.
fn booklet(changes: &[(&str, &str)]) -> Proof {
    let mut text = String::from(
        r#"#at(30, 30, text(size: 30pt)[Felt shoe]) #at(30, 60)[For dolls] #pagebreak()
#at(30, 30, heading(level: 1, text(size: 24pt)[Contents]))
#at(30, 60)[3]
#at(40, 60, link((page: 3, x: 0pt, y: 0pt))[Making it])
#at(30, 280)[2] #pagebreak()
#at(30, 20, heading(level: 1, text(size: 24pt)[Making it]))
#at(30, 40, text(size: 40pt)[1]) #at(60, 42, strong[Cut])
#at(60, 48)[Cut two soles from felt.]
#at(30, 90, text(size: 40pt)[2]) #at(60, 92, strong[Sew])
#at(60, 98)[Sew the sides to the sole.]
#at(100, 98, figure(image(bytes("<svg xmlns='http://www.w3.org/2000/svg' width='40' height='20'><rect width='40' height='20'/></svg>"), alt: "Two sides sewn", width: 40mm, height: 20mm)))
#at(100, 130)[The sides, sewn to the sole.]
#at(30, 280)[3] #pagebreak()
#at(30, 30, heading(level: 1, text(size: 24pt)[Words used]))
#at(30, 60)[grain] #at(60, 60)[The way of the threads.]
"#,
    );
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    let step = |title: &str, words: &str| IntendedStep {
        title: Some(title.to_string()),
        phrases: vec![words.to_string()],
    };
    let book = IntendedBook {
        contents: "Contents".to_string(),
        chapters: vec!["Making it".to_string()],
        cover: Some(IntendedCover {
            title: "Felt shoe".to_string(),
            words: vec!["For dolls".to_string()],
            picture: None,
        }),
        parts: parts(),
        steps: vec![
            step("Cut", "Cut two soles from felt."),
            step("Sew", "Sew the sides to the sole."),
        ],
        to_print: IntendedPart::default(),
        figures: vec![IntendedFigure {
            alt: "Two sides sewn".to_string(),
            phrases: vec!["The sides, sewn to the sole.".to_string()],
            shape: None,
        }],
    };
    let pdf = Book::new(A4).typst(&text).pdf();
    prove_text(&pdf, "test.pdf", &wanted(Some(book)))
}

/// Codes of what is told of the booklet, changed.
fn codes(from: &str, to: &str) -> Vec<&'static str> {
    let known = [
        "contents-page",
        "page-number",
        "step-numbers",
        "figure-missing",
        "text-cut",
        "chapter-missing",
        "words-missing",
    ];
    let proof = booklet(&[(from, to)]);
    let failed = proof
        .checks
        .iter()
        .filter(|c| !c.passed && known.contains(&c.code));
    failed.map(|check| check.code).collect()
}

#[test]
fn a_good_booklet_is_found_good() {
    let none: Vec<&str> = Vec::new();
    assert_eq!(codes("Felt", "Felt"), none);
}

#[test]
fn each_mistake_of_a_booklet_is_told_once() {
    for (from, to, code) in [
        ("#at(30, 60)[3]", "#at(30, 60)[4]", "contents-page"),
        ("(page: 3,", "(page: 4,", "contents-page"),
        (
            "[Making it])\n#at(30, 280)",
            "[Making them])\n#at(30, 280)",
            "contents-page",
        ),
        ("#at(30, 280)[2]", "#at(30, 280)[12]", "page-number"),
        ("#at(30, 280)[3]", "", "page-number"),
        ("(size: 40pt)[2]", "(size: 40pt)[1]", "step-numbers"),
        ("strong[Sew]", "strong[Turn]", "step-numbers"),
        ("Sew the sides to", "Sew them to", "text-cut"),
        ("Two sides sewn", "Another figure", "figure-missing"),
        (
            "width: 40mm, height: 20mm",
            "width: 2mm, height: 2mm",
            "figure-missing",
        ),
        ("The sides, sewn to", "Sewn to", "figure-missing"),
        ("24pt)[Words used]", "24pt)[Words]", "chapter-missing"),
        (
            "The way of the threads.",
            "The way of threads.",
            "words-missing",
        ),
        ("For dolls", "For bears", "words-missing"),
        ("Felt shoe]", "Felt shoe, new]", "words-missing"),
        (
            "#at(60, 60)[The",
            "#at(30, 90, text(size: 24pt)[Words used]) #at(60, 60)[The",
            "chapter-missing",
        ),
    ] {
        let told = codes(from, to);
        assert!(
            !told.is_empty() && told.iter().all(|c| *c == code),
            "{from} → {to}: {told:?}"
        );
    }
}
