//! Keeps a fault inside a library from ending the program: it is caught here, without a word on the
//! terminal, and told as a diagnostic by the caller.

use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe};
use std::sync::Once;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A library broke off.
#[derive(Debug)]
pub struct BrokeOff;

/// How many calls of [`guarded`] are going on.
static GOING_ON: AtomicUsize = AtomicUsize::new(0);

thread_local! {
    static GUARDED: Cell<bool> = const { Cell::new(false) };
}

/// What `work` gives.
///
/// # Errors
/// If it panicked, on this thread or on one that worked for it.
pub fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, BrokeOff> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let usual = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            // threads of the typesetter's own have no name
            let worker =
                GOING_ON.load(Ordering::Relaxed) > 0 && std::thread::current().name().is_none();
            if !worker && !GUARDED.get() {
                usual(info);
            }
        }));
    });
    let before = GUARDED.replace(true);
    GOING_ON.fetch_add(1, Ordering::Relaxed);
    // all that is shared is memory of finished results
    let result = panic::catch_unwind(AssertUnwindSafe(work));
    GOING_ON.fetch_sub(1, Ordering::Relaxed);
    GUARDED.set(before);
    result.map_err(|_| BrokeOff)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_is_caught_and_work_goes_on() {
        assert!(guarded(|| panic!("a fault")).is_err());
        assert_eq!(guarded(|| 2).ok(), Some(2));
    }
}
