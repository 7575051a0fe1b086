//! What was said of a design, for a browser: with the lines of the file round the place, the place marked.

use crate::diagnostic::{Diagnostic, Diagnostics, Place, json};
use serde_json::{Value, json};

/// Lines that are shown before and after the one concerned.
const ROUND: usize = 2;

/// Characters of a line that are shown at most.
const LONGEST: usize = 160;

/// More messages than this are not sent: nobody reads on.
const MOST: usize = 200;

/// All that was said, by place, as objects: the fields of [`json::object`], and `excerpt`, lines with
/// their numbers, the one concerned in three parts of which the second is marked.
pub(super) fn messages(said: &Diagnostics, folder: &str) -> Vec<Value> {
    let sorted = said.sorted().into_iter().take(MOST);
    sorted.map(|one| message(one, folder)).collect()
}

fn message(one: &Diagnostic, folder: &str) -> Value {
    let mut object = json::object(one, folder);
    let lines = one.place.as_ref().map(excerpt).unwrap_or_default();
    object["excerpt"] = Value::Array(lines);
    object
}

fn excerpt(place: &Place) -> Vec<Value> {
    let first = place.line.saturating_sub(ROUND).max(1);
    let lines = place.source.text.lines().enumerate();
    let lines = lines.map(|(index, line)| (index + 1, line));
    let shown = lines
        .skip(first - 1)
        .take_while(|(number, _)| *number <= place.line + ROUND);
    shown
        .map(|(number, line)| match number == place.line {
            true => {
                let [before, marked, after] = parted(line, place.column);
                json!({"line": number, "before": before, "marked": marked, "after": after})
            }
            false => json!({"line": number, "text": cut(line, 0)}),
        })
        .collect()
}

/// A line before the column, from there to the end of the word, and after it.
fn parted(line: &str, column: usize) -> [String; 3] {
    let letters: Vec<char> = line.chars().collect();
    let at = column.saturating_sub(1).min(letters.len());
    let ends = |c: &char| c.is_whitespace() || ",:;{}[]()".contains(*c);
    let word = letters[at..].iter().position(ends);
    let end = at + word.unwrap_or(letters.len() - at).max(1);
    let end = end.min(letters.len());
    let from = at.saturating_sub(LONGEST / 2);
    let part = |from: usize, to: usize| letters[from..to].iter().collect::<String>();
    let before = if from > 0 {
        format!("…{}", part(from, at))
    } else {
        part(0, at)
    };
    let marked = match part(at, end) {
        empty if empty.is_empty() => " ".to_string(),
        word => word,
    };
    [before, marked, cut(&part(end, letters.len()), 0)]
}

fn cut(line: &str, from: usize) -> String {
    let mut shown: String = line.chars().skip(from).take(LONGEST).collect();
    if line.chars().count() > from + LONGEST {
        shown.push('…');
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::SourceText;
    use std::sync::Arc;

    fn place(text: &str, line: usize, column: usize) -> Place {
        Place {
            source: Arc::new(SourceText {
                path: "design.yaml".into(),
                text: text.into(),
            }),
            line,
            column,
        }
    }

    #[test]
    fn an_excerpt_marks_the_word_at_the_place_between_its_neighbours() {
        let text = "one: 1\ntwo: 2\nthree: {width: 5}\nfour: 4\nfive: 5\nsix: 6\n";
        let mut said = Diagnostics::default();
        said.push(Diagnostic::error(
            "no-unit",
            Some(&place(text, 3, 16)),
            "no unit",
        ));
        let told = messages(&said, "designs/mat");
        assert_eq!(told[0]["file"], "designs/mat/design.yaml");
        let lines = told[0]["excerpt"].as_array().unwrap();
        let numbers: Vec<_> = lines.iter().map(|l| l["line"].as_u64().unwrap()).collect();
        assert_eq!(numbers, [1, 2, 3, 4, 5]);
        assert_eq!(
            lines[2],
            json!({"line": 3, "before": "three: {width: ", "marked": "5", "after": "}"})
        );
    }

    #[test]
    fn a_place_beyond_the_line_or_the_file_breaks_nothing() {
        assert_eq!(
            parted("ab", 9),
            ["ab".to_string(), " ".into(), String::new()]
        );
        assert!(excerpt(&place("one", 7, 1)).is_empty());
        assert!(excerpt(&place("", 1, 1)).is_empty());
        let long = "x".repeat(1000);
        let [before, ..] = parted(&long, 900);
        assert!(before.chars().count() <= LONGEST / 2 + 1);
    }
}
