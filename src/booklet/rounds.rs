//! What the typesetter remembers, and for how long. It lays a booklet out in rounds until page numbers and
//! places stand, two to five of them, and remembers what it has laid out by what went in. That is most of what
//! the program takes in memory: so before each round what the one before has not used is dropped, and after
//! the last one all of it. What is remembered grows older with each dropping, on whatever thread, and young
//! with each use.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread::{self, JoinHandle};
use typst::diag::SourceResult;
use typst::engine::Engine;
use typst::foundations::{Content, Output, StyleChain, Target};
use typst::introspection::Introspector;
use typst_layout::PagedDocument;

/// Droppings of a typesetting, of three rounds as a rule.
const DROPPINGS: usize = 4;

/// Another typesetting that is under way drops so often from one round of ours to the next.
const OTHERS: usize = 2;

/// For so many droppings is kept what was not used since, beside what a round needs. Another paper or form is
/// set from the ground up anyhow: what is left of the last one saves no time that could be measured.
static REMEMBERED: AtomicUsize = AtomicUsize::new(0);

/// So many typesettings are under way, and so many were at most.
static UNDER_WAY: AtomicUsize = AtomicUsize::new(0);
static MOST: AtomicUsize = AtomicUsize::new(0);

/// Drops what is too old beside the work that follows a typesetting: that takes a tenth of its time.
static DROPPING: Mutex<Option<JoinHandle<()>>> = Mutex::new(None);

/// From now on the typesetter remembers for so many typesettings: for some while somebody looks at pages, which
/// are set again and again between others.
pub fn remember(typesettings: usize) {
    REMEMBERED.store(typesettings * DROPPINGS, Ordering::Relaxed);
}

/// Drops what the typesetter has not used in the last so many droppings.
pub fn forget(droppings: usize) {
    typst::comemo::evict(droppings);
}

/// How old what is remembered may be when a typesetting is done, beside `others`.
fn age(others: usize) -> usize {
    REMEMBERED.load(Ordering::Relaxed) + OTHERS * others
}

/// What one round makes.
pub(super) struct Round(pub(super) PagedDocument);

impl Output for Round {
    fn target() -> Target {
        PagedDocument::target()
    }

    fn create(
        engine: &mut Engine<'_>,
        content: &Content,
        styles: StyleChain<'_>,
    ) -> SourceResult<Self> {
        // what the round before has used is one dropping old, and older by those of others, of which some may be
        // done meanwhile
        let others = MOST.load(Ordering::Relaxed).saturating_sub(1);
        forget(age(others) + 1);
        PagedDocument::create(engine, content, styles).map(Self)
    }

    fn introspector(&self) -> &dyn Introspector {
        Output::introspector(&self.0)
    }
}

/// A typesetting that is under way; when it goes, what is too old is dropped.
pub(super) struct Typesetting(());

impl Typesetting {
    /// Waits until all is dropped that was to be, so that no two hold their memory at once.
    pub(super) fn begin() -> Self {
        let with_this = UNDER_WAY.fetch_add(1, Ordering::Relaxed) + 1;
        MOST.fetch_max(with_this, Ordering::Relaxed);
        wait_for(&mut DROPPING.lock().unwrap_or_else(PoisonError::into_inner));
        Self(())
    }
}

impl Drop for Typesetting {
    fn drop(&mut self) {
        let age = age(UNDER_WAY.fetch_sub(1, Ordering::Relaxed) - 1);
        let mut dropping = DROPPING.lock().unwrap_or_else(PoisonError::into_inner);
        wait_for(&mut dropping);
        match thread::Builder::new().spawn(move || forget(age)) {
            Ok(thread) => *dropping = Some(thread),
            Err(_) => forget(age),
        }
    }
}

fn wait_for(dropping: &mut Option<JoinHandle<()>>) {
    if let Some(thread) = dropping.take() {
        // what it would have dropped is dropped with the next
        let _ = thread.join();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::booklet::world::BookletWorld;
    use std::collections::BTreeMap;

    // heads that move as their numbers grow: laid out more than twice until all stand
    const MOVING: &str = "#set page(width: 60mm, height: 40mm)\n#outline()\n#context v(counter(page).final().first() * 9mm)\n\
        #for i in range(6) [= Head #i\n #lorem(20)]\n#context [#query(heading).last().location().page()]";

    static ROUNDS: AtomicUsize = AtomicUsize::new(0);

    /// A round that is counted.
    struct Counted(Round);

    impl Output for Counted {
        fn target() -> Target {
            Round::target()
        }

        fn create(
            engine: &mut Engine<'_>,
            content: &Content,
            styles: StyleChain<'_>,
        ) -> SourceResult<Self> {
            ROUNDS.fetch_add(1, Ordering::Relaxed);
            Round::create(engine, content, styles).map(Self)
        }

        fn introspector(&self) -> &dyn Introspector {
            self.0.introspector()
        }
    }

    #[test]
    fn what_is_dropped_between_rounds_changes_no_page() {
        let files = BTreeMap::from([("main.typ".to_string(), MOVING.as_bytes().to_vec())]);
        let world = BookletWorld::new(&files, "main.typ", None).expect("a world");
        let pages = |document: PagedDocument| format!("{:?}", document.pages());
        forget(0);
        let plain = typst::compile::<PagedDocument>(&world).output;
        let plain = pages(plain.expect("set"));
        forget(0);
        let Counted(Round(ours)) = typst::compile(&world).output.expect("set");
        assert_eq!(pages(ours), plain);
        assert!(ROUNDS.load(Ordering::Relaxed) > 2, "nothing was dropped");
    }
}
