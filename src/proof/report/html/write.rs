//! Writing marked-up text: what is said is escaped, what is marked up is not.

use std::fmt::{Arguments, Write};

/// Adds formatted text to the page.
pub fn push(page: &mut String, text: Arguments<'_>) {
    page.write_fmt(text)
        .expect("writing to a String never fails");
}

/// `text` with the characters that the page would take for its own replaced; those that it may not
/// hold at all are left out.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(letter),
            other if other.is_control() => {}
            other => out.push(other),
        }
    }
    out
}

/// A departure in mm to four decimals.
pub fn departure(mm: f64) -> String {
    match mm < 0.5e-4 {
        true => "under 0.0001".to_string(),
        false => format!("{mm:.4}"),
    }
}

/// `1 error`, `2 errors`.
pub fn counted(count: usize, one: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        many => format!("{many} {one}s"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
