use super::*;
use crate::booklet::fixture;
use std::sync::Arc;

fn words(text: &str) -> Vec<String> {
    let mut said = Diagnostics::default();
    let found = glossary(&fixture::design(), text, &mut said);
    assert_eq!(said.iter().count(), 0);
    found.words.into_iter().map(|(word, _)| word).collect()
}

#[test]
fn only_words_that_the_text_uses_are_explained() {
    assert!(words("Backstitch round.").contains(&"backstitch".to_string()));
    assert!(!words("Backstitch round.").contains(&"hem".to_string()));
    assert!(words("Nothing here.").is_empty());
}

#[test]
fn a_word_that_an_explanation_uses_is_explained_too() {
    // an allowance is explained by the seam line
    let list = words("Trim the allowance.");
    assert!(list.contains(&"seam line".to_string()));
}

#[test]
fn words_are_whole_and_found_in_any_form() {
    assert!(words("themes and anthem").is_empty());
    assert!(words("Both PAIRS were turned").contains(&"pair".to_string()));
    assert!(words("slip-stitch the fold").contains(&"slip stitch".to_string()));
}

#[test]
fn the_head_is_the_word_that_the_text_uses() {
    assert!(words("Snip the curve.").contains(&"snip".to_string()));
    assert!(words("Clip it, and snip it.").contains(&"clip, snip".to_string()));
    assert!(words("The edge is clipped.").contains(&"clip".to_string()));
}

#[test]
fn the_designs_own_words_come_first() {
    let mut design = fixture::design();
    design.look_up.glossary = vec![
        ("hem".into(), "The wide edge of this skirt.".into()),
        ("gleaner".into(), "Someone who picks up ears.".into()),
    ];
    let found = glossary(&design, "The gleaners hem it.", &mut Diagnostics::default());
    assert!(
        found
            .words
            .contains(&("hem".into(), "The wide edge of this skirt.".into()))
    );
    assert!(found.words.iter().any(|(word, _)| word == "gleaner"));
}

/// What is found with a shared list, and what is said of it: codes with their lines.
fn shared(list: &str, text: &str) -> (Glossary, Vec<(&'static str, usize)>) {
    let mut design = fixture::design();
    let path = "_shared/glossary.en.yaml";
    let source = Arc::new(SourceText {
        path: path.into(),
        text: list.to_string(),
    });
    design.shared = BTreeMap::from([(path.to_string(), source)]);
    let mut said = Diagnostics::default();
    let found = glossary(&design, text, &mut said);
    let line = |told: &Diagnostic| told.place.as_ref().map_or(0, |place| place.line);
    (
        found,
        said.iter().map(|told| (told.code, line(told))).collect(),
    )
}

#[test]
fn a_list_that_stands_for_more_than_it_holds_is_refused() {
    let meaning = "a".repeat(500_000);
    let aliases = "  - {word: b, means: *a}\n".repeat(5_000);
    let list = format!("words:\n  - {{word: a, means: &a {meaning}}}\n{aliases}");
    assert_eq!(shared(&list, "a").1, [("too-large", 10)]);
    let words: String = (0..501)
        .map(|n| format!("  - {{word: w{n}, means: m}}\n"))
        .collect();
    assert_eq!(
        shared(&format!("words:\n{words}"), "a").1,
        [("too-large", 1)]
    );
    assert_eq!(shared("words:\n  - {wort: a}\n", "a").1, [("word-list", 2)]);
}

#[test]
fn words_that_explain_each_other_are_all_found() {
    let word = |n: usize| format!("  - {{word: thing w{n}, means: See thing w{}.}}\n", n + 1);
    let words: String = (0..500).map(word).collect();
    let (found, said) = shared(&format!("words:\n{words}"), "The thing w0s.");
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(found.words.len(), 500);
}

#[test]
fn units_are_those_behind_figures() {
    let of = |text: &str| {
        let found = glossary(&fixture::design(), text, &mut Diagnostics::default());
        found
            .units
            .into_iter()
            .map(|(short, _)| short)
            .collect::<Vec<_>>()
    };
    assert_eq!(of("4.8\u{a0}mm (3⁄16 in) in size L"), ["mm", "in"]);
    assert_eq!(of("4.8\u{a0}mm in size L"), ["mm", "in"]);
    // no unit but that of the test square
    assert_eq!(of("in 3 minutes, 4 cm²"), ["in"]);
}

#[test]
fn umlauts_stand_with_their_vowels() {
    // DIN 5007-1, variant 1.
    let mut list = ["Zwickel", "Aufschlag", "Armloch", "Ärmel"];
    list.sort_by_key(|word| collated(word));
    assert_eq!(list, ["Ärmel", "Armloch", "Aufschlag", "Zwickel"]);
}

#[test]
fn the_lists_of_the_house_can_be_read_and_name_each_word_once() {
    for (language, text) in HOUSE {
        let list: House = serde_yaml::from_str(text).unwrap();
        assert!(list.words.len() > 40 && list.units.len() > 4, "{language}");
        let mut keys: Vec<String> = list.words.iter().map(|w| w.word.to_lowercase()).collect();
        keys.sort_unstable();
        let all = keys.len();
        keys.dedup();
        assert_eq!(keys.len(), all, "{language}");
    }
}
