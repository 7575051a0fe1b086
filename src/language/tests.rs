use super::phrase::{Day, places};
use super::table::{Entry, Table, file};
use super::*;
use std::collections::BTreeSet;

fn complete() -> impl Iterator<Item = (&'static str, Table)> {
    COMPLETE
        .into_iter()
        .map(|tag| (tag, Table::parse(file(tag).unwrap()).unwrap()))
}

#[test]
fn no_language_lacks_a_key_or_has_one_of_its_own() {
    let english: BTreeSet<&str> = Words::keys().collect();
    for (tag, table) in complete() {
        let keys: BTreeSet<&str> = table.entries.keys().map(String::as_str).collect();
        let apart: Vec<_> = english.symmetric_difference(&keys).collect();
        assert!(apart.is_empty(), "{tag}: {apart:?}");
    }
}

#[test]
fn a_translation_fills_the_places_of_the_english_sentence() {
    // In German stitches are not counted by the inch.
    let left_out = ["few", "many"];
    for (tag, table) in complete() {
        for (key, entry) in &table.entries {
            let english = table_of("en").entries[key].texts();
            let known: BTreeSet<&str> = english.iter().flat_map(|text| places(text)).collect();
            let texts = entry.texts();
            let own: BTreeSet<&str> = texts.iter().flat_map(|text| places(text)).collect();
            let odd: Vec<_> = known
                .symmetric_difference(&own)
                .filter(|place| !known.contains(**place) || !left_out.contains(place))
                .collect();
            assert!(odd.is_empty(), "{tag} {key}: {odd:?}");
        }
    }
}

#[test]
fn texts_stay_texts_and_forms_stay_forms() {
    let kind = |entry: &Entry| std::mem::discriminant(entry);
    for (tag, table) in complete() {
        for (key, entry) in &table.entries {
            assert_eq!(
                kind(entry),
                kind(&table_of("en").entries[key]),
                "{tag} {key}"
            );
            let needed: BTreeSet<_> = (0..200).map(|n| plural::of(tag, n)).collect();
            if let Entry::Forms(forms) = entry {
                assert_eq!(
                    forms.keys().copied().collect::<BTreeSet<_>>(),
                    needed,
                    "{key}"
                );
            }
        }
        assert_eq!(Words::of(tag).list("language.months").len(), 12);
        assert_eq!(Words::of(tag).list("language.quotes").len(), 4);
    }
}

#[test]
fn the_template_asks_for_words_that_there_are() {
    let mut asked = BTreeSet::new();
    for (name, text) in crate::booklet::template::FILES {
        for call in ["w(\"", "say(\"", "pages-said(\""] {
            for (at, _) in text.match_indices(call) {
                let (key, after) = text[at + call.len()..].split_once('"').unwrap();
                let begins = !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '-');
                if begins && after.starts_with([')', ',']) {
                    let known = table_of("en")
                        .entries
                        .contains_key(&format!("booklet.{key}"));
                    assert!(known, "{key} in {name}");
                    asked.insert(key);
                }
            }
        }
    }
    assert!(asked.len() > 100);
}

#[test]
fn german_dates_and_decimals_are_those_of_the_standards() {
    // Unicode CLDR, de: decimal sign “,”, long date “d. MMMM y”. DIN 5008 writes the same date so. Day and
    // month stay on one line.
    let german = Words::of("de-AT");
    let day = Day {
        year: 2026,
        month: 11,
        day: 28,
    };
    assert_eq!(german.date(day), "28.\u{a0}November 2026");
    assert_eq!(german.day("2026-03-01"), "1.\u{a0}März 2026");
    assert_eq!(german.day("in spring"), "in spring");
    assert_eq!(german.decimal(), ',');
    // CLDR, de: quotation marks „ “ and ‚ ‘.
    assert_eq!(german.list("language.quotes"), ["„", "“", "‚", "‘"]);
    assert_eq!(Words::of("en").date(day), "28 November 2026");
}

#[test]
fn lists_and_rows_of_numbers_end_in_and() {
    let (english, german) = (Words::of("en"), Words::of("de"));
    assert_eq!(english.joined(&["a", "b", "c"]), "a, b and c");
    assert_eq!(german.joined(&["a", "b", "c"]), "a, b und c");
    assert_eq!(english.joined(&["a"]), "a");
    assert_eq!(english.ranges(vec![2, 1, 9, 7, 8, 5]), "1, 2, 5 and 7 to 9");
    assert_eq!(german.ranges(vec![2, 1, 9, 7, 8, 5]), "1, 2, 5 und 7 bis 9");
}

#[test]
fn sizes_read_as_their_language_writes_them() {
    let (english, german) = (Words::of("en"), Words::of("de"));
    assert_eq!(english.size("Large"), "Size Large");
    assert_eq!(english.size_inside("Large"), "size Large");
    assert_eq!(english.size_inside("One size"), "one size");
    assert_eq!(german.size_inside("Groß"), "Größe Groß");
    assert_eq!(german.size_inside("Einheitsgröße"), "Einheitsgröße");
    assert_eq!(
        german.sizes_inside(&["Klein", "Groß"]),
        "Größen Klein und Groß"
    );
}

#[test]
fn numbers_choose_the_form() {
    let german = Words::of("de");
    assert_eq!(german.count("plates.notches", 1, &[]), "1 Passzeichen");
    assert_eq!(german.count("materials.sheets", 3, &[]), "3 Platten");
    assert_eq!(german.number(12), "zwölf");
    assert_eq!(german.number(13), "13");
}

#[test]
fn what_a_language_lacks_is_english_and_a_design_may_say_it_otherwise() {
    let own = BTreeMap::from([(
        "booklet.page".to_string(),
        Entry::Text("page {odd".to_string()),
    )]);
    let french = Words::with("fr", &own);
    assert_eq!(french.get("booklet.contents"), "Contents");
    assert_eq!(french.say("booklet.page", &[("odd", &1)]), "page {odd");
    assert_eq!(french.get("no such key"), "no such key");
}

#[test]
fn a_table_with_a_form_that_no_language_has_is_refused() {
    assert!(Table::parse("plates: {cut: {one: a, several: b}}").is_err());
    assert!(Table::parse("plates: {cut: {one: a}}").is_err());
    assert!(Table::parse("plates: {cut: 1}").is_err());
}
