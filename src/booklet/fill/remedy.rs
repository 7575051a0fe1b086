//! What to write instead of a value in the text that cannot be read.

use crate::booklet::source_map::Filled;
use crate::booklet::tags::tags;

/// What to write instead of a value that cannot be read: most often its name has spaces, or it is
/// to be calculated.
pub(super) fn remedy(plain: &Filled, offset: Option<usize>) -> String {
    let at = offset.unwrap_or(0);
    let tags = tags(&plain.text);
    let tag = tags.iter().find(|tag| tag.start <= at && at < tag.end);
    let inner = tag.map_or("", |tag| tag.inner(&plain.text)).trim();
    let (name, filter) = inner.split_once('|').unwrap_or((inner, ""));
    let name = name.trim();
    let word = |c: char| c.is_alphanumeric() || matches!(c, '.' | '_' | ' ');
    if name.contains(' ') && name.chars().all(word) {
        let filter = filter.trim();
        let bar = if filter.is_empty() { "" } else { " | " };
        let name = name.split_whitespace().collect::<Vec<_>>().join("_");
        return format!("Write ‘_’ for each space of a name: `{{{{ {name}{bar}{filter} }}}}`.");
    }
    if name.contains(['*', '/', '+']) {
        return "Nothing is calculated in the text: make it a measure first.".to_string();
    }
    "Write a value as `{{ name }}`, `{{ name | metric }}` or `{{ name | inch }}`.".to_string()
}
