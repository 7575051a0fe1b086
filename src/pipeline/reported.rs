//! What the report of the proof is told besides the files: seams, the day, and drawings of the pieces
//! that messages speak of. Lengths in mm.

use super::{Computed, Options};
use crate::design::Design;
use crate::diagnostic::Diagnostics;
use crate::piece::{Piece, seam::GAP_ALLOWED};
use crate::proof::check::Check;
use crate::proof::{Report, SeamFact, Shown, ShownPiece};
use kurbo::{BezPath, Point};
use std::ops::Range;

/// More pieces than this are not drawn beside one message.
const PIECES: usize = 2;

/// The report on a design called `key` of which no booklet could be made: what was said, with as much as
/// was computed.
pub fn refused(
    key: &str,
    computed: Option<&Computed>,
    options: &Options,
    diagnostics: &Diagnostics,
) -> Report {
    let Some(computed) = computed else {
        let mut report = Report::new(key, key, "");
        report.add_diagnostics(diagnostics);
        return report;
    };
    let design = &computed.design;
    let mut report = Report::new(&design.key, &design.title, &design.edition_number());
    report.add_diagnostics(diagnostics);
    tell(computed, options, &mut report);
    picture(computed, &mut report);
    report
}

/// Tells the report of seams and the day.
pub(super) fn tell(computed: &Computed, options: &Options, report: &mut Report) {
    report.date = options.moment.map(|moment| {
        let day = moment.date();
        format!("{:04}-{:02}-{:02}", day.year, day.month, day.day)
    });
    let title = |key: &str| {
        let piece = computed.design.pieces.iter().find(|spec| spec.key == key);
        piece.map_or_else(|| key.to_string(), |spec| spec.title.clone())
    };
    for sized in &computed.sizes {
        for seam in &sized.seams {
            let [least, most] = seam.eased;
            let edge = |(piece, edge): &(String, String)| format!("{}, {edge}", title(piece));
            report.seams.push(SeamFact {
                size: sized.title.clone(),
                name: seam.name.clone(),
                edges: [edge(&seam.from), edge(&seam.to)],
                lengths: [seam.length_from, seam.length_to],
                allowed: [least - GAP_ALLOWED, most + GAP_ALLOWED],
            });
        }
    }
}

/// Draws the pieces that messages about the design's own files speak of.
pub(super) fn picture(computed: &Computed, report: &mut Report) {
    report.picture(&mut |check| {
        let of_design = check.page.is_none() && check.file == computed.design.source.path;
        let pieces = of_design.then(|| pieces(computed, check))?;
        (!pieces.is_empty()).then_some(Shown::Pieces(pieces))
    });
}

/// The pieces that a message names, in the size it names, or in the first.
fn pieces(computed: &Computed, check: &Check) -> Vec<ShownPiece> {
    let said = &check.message;
    let sizes = &computed.sizes;
    let named = sizes
        .iter()
        .filter(|s| !places(said, &s.title, &[]).is_empty());
    let longest = named.max_by_key(|s| s.title.len());
    let Some(sized) = longest.or(sizes.first()) else {
        return Vec::new();
    };
    let mut found: Vec<(usize, &Piece)> = Vec::new();
    for piece in &sized.pieces {
        if let Some(at) = place(said, piece, &sized.pieces) {
            found.push((at, piece));
        }
    }
    found.sort_by_key(|(at, _)| *at);
    if found.is_empty() {
        let piece = declared(&computed.design, check);
        let own = sized.pieces.iter().find(|p| Some(p.key.as_str()) == piece);
        found.extend(own.map(|piece| (0, piece)));
    }
    let several = sizes.len() > 1;
    let points = points(said);
    let few = found.iter().take(PIECES).enumerate();
    few.map(|(index, (at, piece))| {
        let until = found.get(index + 1).map_or(said.len(), |(next, _)| *next);
        ShownPiece {
            title: match several {
                true => format!("{}, {}", piece.title, sized.title),
                false => piece.title.clone(),
            },
            lines: vec![piece.cut_line.clone(), piece.outline.path()],
            edges: edges(piece, &said[*at..until], &check.excerpt),
            // places are told of one piece
            points: if index == 0 {
                points.clone()
            } else {
                Vec::new()
            },
        }
    })
    .collect()
}

