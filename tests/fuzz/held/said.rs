//! What holds for everything that is said to a designer.

use pressfoot::diagnostic::human::{Style, list};
use pressfoot::diagnostic::{Diagnostics, json};

/// Checks that each message has words and, if it has a place, one that is there; and that all of them can be
/// printed.
pub fn can_be_told(said: &Diagnostics) {
    for told in said.iter() {
        assert!(told.message.len() > 1, "nothing is said by {}", told.code);
        let Some(place) = &told.place else { continue };
        let text = &place.source.text;
        let lines: Vec<&str> = text.lines().collect();
        assert!(
            (1..=lines.len() + 1).contains(&place.line),
            "{} stands at line {} of {}: {}",
            told.code,
            place.line,
            lines.len(),
            told.message
        );
        let wide = lines
            .get(place.line - 1)
            .map_or(0, |line| line.chars().count());
        assert!(
            (1..=wide + 1).contains(&place.column),
            "{} stands at column {} of {wide}: {}",
            told.code,
            place.column,
            told.message
        );
    }
    assert!(!list(said, Style::default()).contains('\0'));
    json::lines(said, "designs/held");
}
