//! Whether what is printed can be read: no letters over each other or over lines, none cut off or
//! painted over, no line too thin. Millimetres.

use super::Page;
use super::over::{is_strike, on_line, over_letter};
use super::placed::FoundLine;
use crate::proof::letter::{Letter, Run, streamed};
use crate::proof::paint::{OPAQUE, Paint};
use crate::proof::{IntendedLine, Proof};
use kurbo::{Point, Rect, Shape};
use std::collections::BTreeSet;

/// A letter of whose box less than this share can be seen is cut.
const SEEN_FROM: f64 = 0.93;

/// Lines of plates thinner than this, mm, break up or are left out in print: a quarter of a point, the
/// hairline of the trade, is 0.088 mm (common practice). They are cut, sewn and joined along.
const THINNEST_ON_PLATE: f64 = 0.088;

/// Lines thinner than this, mm, no printer prints: one of 1200 dots to the inch sets dots of 0.0212 mm
/// (plain arithmetic). Drawings set small, with many pieces or much hatching, come near it.
const THINNEST: f64 = 0.021;

/// A line whose box is off that of a seam line by no more than this, mm, is it.
const SEAM_WITHIN: f64 = 0.05;

/// Words keep this far from lines where there is room, mm.
const CLEAR: f64 = 2.0;

/// A filled shape longer than this, mm, and as thin as a line is one.
const LINE_FROM: f64 = 3.0;

const CUT_OFF: &str = "cut off";

const OVER_REMEDY: &str = "Set the words clear of each other, in your own template too.";

const LINE_REMEDY: &str = "Set the words clear of lines, or bare the paper under them.";

const CUT_REMEDY: &str = "Give the words the room they need, and paint nothing over them.";

const THIN_REMEDY: &str = "Draw it thicker: from 0.2 mm on every printer keeps it.";

impl Proof {
    /// Looks at all pages; on `plates`, from 1, lines are looked at more strictly.
    /// `found` are the lines of pieces.
    pub(super) fn check_legible(
        &mut self,
        pages: &[Page<'_>],
        plates: &BTreeSet<usize>,
        found: &[FoundLine<'_>],
    ) {
        let whole = whole_runs(pages, plates);
        let mut sound = [true; 4];
        for page in pages {
            let plate = plates.contains(&page.number);
            sound[0] &= self.check_over(page);
            sound[1] &= self.check_on_line(page, plate, found);
            let joined = plate && !page.sheet.half_rings.is_empty();
            sound[2] &= self.check_cut(page, joined.then_some(&whole));
            sound[3] &= self.check_thin(page, if plate { THINNEST_ON_PLATE } else { THINNEST });
        }
        let passed = [
            ("text-over-text", "no words lie over each other"),
            ("text-over-line", "no words lie on a line"),
            ("text-cut", "no words are cut off or painted over"),
            ("line-too-thin", "no line is too thin to print"),
        ];
        for ((code, message), sound) in passed.into_iter().zip(sound) {
            if sound {
                self.note(code, None, true, message.to_string(), "");
            }
        }
    }

    fn check_over(&mut self, page: &Page<'_>) -> bool {
        let sheet = page.sheet;
        let Some((upper, under)) = over_letter(&sheet.letters, &sheet.paint) else {
            return true;
        };
        let bounds = sheet.letters[upper].bounds;
        let at = bounds.origin();
        let (upper, under) = (page.words_at(upper), page.words_at(under));
        let message = format!("“{upper}” lies over “{under}” at {}", place(at));
        self.note(
            "text-over-text",
            Some(page.number),
            false,
            message,
            OVER_REMEDY,
        );
        self.mark(bounds);
        false
    }

    /// On a plate the label of a piece may reach over its seam line, where it is narrower than the label.
    fn check_on_line(&mut self, page: &Page<'_>, plate: bool, found: &[FoundLine<'_>]) -> bool {
        let sheet = page.sheet;
        let seams = || {
            let of_page = found.iter().filter(|f| f.page == page.number);
            of_page
                .filter(|f| f.line == IntendedLine::Seam)
                .map(|f| f.bounds)
        };
        let meant = |letter: usize, line: &Paint, at: Point| {
            let Some(run) = page.run_at(letter) else {
                return false;
            };
            if plate {
                return is_narrow_seam(line, run, seams());
            }
            is_strike(line, at, run.bounds, sheet.letters[letter].em())
        };
        let Some((letter, at)) = on_line(&sheet.letters, &sheet.paint, meant) else {
            return true;
        };
        let words = page.words_at(letter);
        let message = format!("a line runs through “{words}” at {}", place(at));
        self.note(
            "text-over-line",
            Some(page.number),
            false,
            message,
            LINE_REMEDY,
        );
        self.mark(sheet.letters[letter].bounds);
        false
    }

    /// Words cut off on a sheet that is joined to others are let pass if a plate has them whole: a piece
    /// on several sheets goes on from one to the next with all its words.
    fn check_cut(&mut self, page: &Page<'_>, whole: Option<&BTreeSet<String>>) -> bool {
        let sheet = page.sheet;
        let is_elsewhere = |index: usize| {
            let words = streamed(&page.words_at(index));
            whole.is_some_and(|whole| whole.contains(&words))
        };
        let mut letters = sheet.letters.iter().enumerate();
        let cut = letters.find_map(|(index, letter)| {
            let how = match letter {
                _ if is_cut(letter) => CUT_OFF,
                _ if is_hidden(letter, &sheet.paint) => "painted over",
                _ => return None,
            };
            (how != CUT_OFF || !is_elsewhere(index)).then_some((index, how))
        });
        let Some((index, how)) = cut else {
            return true;
        };
        let at = sheet.letters[index].bounds.origin();
        let words = page.words_at(index);
        let message = format!("“{words}” is {how} at {}", place(at));
        self.note("text-cut", Some(page.number), false, message, CUT_REMEDY);
        self.mark(sheet.letters[index].bounds);
        false
    }

    fn check_thin(&mut self, page: &Page<'_>, least: f64) -> bool {
        let thin = page.sheet.paint.iter().filter(|paint| leaves_ink(paint));
        let thin = thin.filter_map(|paint| Some((thickness(paint)?, paint)));
        let Some((thickness, paint)) = thin.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return true;
        };
        if thickness >= least {
            return true;
        }
        let message = format!(
            "a line at {} is {thickness:.3} mm thin; {least} mm is the least that prints",
            place(paint.seen.origin())
        );
        self.note(
            "line-too-thin",
            Some(page.number),
            false,
            message,
            THIN_REMEDY,
        );
        self.mark(paint.seen);
        false
    }
}

