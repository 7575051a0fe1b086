//! Patience with templates of a design's own: they are programs, and nobody should wait for one without end.

use super::screen::Screen;
use super::{DESIGN_AT_FAULT, end};
use crate::booklet::own_templates::{UnderWay, under_way};
use crate::diagnostic::Diagnostics;
use std::collections::BTreeMap;
use std::fs;
use std::thread;
use std::time::{Duration, Instant};

/// A typesetting may take so long. The longest one of the demo designs takes two seconds, ten times as long
/// where nothing is optimised.
const LONGEST: Duration = Duration::from_secs(120);

/// So much more memory the program may have than when a typesetting began, MiB. The largest of the demo
/// designs takes some 250, and four may be made at once.
const LARGEST: u64 = 1200;

/// The time between two looks: what fills memory fills some gigabytes in a second.
const PAUSE: Duration = Duration::from_millis(50);

/// A typesetting that goes on.
struct Awaited {
    since: Instant,
    /// What the program had in memory when it was first seen, MiB.
    memory: u64,
}

/// From now on a typesetting that does not come to an end is told of and ends the program: it cannot be
/// stopped by itself. Without a thread for it one waits until somebody ends the program.
#[allow(clippy::exit, reason = "the thread that works cannot be asked to end")]
pub(super) fn keep_watch(screen: Screen) {
    let watch = move || {
        let mut awaited = BTreeMap::new();
        let (endless, what) = loop {
            thread::sleep(PAUSE);
            if let Some(found) = overdue(&mut awaited, under_way(), memory(), Instant::now()) {
                break found;
            }
        };
        end::after_writing();
        let mut told = Diagnostics::default();
        told.push(endless.endless(&what));
        screen.messages(endless.folder(), &told);
        std::process::exit(i32::from(DESIGN_AT_FAULT));
    };
    let _ = thread::Builder::new().name("patience".into()).spawn(watch);
}

/// The first of those `under_way` with which patience is at an end, and what it did.
fn overdue(
    awaited: &mut BTreeMap<u64, Awaited>,
    under_way: Vec<UnderWay>,
    memory: u64,
    now: Instant,
) -> Option<(UnderWay, String)> {
    awaited.retain(|number, _| under_way.iter().any(|one| one.number == *number));
    under_way.into_iter().find_map(|one| {
        let begun = Awaited { since: now, memory };
        let begun = awaited.entry(one.number).or_insert(begun);
        let more = memory.saturating_sub(begun.memory);
        if now.saturating_duration_since(begun.since) > LONGEST {
            let minutes = LONGEST.as_secs() / 60;
            Some((one, format!("{minutes} minutes have passed")))
        } else if more > LARGEST {
            Some((one, format!("it has taken {more} MiB of memory")))
        } else {
            None
        }
    })
}

/// What the program has in memory, MiB; 0 where the system does not say so in a file.
fn memory() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kilobytes = line.and_then(|line| line.trim().trim_end_matches("kB").trim().parse().ok());
    kilobytes.map_or(0, |kilobytes: u64| kilobytes / 1024)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn going_on(numbers: &[u64]) -> Vec<UnderWay> {
        numbers
            .iter()
            .map(|number| UnderWay::numbered(*number))
            .collect()
    }

    #[test]
    fn patience_is_with_each_typesetting_anew() {
        let begin = Instant::now();
        let minute = Duration::from_secs(60);
        let mut awaited = BTreeMap::new();
        let mut look = |numbers: &[u64], minutes| {
            let found = overdue(&mut awaited, going_on(numbers), 0, begin + minutes * minute);
            found.map(|(one, what)| (one.number, what))
        };
        assert_eq!(look(&[1, 2], 0), None);
        assert_eq!(look(&[2], 1), None);
        assert_eq!(look(&[2, 3], 2), None);
        // the second since the beginning, the third since two minutes
        assert_eq!(look(&[2, 3], 3), Some((2, "2 minutes have passed".into())));
        assert_eq!(look(&[3], 4), None);
        assert_eq!(look(&[3], 5), Some((3, "2 minutes have passed".into())));
        assert_eq!(look(&[], 6), None);
    }

    #[test]
    fn what_fills_memory_is_ended_by_what_came_since_it_began() {
        let now = Instant::now();
        let mut awaited = BTreeMap::new();
        let mut look =
            |memory| overdue(&mut awaited, going_on(&[7]), memory, now).map(|(_, what)| what);
        assert_eq!(look(900), None);
        assert_eq!(look(900 + LARGEST), None);
        let told = look(901 + LARGEST);
        assert_eq!(told.as_deref(), Some("it has taken 1201 MiB of memory"));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn the_system_says_what_is_in_memory() {
        assert!((1..100_000).contains(&memory()), "{}", memory());
    }
}
