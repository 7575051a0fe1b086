use super::*;
use crate::booklet::prose::{Prose, prose};
use crate::booklet::world::BookletWorld;
use crate::booklet::{fixture, template};
use crate::design::ChapterKind;
use crate::diagnostic::Level;
use typst::layout::{Frame, FrameItem};

/// A small main file that gives the text a page of its own.
const MAIN: &str = "#import \"/press.typ\": setup\n#import \"/text.typ\": chapters\n#show: setup\n\
                    #title[Test]\n= Test\n#for chapter in chapters { chapter() }\n";

fn read(text: &str, kind: ChapterKind) -> (Prose, Diagnostics) {
    let mut design = fixture::design();
    let mut chapter = fixture::chapter("10-a.md", text);
    chapter.kind = kind;
    design.chapters = vec![chapter];
    let files = BTreeMap::from([("pictures/a.png".to_string(), fixture::png(1400, 800))]);
    let mut diagnostics = Diagnostics::default();
    let prose = prose(&design, &fixture::sizes(), &files, &mut diagnostics);
    (prose, diagnostics)
}

/// The text of the chapter as it is set, words parted by single spaces.
fn set(prose: &Prose) -> Result<String, String> {
    let mut files: BTreeMap<String, Vec<u8>> = template::FILES
        .iter()
        .map(|(name, text)| ((*name).to_string(), text.as_bytes().to_vec()))
        .collect();
    files.extend(prose.pictures.clone());
    for figure in &prose.figures {
        files.insert(
            figure.path(),
            b"<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'/>".to_vec(),
        );
    }
    files.insert("text.typ".into(), prose.typst.as_bytes().to_vec());
    files.insert("data.json".into(), DATA.as_bytes().to_vec());
    files.insert("test.typ".into(), MAIN.as_bytes().to_vec());
    let world = BookletWorld::new(&files, "test.typ", None).unwrap();
    let (document, said) = world.compile();
    let document = document.ok_or_else(|| format!("{:?}", said[0].message))?;
    world
        .export(&document, "test")
        .map_err(|said| format!("export: {:?}", said[0].message))?;
    let mut text = String::new();
    for page in document.pages() {
        gather(&page.frame, &mut text);
    }
    Ok(text)
}

const DATA: &str = "{\"design\": {\"title\": \"T\", \"edition\": \"1\", \"edition_words\": \"edition 1\", \"by\": null, \"date\": null, \
                    \"language\": \"en\"}, \"paper\": {\"key\": \"a4\", \"width\": 210, \"height\": 297}, \
                    \"stamp\": null, \"words\": {}}";

fn gather(frame: &Frame, text: &mut String) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => gather(&group.frame, text),
            FrameItem::Text(item) => text.push_str(&item.text),
            _ => {}
        }
    }
    text.push(' ');
}

