use super::*;
use crate::booklet::fixture;
use crate::booklet::values::SizeValues;
use crate::design::{Dimension, Quantity};
use std::collections::BTreeMap;

pub(super) fn names() -> Names {
    names_in("en")
}

fn names_in(language: &str) -> Names {
    let length = |value| Quantity {
        value,
        dimension: Dimension::Length,
    };
    let size = |key: &str, title: &str, foot: f64, seam: f64| SizeValues {
        key: key.into(),
        title: title.into(),
        values: [
            ("foot.length", foot),
            ("toe.sole edge", 2.0 * foot),
            ("seam", seam),
        ]
        .map(|(name, value)| (name.to_string(), length(value)))
        .into(),
    };
    let mut design = fixture::design();
    design.title = "A *bold* shoe".into();
    design.language = language.into();
    Names::new(
        &design,
        &[
            size("small", "Small", 48.0, 4.7625),
            size("large", "Large", 75.0, 4.7625),
        ],
    )
}

fn run(text: &str) -> (Filled, Diagnostics) {
    let mut diagnostics = Diagnostics::default();
    let chapter = fixture::chapter("10-a.md", text);
    let filled = fill(&chapter, &SharedTexts::new(), &names(), &mut diagnostics);
    (filled, diagnostics)
}

fn said(text: &str) -> Vec<String> {
    let (_, diagnostics) = run(text);
    diagnostics
        .sorted()
        .iter()
        .map(|d| {
            let place = d.place.as_ref().unwrap();
            format!(
                "{}:{}:{} {} {}",
                place.source.path, place.line, place.column, d.code, d.message
            )
        })
        .collect()
}

#[test]
fn lengths_print_once_or_for_every_size() {
    let (filled, diagnostics) = run("Sew {{ seam }} in; the foot is {{ foot.length }}.");
    assert_eq!(diagnostics.iter().count(), 0);
    assert_eq!(
        filled.text,
        "Sew 4.8 mm (3⁄16 in) in; the foot is 48 mm (1 7⁄8 in) in size\u{a0}Small, \
         75 mm (2 15⁄16 in) in size\u{a0}Large."
    );
}

#[test]
fn one_size_and_one_unit_can_be_asked_for() {
    let (filled, _) = run("{{ sizes.large.toe.sole_edge | inch }}, {{ seam | metric }}");
    assert_eq!(filled.text, "5 7⁄8 in, 4.8 mm");
}

#[test]
fn a_length_can_be_a_condition_and_be_compared() {
    let (filled, _) = run("{% if seam %}a{% endif %}{% if seam.mm > 5 %}b{% else %}c{% endif %}");
    assert_eq!(filled.text, "ac");
}

#[test]
fn words_of_the_design_are_no_markup() {
    let (filled, _) = run("{{ design.title }}");
    assert_eq!(filled.text, "A \\*bold\\* shoe");
}

#[test]
fn every_unknown_name_is_reported_at_its_place() {
    assert_eq!(
        said("One {{ seam }}.\n  Two {{ toe.sole_egde }} and\n{% if foto.length %}x{% endif %}"),
        [
            "booklet/10-a.md:2:10 unknown-value There is no value ‘toe.sole_egde’.",
            "booklet/10-a.md:3:7 unknown-value There is no value ‘foto.length’.",
        ]
    );
    let (_, diagnostics) = run("{{ toe.sole_egde }}");
    assert!(diagnostics.sorted()[0].remedy.contains("‘toe.sole_edge’"));
}

#[test]
fn names_of_loops_are_known_and_existence_may_be_asked() {
    let text = "{% for size in sizes %}\n- {{ sizes[size].title }}\n{% endfor %}\
                {% if toe.heel is defined %}x{% endif %}";
    let (filled, diagnostics) = run(text);
    assert_eq!(diagnostics.iter().count(), 0, "{diagnostics:?}");
    assert_eq!(filled.text, "- Small\n- Large\n");
}

#[test]
fn a_name_missing_at_run_time_is_reported_too() {
    assert_eq!(
        said("a\n{% for size in sizes %}{{ sizes[size].toes }}{% endfor %}"),
        ["booklet/10-a.md:2:24 unknown-value There is no value ‘sizes[size].toes’."]
    );
}

#[test]
fn malformed_tags_are_reported_at_their_place() {
    let list = said("fine\nthen {{ seam | }} x");
    assert_eq!(list.len(), 1);
    assert!(list[0].starts_with("booklet/10-a.md:2:"), "{list:?}");
    assert!(said("{{ seam | shout }}")[0].contains("shout"));
    assert!(said("a {{ seam")[0].contains("text-value"));
}

