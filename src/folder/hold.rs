//! Holding a folder while files are put into it: other programs that write there wait, and this one is not
//! ended by hand before it is done. A hold is let go by whatever end the program comes to.

use std::fs::{File, TryLockError};
use std::io;
use std::path::Path;
use std::sync::{PoisonError, RwLock, RwLockReadGuard};
use std::thread;
use std::time::Duration;

/// How often a hold is tried. Putting all files of a booklet in their places takes a tenth of a second, on a
/// slow disk some seconds; who waits longer waits for a program that hangs.
const TRIES: u32 = 600;

/// The time between two tries: 15 s in all.
const PAUSE: Duration = Duration::from_millis(25);

/// Shared by all who write just now; had alone by the one who ends the program.
static WRITERS: RwLock<()> = RwLock::new(());

/// While it lives, no other program puts files into the folder, and this one is not ended.
pub(super) struct Writing {
    _writer: RwLockReadGuard<'static, ()>,
    _folder: Option<File>,
}

/// Waits until nobody else writes into the folder `directory`. Must not be asked for by who has it.
///
/// # Errors
/// Another program writes there and does not come to an end.
pub(super) fn writing(directory: &Path) -> io::Result<Writing> {
    // first the folder: who waits for it may be ended
    let folder = held(directory, TRIES)?;
    let _writer = WRITERS.read().unwrap_or_else(PoisonError::into_inner);
    Ok(Writing {
        _writer,
        _folder: folder,
    })
}

/// The same, if nobody else writes there at this moment.
pub(super) fn writing_now(directory: &Path) -> Option<Writing> {
    let folder = held(directory, 1).ok()?;
    let _writer = WRITERS.read().unwrap_or_else(PoisonError::into_inner);
    Some(Writing {
        _writer,
        _folder: folder,
    })
}

/// Waits until all files that are being written by this program are in their places. From then on it writes
/// none: it is about to end.
pub fn close() {
    std::mem::forget(WRITERS.write().unwrap_or_else(PoisonError::into_inner));
}

/// The file or folder `path`, held for this program alone. Where a system opens no folders, or a disk knows
/// no hold, nothing is held: then two programs can still come between each other.
///
/// # Errors
/// Another program holds it, and did so at each of so many `tries`.
pub(super) fn held(path: &Path, tries: u32) -> io::Result<Option<File>> {
    let Ok(file) = File::open(path) else {
        return Ok(None);
    };
    for again in (0..tries).rev() {
        match file.try_lock() {
            Ok(()) => return Ok(Some(file)),
            Err(TryLockError::Error(_)) => return Ok(None),
            Err(TryLockError::WouldBlock) if again > 0 => thread::sleep(PAUSE),
            Err(TryLockError::WouldBlock) => {}
        }
    }
    let told = "another program is writing there, and does not come to an end";
    Err(io::Error::new(io::ErrorKind::ResourceBusy, told))
}

/// As [`held`], with as much patience as for writing.
///
/// # Errors
/// As [`held`].
pub(super) fn held_in_time(path: &Path) -> io::Result<Option<File>> {
    held(path, TRIES)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn what_one_holds_another_waits_for_and_is_told_of_in_the_end() {
        let place = tempfile::tempdir().expect("a folder");
        let first = held(place.path(), 1).expect("free");
        assert!(first.is_some());
        let told = held(place.path(), 2).expect_err("held by another");
        assert!(told.to_string().starts_with("another program"), "{told}");
        assert!(writing_now(place.path()).is_none());
        drop(first);
        assert!(held(place.path(), 1).expect("free").is_some());
    }

    #[test]
    fn what_cannot_be_opened_is_not_held() {
        assert!(
            held(Path::new("no/such/folder"), 1)
                .expect("nothing")
                .is_none()
        );
    }
}
