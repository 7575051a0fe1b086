//! Being ended: files that are being put in their places come there first.

use crate::folder::write;

/// From now on Ctrl-C, and being told to end, wait for the files that are being written, and leave nothing
/// unfinished. Where a system has no such signals the program ends at once, and the next run clears away.
pub(super) fn in_order() {
    #[cfg(unix)]
    on_signals();
}

/// Waits until what is being written is in its place; from then on nothing is.
pub(super) fn after_writing() {
    write::close();
}

#[cfg(unix)]
fn on_signals() {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;
    let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else {
        return;
    };
    let wait = move || {
        if let Some(signal) = signals.forever().next() {
            after_writing();
            // as without this thread: whoever started the program sees which signal ended it
            let _ = emulate_default_handler(signal);
        }
    };
    // without it the program ends at once, and the next run clears away
    let _ = std::thread::Builder::new().name("end".into()).spawn(wait);
}
