//! The guide for designers is true: its example reads without a word, and no part of it holds a
//! key, a unit or a word that the reader does not know.

use super::*;

const GUIDE: &str = include_str!("../../../../designs/README.md");

/// The words after `yaml` at a block that goes on with the file of a foot.
const MORE_OF_A_FOOT: &str = "(more of a foot)";

/// The words after `markdown` at a step that is another one's variant.
const LAST_STEP: &str = "(the last step with a snap)";

/// Files of a further language.
const OF_A_LANGUAGE: [&str; 2] = ["design.de.yaml", "template/words/fr.yaml"];

/// Fenced blocks with the words after their backquotes.
fn blocks() -> Vec<(&'static str, String)> {
    let mut blocks = Vec::new();
    let mut lines = GUIDE.lines();
    while let Some(line) = lines.next() {
        let Some(words) = line.strip_prefix("```") else {
            continue;
        };
        if words.starts_with('`') {
            lines.by_ref().find(|line| *line == "````");
            continue;
        }
        let inside = lines.by_ref().take_while(|line| *line != "```");
        blocks.push((words, inside.map(|line| format!("{line}\n")).collect()));
    }
    blocks
}

#[test]
fn the_whole_example_reads_without_a_word() {
    let named = blocks().into_iter().filter_map(|(words, text)| {
        let (_, path) = words.split_once(' ')?;
        let variant = [MORE_OF_A_FOOT, LAST_STEP].contains(&path);
        let own = !variant && !OF_A_LANGUAGE.contains(&path);
        own.then(|| (path.to_string(), text))
    });
    let files: Vec<(String, String)> = named.collect();
    let paths: Vec<&str> = files.iter().map(|(path, _)| path.as_str()).collect();
    assert_eq!(
        paths,
        [
            "design.yaml",
            "booklet/10-making.md",
            "feet/small.yaml",
            "booklet/20-care.md"
        ]
    );
    let more = blocks()
        .into_iter()
        .find(|(words, _)| words.ends_with(MORE_OF_A_FOOT));
    let more = more.unwrap().1;
    for (foot, more) in [
        ("", ""),
        (", foot: feet/small.yaml", ""),
        (", foot: feet/small.yaml", more.as_str()),
    ] {
        let with_foot = files.iter().map(|(path, text)| {
            let text = text.replace("{title: One size}", &format!("{{title: One size{foot}}}"));
            let more = if path.starts_with("feet/") { more } else { "" };
            (path.clone(), text + more)
        });
        let folder = DesignFolder::from_memory("needle-case", with_foot);
        let mut diagnostics = Diagnostics::default();
        let design = read(&folder, &mut diagnostics);
        let said = human::list(&diagnostics, human::Style::default());
        assert_eq!(said, "");
        let design = design.unwrap();
        assert_eq!((design.pieces.len(), design.chapters.len()), (2, 2));
        assert_eq!(design.sizes[0].foot.is_some(), !foot.is_empty());
    }
}

#[test]
fn the_example_reads_in_other_languages() {
    let block = |path: &str| {
        let mut blocks = blocks().into_iter();
        let found = blocks.find(|(words, _)| words.ends_with(&format!(" {path}")));
        found.unwrap().1
    };
    let design = block("design.yaml").replace("paper:", "languages: [en, de, fr]\npaper:");
    let chapter = block("booklet/10-making.md");
    let mut files = vec![
        ("design.yaml", design),
        ("booklet/10-making.md", chapter.clone()),
        ("booklet.de/10-making.md", chapter),
    ];
    files.extend(OF_A_LANGUAGE.map(|path| (path, block(path))));
    let folder = DesignFolder::from_memory("needle-case", files);
    let mut diagnostics = Diagnostics::default();
    let design = read(&folder, &mut diagnostics).unwrap();
    // French has no texts, no chapter and no more words than these
    assert_eq!(diagnostics.count(crate::diagnostic::Level::Warning), 5);
    assert!(
        diagnostics
            .iter()
            .all(|said| said.code == "missing-translation")
    );
    let [german, french] = design.translations.as_slice() else {
        panic!("two further languages");
    };
    let spoken = design.in_language(german);
    assert_eq!(spoken.pieces[0].title, "Umschlag");
    assert_eq!(spoken.pieces[0].marks[1].words.as_deref(), Some("Rücken"));
    assert_eq!(spoken.words.named("edges", "hinge"), "Falz");
    assert_eq!((spoken.lengths.both, spoken.lengths.decimal), (true, ','));
    assert_eq!(spoken.file_stem(), "needle-case-de");
    assert_eq!(french.words.get("booklet.contents"), "Sommaire");
    assert_eq!(french.words.get("booklet.notes"), "Notes");
}

#[test]
fn no_part_of_the_guide_is_refused_for_what_it_says() {
    // a part alone lacks what it speaks of, and what every design needs
    let lacking = [
        "missing-key",
        "file-missing",
        "no-foot",
        "no-allowance",
        "no-shoe",
        "unknown-size",
        "unknown-name",
        "unknown-piece",
        "unknown-cloth",
    ];
    let mut parts = 0;
    for (words, text) in blocks() {
        if words != "yaml" {
            continue;
        }
        parts += 1;
        let folder = DesignFolder::from_memory("x", [("design.yaml", text)]);
        let mut diagnostics = Diagnostics::default();
        read(&folder, &mut diagnostics);
        let wrong = diagnostics.iter().find(|d| !lacking.contains(&d.code));
        assert_eq!(wrong, None);
    }
    assert!(parts > 12, "{parts} parts were found");
}
