//! The words on plates: labels, band heads, instructions for joining sheets. Lengths are given in mm
//! and printed in the design's order of units.

use super::nested::{Member, Nest};
use crate::design::{LengthStyle, printed};
use crate::language::{Places, Words};
use crate::piece::{Cut, Piece};

/// A space at which no line is broken.
pub const TIED: &str = "\u{a0}";

/// A length, both ways, broken at most between them, and with plain slashes (small type has no set
/// fractions).
pub fn length(mm: f64, style: LengthStyle) -> String {
    let tied = printed::plain(&printed::both(mm, style)).replace(' ', TIED);
    tied.replace(&format!("{TIED}("), " (")
}

/// `Cut 2 wool felt, one turned over`; `Cut 2 linen on the fold`.
pub fn cut(cut: &Cut, cloth: &str, on_fold: bool, words: &Words) -> String {
    let fold = if on_fold {
        words.get("plates.on fold")
    } else {
        ""
    };
    let turned = match cut.count as usize / 2 {
        half if cut.mirrored && half > 0 => words.count("plates.turned", half, &[]),
        _ => String::new(),
    };
    words.say(
        "plates.cut",
        &[
            ("count", &cut.count),
            ("cloth", &cloth),
            ("fold", &fold),
            ("turned", &turned),
        ],
    )
}

/// What is said of a piece's allowance, and whether it is included: `Allowance 4.8 mm (3/16 in)
/// included`, with the edges that differ from the rest named after it.
pub fn allowance(nest: &Nest<'_>, style: LengthStyle) -> String {
    let members = || nest.members.iter();
    let of_one = |m: &Member<'_>| allowance_of(m.piece, style, &nest.words);
    let first = of_one(&nest.members[0]);
    if members().all(|m| of_one(m) == first) {
        return first;
    }
    let each: Vec<String> = members()
        .map(|m| format!("{}: {}", m.title, of_one(m)))
        .collect();
    each.join("; ")
}

fn allowance_of(piece: &Piece, style: LengthStyle, words: &Words) -> String {
    let Some(main) = main_allowance(piece) else {
        return words.get("plates.no allowance").to_string();
    };
    let mut text = words.say("plates.allowance", &[("length", &length(main, style))]);
    let differing: Vec<String> = sewn_edges(piece)
        .filter(|(_, allowance, _)| (allowance - main).abs() > 0.01)
        .map(|(name, allowance, _)| {
            let name = words.named("edges", name);
            if allowance < 0.01 {
                words.say("plates.edge none", &[("edge", &name)])
            } else {
                format!("{name} {}", length(allowance, style))
            }
        })
        .collect();
    let bare = sewn_edges(piece).filter(|e| e.1 < 0.01).count();
    let alike: Vec<&str> = sewn_edges(piece)
        .filter(|(_, allowance, _)| (allowance - main).abs() <= 0.01)
        .map(|(name, _, _)| words.named("edges", name))
        .collect();
    // Where most edges are bare, it is shorter to name those that are not.
    if bare == differing.len() && bare > alike.len() {
        text.push_str("; ");
        // a plate may turn the piece, and then its left edge is not at the left
        let by_place = alike
            .iter()
            .any(|edge| SIDES.iter().any(|s| words.named("edges", s) == *edge));
        text.push_str(&match by_place {
            true => words.get("plates.only dashed").to_string(),
            false => words.say("plates.only at", &[("edges", &alike.join(", "))]),
        });
    } else if !differing.is_empty() {
        text.push_str("; ");
        text.push_str(&differing.join(", "));
    }
    text
}

/// Edges that are named by where they lie in the design.
const SIDES: [&str; 4] = ["top", "bottom", "left", "right"];

/// The allowance that most of the piece's edges have, by length; `None` if no edge has any.
pub fn main_allowance(piece: &Piece) -> Option<f64> {
    let mut totals: Vec<(f64, f64)> = Vec::new();
    for (_, allowance, length) in sewn_edges(piece).filter(|e| e.1 >= 0.01) {
        match totals.iter_mut().find(|t| (t.0 - allowance).abs() <= 0.01) {
            Some(total) => total.1 += length,
            None => totals.push((allowance, length)),
        }
    }
    let mut best: Option<(f64, f64)> = None;
    for total in totals {
        if best.is_none_or(|b| total.1 > b.1 + 1e-6) {
            best = Some(total);
        }
    }
    best.map(|b| b.0)
}

