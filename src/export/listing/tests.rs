use super::*;
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::pipeline::{Computed, Options, compute};

const DESIGN: &str = "title: Straw *needle* case\nedition: 1.2.0\nabout: A case of felt.\nby: The stall\n\
    skill: first project\nmakes: one case\nage: for grown-ups\nterms: Sew many.\ncontact: ask@stall.example\n\
    languages: [en, de]\npaper: [a4]\nsizes:\n  small: {title: Small, words: for 20 needles}\n  large: {title: Large}\n\
    cloth:\n  felt: {name: wool felt, thickness: 1 mm, sheet: 10 cm x 20 cm}\n\
    trims:\n  button: {name: flat button, width: 9 mm, count: 2}\n\
    tools: [scissors, pins]\n\
    pieces:\n  cover: {rectangle: {width: 60 mm, height: 50 mm}, allowance: none, cut: {felt: 2}}\n";

fn computed() -> Computed {
    let folder = DesignFolder::from_memory("case", [("design.yaml", DESIGN)]);
    let mut said = Diagnostics::default();
    compute(&folder, &Options::default(), &mut |_| {}, &mut said).expect("sound")
}

fn made(words: &Words) -> String {
    let mut made = computed();
    made.design.words = words.clone();
    let small = ("Small".to_string(), 60.0);
    let large = ("Large".to_string(), 80.0);
    listing(&ListingJob {
        design: &made.design,
        materials: &made.materials,
        finished: vec![
            ("width".to_string(), vec![small.clone(), large]),
            ("height".to_string(), vec![small]),
        ],
        booklets: vec![BookletFact {
            paper: "A4".to_string(),
            pages: 12,
            plates: 1,
        }],
        large: vec![
            LargeFact {
                paper: "A0".to_string(),
                sides: [841.0, 1189.0],
                sheets: 1,
            },
            LargeFact {
                paper: "A2".to_string(),
                sides: [420.0, 594.0],
                sheets: 2,
            },
        ],
        fitting: vec!["A4".to_string(), "US Letter".to_string()],
        forms: vec![
            (Form::LargePrint, "A4".to_string()),
            (Form::InkSaving, "A4".to_string()),
            (Form::LargePrint, "US Letter".to_string()),
        ],
        languages: vec!["English".to_string(), "German".to_string()],
        pictures: vec![("pictures/cover.png".to_string(), "The [cover]".to_string())],
    })
}

#[test]
fn a_listing_says_what_was_computed_and_what_the_design_says() {
    let text = made(&Words::of("en"));
    for wanted in [
        "# Straw \\*needle\\* case\n\nA case of felt.\n",
        "Sewing pattern, edition 1.2.0, by The stall.\n",
        "Makes one case.\n",
        "- A booklet for A4: 12 pages, with 1 plate at true scale\n",
        "- All pieces at true scale on one large sheet: A0, 84.1 cm (33 1\u{2044}8 in) by 118.9 cm (46 13\u{2044}16 in)\n",
        "- All pieces at true scale on 2 large sheets: A2, each 42 cm (16 9\u{2044}16 in) by 59.4 cm (23 3\u{2044}8 in)\n",
        "- A sheet to try the fit in paper, for A4 and US Letter\n",
        "- Instructions in large print, for A4 and US Letter\n- Instructions that save ink, for A4\n",
        "- Languages: English and German\n",
        "## 2 sizes\n\n- Small, for 20 needles\n- Large\n",
        "- Width: Small 60 mm (2 3\u{2044}8 in); Large 80 mm (3 1\u{2044}8 in)\n- Height: 60 mm (2 3\u{2044}8 in)\n",
        // both fit one sheet of 10 by 20 cm
        "- Wool felt, 1 mm thick, in sheets of 10 cm (3 15\u{2044}16 in) by 20 cm (7 7\u{2044}8 in): 1 sheet\n",
        "- Flat button, 9 mm (3\u{2044}8 in): 2\n",
        "## Tools\n\n- Scissors\n- Pins\n",
        "## For whom\n\nFor grown-ups\n",
        "## Corrections\n\nask@stall.example\n",
        "## Pictures\n\n![The \\[cover\\]](pictures/cover.png)\n",
    ] {
        assert!(text.contains(wanted), "{wanted}\n--- in\n{text}");
    }
    assert!(!text.contains("\n\n\n") && text.ends_with(")\n"));
}

#[test]
fn in_german_the_words_of_the_house_are_german() {
    let text = made(&Words::of("de"));
    for wanted in [
        "- Ein Heft für A4: 12 Seiten, davon 1 Schnittbogen in Originalgröße\n",
        "- Alle Teile in Originalgröße auf 2 großen Bögen: A2, je 42 cm",
        "- Sprachen: English und German\n",
        "## 2 Größen\n",
    ] {
        assert!(text.contains(wanted), "{wanted}\n--- in\n{text}");
    }
}
