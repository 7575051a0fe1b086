//! Designs made side by side, one on each processor, and told of in their order.

use super::Fault;
use super::screen::{Aside, Screen};
use crate::booklet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread::{self, Scope};

/// What a thread may stack, bytes: as much as the first thread of a program usually has.
const STACK: usize = 8 << 20;

/// At most so many at once: each takes some 150 MB while it is made, and its drawings and pages are spread over
/// all processors anyhow.
const MOST: usize = 4;

/// What was made of a design, and how long its stages took.
type MadeAside<T> = (T, Aside);

/// Makes each of `designs`, and gives what was made to `take`, on this thread and in the order of the designs.
/// Of two threads one takes the first, third, fifth design, the other those between, and none is ahead of what
/// is told by more than two designs: what is made and not told of never piles up.
///
/// # Errors
/// The first one of `take`: then no further design is begun.
pub(super) fn make<T: Send>(
    designs: &[PathBuf],
    screen: &mut Screen,
    make: &(dyn Fn(&Path, &mut Aside) -> T + Sync),
    take: &mut dyn FnMut(&Path, T, &mut Screen) -> Result<(), Fault>,
) -> Result<(), Fault> {
    let threads = rayon::current_num_threads().min(MOST).min(designs.len());
    // each thread's typesettings make the others' memory older: so all remember what their own one uses
    booklet::remember(threads.saturating_sub(1));
    let blank = screen.aside();
    if threads < 2 {
        for path in designs {
            let mut aside = blank.clone();
            let made = make(path, &mut aside);
            screen.count(aside);
            take(path, made, screen)?;
        }
        return Ok(());
    }
    thread::scope(|scope| {
        let mut lanes = Vec::with_capacity(threads);
        for first in 0..threads {
            let share = designs.iter().skip(first).step_by(threads);
            lanes.push(lane(scope, share, blank.clone(), make)?);
        }
        for (at, path) in designs.iter().enumerate() {
            // one that gives nothing has panicked, and the scope tells of it
            let Ok((made, aside)) = lanes[at % threads].recv() else {
                break;
            };
            screen.count(aside);
            take(path, made, screen)?;
        }
        Ok(())
    })
}

/// A thread that makes its share of the designs, one after the other, until nobody takes them any more.
fn lane<'scope, 'env, T: Send + 'scope>(
    scope: &'scope Scope<'scope, 'env>,
    share: impl Iterator<Item = &'env PathBuf> + Send + 'scope,
    blank: Aside,
    make: &'env (dyn Fn(&Path, &mut Aside) -> T + Sync),
) -> Result<Receiver<MadeAside<T>>, Fault> {
    let (give, taken): (SyncSender<MadeAside<T>>, _) = sync_channel(1);
    let work = move || {
        for path in share {
            let mut aside = blank.clone();
            let made = make(path, &mut aside);
            if give.send((made, aside)).is_err() {
                return;
            }
        }
    };
    let thread = thread::Builder::new().stack_size(STACK);
    let begun = thread.spawn_scoped(scope, work);
    begun.map_err(|why| Fault(format!("no thread can be begun ({why})")))?;
    Ok(taken)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::args::Format;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    fn named(count: usize) -> Vec<PathBuf> {
        (0..count).map(|i| PathBuf::from(i.to_string())).collect()
    }

    #[test]
    fn designs_are_told_of_in_their_order_whatever_they_take() {
        let mut screen = Screen::new(Format::Text, true, false);
        let slow = |path: &Path, _: &mut Aside| {
            let number: u64 = path.to_string_lossy().parse().expect("a number");
            thread::sleep(Duration::from_millis(number * 7 % 5));
            number
        };
        let mut told = Vec::new();
        let mut take = |_: &Path, number: u64, _: &mut Screen| {
            told.push(number);
            Ok(())
        };
        assert!(make(&named(20), &mut screen, &slow, &mut take).is_ok());
        assert_eq!(told, (0..20).collect::<Vec<_>>());
    }

    #[test]
    fn none_is_begun_after_a_fault_but_what_is_under_way() {
        let mut screen = Screen::new(Format::Text, true, false);
        let begun = AtomicUsize::new(0);
        let count = |_: &Path, _: &mut Aside| begun.fetch_add(1, Ordering::Relaxed);
        let mut take = |path: &Path, _: usize, _: &mut Screen| match path == Path::new("2") {
            true => Err(Fault("the disk is full".into())),
            false => Ok(()),
        };
        assert!(make(&named(500), &mut screen, &count, &mut take).is_err());
        // each thread has one that waits, one in the hand, and one that it began meanwhile
        let most = 3 + 3 * MOST;
        assert!(begun.into_inner() <= most, "no more than {most}");
    }
}
