//! What is to be read on a plate: head and foot, labels and names, and the names of the test squares.
//! Millimetres; type in points.

use super::Page;
use super::placed::FoundLine;
use crate::proof::Proof;
use crate::proof::intended_words::{IntendedLabel, IntendedPlate, IntendedWords};
use crate::proof::letter::{Letter, Run, streamed};
use crate::proof::square::Square;

/// Words on a plate are no smaller than this, points: below it print of home printers is hard to read
/// (common practice); the house sets 7.2 and more.
const WORDS_FROM: f64 = 6.0;

/// Figures beside ticks are no smaller than this, points: a scale is read by its steps too.
const FIGURES_FROM: f64 = 5.0;

/// Sizes may be smaller by this, points: the rounding of a PDF's numbers.
const POINTS_SLACK: f64 = 0.05;

const SQUARE_REMEDY: &str = "Name each square by the length of its own sides.";

const LABEL_REMEDY: &str = "Print the labels as they come, in your own template too.";

const FOOT_REMEDY: &str =
    "Print head and foot of the plates as they come, in your own template too.";

impl Proof {
    /// Looks at the words of all plates, which are the last of `pages`.
    pub(super) fn check_plate_words(
        &mut self,
        pages: &[Page<'_>],
        intended: &IntendedWords,
        found: &[FoundLine<'_>],
    ) {
        let Some(first) = pages.len().checked_sub(intended.plates.len()) else {
            return; // the labels of the pages tell it
        };
        let mut sound = true;
        for (page, plate) in pages[first..].iter().zip(&intended.plates) {
            let stream = streamed(&page.text());
            sound &= self.check_foot(page, &stream, plate);
            let told = self.check_labels_of(page, &stream, plate);
            if told {
                self.check_places(page, plate, found);
            }
            sound &= told;
        }
        if sound && !intended.plates.is_empty() {
            let said = "every plate has its words";
            for code in ["plate-edition", "plate-scale-words", "label-disagrees"] {
                self.note(code, None, true, said.to_string(), "");
            }
        }
    }

    /// Whether head and foot say what they should.
    fn check_foot(&mut self, page: &Page<'_>, stream: &str, plate: &IntendedPlate) -> bool {
        let missing = |words: &String| !stream.contains(&streamed(words));
        let mut faults = Vec::new();
        if missing(&plate.edition) {
            let message = format!("the plate does not say “{}”", plate.edition);
            faults.push(("plate-edition", message));
        }
        if let Some(words) = plate.scale.iter().find(|words| missing(words)) {
            faults.push((
                "plate-scale-words",
                format!("the plate does not say “{words}”"),
            ));
        }
        let number = plate.page.replace("{n}", &page.number.to_string());
        for (words, what) in [(&plate.head, "headed"), (&number, "numbered")] {
            if !page.runs.iter().any(|run| says(run, words)) {
                faults.push(("page-number", format!("the plate is not {what} “{words}”")));
            }
        }
        let sound = faults.is_empty();
        for (code, message) in faults {
            self.note(code, Some(page.number), false, message, FOOT_REMEDY);
        }
        sound
    }

    /// Whether all labels and names stand on a plate, and tell the pieces rightly.
    fn check_labels_of(&mut self, page: &Page<'_>, stream: &str, plate: &IntendedPlate) -> bool {
        let whole: Vec<String> = plate.labels.iter().map(|l| streamed(&l.concat())).collect();
        let mut faults: Vec<String> = Vec::new();
        for (lines, label) in plate.labels.iter().zip(&whole) {
            if !stream.contains(label) {
                faults.push(missing_line(lines, stream));
            }
        }
        for name in &plate.names {
            if !stream.contains(&streamed(name)) {
                faults.push(format!("“{name}” is not on the plate"));
            }
        }
        let told = plate
            .pieces
            .iter()
            .flat_map(|piece| wrong_cut(piece, &whole));
        faults.extend(told);
        let sound = faults.is_empty();
        for message in faults {
            self.note(
                "label-disagrees",
                Some(page.number),
                false,
                message,
                LABEL_REMEDY,
            );
        }
        sound
    }

    /// Whether a square is named by the length of its sides. `name` is its own, `others` are those it
    /// must not have.
    pub(in crate::proof) fn check_square_name(
        &mut self,
        (letters, page): (&[Letter], usize),
        square: &Square,
        (name, others): (&str, &[String]),
    ) {
        let room = square.room();
        let inside = letters.iter().filter(|l| room.contains(l.bounds.center()));
        let text = streamed(&inside.map(|letter| &*letter.text).collect::<String>());
        let side = square.side;
        let stranger = others
            .iter()
            .find(|other| *other != name && text.contains(&streamed(other)));
        let right = text.contains(&streamed(name)) && stranger.is_none();
        let message = match (right, stranger) {
            (true, _) => format!("the square of {side} mm is named “{name}”"),
            (false, Some(other)) => {
                format!("the square of {side} mm is named “{other}”, not “{name}”")
            }
            (false, None) => format!("the square of {side} mm is not named “{name}”"),
        };
        self.note("square-name", Some(page), right, message, SQUARE_REMEDY);
        self.mark(room);
    }

    /// Whether the words of a plate are large enough to be read.
    pub(super) fn check_plate_type(&mut self, page: &Page<'_>) {
        let least = |run: &Run| match run.text.chars().any(char::is_alphabetic) {
            true => WORDS_FROM,
            false => FIGURES_FROM,
        };
        let runs = page
            .runs
            .iter()
            .filter(|run| !streamed(&run.text).is_empty());
        let worst = runs.min_by(|a, b| (a.points / least(a)).total_cmp(&(b.points / least(b))));
        let Some(run) = worst else {
            return;
        };
        let right = run.points >= least(run) - POINTS_SLACK;
        let message = match right {
            true => format!(
                "no word of the plate is smaller than {:.1} points",
                run.points
            ),
            false => format!(
                "“{}” at {:.1} mm across, {:.1} mm down has {:.1} points; {} are needed",
                run.text,
                run.start.x,
                run.start.y,
                run.points,
                least(run)
            ),
        };
        let remedy = "Set the words of the plates as large as they come.";
        self.note("plate-type-size", Some(page.number), right, message, remedy);
        self.mark(run.bounds);
    }
}

/// Whether a run says `words`, and no longer number.
fn says(run: &Run, words: &str) -> bool {
    let (text, words) = (streamed(&run.text), streamed(words));
    let ends_in_figure = words.ends_with(|c: char| c.is_ascii_digit());
    text.match_indices(&words).any(|(at, _)| {
        let next = text[at + words.len()..].chars().next();
        !(ends_in_figure && next.is_some_and(|c| c.is_ascii_digit()))
    })
}

/// Which line of a label is not on the plate.
fn missing_line(lines: &[String], stream: &str) -> String {
    let missing = lines.iter().find(|line| !stream.contains(&streamed(line)));
    let name = lines.iter().find(|l| l.chars().any(char::is_alphabetic));
    let name = name.map_or("", String::as_str);
    match missing {
        Some(line) => format!("the label of {name} does not say “{line}”"),
        None => format!("the lines of the label of {name} are not in their order"),
    }
}

/// What the label of a piece says wrongly of what to cut.
fn wrong_cut(piece: &IntendedLabel, labels: &[String]) -> Option<String> {
    let name = streamed(&format!("{}{}", piece.number, piece.title));
    let mut own = labels
        .iter()
        .filter(|label| label.starts_with(&name))
        .peekable();
    own.peek()?;
    let own: Vec<&String> = own.collect();
    let left_out = piece.cuts.iter().find(|cut| {
        let cut = streamed(cut);
        !own.iter().any(|label| label.contains(&cut))
    })?;
    Some(format!(
        "the label of {} does not say “{left_out}”",
        piece.title
    ))
}