/// Where a message names a piece by its title or its key.
fn place(said: &str, piece: &Piece, all: &[Piece]) -> Option<usize> {
    let names: Vec<&str> = all
        .iter()
        .flat_map(|p| [p.title.as_str(), p.key.as_str()])
        .collect();
    let of_edge = |at: usize| said[..at].ends_with('.');
    let own = [piece.title.as_str(), piece.key.as_str()];
    let places = own.into_iter().flat_map(|name| places(said, name, &names));
    places.filter(|at| !of_edge(*at)).min()
}

/// Where `name` stands as a word of its own, not as part of a longer one among `names`.
fn places(said: &str, name: &str, names: &[&str]) -> Vec<usize> {
    let longer = names
        .iter()
        .filter(|n| n.len() > name.len() && n.contains(name));
    let spans: Vec<Range<usize>> = longer
        .flat_map(|n| said.match_indices(n).map(|(at, n)| at..at + n.len()))
        .collect();
    let all = said.match_indices(name).map(|(at, _)| at);
    all.filter(|at| is_word(said, *at, name.len()))
        .filter(|at| !spans.iter().any(|span| span.contains(at)))
        .collect()
}

/// Whether no letter stands right before or behind.
fn is_word(said: &str, at: usize, length: usize) -> bool {
    let before = said[..at].chars().next_back();
    let behind = said[at + length..].chars().next();
    length > 0
        && !before.is_some_and(char::is_alphanumeric)
        && !behind.is_some_and(char::is_alphanumeric)
}

/// Edges of a piece that the words after its name speak of; else those that the line of the file names.
fn edges(piece: &Piece, said: &str, excerpt: &str) -> Vec<(String, BezPath)> {
    let all = piece.outline.edges();
    let names: Vec<&str> = all.iter().map(|edge| edge.name.as_str()).collect();
    let whole: Vec<String> = names.iter().map(|n| format!("{}.{n}", piece.key)).collect();
    let whole: Vec<&str> = whole.iter().map(String::as_str).collect();
    let named = |text: &str, names: &[&str]| -> Vec<(String, BezPath)> {
        let pairs = all.iter().zip(names);
        pairs
            .filter(|(_, name)| !places(text, name, names).is_empty())
            .map(|(edge, _)| (edge.name.clone(), edge.curve.clone()))
            .collect()
    };
    let own = named(said, &names);
    match own.is_empty() {
        true => named(excerpt, &whole),
        false => own,
    }
}

/// Points that a message names as `x 29.8 mm, y 16.0 mm`, in the axes of the piece.
fn points(said: &str) -> Vec<Point> {
    let mut found = Vec::new();
    for (at, _) in said.match_indices("x ") {
        let Some((x, rest)) = said[at + 2..].split_once(" mm, y ") else {
            continue;
        };
        let y = rest.split_once(" mm").map(|(y, _)| y);
        if let (Ok(x), Some(Ok(y))) = (x.parse::<f64>(), y.map(str::parse::<f64>)) {
            found.push(Point::new(x, y));
        }
    }
    found
}

/// The piece in whose part of the design's file a message stands: the last that begins before it, if
/// it is told there and not at what follows the pieces.
fn declared<'a>(design: &'a Design, check: &Check) -> Option<&'a str> {
    let (line, column) = (check.line?, check.column?);
    let before = design.pieces.iter();
    let before =
        before.filter(|spec| spec.place.source.path == check.file && spec.place.line <= line);
    let last = before.max_by_key(|spec| spec.place.line)?;
    let text = &last.place.source.text;
    let indent = |line: &str| line.len() - line.trim_start().len();
    let mut between = text
        .lines()
        .skip(last.place.line)
        .take(line.saturating_sub(last.place.line));
    let outer = |l: &str| !l.trim().is_empty() && indent(l) + 1 < last.place.column;
    let ended = between.any(outer);
    (!ended && column >= last.place.column).then_some(last.key.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_within_a_longer_one_is_not_taken_for_it() {
        let names = ["sole", "lining sole"];
        assert_eq!(places("cut the lining sole", "sole", &names), [0; 0]);
        assert_eq!(places("the lining sole and the sole", "sole", &names), [24]);
        assert_eq!(places("soles, resole", "sole", &names), [0; 0]);
        assert_eq!(places("anything", "", &names), [0; 0]);
    }

    #[test]
    fn places_in_a_piece_are_read_from_the_words() {
        let said = "swallows a corner near x 29.8 mm, y -16.0 mm in size One";
        assert_eq!(points(said), [Point::new(29.8, -16.0)]);
        assert_eq!(points("an extra x of 3 mm"), []);
    }
}
