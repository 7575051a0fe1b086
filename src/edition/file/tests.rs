use super::*;
use crate::edition::displacement::tests::board;
use crate::edition::record::{
    ChapterRecord, Content, FitRecord, LanguageText, Listed, PaperRecord, PlacedRecord,
    SectionRecord, SizeRecord, Sold, hash,
};

fn texts() -> Vec<LanguageText> {
    let text = "First: \"this\".\n\n- a list\n  - within\n\n```figure\npieces: [board]\n```";
    let section = |head: &str, text: &str| SectionRecord {
        head: head.into(),
        hash: hash(text.as_bytes()),
        text: text.into(),
    };
    vec![LanguageText {
        language: "en".into(),
        words: [("title".to_string(), "on".to_string())].into(),
        chapters: vec![ChapterRecord {
            chapter: "Making".into(),
            steps: true,
            sections: vec![
                section("", "  begins with blanks\nand goes on"),
                section("Cut", text),
                section("Odd", "a\ttab\u{2028}and ‘quotes’ 🧵\nend\n"),
            ],
        }],
    }]
}

pub fn record() -> Record {
    let content = Content {
        design: "boards".into(),
        title: "Boards: a #trial".into(),
        sold: Sold {
            papers: vec!["a4".into(), "letter".into()],
            forms: Vec::new(),
            languages: vec!["en".into()],
        },
        fit: vec![FitRecord {
            on: "2026-08-15".into(),
            change: "toe length".into(),
            by: -0.794,
            size: None,
            why: "no: it \\ pressed".into(),
        }],
        sizes: vec![SizeRecord {
            size: "one".into(),
            title: "One".into(),
            declared: "one".into(),
            values: [("board.top".to_string(), 80.0), ("y".to_string(), 0.001)].into(),
            seams: Vec::new(),
            pieces: vec![board(&[
                (0.0, 0.0),
                (80.0, 0.0),
                (70.123, 40.0),
                (0.0, 40.0),
            ])],
        }],
        materials: vec![Listed {
            what: "tools".into(),
            words: vec![
                "yes".into(),
                "12".into(),
                "~".into(),
                String::new(),
                "null".into(),
            ],
        }],
        pages: vec![PaperRecord {
            paper: "a4".into(),
            pages: 12,
            plates: vec![vec![PlacedRecord {
                size: "one".into(),
                piece: "board".into(),
            }]],
        }],
        hashes: [("look".to_string(), [("no".to_string(), hash(b"x"))].into())].into(),
        text: texts(),
    };
    Record {
        schema: SCHEMA,
        edition: Version([1, 2, 0]),
        on: "2026-11-28".into(),
        note: [("en".to_string(), "The toe: longer.".to_string())].into(),
        seal: String::new(),
        content,
    }
    .with_seal()
}

fn folder(text: &str) -> DesignFolder {
    DesignFolder::from_memory("boards", [("editions/1.2.0.yaml", text)])
}

fn said(text: &str) -> Vec<(String, usize)> {
    let mut diagnostics = Diagnostics::default();
    assert!(read(&folder(text), &mut diagnostics).is_empty());
    let of = |d: &Diagnostic| {
        assert_eq!(d.code, "edition-damaged");
        (
            d.message.clone(),
            d.place.as_ref().map_or(0, |place| place.line),
        )
    };
    diagnostics.iter().map(of).collect()
}

#[test]
fn what_is_written_is_read_again() {
    let record = record();
    let text = text(&record);
    let mut diagnostics = Diagnostics::default();
    let read = read(&folder(&text), &mut diagnostics);
    assert_eq!(diagnostics, Diagnostics::default());
    assert_eq!(read, [record]);
}

#[test]
fn the_file_is_compact_and_can_be_read_by_people() {
    let text = text(&record());
    let has = |line: &str| assert!(text.lines().any(|l| l == line), "{line}\n{text}");
    has("edition: \"1.2.0\"");
    has("  sold: {papers: [\"a4\", letter], forms: [], languages: [en]}");
    has("                - a list");
    assert!(text.lines().all(|line| !line.ends_with(' ')), "{text}");
}

