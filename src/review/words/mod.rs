//! What the words say of the pieces, and of each other.

mod allowances;
mod captions;
mod closing;
mod counts;
mod cut_trims;
mod edges;
mod features;
mod figures;
mod finished;
mod gaps;
mod glossary;
pub(super) mod languages;
mod leftovers;
mod lengths;
mod letters;
mod mentions;
mod notches;
mod order;
mod pairs;
mod seams;
mod sewn_twice;
mod shown;
mod side_by_side;
mod sizes;
mod slips;
mod spelling;
mod stitches;
mod supplies;
mod titles;
mod totals;
mod typed;
mod unlisted;
mod values;

use super::lexicon::Lexicon;
use super::names::{Mention, Names};
use super::text::{Section, Sentence, Word};
use super::{Check, Subject};

/// What the text says of the design, in the order in which it is looked at.
pub(super) const OF_FACTS: &[Check] = &[
    mentions::pieces,
    seams::each_is_sewn,
    supplies::each_is_used,
    unlisted::tools,
    unlisted::materials,
    unlisted::pieces,
    order::cut_before_sewn,
    closing::turned_before_closed,
    gaps::lengths,
    gaps::closed,
    sewn_twice::seams,
    counts::pieces_and_cloths,
    totals::pieces,
    totals::trims,
    pairs::even,
    cut_trims::counts,
    cut_trims::all_pieces,
    stitches::as_the_thread,
    stitches::within_the_allowance,
    shown::together,
    shown::side,
    shown::stitch,
    edges::hems,
    edges::gaps,
    edges::long_and_short,
    edges::rows,
    allowances::as_drawn,
    typed::from_the_edge,
    typed::hems,
    typed::trimmed,
    notches::as_many,
    features::notches,
    features::bias,
    features::machine,
    features::needles,
    glossary::words,
];

/// What can be seen in the text alone.
pub(super) const OF_FORM: &[Check] = &[
    spelling::names,
    spelling::doubled,
    finished::unfinished,
    leftovers::of_writing,
    sizes::of_the_design,
    lengths::both_units,
    slips::units,
    slips::sentences,
    figures::references,
    figures::captions,
    captions::seams,
    captions::sizes,
    letters::of_figures,
    figures::steps,
    figures::typed,
    values::directions,
    typed::of_sizes,
    titles::shared,
    titles::marks,
    features::fold,
    languages::mixed,
];

impl Subject<'_> {
    /// Names of the pieces by their number in the design: titles, short names, and the last word of each
    /// title that no other has. Names of seams are phrases of their own.
    fn piece_names(&self) -> Names {
        let lexicon = self.lexicon;
        let mut names = Names::new(lexicon);
        let pieces = || self.design.pieces.iter().enumerate();
        for (number, piece) in pieces() {
            names.add(&piece.title, number, lexicon);
        }
        let is_own = self.design.original.is_none();
        for (number, piece) in pieces().filter(|_| is_own) {
            names.add(&piece.key, number, lexicon);
        }
        for (number, short) in self.short_names() {
            names.add(&short, number, lexicon);
        }
        names
    }

    /// Last words of titles that no other piece has in its name, and first words of titles that end in
    /// ‘piece’.
    fn short_names(&self) -> Vec<(usize, String)> {
        let lexicon = self.lexicon;
        let phrases: Vec<_> = self
            .design
            .pieces
            .iter()
            .map(|p| lexicon.phrase(&p.title))
            .collect();
        let mut short = Vec::new();
        for (number, phrase) in phrases.iter().enumerate() {
            let [.., before, last] = phrase.words.as_slice() else {
                continue;
            };
            let general = lexicon
                .list("pattern")
                .iter()
                .any(|p| p.words.len() == 1 && p.words[0].noun == last.noun);
            let word = if general { before } else { last };
            let others = phrases
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != number);
            let mut others = others.flat_map(|(_, other)| &other.words);
            if !others.any(|other| other.noun == word.noun) && word.lower.chars().count() > 3 {
                short.push((number, word.lower.clone()));
            }
        }
        short
    }

    /// Pieces that a sentence names.
    fn pieces_in(&self, names: &Names, sentence: &Sentence) -> Vec<Mention> {
        names.find(&sentence.words)
    }

    /// Number of the piece with this key.
    fn piece(&self, key: &str) -> Option<usize> {
        self.design.pieces.iter().position(|piece| piece.key == key)
    }

    /// Names of the cloths by their number; a short one only where it can mean no other.
    fn cloth_names(&self) -> Names {
        let lexicon = self.lexicon;
        let mut names = Names::default();
        let cloths = &self.design.cloth;
        for (number, cloth) in cloths.iter().enumerate() {
            names.add(&cloth.name, number, lexicon);
        }
        let head = |name: &str| super::names::head_noun(name, lexicon);
        for (number, cloth) in cloths.iter().enumerate() {
            let Some(noun) = head(&cloth.name) else {
                continue;
            };
            let mut others = cloths
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != number);
            let shared = others.any(|(_, other)| {
                lexicon
                    .phrase(&other.name)
                    .words
                    .iter()
                    .any(|word| word.noun == noun)
            });
            if !shared {
                names.add(&noun, number, lexicon);
            }
        }
        names
    }
}

/// Whether any word of a section is a word of `list`, heads and all.
fn section_has(lexicon: &Lexicon, list: &str, section: &Section) -> bool {
    let phrases = lexicon.list(list);
    let mut sentences = section.sentences.iter();
    sentences.any(|sentence| super::names::has(phrases, &sentence.words))
}

/// Whether one of the words is a word of `list`.
fn words_have(lexicon: &Lexicon, list: &str, words: &[Word]) -> bool {
    super::names::has(lexicon.list(list), words)
}
