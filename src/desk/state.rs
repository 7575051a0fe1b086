//! The state of the desk, shared by the one that works, the one that watches and those that look.

use super::changes::changes;
use super::job::{Job, Look, Task};
use super::kept::{Kept, Outcome, Told};
use super::store::{Kind, Store};
use super::view::{Stored, View};
use crate::folder::reads::Reads;
use crate::folder::seen::Changed;
use crate::pipeline::{Sold, Stop};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// A browser that has asked for nothing so long looks no more: it asks again after each answer.
const LOOKS_FOR: Duration = Duration::from_secs(60);

/// So long after new pages no other work begins: a browser that draws them wants the processors, and whoever
/// tries a measure may save again.
const BREATH: Duration = Duration::from_millis(400);

/// The designs on the desk.
pub struct Desk {
    inner: Mutex<Inner>,
    turned: Condvar,
}

struct Inner {
    /// Grows with everything that a browser may see.
    version: u64,
    designs: Vec<Kept>,
    /// The last first.
    looks: Vec<(Look, Instant)>,
    current: Option<Job>,
    /// When pages were set last.
    set: Option<Instant>,
    store: Store,
    over: bool,
}

impl Desk {
    /// A desk with these designs: folders with the keys of the designs in them.
    pub fn new(designs: impl IntoIterator<Item = (PathBuf, String)>) -> Self {
        let designs = designs.into_iter().map(|(root, key)| Kept::new(root, key));
        Self {
            inner: Mutex::new(Inner {
                version: 1,
                designs: designs.collect(),
                looks: Vec::new(),
                current: None,
                set: None,
                store: Store::default(),
                over: false,
            }),
            turned: Condvar::new(),
        }
    }

    fn inner(&self) -> MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Changes the state; all who wait look at it again.
    fn turn<T>(&self, change: impl FnOnce(&mut Inner) -> T) -> T {
        let mut inner = self.inner();
        let result = change(&mut inner);
        inner.version += 1;
        drop(inner);
        self.turned.notify_all();
        result
    }

    /// Lays one design more on the desk.
    pub fn add(&self, root: PathBuf, key: String) {
        self.turn(|inner| inner.designs.push(Kept::new(root, key)));
    }

    /// Takes a design off the desk; work on it leaves off.
    pub fn remove(&self, root: &Path) {
        self.turn(|inner| {
            inner.designs.retain(|kept| kept.root != root);
            if let Some(job) = inner.current.as_ref().filter(|job| job.root == root) {
                job.stop.order();
            }
            inner.tidy();
        });
    }

    /// Takes note of changes in design folders. The keys of those that will be made anew.
    pub fn changed(&self, all: &BTreeMap<PathBuf, Changed>) -> Vec<String> {
        let mut inner = self.inner();
        let mut keys = Vec::new();
        for (root, changed) in all {
            let Some(kept) = inner.designs.iter_mut().find(|kept| kept.root == *root) else {
                continue;
            };
            if kept.change(changed) {
                keys.push(kept.key.clone());
                inner.leave_off_for(root);
            }
        }
        if !keys.is_empty() {
            inner.version += 1;
            drop(inner);
            self.turned.notify_all();
        }
        keys
    }

    /// Ends all work; who waits is let go.
    pub fn end(&self) {
        self.turn(|inner| {
            inner.over = true;
            if let Some(job) = &inner.current {
                job.stop.order();
            }
        });
    }

    /// What is to be done next, waiting for it; `None` at the end.
    pub fn take(&self) -> Option<Job> {
        let mut inner = self.inner();
        loop {
            if inner.over {
                return None;
            }
            if let Some(job) = inner.next() {
                let breath = inner.breath_before(&job);
                if breath.is_zero() {
                    inner.current = Some(job.clone());
                    inner.version += 1;
                    self.turned.notify_all();
                    return Some(job);
                }
                let waited = self.turned.wait_timeout(inner, breath);
                inner = waited.unwrap_or_else(PoisonError::into_inner).0;
                continue;
            }
            inner = self
                .turned
                .wait(inner)
                .unwrap_or_else(PoisonError::into_inner);
        }
    }