/// Letters and digits only: line ends, hyphens and quotes may look different in print.
fn bare(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

fn codes(diagnostics: &Diagnostics) -> Vec<(&'static str, usize, usize)> {
    let of = |d: &&Diagnostic| {
        let place = d.place.as_ref().unwrap();
        (d.code, place.line, place.column)
    };
    diagnostics.sorted().iter().map(of).collect()
}

/// The 652 examples of the CommonMark Spec 0.31.2: none crashes, none is executed, none is lost.
#[test]
fn every_example_of_the_commonmark_specification_is_set() {
    let examples: Vec<serde_json::Value> =
        serde_json::from_str(include_str!("../../../tests/commonmark/commonmark.json")).unwrap();
    assert_eq!(examples.len(), 652);
    let mut failures = Vec::new();
    for example in &examples {
        let (number, markdown) = (&example["example"], example["markdown"].as_str().unwrap());
        let (prose, diagnostics) = read(markdown, ChapterKind::Text);
        match set(&prose) {
            Err(message) => failures.push(format!("{number}: {message}\n{markdown}")),
            Ok(text) => {
                let text = bare(&text);
                if let Some(word) = words_of(markdown).into_iter().find(|w| !text.contains(w)) {
                    failures.push(format!("{number}: {word} is lost\n{markdown}\n{text}"));
                }
            }
        }
        let lines = markdown.lines().count().max(1);
        for (code, line, _) in codes(&diagnostics) {
            if line > lines {
                failures.push(format!("{number}: {code} at line {line} of {lines}"));
            }
        }
    }
    assert!(
        failures.is_empty(),
        "{}\n{}",
        failures.len(),
        failures.join("\n")
    );
}

/// The words a reader should see, from comrak's own tree.
fn words_of(markdown: &str) -> Vec<String> {
    let arena = Arena::new();
    let root = comrak::parse_document(&arena, markdown, &options());
    let mut words = Vec::new();
    for node in root.descendants() {
        let text = match &node.data().value {
            NodeValue::Text(text) => text.to_string(),
            NodeValue::Code(code) => code.literal.clone(),
            NodeValue::CodeBlock(code) => code.literal.clone(),
            NodeValue::HtmlBlock(html) => html.literal.clone(),
            NodeValue::HtmlInline(html) => html.clone(),
            _ => continue,
        };
        let text = text.replace(|c| !fonts::covers(c), "");
        words.extend(
            text.split_whitespace()
                .map(bare)
                .filter(|word| !word.is_empty()),
        );
    }
    words
}

#[test]
fn nothing_of_the_text_is_code() {
    let text = "#panic() and $x$ and `#panic()` @a <b> \\* _c_ [#panic()](/a) // d /* e */ = f\n\n\
                #let a = 1\n\n    #panic(\"b\")\n\n```typst\n#panic()\n```\n\n| #a | $b$ |\n|-|-|\n| \"c\\\\ | #d |\n";
    let (prose, _) = read(text, ChapterKind::Text);
    let set = set(&prose).unwrap();
    for word in [
        "#panic() and $x$",
        "@a <b>",
        "// d /* e */ = f",
        "#let a = 1",
        "#panic(\"b\")",
    ] {
        assert!(bare(&set).contains(&bare(word)), "{word} in {set}");
    }
    assert!(set.contains("#panic()") && set.contains("$x$"), "{set}");
}

#[test]
fn deep_nesting_ends_in_a_message() {
    for text in [
        ">".repeat(10_000) + " a",
        "> ".repeat(10_000) + "a",
        (0..2_000)
            .map(|n| format!("{}- a\n", "  ".repeat(n.min(400))))
            .collect(),
        "*".repeat(10_000) + "a" + &"*".repeat(10_000),
        "[".repeat(10_000),
        "*a **b ".repeat(2_000) + &"c** d* ".repeat(2_000),
        "> [!CAUTION]\n".to_string() + &"> ".repeat(300) + "a",
        "- ".repeat(500) + "a",
        "1. ".repeat(500) + "a",
    ] {
        let (prose, _) = read(&text, ChapterKind::Text);
        set(&prose).unwrap();
    }
    let (_, diagnostics) = read(&(">".repeat(10_000) + " a"), ChapterKind::Text);
    assert_eq!(codes(&diagnostics)[0].0, "text-too-deep");
}

#[test]
fn a_chapter_of_a_megabyte_is_refused() {
    let (prose, diagnostics) = read(&"word ".repeat(200_000), ChapterKind::Text);
    assert_eq!(codes(&diagnostics), [("text-too-long", 1, 1)]);
    assert!(prose.typst.len() < 1_000);
}

#[test]
fn one_block_is_one_line_with_its_place() {
    let (prose, _) = read("One *two*.\n\nThree  \nfour `five`.\n", ChapterKind::Text);
    let lines: Vec<&str> = prose.typst.lines().collect();
    assert!(lines.contains(&"section(none, { paragraph({ words(\"One \"); emphasis({ words(\"two\"); }); words(\".\"); })"));
    assert!(lines.contains(&"paragraph({ words(\"Three\"); line-end(); words(\"four \"); code-words(\"five\"); words(\".\"); })"));
    for (word, line, column) in [("\"two\"", 1, 6), ("Three", 3, 1), ("five", 4, 6)] {
        let place = prose.map.find(prose.typst.find(word).unwrap()).unwrap();
        assert_eq!((place.line, place.column), (line, column), "{word}");
    }
}

#[test]
fn steps_are_numbered_and_keep_their_drawings() {
    let text = "Before.\n\n## Sew\n\nText.\n\n```figure\npieces: [toe]\n```\n\n> [!CAUTION] Pins\n> Count.\n\n## Turn\n\n![A](pictures/a.png)\n";
    let (prose, diagnostics) = read(text, ChapterKind::Steps);
    assert_eq!(
        prose.steps.iter().map(|p| p.line).collect::<Vec<_>>(),
        [3, 14]
    );
    assert_eq!(prose.chapters[0].steps, Some([1, 2]));
    assert_eq!(prose.figures.len(), 1);
    assert!(prose.typst.contains(
        "(image: (..size) => image(\"/figures/1.svg\", alt: drawn-alt(1, \"Toe piece, drawn flat.\"), ..size), number: 1, width: auto"
    ));
    assert!(prose.typst.contains("caution({ words(\"Pins\"); }"));
    assert_eq!(codes(&diagnostics), [("step-empty", 14, 1)]);
    let set = set(&prose).unwrap();
    assert!(set.contains("Sew") && set.contains("Count."), "{set}");
}

#[test]
fn the_text_refers_to_figures_by_their_names() {
    let figure = "```figure\nname: cut soles\npieces: [sole]\ncaption: A\n```\n";
    let text = format!("See {{{{ figure.cut_soles }}}} and [below](figure:cut_soles).\n\n{figure}");
    let (prose, diagnostics) = read(&text, ChapterKind::Text);
    assert_eq!(codes(&diagnostics), []);
    assert!(
        prose
            .typst
            .contains("figure-reference(\"cut_soles\", none)")
    );
    let printed = set(&prose).unwrap();
    assert!(
        bare(&printed).contains("Seefigureintextandbelow"),
        "{printed}"
    );
    let text =
        format!("See {{{{ figure.cut_sole }}}}.\n\nAnd [it](figure:soles).\n\n{figure}\n{figure}");
    let (_, diagnostics) = read(&text, ChapterKind::Text);
    let told = codes(&diagnostics);
    assert!(told.contains(&("unknown-value", 1, 8)), "{told:?}");
    assert!(told.contains(&("figure-block", 3, 5)), "{told:?}");
    assert!(told.contains(&("figure-block", 11, 1)), "{told:?}");
}

#[test]
fn a_mistake_in_a_figure_block_is_told_at_its_letter() {
    let text = "Before.\n\n```figure\npieces: [toe]\ncaption: für Füße \u{7}\n```\n";
    let (_, said) = read(text, ChapterKind::Text);
    assert_eq!(codes(&said), [("yaml", 5, 19)]);
}

#[test]
fn a_second_title_and_an_empty_head_are_errors() {
    let (prose, diagnostics) = read("# Title\n\nText\n\n##\n\n#### Small\n", ChapterKind::Text);
    assert_eq!(
        codes(&diagnostics),
        [("heading-level", 1, 1), ("heading-empty", 5, 1)]
    );
    assert_eq!(diagnostics.count(Level::Error), 2);
    set(&prose).unwrap();
}

#[test]
fn html_links_and_pictures_are_judged_at_their_place() {
    let text = "a <b>c</b>\n\n[x](javascript:alert(1)) [y](page.html) [z](https://fair.example)\n\n\
                ![](pictures/a.png) and ![gone](pictures/b.png)\n\n<div>\nd\n</div>\n";
    let (prose, diagnostics) = read(text, ChapterKind::Text);
    assert_eq!(
        codes(&diagnostics),
        [
            ("html-as-text", 1, 3),
            ("html-as-text", 1, 7),
            ("link-scheme", 3, 1),
            ("link-target", 3, 26),
            ("picture-alt", 5, 1),
            ("picture-missing", 5, 25),
            ("html-as-text", 7, 1),
        ]
    );
    let set = set(&prose).unwrap();
    assert!(
        bare(&set).contains("divddiv") && set.contains("gone"),
        "{set}"
    );
    assert!(set.contains("fair.example"));
}

#[test]
fn a_character_without_a_glyph_is_named() {
    let (prose, diagnostics) = read("One\n\ntwo \u{1F9F5} three \u{7}", ChapterKind::Text);
    assert_eq!(
        codes(&diagnostics),
        [("missing-glyph", 3, 1), ("missing-glyph", 3, 1)]
    );
    assert!(diagnostics.sorted()[0].message.contains("U+1F9F5"));
    set(&prose).unwrap();
}

#[test]
fn invisible_characters_do_not_stop_the_export() {
    let text =
        "a\u{ad}b\u{200b}c\u{200d}d\u{feff}e\u{2060}f\u{fe0f}g \u{202f}h\u{a0}i\u{2009}j \u{202e}k";
    let (prose, diagnostics) = read(text, ChapterKind::Text);
    assert_eq!(codes(&diagnostics), []);
    set(&prose).unwrap();
}

#[test]
fn footnotes_are_set_once_and_may_not_run_in_circles() {
    let (prose, _) = read(
        "a[^1] b[^1]\n\n[^1]: note[^1] and[^2]\n[^2]: more[^1]\n",
        ChapterKind::Text,
    );
    assert_eq!(prose.typst.matches("footnote-here(").count(), 2);
    let set = set(&prose).unwrap();
    assert!(set.contains("note") && set.contains("more"));
}

#[test]
fn measures_are_set_as_fractions_that_read_aloud_well() {
    let (prose, _) = read(
        "Fold 1 3/4 in over; sew 4.8 mm (3/16 in) in.",
        ChapterKind::Text,
    );
    assert!(
        prose
            .typst
            .contains("measured(\"Fold 1 3⁄4 in over; sew 4.8 mm (3⁄16 in) in.\")")
    );
    let set = set(&prose).unwrap();
    assert!(set.contains("1 3/4"), "{set}");
    assert!(
        set.contains("4.8\u{202f}mm") && set.contains("3/16"),
        "{set}"
    );
}

#[test]
fn paragraphs_that_begin_in_bold_are_a_glossary() {
    let text = "**Casing.** A tunnel.\n\n**Hem.** A fold, 2 cm.\n\n**Tack.** To *hold*.\n\n**Snip.** A cut.\n";
    let (prose, diagnostics) = read(text, ChapterKind::Text);
    assert_eq!(codes(&diagnostics), []);
    assert!(
        prose
            .typst
            .contains("({ words(\"Casing.\"); }, { words(\" A tunnel.\"); }),"),
        "{}",
        prose.typst
    );
    assert!(set(&prose).unwrap().contains("hold"));
    let (prose, _) = read(&text[..text.find("**Snip").unwrap()], ChapterKind::Text);
    assert!(!prose.typst.contains("glossary"));
}
