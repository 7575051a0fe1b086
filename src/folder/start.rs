//! A new design folder: made beside its place and renamed, so that it is there whole or not at all.

use super::write::{Unwritten, folder_of};
use super::{hold, limits, read_at_most, written};
use std::fs;
use std::io::{self, Write};
use std::path::Path;
use tempfile::Builder;

/// How the name of a folder begins that is not there whole yet. One with a dot is no design: a run that is
/// killed leaves nothing that is taken for one, and the next run takes it away.
const BESIDE: &str = ".pressfoot-new-";

/// Makes the folder `root` with `files`, paths below it with forward slashes and their texts.
///
/// # Errors
/// Something stands at `root`, which is untouched then; or what the operating system says.
pub fn create(root: &Path, files: &[(String, String)]) -> Result<(), Unwritten> {
    let fail = |why| Unwritten::new(root, why);
    let parent = folder_of(root);
    fs::create_dir_all(parent).map_err(|why| Unwritten::folder(parent, why))?;
    let _writing = hold::writing(parent).map_err(fail)?;
    written::sweep_folders(parent, BESIDE);
    may_be_begun(root)?;
    let beside = Builder::new()
        .prefix(BESIDE)
        .tempdir_in(parent)
        .map_err(fail)?;
    let inner = beside.path().join("design");
    for (path, text) in files {
        durably(&inner.join(path), text).map_err(|why| Unwritten::new(&root.join(path), why))?;
    }
    fs::rename(&inner, root).map_err(fail)
}

/// Writes a file of a folder that nobody knows yet, so that it is on the disk before the folder has its name.
fn durably(path: &Path, text: &str) -> io::Result<()> {
    fs::create_dir_all(folder_of(path))?;
    let mut file = fs::File::create_new(path)?;
    file.write_all(text.as_bytes())?;
    file.sync_data()
}

/// Whether there is room for the folder `root`.
///
/// # Errors
/// Something stands there.
pub fn may_be_begun(root: &Path) -> Result<(), Unwritten> {
    match root.symlink_metadata() {
        Err(_) => Ok(()),
        Ok(_) => Err(Unwritten::new(
            root,
            io::Error::new(
                io::ErrorKind::AlreadyExists,
                "there is something of that name already",
            ),
        )),
    }
}

/// The text of the file of a foot, anywhere on the disk: what the designer names on the command line.
///
/// # Errors
/// It cannot be read, is no file or too large, or is no text.
pub fn foot(path: &Path) -> io::Result<String> {
    let told = |why: &str| io::Error::other(format!("{} {why}", path.display()));
    let bytes = read_at_most(path, limits::of_file("foot.yaml")).map_err(|why| {
        let told = format!("{}: {why}; name the file of a foot", path.display());
        io::Error::other(told)
    })?;
    let text = String::from_utf8(bytes).ok();
    let is_of_a_foot = |text: &String| text.lines().any(|line| line.starts_with("tracing:"));
    text.filter(is_of_a_foot).ok_or_else(|| {
        told("is no file of a foot: take the outline from a picture with ‘pressfoot trace’ first")
    })
}
