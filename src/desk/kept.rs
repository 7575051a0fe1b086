//! What the desk keeps of one design.

use super::job::Look;
use super::job::Task;
use super::view::{PageShown, View};
use crate::edition::Content;
use crate::folder::reads::Reads;
use crate::folder::seen::Changed;
use crate::pipeline::Sold;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

/// Views of a design that are kept: more papers and languages are hardly looked at in turn.
const VIEWS: usize = 6;

/// Key of a paper and tag of a language; both empty before the design was understood.
pub(super) type Shown = (String, String);

/// What a whole build came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Outcome {
    /// No booklet could be made.
    NotMade,
    /// Made, and whether it passed its proof.
    Made(bool),
}

/// What was said of a design.
#[derive(Debug, Clone, Default)]
pub(super) struct Told {
    pub(super) messages: Vec<Value>,
    /// Whether the proof has had its say.
    pub(super) whole: bool,
    /// Errors, warnings and notes.
    pub(super) counts: [usize; 3],
}

/// The pages of the last build that passed, and of the one before it that looked otherwise.
#[derive(Debug, Clone)]
struct Good {
    last: State,
    before: Option<State>,
}

#[derive(Debug, Clone)]
struct State {
    pages: Vec<PageShown>,
    content: Arc<Content>,
}

/// A design on the desk.
#[derive(Debug)]
pub(super) struct Kept {
    pub(super) root: PathBuf,
    pub(super) key: String,
    pub(super) sold: Sold,
    /// How often it was saved, from 1.
    pub(super) saved: u64,
    /// Which save the last whole build was of, and what it came to.
    pub(super) built: Option<(u64, Outcome)>,
    pub(super) reads: Reads,
    /// What changed beside the reads since the build that is under way began.
    pub(super) unread: BTreeSet<String>,
    pub(super) told: Told,
    views: Vec<View>,
    good: BTreeMap<Shown, Good>,
    /// Pages that could not be set: of which save, and after the whole build or not.
    failed: BTreeMap<Shown, (u64, Option<bool>)>,
    /// The last pages were left off for newer ones: those are not.
    pub(super) left_off: bool,
}

impl Kept {
    pub(super) fn new(root: PathBuf, key: String) -> Self {
        Self {
            sold: Sold {
                title: key.clone(),
                ..Sold::default()
            },
            root,
            key,
            saved: 1,
            built: None,
            reads: Reads::default(),
            unread: BTreeSet::new(),
            told: Told::default(),
            views: Vec::new(),
            good: BTreeMap::new(),
            failed: BTreeMap::new(),
            left_off: false,
        }
    }

    /// Takes note of a change; whether it is one of what the design reads.
    pub(super) fn change(&mut self, changed: &Changed) -> bool {
        let held = |path: &String| self.reads.holds(path);
        let matters = changed.root || changed.paths.iter().any(held);
        if matters {
            self.saved += 1;
        } else {
            self.unread.extend(changed.paths.iter().cloned());
        }
        matters
    }

    /// Takes note of what a run has read; what changed meanwhile counts now.
    pub(super) fn read(&mut self, reads: Reads) {
        if self.unread.iter().any(|path| reads.holds(path)) {
            self.saved += 1;
        }
        self.unread.clear();
        self.reads = reads;
    }

    /// The paper and language that a look means.
    pub(super) fn meant(&self, look: &Look) -> Shown {
        let has = |paper: &&String| self.sold.papers.iter().any(|(key, _)| key == *paper);
        let paper = look.paper.as_ref().filter(has).cloned();
        let paper = paper.or_else(|| self.sold.papers.first().map(|(key, _)| key.clone()));
        let speaks = |language: &&String| self.sold.languages.contains(language);
        let language = look.language.as_ref().filter(speaks).cloned();
        let language = language.or_else(|| self.sold.languages.first().cloned());
        (paper.unwrap_or_default(), language.unwrap_or_default())
    }

    pub(super) fn view(&self, shown: &Shown) -> Option<&View> {
        let is = |view: &&View| view.paper == shown.0 && view.language == shown.1;
        self.views.iter().find(is)
    }

    /// What is to be done for one who looks at it.
    pub(super) fn task(&self, look: &Look) -> Option<Task> {
        let shown = self.meant(look);
        let view = self.view(&shown);
        let outcome = self.outcome();
        let after = match outcome {
            Some(Outcome::Made(passed)) => Some(passed),
            _ => None,
        };
        let fresh = view.is_some_and(|view| view.saved == self.saved);
        let settled = after.is_none() || view.is_some_and(|view| view.settled);
        let failed = self.failed.get(&shown) == Some(&(self.saved, after));
        let named = |text: &String| Some(text.clone()).filter(|text| !text.is_empty());
        let pages = || Task::Pages {
            paper: named(&shown.0),
            language: named(&shown.1),
            after,
        };
        match outcome {
            _ if !(fresh && settled || failed) => Some(pages()),
            None => Some(Task::Whole),
            Some(_) => None,
        }
    }