#[test]
fn a_damaged_file_is_told_of_at_its_line() {
    let good = text(&record());
    let line = |found: &str| good.lines().position(|l| l.contains(found)).unwrap() + 1;
    let changed = good.replace("70.123 40", "70.5 40");
    let [(message, at)] = &said(&changed)[..] else {
        panic!("one fault")
    };
    assert!(message.contains("seal"), "{message}");
    assert_eq!(*at, line("seal:"));
    let [(_, at)] = &said(&good.replace("pages: 12", "pages: twelve"))[..] else {
        panic!("one fault")
    };
    assert_eq!(*at, line("pages: 12"));
    let broken: String = good.lines().take(20).map(|l| format!("{l}\n")).collect();
    assert_eq!(said(&broken).len(), 1);
    assert_eq!(
        said(&good.replace("schema: 1", "schema: 2"))[0].1,
        line("schema:")
    );
    assert_eq!(
        said(&good.replace("\"1.2.0\"", "\"1.3.0\""))[0].1,
        line("edition:")
    );
    assert_eq!(said("").len(), 1);
}

#[test]
fn a_file_that_stands_for_more_than_it_holds_is_refused() {
    let good = text(&record());
    let word = "a".repeat(600_000);
    let aliases = vec!["*a"; 100].join(", ");
    let bomb = format!("{good}more: [&a {word}, {aliases}]\n");
    let told = said(&bomb);
    assert_eq!(told.len(), 1);
    assert!(told[0].0.contains("more than 16 MB"), "{}", told[0].0);
    assert_eq!(told[0].1, good.lines().count() + 1);
}

#[test]
fn a_day_that_is_none_or_before_an_earlier_edition_is_told_at_its_line() {
    let told = |files: Vec<(&str, String)>| -> Vec<(&'static str, Option<(String, usize)>)> {
        let mut diagnostics = Diagnostics::default();
        read(
            &DesignFolder::from_memory("boards", files),
            &mut diagnostics,
        );
        let place = |d: &Diagnostic| d.place.as_ref().map(|p| (p.source.path.clone(), p.line));
        diagnostics.iter().map(|d| (d.code, place(d))).collect()
    };
    let first = record();
    for day in ["2026-02-30", "2025-02-29", "yesterday", "2026-2-3", ""] {
        let on = day.to_string();
        let wrong = text(&Record {
            on,
            ..first.clone()
        });
        let line = wrong
            .lines()
            .position(|line| line.starts_with("on:"))
            .unwrap()
            + 1;
        let at = ("editions/1.2.0.yaml".to_string(), line);
        let files = vec![("editions/1.2.0.yaml", wrong)];
        assert_eq!(told(files), [("edition-day", Some(at))], "{day}");
    }
    let mut next = first.clone();
    (next.edition, next.on) = (Version([1, 3, 0]), "2026-11-27".into());
    let files = vec![
        ("editions/1.2.0.yaml", text(&first)),
        ("editions/1.3.0.yaml", text(&next)),
    ];
    let at = Some(("editions/1.3.0.yaml".to_string(), 4));
    assert_eq!(told(files), [("edition-day", at)]);
    let good = text(&first);
    for name in ["1.2.0.yml", "1.2.0.YAML", "1.2.0.yaml.old", "first.yml"] {
        let path = format!("editions/{name}");
        let files = vec![
            ("editions/1.2.0.yaml", good.clone()),
            (&*path, good.clone()),
        ];
        assert_eq!(told(files), [("edition-misnamed", None)], "{name}");
    }
    let files = vec![
        ("editions/1.2.0.yaml", good),
        ("editions/notes.md", "x".into()),
    ];
    assert!(told(files).is_empty());
}
