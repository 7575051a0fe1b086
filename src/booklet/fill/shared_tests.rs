//! Texts that designs share, within a chapter.

use super::tests::names;
use super::*;
use crate::booklet::fixture;

fn shared(texts: &[(&str, &str)]) -> SharedTexts {
    let source = |(name, text): &(&str, &str)| {
        let path = format!("_shared/{name}");
        let text = text.to_string();
        let source = crate::diagnostic::SourceText {
            path: path.clone(),
            text,
        };
        (path, std::sync::Arc::new(source))
    };
    texts.iter().map(source).collect()
}

fn joined(text: &str, texts: &[(&str, &str)]) -> (Filled, Vec<String>) {
    let mut diagnostics = Diagnostics::default();
    let chapter = fixture::chapter("10-a.md", text);
    let filled = fill(&chapter, &shared(texts), &names(), &mut diagnostics);
    let sorted = diagnostics.sorted();
    let told = sorted.iter().map(|d| {
        let place = d.place.as_ref().unwrap();
        format!(
            "{}:{}:{} {}",
            place.source.path, place.line, place.column, d.message
        )
    });
    (filled, told.collect())
}

#[test]
fn a_shared_text_stands_in_the_chapter_with_its_own_places() {
    let (filled, told) = joined(
        "Before.\n\n{% include \"knot.md\" %}\n\nAfter {{ seam }}.",
        &[("knot.md", "Tie a knot,\nthen {{ seam }}.\n")],
    );
    assert!(told.is_empty(), "{told:?}");
    assert_eq!(
        filled.text,
        "Before.\n\nTie a knot,\nthen 4.8 mm (3⁄16 in).\n\nAfter 4.8 mm (3⁄16 in)."
    );
    let at = |words: &str| {
        let place = filled.place(filled.text.find(words).unwrap());
        (place.source.path.clone(), place.line, place.column)
    };
    assert_eq!(at("Before"), ("booklet/10-a.md".into(), 1, 1));
    assert_eq!(at("knot"), ("_shared/knot.md".into(), 1, 7));
    assert_eq!(at("then"), ("_shared/knot.md".into(), 2, 1));
    assert_eq!(at("After"), ("booklet/10-a.md".into(), 5, 1));
}

#[test]
fn mistakes_in_shared_texts_are_told_where_they_are() {
    let (_, told) = joined(
        "{% include \"knto.md\" %}{% include knot.md %}\n{% include \"knot.md\" %}",
        &[("knot.md", "a\n{{ seem }}")],
    );
    assert_eq!(
        told,
        [
            "_shared/knot.md:2:4 There is no value ‘seem’.",
            "booklet/10-a.md:1:1 There is no shared text ‘knto.md’.",
            "booklet/10-a.md:1:24 It is not clear which shared text is meant.",
        ]
    );
    let (_, told) = joined(
        "{% include \"a.md\" %}",
        &[
            ("a.md", "{% include \"b.md\" %}"),
            ("b.md", "{% include \"a.md\" %}"),
        ],
    );
    assert_eq!(told, ["_shared/b.md:1:1 ‘_shared/a.md’ holds itself."]);
}
