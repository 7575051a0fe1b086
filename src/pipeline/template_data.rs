//! Reading what is handed to the template: lists, words, rows of a table. What is not there says nothing.

use serde_json::Value;

/// The entries of a list.
pub(super) fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// Words as they stand.
pub(super) fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// The words of a value that says anything.
pub(super) fn said(value: &Value) -> Option<String> {
    Some(text(value))
        .filter(|words| !words.is_empty())
        .map(str::to_string)
}

/// Words and numbers of a row, cell after cell.
pub(super) fn joined(row: &Value, keys: &[&str]) -> String {
    let cell = |key: &&str| match &row[*key] {
        Value::Number(number) => number.to_string(),
        words => text(words).to_string(),
    };
    keys.iter().map(cell).collect::<Vec<_>>().join(" ")
}
