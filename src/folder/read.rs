//! One file of the disk, read no further than its kind may be long. Devices and pipes have no length and may
//! have no end: only files are read.

use super::Unreadable;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

/// The bytes of the file at `path`, at most `limit`. Links are followed.
///
/// # Errors
/// It is no file, is larger, or what the operating system says.
pub fn read_at_most(path: &Path, limit: u64) -> Result<Vec<u8>, Unreadable> {
    let size = fs::metadata(path).map_err(system)?.len();
    let bytes = beginning(path, limit.saturating_add(1))?;
    let read = bytes.len() as u64;
    if read > limit {
        // the file may grow while it is read
        let size = size.max(read);
        return Err(Unreadable::TooLarge { size, limit });
    }
    Ok(bytes)
}

/// As [`read_at_most`], but of a longer file the first `most` bytes.
///
/// # Errors
/// It is no file, or what the operating system says.
pub fn beginning(path: &Path, most: u64) -> Result<Vec<u8>, Unreadable> {
    // asked before it is opened: a pipe that nobody writes to opens never
    if !fs::metadata(path).map_err(system)?.is_file() {
        return Err(Unreadable::NoFile);
    }
    let file = File::open(path).map_err(system)?;
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes).map_err(system)?;
    Ok(bytes)
}

fn system(why: io::Error) -> Unreadable {
    Unreadable::System(why.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_read_as_far_as_it_may_be_long() {
        let place = tempfile::tempdir().expect("a folder");
        let path = place.path().join("toe.png");
        fs::write(&path, "a toe").expect("written");
        assert_eq!(read_at_most(&path, 5).expect("read"), b"a toe");
        let refused = Unreadable::TooLarge { size: 5, limit: 4 };
        assert_eq!(read_at_most(&path, 4), Err(refused));
        assert_eq!(beginning(&path, 4).expect("read"), b"a to");
        assert_eq!(read_at_most(place.path(), 4), Err(Unreadable::NoFile));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn what_has_no_end_is_no_file() {
        let device = Path::new("/dev/zero");
        assert_eq!(read_at_most(device, 4), Err(Unreadable::NoFile));
        assert_eq!(beginning(device, 4), Err(Unreadable::NoFile));
        // a file of no length, as the system tells it, that holds something all the same
        let limit = read_at_most(Path::new("/proc/self/maps"), 4);
        assert!(matches!(limit, Err(Unreadable::TooLarge { limit: 4, .. })));
    }
}
