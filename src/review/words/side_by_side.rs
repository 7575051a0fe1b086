//! A step beside the same step in another language: its figures, its cautions, the numbers of what it counts, and
//! words of which the one excludes the other.

use super::super::lexicon::Phrase;
use super::super::text::{Chapter, Figure, Section, Word};
use super::super::{Subject, warning};
use crate::booklet::FigureRequest;
use crate::diagnostic::{Diagnostics, Place};
use crate::figure::flat::request::{FlatRequest, Named, Scene, Shown};
use std::collections::BTreeSet;

/// A step with its design and chapter.
pub(super) type Step<'s> = (&'s Subject<'s>, &'s Chapter, &'s Section);

/// Tells of all in which a step of a translation differs from the original.
pub(super) fn steps(own: Step<'_>, other: Step<'_>, said: &mut Diagnostics) {
    let place = other.2.place(other.1);
    figures(&own, &other, &place, said);
    cautions(own.2.cautions, other.2.cautions, ("step", &place), said);
    counts(&own, &other, &place, said);
    opposites(&own, &other, &place, said);
}

/// Cautions that one language lacks.
pub(super) fn cautions(
    own: usize,
    other: usize,
    (what, place): (&str, &Place),
    said: &mut Diagnostics,
) {
    if own != other {
        let number = |count: usize| match count {
            0 => "no caution".to_string(),
            1 => "one caution".to_string(),
            count => format!("{count} cautions"),
        };
        let message = format!(
            "this {what} has {}, and in the design's own language {}",
            number(other),
            number(own)
        );
        let remedy = "warn of the same things in every language";
        said.push(warning("language-cautions-differ", place, message, remedy));
    }
}

/// Figures that one language lacks, or that draw something else.
fn figures(own: &Step<'_>, other: &Step<'_>, place: &Place, said: &mut Diagnostics) {
    let [mine, theirs] = [own, other].map(|step| step.2.figures.as_slice());
    let remedy = "show the same figures in every language";
    if mine.len() != theirs.len() {
        let message = format!(
            "this step has {} of the {} figures of the design's own language",
            theirs.len(),
            mine.len()
        );
        let message = match theirs.len() > mine.len() {
            true => format!(
                "this step has {} figures, and in the design's own language {}",
                theirs.len(),
                mine.len()
            ),
            false => message,
        };
        said.push(warning("language-figures-differ", place, message, remedy));
        return;
    }
    for (mine, theirs) in mine.iter().zip(theirs) {
        let Some((what, mine, other)) = difference(mine, theirs) else {
            continue;
        };
        let name = theirs.name.as_deref().unwrap_or_default().replace('_', " ");
        let message = format!(
            "the figure ‘{name}’ has other {what} than in the design's own language: {other}, and \
             there {mine}"
        );
        let place = &theirs.place;
        said.push(warning("language-figures-differ", place, message, remedy));
    }
}

/// What two figures draw otherwise: what it is, in the one and in the other.
fn difference(own: &Figure, other: &Figure) -> Option<(&'static str, String, String)> {
    let (own, other) = (own.request.as_ref()?, other.request.as_ref()?);
    let pairs = essence(own).into_iter().zip(essence(other));
    let mut differing = pairs.filter(|(a, b)| a.1 != b.1);
    differing.next().map(|((what, own), (_, other))| {
        let told = |text: String| match text.is_empty() {
            true => "none".to_string(),
            false => text,
        };
        (what, told(own), told(other))
    })
}

/// What a figure draws, without the names that are translated, those of marks and lines.
fn essence(request: &FigureRequest) -> Vec<(&'static str, String)> {
    let mut all = vec![
        ("sizes", request.size.clone().unwrap_or_default()),
        ("views", view(request)),
    ];
    let Some(flat) = &request.flat else {
        return all;
    };
    all.push(("pieces", scene(&flat.scene)));
    all.push(("rows of stitches", rows(flat)));
    let trims = flat.trims.iter().map(|trim| {
        let to = trim.to.as_ref().map_or("", |to| to.text.as_str());
        format!("{} {to}", names(&trim.edges))
    });
    all.push(("trimmed edges", trims.collect::<Vec<_>>().join("; ")));
    let opening = flat.opening.as_ref();
    let opening = opening.map(|gap| format!("{}, {}", gap.edge.text, gap.length.text));
    all.push(("gaps", opening.unwrap_or_default()));
    let gather = flat.gather.as_ref().map(|gather| gather.edge.text.clone());
    all.push(("gathers", gather.unwrap_or_default()));
    let letters = flat.letters.iter().map(|letter| letter.letter.as_str());
    all.push(("letters", letters.collect::<Vec<_>>().join(", ")));
    all
}

/// From where the shoe is seen, and in which state of the making.
fn view(request: &FigureRequest) -> String {
    let shoe = request.shoe.map(|view| format!("{view:?}"));
    let making = request.making.map(|step| format!("{:?}", step.state));
    shoe.or(making).unwrap_or_default().to_lowercase()
}