    /// Names of the pages that are known of a design, by their marks.
    pub(super) fn marks(&self, root: &Path) -> BTreeMap<u128, String> {
        let inner = self.inner();
        let kept = inner.designs.iter().find(|kept| kept.root == root);
        kept.map(Kept::marks).unwrap_or_default()
    }

    /// Takes what came of setting pages: none if they could not be set, or the job was to leave off.
    pub(super) fn pages_done(
        &self,
        job: &Job,
        read: (Option<Reads>, Option<Sold>),
        set: Option<(View, Vec<Stored>)>,
        told: Told,
    ) {
        self.done(job, read, |inner, at| {
            let kept = &mut inner.designs[at];
            let Task::Pages { after, .. } = &job.task else {
                return;
            };
            if after.is_none() {
                kept.told = told;
            }
            match set {
                Some((view, stored)) => {
                    kept.show(view);
                    inner.set = Some(Instant::now());
                    for (name, kind, bytes) in stored {
                        inner.store.put(name, kind, bytes);
                    }
                    inner.tidy();
                }
                None => {
                    let look = job.look();
                    let shown = kept.meant(&look);
                    kept.fail(shown, job.saved, *after);
                }
            }
        });
    }

    /// Compares the pages of a job with the last good ones: aside, a moment after they are shown, for it takes its
    /// time. What meanwhile gave way to something newer is not told.
    pub(super) fn compare(&self, job: &Job) {
        let look = job.look();
        thread::sleep(BREATH);
        let found = {
            let inner = self.inner();
            let mut designs = inner.designs.iter();
            let kept = designs.find(|kept| kept.root == job.root && kept.saved == job.saved);
            kept.and_then(|kept| {
                let shown = kept.meant(&look);
                Some((kept.contents(&shown)?, shown))
            })
        };
        let Some(((old, new), shown)) = found else {
            return;
        };
        let list = changes(&old, &new);
        self.turn(|inner| {
            let mut designs = inner.designs.iter_mut();
            let kept = designs.find(|kept| kept.root == job.root);
            let same = |kept: &Kept| {
                let now = kept.contents(&shown);
                now.is_some_and(|(a, b)| Arc::ptr_eq(&a, &old) && Arc::ptr_eq(&b, &new))
            };
            if let Some(kept) = kept.filter(|kept| same(kept)) {
                kept.tell_changes(&shown, list);
            }
        });
    }

    /// Takes what a whole build came to: none if it was to leave off.
    pub(super) fn whole_done(
        &self,
        job: &Job,
        read: (Option<Reads>, Option<Sold>),
        came: Option<(Option<bool>, Told)>,
    ) {
        self.done(job, read, |inner, at| {
            let kept = &mut inner.designs[at];
            if let Some((passed, told)) = came {
                let outcome = passed.map_or(Outcome::NotMade, Outcome::Made);
                kept.built = Some((job.saved, outcome));
                kept.told = told;
                kept.settle();
            }
        });
    }

    fn done(
        &self,
        job: &Job,
        (reads, sold): (Option<Reads>, Option<Sold>),
        change: impl FnOnce(&mut Inner, usize),
    ) {
        self.turn(|inner| {
            inner.current = None;
            let Some(at) = inner.designs.iter().position(|kept| kept.root == job.root) else {
                return;
            };
            let stopped = job.stop.is_ordered();
            let kept = &mut inner.designs[at];
            if let Task::Pages { .. } = job.task {
                kept.left_off = stopped;
            }
            if let Some(reads) = reads {
                kept.read(reads);
            }
            if let Some(sold) = sold {
                kept.sold = sold;
            }
            if !stopped {
                change(inner, at);
            }
        });
    }

    /// The state for one who looks, as JSON: as soon as it is another than `after`, at the latest when
    /// `wait` is over.
    pub fn state(&self, look: &Look, after: u64, wait: Duration) -> String {
        let mut inner = self.inner();
        inner.look(look);
        self.turned.notify_all();
        let until = Instant::now() + wait;
        while inner.version == after && !inner.over {
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                break;
            }
            let waited = self.turned.wait_timeout(inner, left);
            inner = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
        inner.object(look).to_string()
    }

