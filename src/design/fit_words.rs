//! What a fit correction says in print, in the language of the design.

use super::fit_spec::{FitEntry, FootSideSpec};
use super::model::{Design, Size};
use super::printed;
use super::quantity::Dimension;

impl Design {
    /// What a correction changes, with its side.
    pub fn fit_change(&self, entry: &FitEntry) -> String {
        let change = self.words.named("changes", entry.change.words());
        let side = match entry.side {
            None => return change.to_string(),
            Some(FootSideSpec::Inner) => "fitting.inner side",
            Some(FootSideSpec::Outer) => "fitting.outer side",
        };
        self.words.say(side, &[("change", &change)])
    }

    /// By how much, without a sign.
    pub fn fit_amount(&self, entry: &FitEntry) -> String {
        match entry.change.dimension() {
            Dimension::Angle => self.lengths.figures(&format!("{}°", entry.by.abs())),
            _ => printed::both(entry.by.abs(), self.lengths),
        }
    }

    /// The only size that it holds for; its key if there is no such size.
    pub fn fit_size(&self, entry: &FitEntry) -> Option<String> {
        let key = entry.size.as_ref()?;
        let size = self.sizes.iter().find(|size| size.declared == *key);
        Some(size.map_or_else(|| key.clone(), Size::declared_title))
    }
}