fn scene(scene: &Scene) -> String {
    let piece = |shown: &Shown| {
        let side = shown
            .side
            .map(|side| format!(" ({side:?} side)").to_lowercase());
        format!("{}{}", shown.piece.text, side.unwrap_or_default())
    };
    let list = |all: &[Shown]| all.iter().map(piece).collect::<Vec<_>>().join(", ");
    match scene {
        Scene::Apart(all) => list(all),
        Scene::Together(all) => format!("{} laid together", list(all)),
        Scene::On {
            piece: on, ground, ..
        } => format!("{} on {}", piece(on), piece(ground)),
        Scene::Seam { name, together, .. } => {
            let laid = if *together { " laid together" } else { "" };
            format!("seam {}{laid}", name.text)
        }
        Scene::Fold { piece: folded, .. } => format!("{} folded", piece(folded)),
        Scene::Hem {
            piece: of, edge, ..
        } => format!("{}, hem {}", piece(of), edge.text),
    }
}

fn rows(flat: &FlatRequest) -> String {
    let rows = flat.stitching.iter().map(|row| {
        let piece = row.piece.as_ref().map_or("", |piece| piece.text.as_str());
        let inside = row
            .inside
            .as_ref()
            .map_or("", |inside| inside.text.as_str());
        let all = [piece.to_string(), names(&row.edges), inside.to_string()];
        let told = all.into_iter().filter(|text| !text.is_empty());
        let told = told.collect::<Vec<_>>().join(" ");
        format!("{told} {}", row.look.words()).trim().to_string()
    });
    rows.collect::<Vec<_>>().join("; ")
}

fn names(edges: &[Named]) -> String {
    let mut names: Vec<&str> = edges.iter().map(|edge| edge.text.as_str()).collect();
    names.sort_unstable();
    names.join(", ")
}

/// ‘Two rows’ in one language and ‘three’ in the other.
fn counts(own: &Step<'_>, other: &Step<'_>, place: &Place, said: &mut Diagnostics) {
    let [mine, theirs] = [own, other].map(|step| step.0.lexicon.list("counted"));
    for (mine, theirs) in mine.iter().zip(theirs) {
        let numbers = [(own, mine), (other, theirs)].map(|(step, thing)| counted(step, thing));
        let [a, b] = &numbers;
        if a.is_empty() || b.is_empty() || !a.is_disjoint(b) {
            continue;
        }
        let told = |numbers: &BTreeSet<u32>| {
            let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
            numbers.join(", ")
        };
        let message = format!(
            "this step counts {} of ‘{}’, and in the design's own language {}",
            told(b),
            theirs.text,
            told(a)
        );
        let remedy = "count the same in every language";
        said.push(warning("language-words-differ", place, message, remedy));
    }
}

/// Numbers from two on that stand before a thing in a step, with at most one word between.
fn counted(step: &Step<'_>, thing: &Phrase) -> BTreeSet<u32> {
    let (subject, _, section) = step;
    let lexicon = subject.lexicon;
    let mut found = BTreeSet::new();
    for sentence in section.body() {
        let words = &sentence.words;
        for at in (0..words.len()).filter(|at| words[*at].noun == thing.words[0].noun) {
            let before = (at.saturating_sub(2)..at).rev();
            let parted = |from: usize| words[from + 1..=at].iter().any(|word| word.parted);
            let number = before.filter(|from| !parted(*from)).find_map(|from| {
                let lower = &words[from].lower;
                let both = lexicon.has_word("both", lower).then_some(2);
                both.or_else(|| lexicon.number(lower))
            });
            found.extend(number.filter(|number| *number > 1));
        }
    }
    found
}

/// ‘Inner’ in one language alone, and ‘outer’ in the other alone.
fn opposites(own: &Step<'_>, other: &Step<'_>, place: &Place, said: &mut Diagnostics) {
    let [mine, theirs] = [own, other].map(|step| step.0.lexicon.list("opposites"));
    for (mine, theirs) in mine.iter().zip(theirs) {
        let [a, b] = [(own, mine), (other, theirs)].map(|(step, pair)| one_of(step, pair));
        if let (Some((a, mine)), Some((b, theirs))) = (a, b)
            && a != b
        {
            let message = format!(
                "this step speaks of ‘{theirs}’, and in the design's own language of ‘{mine}’"
            );
            let remedy = "say the same in every language";
            said.push(warning("language-words-differ", place, message, remedy));
        }
    }
}

/// Which of the two of a pair a step speaks of, if of one alone, and the words for it.
fn one_of(step: &Step<'_>, pair: &Phrase) -> Option<(usize, String)> {
    let (subject, _, section) = step;
    let (first, second) = pair.text.split_once('|')?;
    let found = [first, second].map(|list| {
        let mut phrases = list.split(',').map(str::trim);
        phrases.find(|phrase| {
            let phrase = subject.lexicon.phrase(phrase);
            let sentences = section.sentences.iter().filter(|s| !s.is_caution);
            sentences.into_iter().any(|s| stands_so(&phrase, &s.words))
        })
    });
    match found {
        [Some(words), None] => Some((0, words.to_string())),
        [None, Some(words)] => Some((1, words.to_string())),
        _ => None,
    }
}

/// Whether the words of a phrase stand somewhere in just this form.
fn stands_so(phrase: &Phrase, words: &[Word]) -> bool {
    let long = phrase.words.len();
    long > 0
        && words.windows(long).any(|here| {
            let pairs = here.iter().zip(&phrase.words);
            pairs
                .enumerate()
                .all(|(n, (word, wanted))| word.lower == wanted.lower && (n == 0 || !word.parted))
        })
}