/// Whether a line is one of `seams`, of a piece that has no room for the words.
fn is_narrow_seam(line: &Paint, words: &Run, mut seams: impl Iterator<Item = Rect>) -> bool {
    let own = line.path.control_box();
    let near = |a: f64, b: f64| (a - b).abs() <= SEAM_WITHIN;
    let is_own = |seam: &Rect| {
        let [a, b] = [seam.origin(), own.origin()];
        near(a.x, b.x) && near(a.y, b.y) && near(seam.width(), own.width())
    };
    let has_no_room = |seam: &Rect| {
        let (wide, high) = (words.bounds.width(), words.bounds.height());
        wide + 2.0 * CLEAR > seam.width() || high + 2.0 * CLEAR > seam.height()
    };
    seams.any(|seam| is_own(&seam) && has_no_room(&seam))
}

fn place(at: Point) -> String {
    format!("{:.1} mm across, {:.1} mm down", at.x, at.y)
}

/// What runs of the plates read that can be seen whole.
fn whole_runs(pages: &[Page<'_>], plates: &BTreeSet<usize>) -> BTreeSet<String> {
    let of_plates = pages.iter().filter(|page| plates.contains(&page.number));
    let mut whole = BTreeSet::new();
    for page in of_plates {
        for run in &page.runs {
            let letters = &page.sheet.letters[run.first..run.end];
            if !letters.iter().any(is_cut) {
                whole.insert(streamed(&run.text));
            }
        }
    }
    whole
}

/// Whether a clip or the edge of the page takes some of a letter away.
fn is_cut(letter: &Letter) -> bool {
    letter.seen.area() < SEEN_FROM * letter.bounds.area()
}

/// Whether what is painted later hides the middle of a letter.
fn is_hidden(letter: &Letter, paint: &[Paint]) -> bool {
    let middle = letter.bounds.center();
    let later = paint.iter().rev().take_while(|p| p.order > letter.order);
    later
        .filter(|p| p.stroke.is_none() && p.alpha >= OPAQUE)
        .any(|p| p.seen.contains(middle) && p.covers(middle))
}

fn leaves_ink(paint: &Paint) -> bool {
    let white = paint
        .colour
        .is_some_and(|colour| colour.iter().all(|c| *c > 0.995));
    !white && paint.seen.width().max(paint.seen.height()) > 0.0
}

/// How thin a line is, or a filled shape that looks like one; `None` for other shapes.
fn thickness(paint: &Paint) -> Option<f64> {
    if paint.stroke.is_some() {
        return paint.stroke;
    }
    let bounds = paint.path.control_box();
    let (least, most) = match bounds.width() < bounds.height() {
        true => (bounds.width(), bounds.height()),
        false => (bounds.height(), bounds.width()),
    };
    (most >= LINE_FROM && least > 0.0 && paint.path.area().abs() > 0.0).then_some(least)
}
