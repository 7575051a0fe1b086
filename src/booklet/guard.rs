//! Keeps a fault inside the typesetter from ending the program: it is caught here, without a word on
//! the terminal, and told as a diagnostic by the caller.

use super::world::BookletWorld;
use std::cell::Cell;
use std::collections::BTreeMap;
use std::panic::{self, AssertUnwindSafe};
use std::sync::Once;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The typesetter broke off.
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
            // the typesetter's own threads have no name
            let worker =
                GOING_ON.load(Ordering::Relaxed) > 0 && std::thread::current().name().is_none();
            if !worker && !GUARDED.get() {
                usual(info);
            }
        }));
    });
    let before = GUARDED.replace(true);
    GOING_ON.fetch_add(1, Ordering::Relaxed);
    // all that is shared is the typesetter's memory of finished results
    let result = panic::catch_unwind(AssertUnwindSafe(work));
    GOING_ON.fetch_sub(1, Ordering::Relaxed);
    GUARDED.set(before);
    result.map_err(|_| BrokeOff)
}

/// Whether the typesetter breaks off over a page with nothing but the picture at `path`.
pub fn breaks_alone(path: &str, bytes: &[u8]) -> bool {
    let main = format!("#set document(title: \"A\")\n#image(\"/{path}\", alt: \"A\")\n");
    let files = BTreeMap::from([
        ("alone.typ".to_string(), main.into_bytes()),
        (path.to_string(), bytes.to_vec()),
    ]);
    let Some(world) = BookletWorld::new(&files, "alone.typ", None) else {
        return false;
    };
    let set = guarded(|| {
        let (document, _) = world.compile();
        document.map(|document| world.export(&document, "alone").is_ok())
    });
    set.is_err()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_is_caught_and_work_goes_on() {
        assert!(guarded(|| panic!("a fault")).is_err());
        assert_eq!(guarded(|| 2).ok(), Some(2));
    }

    #[test]
    fn a_sound_picture_breaks_nothing() {
        let plain =
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 6 4'><rect width='6'/></svg>";
        assert!(!breaks_alone("pictures/1.svg", plain.as_bytes()));
    }
}
