//! Designs made side by side, one on each processor, and told of in their order.

use super::Fault;
use super::screen::{Aside, Screen};
use rayon::ThreadPoolBuilder;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Sender, channel};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;

/// What a thread may stack, bytes: several times what the first thread of a program usually has, since one that
/// waits for a part of its design works on parts of others meanwhile.
const STACK: usize = 32 << 20;

/// At most so many at once: each takes some 150 MB while it is made, and its drawings and pages are spread over
/// all processors anyhow.
const MOST: usize = 4;

/// While so much waits to be told of, no further design is begun, bytes: eight large designs.
const WAITING: usize = 48 << 20;

/// What was made of the design of this number, and how long its stages took; nothing if its thread panicked.
type MadeAside<T> = (usize, Option<(T, Aside)>);

/// How designs are made and what of them is held in memory.
pub(super) struct Work<'a, T> {
    /// Makes the design of a folder.
    pub(super) make: &'a (dyn Fn(&Path, &mut Aside) -> T + Sync),
    /// What holds in memory what was made, bytes.
    pub(super) weigh: &'a (dyn Fn(&T) -> usize + Sync),
}

impl<T> Clone for Work<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Work<'_, T> {}

/// Makes each of `designs`, and gives what was made to `take`, on this thread and in the order of the designs.
/// A thread that is done begins the next one, so that a design that takes as long as ten others holds none of
/// them up, unless what waits to be told of has come to [`WAITING`]: what is made never piles up.
///
/// # Errors
/// The first one of `take`: then no further design is begun.
pub(super) fn make<T: Send>(
    designs: &[PathBuf],
    screen: &mut Screen,
    work: Work<T>,
    take: &mut dyn FnMut(&Path, T, &mut Screen) -> Result<(), Fault>,
) -> Result<(), Fault> {
    let threads = rayon::current_num_threads().min(MOST).min(designs.len());
    let blank = screen.aside();
    if threads < 2 {
        for path in designs {
            let mut aside = blank.clone();
            let made = (work.make)(path, &mut aside);
            screen.count(aside);
            take(path, made, screen)?;
        }
        return Ok(());
    }
    let pool = ThreadPoolBuilder::new()
        .num_threads(rayon::current_num_threads())
        .stack_size(STACK)
        .build()
        .map_err(|why| Fault(format!("no thread can be begun ({why})")))?;
    let queue = Queue::default();
    let (give, made) = channel();
    pool.in_place_scope(|scope| {
        // whatever ends this: threads that wait are sent home
        let _closing = Closing(&queue);
        let blank = &blank;
        let queue = &queue;
        scope.spawn_broadcast(move |_, thread| {
            if thread.index() < threads {
                lane(designs, queue, give.clone(), blank, work);
            }
        });
        let mut waiting = BTreeMap::new();
        for (at, path) in designs.iter().enumerate() {
            while !waiting.contains_key(&at) {
                // one that gives nothing has panicked, and the scope tells of it
                let Ok((number, Some(one))) = made.recv() else {
                    return Ok(());
                };
                waiting.insert(number, one);
            }
            if let Some((one, aside)) = waiting.remove(&at) {
                queue.lighter((work.weigh)(&one));
                screen.count(aside);
                take(path, one, screen)?;
            }
        }
        Ok(())
    })
}

/// Which design is begun next, and whether.
#[derive(Default)]
struct Queue {
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Default)]
struct State {
    next: usize,
    /// What was made and is not told of, bytes.
    waiting: usize,
    closed: bool,
}

impl Queue {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The number of the design to be begun, as soon as there is room for what is made of it; none if no
    /// further one is asked for.
    fn next(&self) -> Option<usize> {
        let full = |state: &mut State| state.waiting >= WAITING && !state.closed;
        let state = self.changed.wait_while(self.state(), full);
        let mut state = state.unwrap_or_else(PoisonError::into_inner);
        let number = state.next;
        state.next += 1;
        (!state.closed).then_some(number)
    }

    fn heavier(&self, bytes: usize) {
        self.state().waiting += bytes;
    }

    fn lighter(&self, bytes: usize) {
        self.state().waiting -= bytes;
        self.changed.notify_all();
    }

    fn close(&self) {
        self.state().closed = true;
        self.changed.notify_all();
    }
}

/// Closes the queue when it goes.
struct Closing<'a>(&'a Queue);

impl Drop for Closing<'_> {
    fn drop(&mut self) {
        self.0.close();
    }
}

/// A thread's end of the way to where designs are told of; says so if the thread panics.
struct Giving<T>(Sender<MadeAside<T>>);

impl<T> Drop for Giving<T> {
    fn drop(&mut self) {
        if thread::panicking() {
            let _ = self.0.send((usize::MAX, None));
        }
    }
}