    /// The content of this name.
    pub fn content(&self, name: &str) -> Option<(Kind, Arc<Vec<u8>>)> {
        self.inner().store.get(name)
    }
}

impl Inner {
    /// What is to be done next: first for those who look, the last one first, then for all others.
    fn next(&self) -> Option<Job> {
        let first = [(Look::default(), Instant::now())];
        let looks = match self.looks.is_empty() {
            true => &first[..],
            false => &self.looks,
        };
        let looked = looks.iter().find_map(|(look, _)| {
            let kept = self.meant(look)?;
            Some((kept, kept.task(look)?))
        });
        let other = || {
            let mut all = self.designs.iter();
            let kept = all.find(|kept| kept.outcome().is_none())?;
            Some((kept, Task::Whole))
        };
        let (kept, task) = looked.or_else(other)?;
        Some(Job {
            root: kept.root.clone(),
            task,
            saved: kept.saved,
            stop: Stop::default(),
        })
    }

    /// How long a job waits for those who draw the pages that were set last.
    fn breath_before(&self, job: &Job) -> Duration {
        match (self.set, &job.task) {
            (Some(set), Task::Whole) => BREATH.saturating_sub(set.elapsed()),
            _ => Duration::ZERO,
        }
    }

    fn meant(&self, look: &Look) -> Option<&Kept> {
        let is = |kept: &&Kept| Some(&kept.key) == look.design.as_ref();
        let mut all = self.designs.iter();
        all.find(is).or(self.designs.first())
    }

    /// Takes note that somebody looks; work that is less urgent leaves off.
    fn look(&mut self, look: &Look) {
        let now = Instant::now();
        self.looks
            .retain(|(other, at)| other != look && now.saturating_duration_since(*at) < LOOKS_FOR);
        self.looks.insert(0, (look.clone(), now));
        let urgent = self.next();
        if let (Some(current), Some(next)) = (&self.current, urgent)
            && current.task == Task::Whole
            && next.task != Task::Whole
        {
            current.stop.order();
        }
    }

    /// The work on a design that was saved leaves off, and less urgent work on others. Pages are left off
    /// once at most: somebody who saves all the time sees some too.
    fn leave_off_for(&mut self, root: &Path) {
        let Some(current) = &self.current else {
            return;
        };
        let kept = self.designs.iter().find(|kept| kept.root == root);
        let left_off = kept.is_some_and(|kept| kept.left_off);
        let whole = current.task == Task::Whole;
        let own = current.root == root && (whole || !left_off);
        let urgent = || self.next().is_some_and(|next| next.task != Task::Whole);
        if own || whole && urgent() {
            current.stop.order();
        }
    }

    fn tidy(&mut self) {
        let names = self.designs.iter().flat_map(Kept::names).cloned();
        let names: BTreeSet<String> = names.collect();
        self.store.keep(&names);
    }

    fn object(&self, look: &Look) -> Value {
        let kept = self.meant(look);
        let view = kept.and_then(|kept| {
            let view = kept.view(&kept.meant(look))?;
            Some(kept.view_object(view))
        });
        let working = self.current.as_ref().and_then(|job| {
            let kept = self.designs.iter().find(|kept| kept.root == job.root)?;
            let what = match job.task {
                Task::Pages { .. } => "pages",
                Task::Whole => "whole",
            };
            Some(json!({"design": kept.key, "what": what}))
        });
        let shown = kept.map(|kept| kept.meant(look));
        let shown = shown.map(|(paper, language)| json!({"paper": paper, "language": language}));
        json!({
            "version": self.version,
            "over": self.over,
            "designs": self.designs.iter().map(Kept::object).collect::<Vec<_>>(),
            "design": kept.map(|kept| &kept.key),
            "looked": shown,
            "working": working,
            "messages": kept.map(|kept| &kept.told.messages),
            "proofed": kept.map(|kept| kept.told.whole),
            "view": view,
        })
    }
}
