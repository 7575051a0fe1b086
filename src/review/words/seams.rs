//! Whether the steps sew every seam. A seam is sewn where a step that sews names it, draws it, or names
//! both its pieces; but a step that counts up the seams of two pieces sews only those that it names.

use super::super::names::{Names, has};
use super::super::text::{Chapter, Section, Word};
use super::super::{Subject, warning};
use super::section_has;
use crate::design::SeamSpec;
use crate::design::translation::SEAM_NAMES;
use crate::diagnostic::Diagnostics;
use std::collections::{BTreeMap, BTreeSet};

/// What one step says of seams and pieces.
struct Step {
    sews: bool,
    /// Seams it names.
    named: BTreeSet<usize>,
    /// Seams it draws.
    drawn: BTreeSet<usize>,
    /// Pieces it names or draws.
    pieces: BTreeSet<usize>,
    /// Pieces it names.
    spoken: BTreeSet<usize>,
    /// Seams of whose names it uses a part.
    hinted: BTreeSet<usize>,
    /// It goes all round, or over all that are left.
    whole: bool,
    round: bool,
}

pub(super) fn each_is_sewn(subject: &Subject, said: &mut Diagnostics) {
    let design = subject.design;
    // in a further language seams may have no names
    let named = design
        .seams
        .iter()
        .all(|seam| seam_name(subject, seam).is_some());
    if !named || !subject.lexicon.is_known() || !subject.text.has_steps() {
        return;
    }
    let steps = steps(subject);
    for (number, seam) in design.seams.iter().enumerate() {
        let joined = [
            subject.piece(&seam.join.piece),
            subject.piece(&seam.to.piece),
        ];
        let [Some(a), Some(b)] = joined else {
            continue;
        };
        let siblings: BTreeSet<usize> = of_the_same_pieces(&design.seams, seam);
        let covered = (0..steps.len()).any(|i| {
            let before = i.checked_sub(1).and_then(|i| steps.get(i));
            sews(&steps[i], before, number, [a, b], &siblings)
        });
        if !covered {
            let name = seam_name(subject, seam).unwrap_or(&seam.name);
            let titles = [a, b].map(|piece| design.pieces[piece].title.as_str());
            let message = match a == b {
                true => format!("no step sews the seam ‘{}’ of ‘{}’", name, titles[0]),
                false => format!(
                    "no step sews the seam ‘{}’, which joins ‘{}’ and ‘{}’",
                    name, titles[0], titles[1]
                ),
            };
            let remedy = "say in a step when it is sewn: by its name, or by those of its pieces";
            said.push(warning("seam-unmentioned", &seam.place, message, remedy));
        }
    }
}

/// The seams that join the same two pieces.
fn of_the_same_pieces(seams: &[SeamSpec], seam: &SeamSpec) -> BTreeSet<usize> {
    let pair = |seam: &SeamSpec| {
        let mut pair = [seam.join.piece.clone(), seam.to.piece.clone()];
        pair.sort();
        pair
    };
    let wanted = pair(seam);
    let all = seams.iter().enumerate();
    all.filter(|(_, other)| pair(other) == wanted)
        .map(|(i, _)| i)
        .collect()
}

/// Whether a step sews the seam `number` between the pieces `joined`.
fn sews(
    step: &Step,
    before: Option<&Step>,
    number: usize,
    joined: [usize; 2],
    siblings: &BTreeSet<usize>,
) -> bool {
    if step.named.contains(&number) || step.drawn.contains(&number) {
        return true;
    }
    if !step.sews {
        return false;
    }
    let counted_up = !step.named.is_disjoint(siblings) && !step.whole;
    if counted_up {
        return false;
    }
    let touched = |piece: &usize| step.pieces.contains(piece);
    let spoken = |piece: &usize| step.spoken.contains(piece);
    // the step before may have counted up the seams of its pieces; then `sew the hem` is none of them
    let goes_on = before.filter(|before| {
        before.whole || before.named.is_disjoint(siblings) || step.hinted.contains(&number)
    });
    let touched_before =
        |piece: &usize| goes_on.is_some_and(|before| before.pieces.contains(piece));
    let one = joined.iter().any(spoken);
    // ‘sew in the sleeves’ says not into what
    let alone = one && step.spoken.len() == 1;
    joined.iter().all(touched)
        || alone
        || (step.round && one)
        || (step.pieces.len() < 2 && joined.iter().all(|p| touched(p) || touched_before(p)))
}

fn steps(subject: &Subject) -> Vec<Step> {
    let pieces = subject.piece_names();
    let seams = seam_names(subject);
    let sections = subject.text.sections().filter(|(_, s)| s.step.is_some());
    sections
        .map(|(_, section)| step(subject, section, &pieces, &seams))
        .collect()
}

