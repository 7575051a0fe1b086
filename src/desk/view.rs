//! The pages of one booklet as a browser sees them: their names, what they are called, and where pieces lie
//! on them. Lengths in mm, from the upper left corner of the page.

use super::facts::facts;
use super::store::{self, Kind};
use crate::edition::Content;
use crate::pipeline::Preview;
use kurbo::Point;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Letters of a page that tell what is on it.
const LETTERS: usize = 60;

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PageShown {
    /// By which the typesetter's page is known again.
    pub(super) mark: u128,
    /// Its name in the store.
    pub(super) name: String,
    size: [f64; 2],
    label: String,
    words: String,
}

/// A booklet in one language on one paper.
#[derive(Debug, Clone)]
pub(super) struct View {
    /// How often the design had been saved.
    pub(super) saved: u64,
    /// Whether it looks as the booklet that the whole build makes.
    pub(super) settled: bool,
    /// Whether it is stamped as not proofed.
    pub(super) stamped: bool,
    /// Whether layouts in it were packed with less work than for print.
    pub(super) rough: bool,
    pub(super) paper: String,
    pub(super) language: String,
    pub(super) pages: Vec<PageShown>,
    pub(super) content: Arc<Content>,
    /// Name of the figures of its pieces in the store.
    pub(super) facts: String,
    plates: Vec<Value>,
    /// What differs from the last good build, once it was compared.
    pub(super) changes: Vec<Value>,
}

/// Something for the store: its name, what it is, and the content.
pub(super) type Stored = (String, Kind, Vec<u8>);

/// What a browser is shown of `preview`, and what is new for the store; pages whose marks are `known` are
/// not drawn again.
pub(super) fn view(
    preview: &Preview,
    saved: u64,
    known: &BTreeMap<u128, String>,
) -> (View, Vec<Stored>) {
    let drawn = || -> Vec<(PageShown, Option<Stored>)> {
        let pages = (0..preview.pages.count()).into_par_iter().with_max_len(1);
        pages
            .filter_map(|number| page(preview, number, known))
            .collect()
    };
    let told = || facts(&preview.design, &preview.sizes).to_string();
    let (drawn, told) = rayon::join(drawn, told);
    let (pages, new): (Vec<PageShown>, Vec<Option<Stored>>) = drawn.into_iter().unzip();
    let told = told.into_bytes();
    let facts = store::name(Kind::Json, &told);
    let mut stored: Vec<Stored> = new.into_iter().flatten().collect();
    stored.push((facts.clone(), Kind::Json, told));
    let view = View {
        saved,
        settled: false,
        stamped: false,
        rough: false,
        paper: preview.paper.key.clone(),
        language: preview.design.language.clone(),
        pages,
        content: Arc::new(preview.content.clone()),
        facts,
        plates: plates(preview),
        changes: Vec::new(),
    };
    (view, stored)
}

fn page(
    preview: &Preview,
    number: usize,
    known: &BTreeMap<u128, String>,
) -> Option<(PageShown, Option<Stored>)> {
    let mark = preview.pages.mark(number)?;
    let (name, new) = match known.get(&mark) {
        Some(name) => (name.clone(), None),
        None => {
            let bytes = preview.pages.drawing(number)?.into_bytes();
            let name = store::name(Kind::Svg, &bytes);
            (name.clone(), Some((name, Kind::Svg, bytes)))
        }
    };
    let page = PageShown {
        mark,
        name,
        size: preview.pages.size(number)?,
        label: preview.labels.get(number).cloned().unwrap_or_default(),
        words: preview.pages.first_words(number, LETTERS),
    };
    Some((page, new))
}

/// Where pieces lie: page by number, from 0, key and title of the piece, its sizes, the box of its cut lines,
/// and these as SVG path data from the corner of the box.
fn plates(preview: &Preview) -> Vec<Value> {
    let sheets = &preview.plates.sheets;
    let before = preview.pages.count().saturating_sub(sheets.len());
    let live = preview.plates.paper.live().origin().to_vec2();
    let mut all = Vec::new();
    for (index, sheet) in sheets.iter().enumerate() {
        for placed in &sheet.pieces {
            let shown = placed.cut + live;
            let sizes = preview.sizes.iter();
            let sizes: Vec<_> = sizes.filter(|s| placed.sizes.contains(&s.size)).collect();
            let piece = sizes.iter().flat_map(|sized| &sized.pieces);
            let Some(piece) = piece.clone().find(|piece| piece.key == placed.piece) else {
                continue;
            };
            let place = [shown.x0, shown.y0, shown.width(), shown.height()];
            let outline: Vec<String> = placed
                .rings
                .iter()
                .map(|ring| ring_path(ring, placed.cut.origin()))
                .collect();
            all.push(json!({
                "page": before + index,
                "piece": placed.piece,
                "title": format!("{} {}", piece.number, piece.title),
                "sizes": sizes.iter().map(|s| s.size.as_str()).collect::<Vec<_>>(),
                "size_titles": sizes.iter().map(|s| s.title.as_str()).collect::<Vec<_>>(),
                "box_mm": place.map(|side| (side * 100.0).round() / 100.0),
                "outline": outline.concat(),
            }));
        }
    }
    all
}

