//! Every key a design folder may hold: what it means, its unit and default, and an example. Used
//! to suggest keys, by `pressfoot explain KEY`, and by the test that the guide for designers names
//! them all.

mod cloth;
mod design;
mod figure_details;
mod figures;
mod look;
mod notions;
mod others;
mod pieces;
pub mod schema;
mod shoe;
mod shop;
#[cfg(test)]
mod tests;
mod words;

/// One key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyEntry {
    /// Where it stands: keys joined by dots, words in capitals for names the designer gives.
    /// Keys of `feet/*.yaml` begin with `foot`, those of a chapter's head with `booklet`, those of the
    /// fenced blocks of its text with `figure` and `picture`.
    pub path: &'static str,
    /// What it means, with its unit and its default.
    pub meaning: &'static str,
    /// One line that shows it.
    pub example: &'static str,
}

impl KeyEntry {
    /// The key itself: the last part of the path.
    pub fn key(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, key)| key)
    }
}

const fn key(path: &'static str, meaning: &'static str, example: &'static str) -> KeyEntry {
    KeyEntry {
        path,
        meaning,
        example,
    }
}

/// The entry at `path`, e.g. `cloth.CLOTH.width`.
pub fn entry(path: &str) -> Option<&'static KeyEntry> {
    all().find(|entry| entry.path == path)
}

/// All entries for `key`, given as a bare key or as a path; in the order of the table.
pub fn explain(key: &str) -> Vec<&'static KeyEntry> {
    let key = key.trim().trim_end_matches(':');
    let wanted = |entry: &&KeyEntry| entry.path == key || entry.key() == key;
    all().filter(wanted).collect()
}

/// All keys, in the order in which a design is usually written.
pub fn all() -> impl Iterator<Item = &'static KeyEntry> {
    design::DESIGN
        .iter()
        .chain(look::LOOK)
        .chain(cloth::CLOTH)
        .chain(notions::NOTIONS)
        .chain(shoe::SHOE)
        .chain(pieces::PIECES)
        .chain(others::OTHERS)
        .chain(figures::FIGURES)
        .chain(figure_details::FIGURE_DETAILS)
        .chain(shop::SHOP)
}