fn step(subject: &Subject, section: &Section, pieces: &Names, seams: &Names) -> Step {
    let has = |list: &str| section_has(subject.lexicon, list, section);
    let mut step = Step {
        sews: has("sew") || has("join"),
        named: BTreeSet::new(),
        drawn: BTreeSet::new(),
        pieces: BTreeSet::new(),
        spoken: BTreeSet::new(),
        hinted: hinted(subject, section),
        whole: has("whole"),
        round: has("round"),
    };
    let mut last: Vec<usize> = Vec::new();
    for sentence in &section.sentences {
        let named = seams.find(&sentence.words);
        step.named.extend(named_together(subject, &sentence.words));
        step.named.extend(named_by_half(subject, &sentence.words));
        let mut here: Vec<usize> = Vec::new();
        for mention in pieces.find(&sentence.words) {
            let inside = |seam: &&super::Mention| {
                seam.from <= mention.from && mention.to <= seam.to && seam.to - seam.from > 1
            };
            if named.iter().find(inside).is_none() {
                here.push(mention.of);
            }
        }
        if here.is_empty() {
            here.clone_from(&last);
        } else if !sentence.is_head {
            last.clone_from(&here);
        }
        step.spoken.extend(&here);
        for mention in named {
            let seam = &subject.design.seams[mention.of];
            let joins = |piece: &usize| {
                let key = &subject.design.pieces[*piece].key;
                *key == seam.join.piece || *key == seam.to.piece
            };
            let telling = mention.to - mention.from > 1;
            if telling || here.is_empty() || here.iter().any(joins) {
                step.named.insert(mention.of);
            }
        }
    }
    step.pieces.extend(&step.spoken);
    for figure in &section.figures {
        step.pieces
            .extend(figure.pieces.iter().filter_map(|key| subject.piece(key)));
        let mut seams = subject.design.seams.iter();
        let drawn = seams.position(|seam| Some(&seam.name) == figure.seam.as_ref());
        step.drawn.extend(drawn);
    }
    step
}

/// Seams of whose names a step uses a part: `bottom`, `Boden`.
fn hinted(subject: &Subject, section: &Section) -> BTreeSet<usize> {
    /// Shorter words begin too many others.
    const LONG_FROM: usize = 4;
    let general = seam_nouns(subject);
    let words = section.sentences.iter().flat_map(|s| &s.words);
    let said: BTreeSet<&str> = words.map(|word| word.noun.as_str()).collect();
    let is_part = |of: &str| {
        let begins = |word: &&str| word.len() >= LONG_FROM && of.starts_with(*word);
        said.contains(of) || said.iter().any(begins)
    };
    let seams = subject.design.seams.iter().enumerate();
    let hinted = seams.filter(|(_, seam)| {
        let name = seam_name(subject, seam).unwrap_or_default();
        let words = subject.lexicon.phrase(name).words;
        let mut own = words.iter().filter(|word| !general.contains(&word.noun));
        own.any(|word| is_part(&word.noun))
    });
    hinted.map(|(number, _)| number).collect()
}

/// Seams of which half a word stands before a hyphen: `Seiten-` of `Seiten- und Bodennaht`.
fn named_by_half(subject: &Subject, words: &[Word]) -> BTreeSet<usize> {
    let halves = words.iter().filter(|word| word.marks[1] == Some('-'));
    let halves: Vec<&str> = halves.map(|word| word.lower.as_str()).collect();
    let begins = |word: &str| {
        let half = halves.iter().find(|half| word.starts_with(**half));
        half.is_some_and(|half| *half != word)
    };
    let seams = subject.design.seams.iter().enumerate();
    let named = seams.filter(|(_, seam)| {
        let name = seam_name(subject, seam).unwrap_or_default();
        let words = subject.lexicon.phrase(name).words;
        words.iter().any(|word| begins(&word.lower))
    });
    named.map(|(number, _)| number).collect()
}

/// Seams that a sentence names together by what their names have in common, in the plural, in a language whose
/// plural shows: `sew the sides` for `left side` and `right side`. `Right sides together` speaks of cloth.
fn named_together(subject: &Subject, words: &[Word]) -> BTreeSet<usize> {
    let lexicon = subject.lexicon;
    if !lexicon.has_habit("plural shows") {
        return BTreeSet::new();
    }
    let of_cloth = |at: usize| {
        let before = at.checked_sub(1).and_then(|at| words.get(at));
        before.is_some_and(|word| lexicon.has_word("right or wrong", &word.lower))
    };
    let plurals: BTreeSet<String> = words
        .iter()
        .enumerate()
        .map(|(at, word)| (at, lexicon.noun(&word.lower), &word.lower))
        .filter(|(at, noun, word)| noun != *word && !of_cloth(*at))
        .map(|(_, noun, _)| noun)
        .collect();
    let seams = subject.design.seams.iter().enumerate();
    let named = seams.filter(|(_, seam)| {
        let name = seam_name(subject, seam).unwrap_or_default().to_lowercase();
        let mut words: Vec<&str> = name.split_whitespace().collect();
        if words
            .last()
            .is_some_and(|last| lexicon.has_word("seam", last))
        {
            words.pop();
        }
        let noun = words.pop().map(|noun| lexicon.noun(noun));
        !words.is_empty() && noun.is_some_and(|noun| plurals.contains(&noun))
    });
    named.map(|(number, _)| number).collect()
}

