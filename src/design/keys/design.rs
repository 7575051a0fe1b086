//! Keys of a design besides its pieces and seams.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const DESIGN: &[KeyEntry] = &[
    key(
        "title",
        "Name of the design, as printed. Required.",
        "title: Harvest bar shoe",
    ),
    key(
        "edition",
        "Number of this edition: three numbers. Required.",
        "edition: 1.0.0",
    ),
    key(
        "series",
        "The collection the design belongs to.",
        "series: Patterns from the harvest fair",
    ),
    key(
        "by",
        "Who made it, as printed.",
        "by: The doll stall at the harvest fair",
    ),
    key(
        "skill",
        "What the buyer should be able to do, in words.",
        "skill: confident beginner",
    ),
    key(
        "about",
        "One or two sentences for the cover. Required.",
        "about: A round-toed felt shoe with a strap and one button.",
    ),
    key(
        "makes",
        "What the numbers of cut pieces are for. Default: one.",
        "makes: one pair",
    ),
    key(
        "age",
        "Whom the finished thing is for.",
        "age: for display, or for children over 8",
    ),
    key(
        "terms",
        "What the buyer may do with the pattern.",
        "terms: Sew as many as you like.",
    ),
    key(
        "contact",
        "Where corrections can be sent.",
        "contact: corrections@harvest-fair.example",
    ),
    key(
        "languages",
        "Languages of the texts, as tags, that of design.yaml first; the others stand in design.TAG.yaml \
         and booklet.TAG. Default: en.",
        "languages: [en, de]",
    ),
    key(
        "paper",
        "Papers the pattern is sold for: a4, letter, either (what both have in common), a3, legal, tabloid; \
         a2, a1, a0, roll24 and roll36 for as few large sheets as hold all pieces; or a size of your own. \
         Required.",
        "paper: [a4, letter, a0, 13 in x 19 in]",
    ),
    key(
        "forms",
        "Further forms of the instructions: stapled, large print, ink saving, print shop. Default: none.",
        "forms: [stapled, large print]",
    ),
    key(
        "plates",
        "What the true-scale pages look like.",
        "plates: {sizes: nested}",
    ),
    key(
        "plates.sizes",
        "How the sizes of a piece stand on the plates: side by side, each by itself, or nested, drawn over \
         each other. Default: side by side.",
        "sizes: nested",
    ),
    key(
        "lengths",
        "How lengths are printed.",
        "lengths: {first: metric, nearest: 1/16 in}",
    ),
    key(
        "lengths.first",
        "Which unit stands first, metric or inch. Default: metric.",
        "first: inch",
    ),
    key(
        "lengths.other",
        "Whether the other unit follows in brackets: brackets or none. Default: as the language has it; in \
         German none.",
        "other: none",
    ),
    key(
        "lengths.nearest",
        "The finest inch in print: 1 in, 1/2 in … 1/64 in. Default: 1/16 in.",
        "nearest: 1/16 in",
    ),
    key(
        "measures",
        "Values with a name, for use in formulas: lengths, numbers, areas.",
        "measures: {seam: 3/16 in, felt: 1.2 mm}",
    ),
    key(
        "sizes",
        "The sizes of the design, at least one. Required.",
        "sizes: {one: {}}",
    ),
    key(
        "sizes.SIZE",
        "A size, by its short name.",
        "small: {title: Small, foot: feet/small.yaml}",
    ),
    key(
        "sizes.SIZE.title",
        "The size as printed. Default: its short name.",
        "title: Small",
    ),
    key(
        "sizes.SIZE.words",
        "Words after the title.",
        "words: for a foot of 45 mm",
    ),
    key(
        "sizes.SIZE.foot",
        "The file of the foot it is drafted for, or another size's foot graded.",
        "foot: feet/small.yaml",
    ),
    key(
        "sizes.SIZE.foot.from",
        "Another size before this one whose foot is made larger or smaller.",
        "from: small",
    ),
    key(
        "sizes.SIZE.foot.length",
        "How long it is against that foot: a share.",
        "length: 120 %",
    ),
    key(
        "sizes.SIZE.foot.girth",
        "How large across and up against that foot: a share.",
        "girth: 115 %",
    ),
    key(
        "sizes.SIZE.foot.measures",
        "Measures that are not as graded.",
        "measures: {toe height: 7 mm}",
    ),
    key(
        "sizes.SIZE.measures",
        "Measures that have another value in this size.",
        "measures: {seam: 1/8 in}",
    ),
    key(
        "finished",
        "What can be measured on the finished thing, by its printed name: formulas.",
        "finished: {width: pouch.width, height: pouch.height}",
    ),
    key(
        "care",
        "How the finished thing is cared for, in words, in the order of ISO 3758.",
        "care: {wash: by hand in cool water, iron: 'cool, through a cloth'}",
    ),
    key(
        "care.wash",
        "How it is washed.",
        "wash: by hand in cool water",
    ),
    key(
        "care.bleach",
        "Whether it may be bleached.",
        "bleach: do not",
    ),
    key(
        "care.dry",
        "How it is dried.",
        "dry: flat, away from the stove",
    ),
    key(
        "care.iron",
        "How it is ironed.",
        "iron: cool, through a cloth",
    ),
    key(
        "care.professional",
        "Whether it may be cleaned professionally.",
        "professional: do not",
    ),
    key(
        "glossary",
        "Words of the text and what they mean, besides those of the house's own list. Only words that the \
         text uses are printed.",
        "glossary: {gleaner: Someone who picks up the ears that the reapers left.}",
    ),
    key(
        "accepted",
        "Warnings that you have looked at and let stand, each with the reason, which the report of the proof \
         prints. Errors cannot be accepted.",
        "accepted: [{code: tool-unmentioned, of: ruler, reason: it is there for the test square}]",
    ),
    key(
        "accepted.code",
        "Code of the warning. Required.",
        "code: tool-unmentioned",
    ),
    key(
        "accepted.of",
        "What it speaks of, as the message has it: a piece, a tool, a word, or its file. Default: every \
         warning of that code.",
        "of: ruler",
    ),
    key(
        "accepted.reason",
        "Why it may stand, in words. Required.",
        "reason: it is there for the test square",
    ),
    key(
        "editions",
        "What earlier editions changed, for those who bought one.",
        "editions: [{edition: 1.0.1, on: 2026-10-01, changed: The strap is longer in Large.}]",
    ),
    key(
        "editions.edition",
        "Number of the edition. Required.",
        "edition: 1.0.1",
    ),
    key(
        "editions.on",
        "The day, year first. Required.",
        "on: 2026-10-01",
    ),
    key(
        "editions.changed",
        "What was changed, in words. Required.",
        "changed: The strap is longer in Large.",
    ),
    key(
        "formerly",
        "What the folder, or the title, of this design was before, where both changed since an edition was \
         released: so it knows its editions again. Default: none.",
        "formerly: [needle-book]",
    ),
    key(
        "faults",
        "What was wrong in editions that were sold: the change sheet tells those who bought one.",
        "faults: [{edition: 1.0.0, plates: [2], wrong: A notch of the toe was missing., do: Print plate 2 again.}]",
    ),
    key(
        "faults.edition",
        "Number of the edition that had the fault. Required.",
        "edition: 1.0.0",
    ),
    key(
        "faults.plates",
        "Numbers of the plates concerned.",
        "plates: [2, 3]",
    ),
    key(
        "faults.wrong",
        "What was wrong, in words. Required.",
        "wrong: A notch of the toe was missing.",
    ),
    key(
        "faults.do",
        "What the buyer should do, in words. Required.",
        "do: Print plate 2 again.",
    ),
];