/// Name, allowance and length of every edge that does not lie on the fold.
fn sewn_edges(piece: &Piece) -> impl Iterator<Item = (&str, f64, f64)> {
    piece
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .filter(|(edge, _)| piece.fold.as_deref() != Some(edge.name.as_str()))
        .map(|(edge, allowance)| (edge.name.as_str(), *allowance, edge.length()))
}

/// Pieces on another plate.
pub struct Elsewhere<'a> {
    /// Its number.
    pub plate: usize,
    /// The numbers of the pieces.
    pub pieces: Vec<usize>,
    /// Title of their size, where it must be named.
    pub size: Option<&'a str>,
}

/// Where the other pieces of a plate's sizes are: `Pieces 3 and 5 are on plate 2.`; shorter words where these
/// are more than `longest` characters.
pub fn elsewhere(plates: Vec<Elsewhere<'_>>, longest: usize, words: &Words) -> String {
    let numbers: Vec<usize> = plates.iter().map(|there| there.plate).collect();
    let sentences = plates.into_iter().map(|there| {
        let (plate, count) = (there.plate, there.pieces.len());
        let pieces = words.ranges(there.pieces);
        let places: Places<'_> = &[("pieces", &pieces), ("plate", &plate)];
        match there.size {
            None => words.count("plates.elsewhere", count, places),
            Some(size) => {
                let places: Places<'_> = &[places[0], places[1], ("size", &size)];
                words.count("plates.elsewhere of a size", count, places)
            }
        }
    });
    let each = sentences.collect::<Vec<_>>().join(" ");
    let count = numbers.len();
    let places: Places<'_> = &[("plates", &words.ranges(numbers))];
    let all = words.count("plates.others", count, places);
    let fits = |text: &String| text.chars().count() <= longest;
    let told = [each, all].into_iter().find(fits);
    told.unwrap_or_else(|| words.get("plates.others anywhere").to_string())
}

/// Letters of a sheet: `a` to `z`, then `aa`, `ab` and so on.
pub fn letter(index: usize) -> String {
    let last = char::from(b'a' + (index % 26) as u8);
    if index < 26 {
        last.to_string()
    } else {
        letter(index / 26 - 1) + &last.to_string()
    }
}

/// A name for a file: letters and digits, everything else a hyphen.
pub fn file_name(text: &str) -> String {
    text.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        text.replace(TIED, " ")
    }

    fn felt(count: u32, mirrored: bool) -> Cut {
        Cut {
            material: "outer".into(),
            count,
            mirrored,
        }
    }

    #[test]
    fn many_pieces_elsewhere_are_told_in_few_words() {
        let english = Words::default();
        let on = |plate: usize, pieces: Vec<usize>| Elsewhere {
            plate,
            pieces,
            size: None,
        };
        let told = elsewhere(
            vec![on(1, (1..=30).collect()), on(3, vec![31])],
            110,
            &english,
        );
        assert_eq!(
            told,
            "Pieces 1 to 30 are on plate 1. Piece 31 is on plate 3."
        );
        let plates = |step: usize| (1..40).map(|n| on(step * n, vec![n, n + 100])).collect();
        assert_eq!(
            elsewhere(plates(1), 110, &english),
            "The other pieces are on plates 1 to 39."
        );
        assert_eq!(
            elsewhere(plates(2), 110, &english),
            "The other pieces are on the other plates."
        );
        assert_eq!(elsewhere(Vec::new(), 110, &english), "");
        let large = Elsewhere {
            size: Some("Large"),
            ..on(2, vec![1, 4, 5, 6])
        };
        assert_eq!(
            elsewhere(vec![large], 110, &english),
            "Pieces 1 and 4 to 6 of size Large are on plate 2."
        );
    }

    #[test]
    fn cuts_say_how_many_are_turned_over() {
        let say = |c, m, f| plain(&cut(&felt(c, m), "wool felt", f, &Words::default()));
        assert_eq!(say(2, true, false), "Cut 2 wool felt, one turned over");
        assert_eq!(say(4, true, false), "Cut 4 wool felt, two turned over");
        assert_eq!(say(1, false, true), "Cut 1 wool felt on the fold");
    }

    #[test]
    fn sheets_go_on_after_z() {
        let letters: Vec<String> = [0, 1, 25, 26, 27, 52].into_iter().map(letter).collect();
        assert_eq!(letters, ["a", "b", "z", "aa", "ab", "ba"]);
    }
}