#[test]
fn hostile_text_comes_to_an_end() {
    let nested = "{% for a in range %}".repeat(3);
    for text in [
        "{% for a in sizes %}".repeat(30) + "{{ seam }}" + &"{% endfor %}".repeat(30),
        nested,
        "{% set a = 'x' %}".into(),
        "{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}".into(),
        "{{ 'x' * 90000000 }}".into(),
        "{{ 'x' * 9 * 9 * 9 * 9 * 9 * 9 }}".into(),
        "{% include 'x' %}".into(),
        "{{ ".to_string() + &"(".repeat(5_000),
        "{{ ".to_string() + &"seam.".repeat(5_000) + "a }}",
        "{% if seam %}".repeat(3_000),
    ] {
        assert!(!said(&text).is_empty(), "{}", &text[..40.min(text.len())]);
    }
}

#[test]
fn places_stay_right_after_blocks_and_values() {
    let text = "one {{ seam }} two\n{% if seam %}\nthree\n{% endif %}\n{% if not seam %}\n\
                gone\n{% endif %}\nfour {{- seam -}} five\n";
    let (filled, diagnostics) = run(text);
    assert_eq!(diagnostics.iter().count(), 0);
    for (word, place) in [
        ("two", (1, 16)),
        ("three", (3, 1)),
        ("four", (8, 1)),
        ("five", (8, 19)),
    ] {
        let found = filled.place(filled.text.find(word).unwrap());
        assert_eq!(
            (found.line, found.column),
            place,
            "{word} in {:?}",
            filled.text
        );
    }
    let value = filled.place(filled.text.find("3⁄16").unwrap());
    assert_eq!((value.line, value.column), (1, 5));
}

#[test]
fn text_without_values_is_left_alone() {
    let text = "a { b } {c}\n\u{2}7\u{3} {% raw %}{{ d }}{% endraw %}";
    assert_eq!(run(text).0.text, "a { b } {c}\n\u{fffd}7\u{fffd} {{ d }}");
}

#[test]
fn a_measure_of_one_size_only_is_known_too() {
    let formula = crate::design::Formula::parse("48 mm", &fixture::place()).unwrap();
    let mut design = fixture::design();
    design.sizes[0]
        .measures
        .push(("free elastic".into(), formula));
    let length = Quantity {
        value: 48.0,
        dimension: Dimension::Length,
    };
    let values = BTreeMap::from([("free elastic".to_string(), length)]);
    let sizes = [SizeValues {
        key: "small".into(),
        title: "Small".into(),
        values,
    }];
    let names = Names::new(&design, &sizes);
    assert!(names.has("measures.free_elastic") && names.has("sizes.small.measures.free_elastic"));
}

#[test]
fn one_broken_value_hides_no_other_mistake() {
    let text =
        "{{ nope }}\n{{ seam | foo }}\n\n{{ seam | bar }} {{ seam }}\n{{ 1 + }} {{ toe.nope }}";
    let lines: Vec<String> = said(text)
        .iter()
        .map(|said| said.split(' ').take(2).collect::<Vec<_>>().join(" "))
        .collect();
    assert_eq!(
        lines,
        [
            "booklet/10-a.md:1:4 unknown-value",
            "booklet/10-a.md:2:11 text-value",
            "booklet/10-a.md:4:11 text-value",
            "booklet/10-a.md:5:8 text-value",
            "booklet/10-a.md:5:14 unknown-value",
        ]
    );
    // what is right is filled in all the same
    assert!(run(text).0.text.contains("4.8 mm"));
}

#[test]
fn a_broken_value_of_several_lines_leaves_the_lines_after_it_where_they_are() {
    let (filled, _) = run("{{ 1 +\n\n}} and\nthen");
    let at = filled.text.find("then").unwrap();
    let place = filled.place(at);
    assert_eq!((place.line, place.column), (4, 1));
}

#[test]
fn words_of_a_head_are_filled_as_plain_text_and_tell_their_place() {
    let text =
        "---\ntitle: A\nstandfirst: \"Cut {{ seam }} of {{ design.title }}, {{ nope }}\"\n---\n";
    let source = fixture::chapter("10-a.md", text).source;
    let mut diagnostics = Diagnostics::default();
    let words = "Cut {{ seam }} of {{ design.title }}, {{ nope }}";
    let mut fill = |words| fill_words(words, "standfirst", &source, 4, &names(), &mut diagnostics);
    assert_eq!(
        fill(words).trim_end(),
        "Cut 4.8 mm (3⁄16 in) of A *bold* shoe,"
    );
    let told = diagnostics.iter().next().unwrap();
    let place = told.place.as_ref().unwrap();
    assert_eq!(
        (told.code, place.line, place.column),
        ("unknown-value", 3, 55)
    );
}

