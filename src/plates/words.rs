//! The English words on plates: labels, band heads, instructions for joining sheets. Lengths are
//! given in mm and printed in the design's order of units.

use super::nested::{Member, Nest};
use crate::design::{LengthStyle, printed};
use crate::piece::{Cut, Piece};

/// A space at which no line is broken.
pub const TIED: &str = "\u{a0}";

/// A length, both ways, broken at most between them, and with plain slashes (small type has no set
/// fractions).
pub fn length(mm: f64, style: LengthStyle) -> String {
    let tied = printed::plain(&printed::both(mm, style)).replace(' ', TIED);
    tied.replace(&format!("{TIED}("), " (")
}

/// `Size Large`; a title that already speaks of a size stays as it is.
pub fn size(title: &str) -> String {
    if title.to_lowercase().contains("size") {
        title.to_string()
    } else {
        format!("Size {title}")
    }
}

/// `size Large`, `one size`: as it stands inside a sentence.
pub fn size_inside(title: &str) -> String {
    let text = size(title);
    let mut letters = text.chars();
    let first: String = letters
        .next()
        .map_or(String::new(), |c| c.to_lowercase().collect());
    first + letters.as_str()
}

/// `size Small` or `sizes Small, Medium and Large`, as it stands inside a sentence.
pub fn sizes_inside(titles: &[&str]) -> String {
    match titles {
        [one] => size_inside(one),
        several => format!("sizes {}", list(several)),
    }
}

/// `Cut 2 wool felt, one turned over`; `Cut 2 linen on the fold`.
pub fn cut(cut: &Cut, cloth: &str, on_fold: bool) -> String {
    let mut text = format!("Cut{TIED}{} {cloth}", cut.count);
    if on_fold {
        text.push_str(" on the fold");
    }
    if cut.mirrored {
        match cut.count {
            0 | 1 => {}
            2 => text.push_str(", one turned over"),
            n => text.push_str(&format!(", {} turned over", number(n as usize / 2))),
        }
    }
    text
}

/// What is said of a piece's allowance, and whether it is included: `Allowance 4.8 mm (3/16 in)
/// included`, with the edges that differ from the rest named after it.
pub fn allowance(nest: &Nest<'_>, style: LengthStyle) -> String {
    let members = || nest.members.iter();
    let of_one = |m: &Member<'_>| allowance_of(m.piece, style);
    let first = of_one(&nest.members[0]);
    if members().all(|m| of_one(m) == first) {
        return first;
    }
    let each: Vec<String> = members()
        .map(|m| format!("{}: {}", m.title, of_one(m)))
        .collect();
    each.join("; ")
}

fn allowance_of(piece: &Piece, style: LengthStyle) -> String {
    let Some(main) = main_allowance(piece) else {
        return "No seam allowance".to_string();
    };
    let mut text = format!("Allowance {} included", length(main, style));
    let differing: Vec<String> = sewn_edges(piece)
        .filter(|(_, allowance, _)| (allowance - main).abs() > 0.01)
        .map(|(name, allowance, _)| {
            if allowance < 0.01 {
                format!("{name} none")
            } else {
                format!("{name} {}", length(allowance, style))
            }
        })
        .collect();
    let bare = sewn_edges(piece).filter(|e| e.1 < 0.01).count();
    let alike: Vec<&str> = sewn_edges(piece)
        .filter(|(_, allowance, _)| (allowance - main).abs() <= 0.01)
        .map(|(name, _, _)| name)
        .collect();
    // Where most edges are bare, it is shorter to name those that are not.
    if bare == differing.len() && bare > alike.len() {
        text.push_str("; only at ");
        text.push_str(&alike.join(", "));
    } else if !differing.is_empty() {
        text.push_str("; ");
        text.push_str(&differing.join(", "));
    }
    text
}

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

/// `one` to `twelve`, then figures.
pub fn number(n: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(n)
        .map_or_else(|| n.to_string(), |w| (*w).to_string())
}

/// `a`, `a and b`, `a, b and c`.
pub fn list<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_string(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// `1, 2 and 5 to 9`, of whole numbers: three or more in a row are told by the first and the last.
pub fn ranges(mut numbers: Vec<usize>) -> String {
    numbers.sort_unstable();
    numbers.dedup();
    let rows = numbers.chunk_by(|a, b| a + 1 == *b);
    let texts: Vec<String> = rows
        .flat_map(|row| match row {
            [first, _, .., last] => vec![format!("{first} to {last}")],
            few => few.iter().map(ToString::to_string).collect(),
        })
        .collect();
    list(&texts)
}

/// Where the other pieces of a plate's sizes are, from plates with the numbers of their pieces:
/// `Pieces 3 and 5 are on plate 2.`; shorter words where these are more than `longest` characters.
pub fn elsewhere(plates: Vec<(usize, Vec<usize>)>, longest: usize) -> String {
    let numbers: Vec<usize> = plates.iter().map(|(plate, _)| *plate).collect();
    let sentences = plates.into_iter().map(|(plate, pieces)| {
        let (noun, verb) = match pieces.len() {
            1 => ("Piece", "is"),
            _ => ("Pieces", "are"),
        };
        format!("{noun} {} {verb} on plate {plate}.", ranges(pieces))
    });
    let each = sentences.collect::<Vec<_>>().join(" ");
    let noun = if numbers.len() == 1 {
        "plate"
    } else {
        "plates"
    };
    let all = format!("The other pieces are on {noun} {}.", ranges(numbers));
    let fits = |text: &String| text.chars().count() <= longest;
    let told = [each, all].into_iter().find(fits);
    told.unwrap_or_else(|| "The other pieces are on the other plates.".to_string())
}

/// `1 notch`, `3 notches`.
pub fn counted(n: usize, one: &str, many: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {many}")
    }
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
        assert_eq!(ranges(vec![2, 1, 9, 7, 8, 5]), "1, 2, 5 and 7 to 9");
        let told = elsewhere(vec![(1, (1..=30).collect()), (3, vec![31])], 110);
        assert_eq!(
            told,
            "Pieces 1 to 30 are on plate 1. Piece 31 is on plate 3."
        );
        let plates = |step: usize| (1..40).map(|n| (step * n, vec![n, n + 100])).collect();
        assert_eq!(
            elsewhere(plates(1), 110),
            "The other pieces are on plates 1 to 39."
        );
        assert_eq!(
            elsewhere(plates(2), 110),
            "The other pieces are on the other plates."
        );
        assert_eq!(elsewhere(Vec::new(), 110), "");
    }

    #[test]
    fn cuts_say_how_many_are_turned_over() {
        let say = |c, m, f| plain(&cut(&felt(c, m), "wool felt", f));
        assert_eq!(say(2, true, false), "Cut 2 wool felt, one turned over");
        assert_eq!(say(4, true, false), "Cut 4 wool felt, two turned over");
        assert_eq!(say(1, false, true), "Cut 1 wool felt on the fold");
    }

    #[test]
    fn sizes_read_as_english() {
        assert_eq!(size("Large"), "Size Large");
        assert_eq!(size_inside("Large"), "size Large");
        assert_eq!(size_inside("One size"), "one size");
    }

    #[test]
    fn sheets_go_on_after_z() {
        let letters: Vec<String> = [0, 1, 25, 26, 27, 52].into_iter().map(letter).collect();
        assert_eq!(letters, ["a", "b", "z", "aa", "ab", "ba"]);
    }

    #[test]
    fn lists_end_in_and() {
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(list(&["a"]), "a");
    }
}
