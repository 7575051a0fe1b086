//! The words that the template itself prints, by language. The template holds none of its own, so
//! that a booklet in another language only needs another table here.

use super::date::Moment;
use crate::design::Paper;
use crate::diagnostic::Place;
use serde_json::{Map, Value};

/// The table for `language`; English where there is no other.
pub fn words(language: &str) -> Value {
    let _ = language;
    let table: Map<String, Value> = ENGLISH
        .iter()
        .map(|(key, words)| (key.to_string(), Value::from(*words)))
        .collect();
    Value::Object(table)
}

/// `21 September 2026`.
pub fn date(moment: Moment, language: &str) -> String {
    let _ = language;
    let month = MONTHS
        .get(usize::from(moment.month).saturating_sub(1))
        .unwrap_or(&"");
    format!("{} {month} {}", moment.day, moment.year)
}

/// A date written year first, as [`date`] prints it; as it stands if it is none.
pub fn day(text: &str, language: &str) -> String {
    let numbers: Vec<i32> = text.split('-').filter_map(|p| p.parse().ok()).collect();
    let part = |at: usize| numbers.get(at).and_then(|n| u8::try_from(*n).ok());
    match (numbers.first(), part(1), part(2)) {
        (Some(year), Some(month), Some(day)) => date(
            Moment {
                year: *year,
                month,
                day,
                second_of_day: 0,
            },
            language,
        ),
        _ => text.to_string(),
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Names of the papers as the cover prints them.
pub fn paper_names(papers: &[(Paper, Place)]) -> Vec<String> {
    papers.iter().map(|(paper, _)| paper.name.clone()).collect()
}

const ENGLISH: &[(&str, &str)] = &[
    ("pattern", "sewing pattern"),
    ("edition", "edition"),
    ("page", "page"),
    ("one size", "One size"),
    ("sizes 2", "Two sizes"),
    ("sizes 3", "Three sizes"),
    ("sizes 4", "Four sizes"),
    ("sizes 5", "Five sizes"),
    ("sizes 6", "Six sizes"),
    ("sizes n", "sizes"),
    ("true scale", "True-scale plates for"),
    (
        "instructions only",
        "Instructions; the true-scale plates are in",
    ),
    ("paper", "paper"),
    ("and", "and"),
    ("contents", "Contents"),
    (
        "contents stand",
        "Read “How to print” before you print anything.",
    ),
    (
        "contents stand elsewhere",
        "Read “How to print the plates” before you print them.",
    ),
    ("make ready", "Make ready"),
    ("make", "Make"),
    ("look up", "Look up"),
    ("read before plates", "read before the plates"),
    ("read before giving", "read before you give it away"),
    ("one side only", "print on one side only"),
    ("in file", "in the file"),
    ("step", "step"),
    ("steps", "steps"),
    ("to", "to"),
    ("about", "About this pattern"),
    ("skill", "Skill:"),
    ("makes", "Makes"),
    ("this edition", "This edition"),
    ("edition of", "of"),
    (
        "edition words",
        "All lengths in the text were computed from the pieces of this edition. Plates of another \
         edition may not match it: print all of them anew.",
    ),
    ("sizes", "Sizes"),
    ("sizes and measures", "Sizes, and how to choose"),
    ("sizes stand", "Measure the foot, not the shoe it came in."),
    ("sizes stand plain", "What comes out, and how large."),
    ("the sizes", "The sizes"),
    ("size", "Size"),
    ("choose", "Choose a size"),
    ("choose note", "Between two sizes, take the larger."),
    ("finished", "When finished"),
    ("measure", "Measure"),
    ("materials", "Materials and tools"),
    ("materials stand", "Lay everything out before you cut."),
    ("cloth", "Cloth"),
    ("trims", "Trims"),
    ("tools", "Tools"),
    ("each", "each"),
    ("amounts", "How much"),
    ("cutting list", "What to cut"),
    (
        "cutting list note",
        "Turned over: lay the pattern face down.",
    ),
    ("for", "For"),
    ("what", "What"),
    ("which", "Fits"),
    ("number", "Number"),
    ("each cut", "Cut each"),
    ("no", "No."),
    ("width", "Width"),
    ("key head", "Key"),
    ("cut", "Cut"),
    ("how", "How"),
    ("only in", "only in"),
    ("print", "How to print"),
    ("print plates", "How to print the plates"),
    ("print stand", "One sheet first. Measure it. Then the rest."),
    ("settings", "Settings"),
    (
        "settings note",
        "The words differ from program to program. What matters is that nothing is fitted to the \
         page.",
    ),
    ("settings paper", "This file is made for"),
    (
        "settings paper end",
        "paper. Choose that paper in the print window.",
    ),
    ("settings scale", "Set the scale to"),
    ("or", "or"),
    ("actual size", "Actual size"),
    (
        "settings fit",
        "Turn off everything that is called fit, shrink or scale to page.",
    ),
    (
        "settings first",
        "Print the first plate only, one-sided, and measure its test squares before you print the \
         rest.",
    ),
    ("settings file", "Open the file that has the plates:"),
    ("settings choose", "Choose this paper in the print window:"),
    ("squares", "The test squares"),
    (
        "squares note",
        "Measure across both ways. A printer may be true one way and not the other.",
    ),
    (
        "squares elsewhere",
        "Each plate has two squares. The sides of one are exactly 50 mm (5 cm), those of the other exactly 2 in. Measure across both ways: a printer may be true one way and not the other.",
    ),
    (
        "squares alt",
        "Two test squares, one with sides of 5 centimetres and one with sides of 2 inches.",
    ),
    ("5 cm", "5 cm"),
    ("2 in", "2 in"),
    ("5 cm words", "each side exactly 50 mm"),
    ("2 in words", "each side exactly 2 inches"),
    ("if out", "If it is out"),
    ("5 cm measures", "5 cm square is"),
    ("2 in measures", "2 in square is"),
    ("then", "likely cause"),
    ("set scale", "what to set"),
    ("or more", "or more"),
    ("fault fitted", "the page was fitted"),
    ("fault other paper", "a file for another paper"),
    ("fault units", "wrong units"),
    ("remedy fitted", "100 %, fitting off"),
    ("remedy other paper", "the file for your paper"),
    ("remedy units", "print from a PDF reader"),
    ("small loss", "this printer prints small"),
    ("true", "true: print all you need"),
    ("small gain", "this printer prints large"),
    (
        "squares measure",
        "Your 5 cm square (and your 2 in square) measures:",
    ),
    ("set it", "Set:"),
    (
        "near enough",
        "Half a millimetre (1\u{2044}64 in) is near enough. On small work one millimetre in fifty is too much: set it right, print the sheet again and measure again.",
    ),
    ("which pages", "Which pages"),
    ("which words", "Print only the pages of your size."),
    ("pages of file", "Page numbers are those of the file"),
    ("plates are on", "The plates are on"),
    ("print them", "Print them all."),
    ("pages", "pages"),
    ("for size", "for size"),
    ("print pages", "print pages"),
    ("there is", "what is there"),
    ("shared", "shared:"),
    (
        "layers words",
        "A PDF reader that lists layers shows each size alone, too: turn the others off before you print.",
    ),
    ("copy shop", "At a copy shop"),
    (
        "copy shop words",
        "All pieces also come on one large sheet.",
    ),
    ("copy shop file", "Give the shop this file:"),
    ("copy shop files", "Give the shop one of these files:"),
    (
        "copy shop say",
        "Ask for 100 %, not fitted to the page. Then measure the squares at both corners of the sheet, both ways.",
    ),
    ("by", "by"),
    ("wide", "wide"),
    ("pieces and key", "The pieces, and the key to lines"),
    ("pieces", "The pieces"),
    ("lines", "Lines and marks"),
    (
        "lines note",
        "Every line differs in shape, not only in weight or colour, so a poor photocopy still tells \
         them apart.",
    ),
    ("line cut", "Cut"),
    ("line cut words", "here, along the middle of the line."),
    ("line seam", "Seam"),
    ("line seam words", "sew here."),
    ("line fold", "Fold"),
    ("line fold words", "crease, or lay on a fold of the cloth."),
    ("line stitching", "Stitching"),
    ("line stitching words", "that shows, or that is sewn along."),
    ("line placing", "Placing"),
    ("line placing words", "where a piece or a button goes."),
    ("line grain", "Grain"),
    ("line grain words", "lay along the threads of woven cloth."),
    ("line notch", "Notch"),
    (
        "line notch words",
        "match to its pair. With a tick: centre.",
    ),
    ("line opening", "Hole, eyelet"),
    ("line opening words", "punch it, or set an eyelet."),
    ("line buttonhole", "Buttonhole"),
    ("line buttonhole words", "cut between the bars."),
    ("allowance", "Allowance"),
    (
        "allowance words",
        "The seam allowance is drawn on every piece: cut along the solid line, sew along the dashed \
         one. A piece without a dashed line has none.",
    ),
    ("safety", "Before you give it away"),
    ("safety stand", "The last quarter of an hour."),
    ("cautions", "Cautions"),
    (
        "safety note",
        "The rules where you live come first; this is no compliance advice. What is sold or given as \
         a toy must meet the toy rules of your country.",
    ),
    ("small parts", "Small parts"),
    ("small parts named", "In this pattern:"),
    (
        "small parts words",
        "Small hard parts come off and can choke. Sew them on firmly and tug each one; leave them \
         out for a child under three.",
    ),
    ("pins", "Needles and pins"),
    (
        "pins words",
        "Count them before you begin and again when you finish.",
    ),
    ("iron", "Hot iron"),
    (
        "iron words",
        "Set the heat by the cloth, and try it on a scrap. Treat anything fusible as its maker says.",
    ),
    ("cutter", "Rotary cutter"),
    (
        "cutter words",
        "Cut away from you, and close the blade whenever you put it down.",
    ),
    ("cords", "Ribbons and cords"),
    (
        "cords words",
        "A long ribbon or cord can wind round a small child's neck. Keep the ends short, and follow \
         the rules for toys where you live.",
    ),
    ("terms and contact", "Terms and contact"),
    ("terms", "Terms"),
    ("contact", "Contact"),
    ("age", "Whom it is for"),
    ("edition line", "Edition"),
    ("fit line", "Fitted"),
    ("fit note", "What trial shoes taught. It is in the pieces."),
    ("more", "more"),
    ("less", "less"),
    ("plates", "Plates"),
    ("plate", "Plate"),
    ("figure", "Figure"),
    ("in drawing", "In the drawing:"),
    ("ornament", "Ornament"),
    ("cover alt", "The pieces of the pattern, drawn flat."),
    ("notes", "Notes"),
    ("fitting sheet", "Fitting sheet"),
    ("fit what for", "What it is for"),
    (
        "fit what for words",
        "Try the fit on paper before any cloth is cut. Cut out the pieces at the end of this sheet \
         along their lines: these are the seam lines, without allowance. Lay the pieces over the \
         foot, or tape them edge to edge into a paper shoe. Note what is too tight, too wide or too \
         long; never cut cloth from these pieces.",
    ),
    ("fit before", "Before you cut"),
    (
        "fit before words",
        "Lay a rule along two sides of both squares: the one must measure 5 cm, the other 2 in. If \
         either is out by more than half a millimetre (1\u{2044}64 in), set the printer to 100 % and \
         print again.",
    ),
    ("fit caution", "Scissors and pins"),
    (
        "fit caution words",
        "Keep them away from small children. Use tape, not pins, where a foot goes into the shoe.",
    ),
    ("fit guide", "Where to measure"),
    (
        "fit guide words",
        "Numbers are those of the table that follows. Lines are dashed where the foot hides them. \
         Drawn is the foot of size",
    ),
    ("fit guide end", "Do not measure on the drawings."),
    (
        "fit below",
        "Each measure is the one used; on the line below it, write what you measure now.",
    ),
    ("fit measures", "Measures of the foot"),
    (
        "fit measures stand",
        "The pattern was drawn for the measures used. Measure again, and write down what you find.",
    ),
    (
        "fit strip",
        "Use a strip of paper 2 to 3 mm wide, drawn snug but not tight, and read it to half a \
      millimetre. Mark half way and ball on the foot before you begin.",
    ),
    ("fit number", "No."),
    ("fit used", "used"),
    ("fit now", "measured now"),
    ("fit corrections", "Corrections"),
    (
        "fit corrections stand",
        "One line for each thing to change. Change one or two at a time, and try again.",
    ),
    ("fit change", "what to change"),
    ("fit by", "by how much"),
    ("fit why", "why"),
    ("fit entry", "In design.yaml"),
    (
        "fit entry words",
        "Each line becomes one entry under \u{2018}fit\u{2019}: the words in italic after \
         \u{2018}change\u{2019}, and a minus before \u{2018}by\u{2019} for less. Without a size it holds for \
         every size.",
    ),
    (
        "fit entry drawn",
        "The pieces of this design are drawn by hand: change their drawings or measures, and say why \
         beside them. A design with \u{2018}shoe:\u{2019} takes such lines as entries under \
         \u{2018}fit\u{2019}.",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_template_asks_for_these_words_and_no_others() {
        let known: BTreeSet<&str> = ENGLISH.iter().map(|(key, _)| *key).collect();
        let mut asked = BTreeSet::new();
        for (name, text) in crate::booklet::template::FILES {
            for (at, _) in text.match_indices("w(\"") {
                let rest = &text[at + 3..];
                let (key, after) = rest.split_once('"').unwrap();
                if after.starts_with(')') && !text[..at].ends_with(|c: char| c.is_alphanumeric()) {
                    assert!(known.contains(key), "{key} in {name}");
                    asked.insert(key);
                }
            }
        }
        assert!(asked.len() > 60);
    }

    #[test]
    fn no_key_stands_twice() {
        let keys: BTreeSet<&str> = ENGLISH.iter().map(|(key, _)| *key).collect();
        assert_eq!(keys.len(), ENGLISH.len());
    }
}