#[test]
fn lengths_are_rounded_to_a_step_size_by_size() {
    // 48 mm and 75 mm: 1 7/8 in is 47.6 mm, 2 15/16 in is 74.6 mm.
    let (filled, diagnostics) = run("{{ foot.length | nearest(\"5 mm\") | metric }}; \
        {{ foot.length | at_least(\"1/2 in\") | inch }}; {{ foot.length | at_most(\"1 cm\") | metric }}");
    assert_eq!(diagnostics.iter().count(), 0, "{diagnostics:?}");
    assert_eq!(
        filled.text,
        "50 mm in size\u{a0}Small, 75 mm in size\u{a0}Large; 2 in in size\u{a0}Small, 3 in in size\u{a0}Large; \
         40 mm in size\u{a0}Small, 70 mm in size\u{a0}Large"
    );
    for wrong in [
        "nearest(5)",
        "nearest(\"5\")",
        "nearest(\"soon\")",
        "at_least(\"0 mm\")",
    ] {
        let list = said(&format!("{{{{ seam | {wrong} }}}}"));
        assert_eq!(list.len(), 1, "{wrong}");
        assert!(list[0].contains("text-value"), "{list:?}");
    }
}

#[test]
fn a_length_that_is_a_whole_step_stays() {
    // 3/16 in is 4.7625 mm exactly.
    let (filled, _) =
        run("{{ seam | at_least(\"1/16 in\") | inch }}, {{ seam | at_most(\"1/16 in\") | inch }}");
    assert_eq!(filled.text, "3⁄16 in, 3⁄16 in");
}

#[test]
fn things_are_counted_with_the_right_form_of_the_word() {
    let (filled, diagnostics) = run("{{ 1 | counted(\"piece\", \"pieces\") }}, \
        {{ sizes | counted(\"size\", \"sizes\") }}, {{ 0 | counted(\"hole\", \"holes\") }}");
    assert_eq!(diagnostics.iter().count(), 0, "{diagnostics:?}");
    assert_eq!(filled.text, "1\u{a0}piece, 2\u{a0}sizes, 0\u{a0}holes");
    assert!(said("{{ seam | counted(\"a\", \"b\") }}")[0].contains("lengths are not counted"));
}

/// Polish forms by Unicode CLDR, "Language Plural Rules": 1 one, 2 to 4 few, 5 many, 22 few; from memory.
#[test]
fn a_language_with_more_forms_names_them() {
    let text = |n: usize| {
        format!("{{{{ {n} | counted(\"sztuka\", \"sztuki\", few=\"sztuki\", many=\"sztuk\") }}}}")
    };
    for (n, form) in [(1, "sztuka"), (3, "sztuki"), (5, "sztuk"), (22, "sztuki")] {
        let mut diagnostics = Diagnostics::default();
        let chapter = fixture::chapter("10-a.md", &text(n));
        let names = names_in("pl");
        let filled = fill(&chapter, &SharedTexts::new(), &names, &mut diagnostics);
        assert_eq!(filled.text, format!("{n}\u{a0}{form}"));
    }
    let wrong = "{{ 2 | counted(\"a\", \"b\", several=\"c\") }}";
    assert!(said(wrong)[0].contains("several"), "{:?}", said(wrong));
}

#[test]
fn what_would_print_nothing_is_refused() {
    for (tag, part) in [
        ("{{ sizes }}", "group"),
        ("{{ 1 / 0 }}", "no number"),
        ("{{ 1 == 1 }}", "condition"),
    ] {
        let told = said(&format!("Sew {tag} now."));
        assert!(told.len() == 1 && told[0].contains(part), "{tag}: {told:?}");
    }
}

#[test]
fn a_name_within_another_is_not_asked_for() {
    let text = "{% if shoe.seam is defined %}{{ eam }}{% endif %}";
    let told = said(text);
    assert!(told[0].contains("unknown-value"), "{told:?}");
}

#[test]
fn a_name_that_is_asked_for_may_be_missing() {
    let text = "{% if shoe.lining is defined and shoe.lining == \"silk\" %}Turn {{ shoe.lining }}.{% else %}Plain.{% endif %}";
    let (filled, diagnostics) = run(text);
    assert_eq!(diagnostics.iter().count(), 0, "{diagnostics:?}");
    assert_eq!(filled.text, "Plain.");
}

#[test]
fn a_typed_length_that_is_also_computed_is_noted() {
    let list = said("Sew 4.8 mm in, then 3/16 in.\nThe margin is 5.1 mm; {{ seam }}.");
    assert_eq!(
        list,
        [
            "booklet/10-a.md:1:5 typed-length ‘4.8 mm’ is typed by hand, and ‘seam’ comes to the same: \
             it would stay when the fit changes.",
            "booklet/10-a.md:1:21 typed-length ‘3/16 in’ is typed by hand, and ‘seam’ comes to the same: \
             it would stay when the fit changes.",
        ]
    );
}
