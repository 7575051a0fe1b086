//! Whether words and marks of a plate stand where they belong beside their pieces. Millimetres.
//!
//! Where the pieces lie is taken from their outlines as they were found; nothing is known of the page.

use super::Page;
use super::intended::{IntendedMark, IntendedPlace, IntendedPlate, IntendedWordsAt};
use super::letter::{Letter, streamed};
use crate::proof::Proof;
use kurbo::{Point, Rect, Vec2};

/// A stroke may lie this far from its place, mm, on each side.
const MARK_WITHIN: f64 = 0.2;

const REMEDY: &str = "Set words and marks where they come, in your own template too.";

/// A cut line as it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundCut<'a> {
    /// Its page, from 1.
    pub page: usize,
    /// Key of the piece.
    pub piece: &'a str,
    /// Key of the size.
    pub size: &'a str,
    /// Its box, also of what a clip hides.
    pub bounds: Rect,
}

impl Proof {
    /// Looks at the places on one plate. `found` are the cut lines of all pages.
    pub(super) fn check_places(
        &mut self,
        page: &Page<'_>,
        plate: &IntendedPlate,
        found: &[FoundCut<'_>],
    ) {
        // words that run into lines or other words are told already
        let is_told = |code: &str| matches!(code, "text-over-line" | "text-over-text" | "text-cut");
        let mut checks = self.checks.iter().filter(|check| !check.passed);
        if checks.any(|check| check.page == Some(page.number) && is_told(check.code)) {
            return;
        }
        let here: Vec<FoundCut<'_>> = found
            .iter()
            .filter(|f| f.page == page.number)
            .copied()
            .collect();
        let by: Vec<Option<Vec2>> = plate
            .places
            .iter()
            .map(|place| moved(place, &here, found))
            .collect();
        let by = |of: usize| by.get(of).copied().flatten();
        let stream = streamed(&page.text());
        let first = plate.words_at.iter().find_map(|words| {
            let at = words.at + by(words.of)?;
            // words that are nowhere are told already
            let lost = stream.contains(&streamed(&words.words)) && !stands(page, words, at);
            lost.then_some((words, at))
        });
        if let Some((words, at)) = first {
            let message = format!(
                "“{}” of {} does not stand {:.1} mm across, {:.1} mm down, where it belongs",
                words.words, words.what, at.x, at.y
            );
            self.note("label-place", Some(page.number), false, message, REMEDY);
            self.mark(Rect::from_center_size(at, (10.0, 5.0)));
        }
        let strokes = page.sheet.paint.iter().filter(|p| p.stroke.is_some());
        let strokes: Vec<Rect> = strokes.map(|paint| paint.path.control_box()).collect();
        let lost = |mark: &&IntendedMark| {
            by(mark.of).is_some_and(|by| !strokes.iter().any(|s| is_near(*s, mark.bounds + by)))
        };
        if let Some(mark) = plate.marks.iter().find(lost) {
            let at = mark.bounds + by(mark.of).unwrap_or_default();
            let message = format!(
                "{} is missing {:.1} mm across, {:.1} mm down",
                mark.what, at.x0, at.y0
            );
            self.note("label-place", Some(page.number), false, message, REMEDY);
            self.mark(at);
        }
        if first.is_none() && !plate.marks.iter().any(|mark| lost(&mark)) {
            let message = "words and marks stand beside their pieces".to_string();
            self.note("label-place", Some(page.number), true, message, "");
        }
    }
}

/// How the plate lies on the page, as its piece tells; nothing if the piece is not found in all sizes, or
/// if others have a box as large: of those it is not known which is which.
fn moved(place: &IntendedPlace, here: &[FoundCut<'_>], all: &[FoundCut<'_>]) -> Option<Vec2> {
    let mut whole: Option<Rect> = None;
    for size in &place.sizes {
        let mut of_size = here
            .iter()
            .filter(|f| f.piece == place.piece && f.size == *size);
        let found = of_size.next()?.bounds;
        let others = all
            .iter()
            .filter(|f| f.piece != place.piece || f.size != *size);
        if others.map(|f| f.bounds).any(|other| as_large(other, found)) {
            return None;
        }
        whole = Some(whole.map_or(found, |all| all.union(found)));
    }
    Some(whole?.origin() - place.cut.origin())
}

/// Whether two boxes are equally large, lying or standing.
fn as_large(a: Rect, b: Rect) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= MARK_WITHIN;
    let same = |width: f64, height: f64| near(a.width(), width) && near(a.height(), height);
    same(b.width(), b.height()) || same(b.height(), b.width())
}

fn is_near(a: Rect, b: Rect) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= MARK_WITHIN;
    near(a.x0, b.x0) && near(a.y0, b.y0) && near(a.x1, b.x1) && near(a.y1, b.y1)
}

/// Whether the words stand at `at`.
fn stands(page: &Page<'_>, wanted: &IntendedWordsAt, at: Point) -> bool {
    let words = streamed(&wanted.words);
    let letters = &page.sheet.letters;
    let reach = |letter: &Letter| match wanted.centred {
        // half its own length away at most
        true => wanted.within + wanted.words.chars().count() as f64 * letter.em(),
        false => wanted.within,
    };
    let starts = letters.iter().enumerate().filter(|(_, letter)| {
        let text = streamed(&letter.text);
        !text.is_empty()
            && words.starts_with(&text)
            && letter.origin().distance(at) <= reach(letter)
    });
    words.is_empty()
        || starts.map(|(index, _)| &letters[index..]).any(|rest| {
            let Some(count) = spelled(rest, &words) else {
                return false;
            };
            let (first, last) = (&rest[0], &rest[count - 1]);
            let start = first.origin();
            let place = match first.along() {
                Some(along) if wanted.centred => start + along * (last.span(start, along).1 / 2.0),
                _ => start,
            };
            place.distance(at) <= wanted.within
        })
}

/// How many letters from the first on spell `words`.
fn spelled(letters: &[Letter], words: &str) -> Option<usize> {
    let mut rest = words;
    for (index, letter) in letters.iter().enumerate() {
        rest = rest.strip_prefix(streamed(&letter.text).as_str())?;
        if rest.is_empty() {
            return Some(index + 1);
        }
    }
    None
}
