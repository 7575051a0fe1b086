//! A new design folder: made beside its place and renamed, so that it is there whole or not at all.

use super::limits;
use super::write::{Unwritten, write_new};
use std::fs;
use std::io;
use std::path::Path;
use tempfile::Builder;

/// Makes the folder `root` with `files`, paths below it with forward slashes and their texts.
///
/// # Errors
/// Something stands at `root`, which is untouched then; or what the operating system says.
pub fn create(root: &Path, files: &[(String, String)]) -> Result<(), Unwritten> {
    let fail = |why| Unwritten {
        path: root.to_path_buf(),
        why,
    };
    if root.symlink_metadata().is_ok() {
        return Err(fail(io::Error::new(
            io::ErrorKind::AlreadyExists,
            "there is something of that name already",
        )));
    }
    let parent = root
        .parent()
        .filter(|parent| !parent.as_os_str().is_empty());
    let parent = parent.unwrap_or(Path::new("."));
    fs::create_dir_all(parent).map_err(fail)?;
    // a name with a dot is no design: a run that is killed leaves nothing that is taken for one
    let beside = Builder::new()
        .prefix(".new-")
        .tempdir_in(parent)
        .map_err(fail)?;
    let inner = beside.path().join("design");
    for (path, text) in files {
        write_new(&inner.join(path), text.as_bytes())?;
    }
    fs::rename(&inner, root).map_err(fail)
}

/// The text of the file of a foot, anywhere on the disk: what the designer names on the command line.
///
/// # Errors
/// It cannot be read, is too large, or is no text.
pub fn foot(path: &Path) -> io::Result<String> {
    let told = |why: &str| io::Error::other(format!("{} {why}", path.display()));
    let size = fs::metadata(path).map_err(|why| told(&format!("cannot be read ({why})")))?;
    if size.len() > limits::of_file("foot.yaml") {
        return Err(told("is too large for the file of a foot"));
    }
    let bytes = fs::read(path).map_err(|why| told(&format!("cannot be read ({why})")))?;
    let text = String::from_utf8(bytes).ok();
    let is_of_a_foot = |text: &String| text.lines().any(|line| line.trim_end() == "tracing:");
    text.filter(is_of_a_foot).ok_or_else(|| {
        told("is no file of a foot: take the outline from a picture with ‘pressfoot trace’ first")
    })
}