/// A ring as SVG path data, from this corner of its box.
fn ring_path(ring: &[Point], corner: Point) -> String {
    let mut data = String::new();
    for (index, point) in ring.iter().enumerate() {
        let at = (*point - corner) * 100.0;
        let [x, y] = [at.x.round() / 100.0, at.y.round() / 100.0];
        let word = if index == 0 { 'M' } else { 'L' };
        data.push_str(&format!("{word}{x} {y}"));
    }
    if !data.is_empty() {
        data.push('Z');
    }
    data
}

impl View {
    /// As an object; `base` are the pages that it is compared with.
    pub(super) fn object(&self, base: Option<&[PageShown]>) -> Value {
        let names: Vec<&str> = self.pages.iter().map(|page| page.name.as_str()).collect();
        let base: Option<Vec<&str>> =
            base.map(|pages| pages.iter().map(|page| page.name.as_str()).collect());
        let before = base.map(|base| counterparts(&base, &names));
        let page = |(index, page): (usize, &PageShown)| {
            let before = before.as_ref().and_then(|before| before[index].clone());
            json!({
                "name": page.name,
                "size_mm": page.size,
                "label": page.label,
                "words": page.words,
                "before": before,
            })
        };
        json!({
            "paper": self.paper,
            "language": self.language,
            "settled": self.settled,
            "rough": self.rough && !self.settled,
            "compared": before.is_some(),
            "facts": self.facts,
            "plates": self.plates,
            "changes": self.changes,
            "pages": self.pages.iter().enumerate().map(page).collect::<Vec<_>>(),
        })
    }
}

/// For each page of `new` the one of `old` that it took the place of: the like pages at the beginning and
/// the end are paired, what is between in its order.
fn counterparts(old: &[&str], new: &[&str]) -> Vec<Option<String>> {
    let least = old.len().min(new.len());
    let head = (0..least).take_while(|i| old[*i] == new[*i]).count();
    let alike = |i: &usize| old[old.len() - 1 - i] == new[new.len() - 1 - i];
    let tail = (0..least - head).take_while(alike).count();
    let (old_end, new_end) = (old.len() - tail, new.len() - tail);
    let partner = |index: usize| match index {
        index if index < head => Some(index),
        index if index >= new_end => Some(index - new_end + old_end),
        index => Some(index).filter(|index| *index < old_end),
    };
    let named = |index: usize| partner(index).map(|at| old[at].to_string());
    (0..new.len()).map(named).collect()
}

#[cfg(test)]
mod tests {
    use super::{counterparts, ring_path};
    use kurbo::Point;

    #[test]
    fn a_ring_is_told_from_the_corner_of_its_box_to_a_hundredth_of_a_millimetre() {
        let ring = [(12.0, 30.0), (13.004, 30.0), (12.5, 31.256)].map(Point::from);
        let data = ring_path(&ring, Point::new(12.0, 30.0));
        assert_eq!(data, "M0 0L1 0L0.5 1.26Z");
        assert_eq!(ring_path(&[], Point::ZERO), "");
    }

    #[test]
    fn pages_are_paired_from_both_ends() {
        let pairs = |old: &str, new: &str| -> String {
            let split = |text: &'static str| text.split(' ').collect::<Vec<_>>();
            let (old, new) = (
                old.to_string().leak() as &str,
                new.to_string().leak() as &str,
            );
            let found = counterparts(&split(old), &split(new));
            let shown = found.into_iter().map(|one| one.unwrap_or("-".into()));
            shown.collect::<Vec<_>>().join(" ")
        };
        assert_eq!(pairs("a b c", "a x c"), "a b c");
        assert_eq!(pairs("a b c", "a x y c"), "a b - c");
        assert_eq!(pairs("a b c d", "a d"), "a d");
        assert_eq!(pairs("a a", "a a a"), "a a -");
        assert_eq!(pairs("b c", "a b c"), "- b c");
    }
}