/// Whether a step of a translation names as many seams as the original, where those have no names in the
/// language: the seams called so, `side seam`, against the words that end so, `Seitennaht`. Silent where the
/// translation speaks of a seam without its name, of all of them, or sews more often.
pub(super) fn in_translation(
    (own, step): (&Subject, &Section),
    (other, chapter, translated): (&Subject, &Chapter, &Section),
    said: &mut Diagnostics,
) {
    let mut seams = own.design.seams.iter();
    let known = seams.any(|seam| seam_name(other, seam).is_some());
    if known || !other.lexicon.has_habit("compounds") {
        return;
    }
    let named = called_so(own, step);
    let (nouns, count) = words_that_end_so(other, translated);
    let ending = seam_nouns(other);
    let silent = nouns.is_empty()
        || nouns.iter().any(|word| ending.contains(&word.noun))
        || section_has(other.lexicon, "whole", translated)
        || times_sewn(other, translated) > times_sewn(own, step);
    if count < named.len() && !silent {
        let quoted = |names: BTreeSet<&str>| {
            let names: Vec<String> = names.iter().map(|name| format!("‘{name}’")).collect();
            names.join(" and ")
        };
        let message = format!(
            "this step sews {} in the design's own language, and here only {}",
            quoted(named.into_values().collect()),
            quoted(nouns.iter().map(|word| word.text.as_str()).collect())
        );
        let remedy = "name the same seams in both languages";
        let place = translated.place(chapter);
        said.push(warning("seam-unmentioned", &place, message, remedy));
    }
}

/// What a seam is called in general.
fn seam_nouns(subject: &Subject) -> Vec<String> {
    let list = subject.lexicon.list("seam").iter();
    let words = list.flat_map(|phrase| &phrase.words);
    words.map(|word| word.noun.clone()).collect()
}

/// Seams that a step names and whose names end in `seam`, by the word before it.
fn called_so<'s>(own: &'s Subject, section: &Section) -> BTreeMap<String, &'s str> {
    let nouns = seam_nouns(own);
    let step = step(own, section, &own.piece_names(), &seam_names(own));
    let names = step.named.into_iter().map(|number| {
        let name = own.design.seams[number].name.as_str();
        (own.lexicon.phrase(name), name)
    });
    let heads = names.filter_map(|(phrase, name)| match phrase.words.as_slice() {
        [.., before, last] if nouns.contains(&last.noun) => Some((before.noun.clone(), name)),
        _ => None,
    });
    heads.collect()
}

/// Nouns of a step that end in the word for a seam, and how many seams they name: `Seiten- und Bodennaht`
/// are two.
fn words_that_end_so<'t>(other: &Subject, section: &'t Section) -> (Vec<&'t Word>, usize) {
    let ending = seam_nouns(other);
    let bodies = section.sentences.iter().filter(|s| !s.is_head);
    let words: Vec<&Word> = bodies.flat_map(|sentence| &sentence.words).collect();
    let is_name = |word: &Word| word.text.starts_with(char::is_uppercase);
    let is_seam = |word: &Word| ending.iter().any(|end| word.noun.ends_with(end));
    let nouns = words.iter().copied().filter(|w| is_name(w) && is_seam(w));
    let nouns: Vec<&Word> = nouns.collect();
    let told: BTreeSet<&str> = nouns.iter().map(|word| word.noun.as_str()).collect();
    let parted = words.windows(3).filter(|three| {
        let link = other.lexicon.has_word("and or", &three[1].lower);
        link && is_name(three[0]) && told.contains(three[2].noun.as_str())
    });
    let count = told.len() + parted.count();
    (nouns, count)
}

/// How many words of a step say to sew.
fn times_sewn(subject: &Subject, section: &Section) -> usize {
    let list = subject.lexicon.list("sew");
    let bodies = section.sentences.iter().filter(|s| !s.is_head);
    let words = bodies.flat_map(|sentence| sentence.words.chunks(1));
    words.filter(|word| has(list, word)).count()
}

/// Names of the seams by their number.
pub(super) fn seam_names(subject: &Subject) -> Names {
    let mut names = Names::new(subject.lexicon);
    for (number, seam) in subject.design.seams.iter().enumerate() {
        if let Some(name) = seam_name(subject, seam) {
            names.add(name, number, subject.lexicon);
        }
    }
    names
}

/// What the text calls a seam; in a further language what its file says, if it does.
fn seam_name<'s>(subject: &'s Subject, seam: &'s SeamSpec) -> Option<&'s str> {
    let design = subject.design;
    match &design.original {
        None => Some(&seam.name),
        Some(_) => design.words.find(&format!("{SEAM_NAMES}.{}", seam.name)),
    }
}