    /// What the whole build of the last save came to, if it is done.
    pub(super) fn outcome(&self) -> Option<Outcome> {
        let last = self.built.filter(|(saved, _)| *saved == self.saved);
        last.map(|(_, outcome)| outcome)
    }

    /// Takes pages that were set.
    pub(super) fn show(&mut self, view: View) {
        let same = |old: &View| old.paper == view.paper && old.language == view.language;
        self.views.retain(|old| !same(old));
        self.views.push(view);
        if self.views.len() > VIEWS {
            self.views.remove(0);
        }
        self.settle();
    }

    /// Takes note of pages that could not be set.
    pub(super) fn fail(&mut self, shown: Shown, saved: u64, after: Option<bool>) {
        self.failed.insert(shown, (saved, after));
    }

    /// Pages that look as the whole build made them, and those that passed, are marked as such.
    pub(super) fn settle(&mut self) {
        let Some(Outcome::Made(passed)) = self.outcome() else {
            return;
        };
        for view in &mut self.views {
            if view.saved != self.saved || view.rough || view.stamped == passed {
                continue;
            }
            view.settled = true;
            if !passed {
                continue;
            }
            let state = State {
                pages: view.pages.clone(),
                content: view.content.clone(),
            };
            let shown = (view.paper.clone(), view.language.clone());
            match self.good.get_mut(&shown) {
                Some(good) if good.last.pages != state.pages => {
                    let last = std::mem::replace(&mut good.last, state);
                    good.before = Some(last);
                }
                Some(_) => {}
                None => {
                    let (last, before) = (state, None);
                    self.good.insert(shown, Good { last, before });
                }
            }
        }
    }

    /// The state that a view is compared with: that of the last build that passed; if that is the view
    /// itself, the one before.
    fn base(&self, view: &View) -> Option<&State> {
        let shown = (view.paper.clone(), view.language.clone());
        let good = self.good.get(&shown)?;
        match good.last.pages == view.pages {
            true => good.before.as_ref(),
            false => Some(&good.last),
        }
    }

    /// What a view is compared with, and what is printed in it.
    pub(super) fn contents(&self, shown: &Shown) -> Option<(Arc<Content>, Arc<Content>)> {
        let view = self.view(shown)?;
        let base = self.base(view)?;
        Some((base.content.clone(), view.content.clone()))
    }

    /// Takes what differs in a view from the last good one.
    pub(super) fn tell_changes(&mut self, shown: &Shown, changes: Vec<Value>) {
        let is = |view: &&mut View| view.paper == shown.0 && view.language == shown.1;
        if let Some(view) = self.views.iter_mut().find(is) {
            view.changes = changes;
        }
    }

    /// The view with what differs from the last good one.
    pub(super) fn view_object(&self, view: &View) -> Value {
        let base = self.base(view);
        let mut object = view.object(base.map(|base| base.pages.as_slice()));
        object["fresh"] = json!(view.saved == self.saved);
        object
    }

    /// Names in the store that are still wanted.
    pub(super) fn names(&self) -> impl Iterator<Item = &String> {
        let good = self.good.values();
        let states = good.flat_map(|good| std::iter::once(&good.last).chain(&good.before));
        let old = states.flat_map(|state| &state.pages);
        let own = self.views.iter().flat_map(|view| &view.pages);
        let facts = self.views.iter().map(|view| &view.facts);
        old.chain(own).map(|page| &page.name).chain(facts)
    }

    /// Pages that are known, by their marks.
    pub(super) fn marks(&self) -> BTreeMap<u128, String> {
        let good = self.good.values().flat_map(|good| &good.last.pages);
        let own = self.views.iter().flat_map(|view| &view.pages);
        own.chain(good).map(|p| (p.mark, p.name.clone())).collect()
    }

    /// In a word.
    pub(super) fn verdict(&self) -> &'static str {
        match self.outcome() {
            None => "being made",
            Some(Outcome::NotMade) => "not made",
            Some(Outcome::Made(true)) => "passed its proof",
            Some(Outcome::Made(false)) => "not proofed",
        }
    }

    pub(super) fn object(&self) -> Value {
        let [errors, warnings, notes] = self.told.counts;
        let papers = self.sold.papers.iter();
        json!({
            "key": self.key,
            "title": self.sold.title,
            "verdict": self.verdict(),
            "errors": errors,
            "warnings": warnings,
            "notes": notes,
            "papers": papers.map(|(key, name)| json!({"key": key, "name": name})).collect::<Vec<_>>(),
            "languages": self.sold.languages,
        })
    }
}