/// Makes one design after the other, until none is left or nobody takes them any more.
fn lane<T>(
    designs: &[PathBuf],
    queue: &Queue,
    give: Sender<MadeAside<T>>,
    blank: &Aside,
    work: Work<T>,
) {
    let give = Giving(give);
    while let Some(number) = queue.next()
        && let Some(path) = designs.get(number)
    {
        let mut aside = blank.clone();
        let made = (work.make)(path, &mut aside);
        queue.heavier((work.weigh)(&made));
        if give.0.send((number, Some((made, aside)))).is_err() {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::args::Format;
    use std::panic::AssertUnwindSafe;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    fn named(count: usize) -> Vec<PathBuf> {
        (0..count).map(|i| PathBuf::from(i.to_string())).collect()
    }

    fn work<T>(make: &(dyn Fn(&Path, &mut Aside) -> T + Sync)) -> Work<'_, T> {
        Work {
            make,
            weigh: &|_| 1,
        }
    }

    fn number(path: &Path) -> u64 {
        path.to_string_lossy().parse().expect("a number")
    }

    #[test]
    fn designs_are_told_of_in_their_order_whatever_they_take() {
        let mut screen = Screen::new(Format::Text, true, false);
        let slow = |path: &Path, _: &mut Aside| {
            thread::sleep(Duration::from_millis(number(path) * 7 % 5));
            number(path)
        };
        let mut told = Vec::new();
        let mut take = |_: &Path, number: u64, _: &mut Screen| {
            told.push(number);
            Ok(())
        };
        assert!(make(&named(20), &mut screen, work(&slow), &mut take).is_ok());
        assert_eq!(told, (0..20).collect::<Vec<_>>());
    }

    #[test]
    fn one_that_takes_long_holds_no_other_up() {
        let mut screen = Screen::new(Format::Text, true, false);
        let done = AtomicUsize::new(0);
        let count = |path: &Path, _: &mut Aside| {
            // the first one waits until all others are made
            while number(path) == 0
                && rayon::current_num_threads() > 1
                && done.load(Ordering::Relaxed) < 39
            {
                thread::sleep(Duration::from_millis(1));
            }
            done.fetch_add(1, Ordering::Relaxed);
        };
        let mut take = |_: &Path, (): (), _: &mut Screen| Ok(());
        assert!(make(&named(40), &mut screen, work(&count), &mut take).is_ok());
        assert_eq!(done.into_inner(), 40);
    }

    #[test]
    fn no_further_one_is_begun_while_much_waits() {
        let mut screen = Screen::new(Format::Text, true, false);
        let waiting = AtomicUsize::new(0);
        let made = |path: &Path, _: &mut Aside| {
            if number(path) == 0 {
                thread::sleep(Duration::from_millis(50));
            }
            waiting.fetch_add(1, Ordering::Relaxed)
        };
        let weighed = Work {
            make: &made,
            weigh: &|_| WAITING / 3,
        };
        let mut most = 0;
        let mut take = |_: &Path, _: usize, _: &mut Screen| {
            most = most.max(waiting.fetch_sub(1, Ordering::Relaxed));
            Ok(())
        };
        assert!(make(&named(200), &mut screen, weighed, &mut take).is_ok());
        // three wait, one is in the hand, each thread has begun another one
        assert!(most <= 4 + MOST, "{most}");
    }

    #[test]
    fn none_is_begun_after_a_fault_but_what_is_under_way() {
        let mut screen = Screen::new(Format::Text, true, false);
        let begun = AtomicUsize::new(0);
        let count = |_: &Path, _: &mut Aside| begun.fetch_add(1, Ordering::Relaxed);
        let weighed = Work {
            make: &count,
            weigh: &|_| WAITING,
        };
        let mut take = |path: &Path, _: usize, _: &mut Screen| match path == Path::new("2") {
            true => Err(Fault("the disk is full".into())),
            false => Ok(()),
        };
        assert!(make(&named(500), &mut screen, weighed, &mut take).is_err());
        // three are told of; each thread has one that waits, one in the hand, and one that it began meanwhile
        let most = 3 + 3 * MOST;
        assert!(begun.into_inner() <= most, "no more than {most}");
    }

    #[test]
    fn one_that_panics_ends_all() {
        let broken = |path: &Path, _: &mut Aside| assert_ne!(number(path), 3, "broken");
        let weighed = Work {
            make: &broken,
            weigh: &|()| WAITING,
        };
        let end = std::panic::catch_unwind(AssertUnwindSafe(|| {
            let mut screen = Screen::new(Format::Text, true, false);
            let mut take = |_: &Path, (): (), _: &mut Screen| Ok(());
            make(&named(20), &mut screen, weighed, &mut take).is_ok()
        }));
        assert!(end.is_err());
    }
}
