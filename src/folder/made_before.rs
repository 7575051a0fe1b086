//! `.made.json`: what a build that passed its proof was made from and came to, so that the next one need
//! not make it again. A digest of all that it hangs on is its name; each file stands with its own, so that
//! one that was lost or changed since is made anew.

use super::{DesignFolder, read_at_most, written};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

/// Name of the record in the folder of results.
pub(super) const RECORD: &str = ".made.json";
/// A record is never longer, bytes.
const LONGEST: u64 = 4 << 20;
/// A file that a build wrote is never longer, bytes: a booklet has a tenth of it at most.
const LONGEST_RESULT: u64 = 1 << 30;

/// The digest (BLAKE3) of every file of the design, shared ones too, by path and content, and of `with`:
/// the program and what it is asked for. Where the folder lies is none of it: a folder that was moved is the
/// same design. `None` if a file cannot be read.
pub fn digest(folder: &DesignFolder, with: &str) -> Option<String> {
    let mut hasher = blake3::Hasher::new();
    let mut add = |bytes: &[u8]| {
        // lengths part what stands side by side
        hasher.update(&(bytes.len() as u64).to_le_bytes());
        hasher.update(bytes);
    };
    add(with.as_bytes());
    add(folder.key().as_bytes());
    for path in folder.paths() {
        add(path.as_bytes());
        add(folder.bytes(path)?);
    }
    Some(hasher.finalize().to_hex().to_string())
}

/// What was told, and the files that were written in their order, if `directory` holds just what was made
/// from this digest, and no build was killed there since while it put files in their places.
pub fn found(directory: &Path, digest: &str) -> Option<(Value, Vec<PathBuf>)> {
    if written::is_unfinished(directory) {
        return None;
    }
    let text = read_at_most(&directory.join(RECORD), LONGEST).ok()?;
    let mut record: Value = serde_json::from_slice(&text).ok()?;
    if record["from"].as_str()? != digest {
        return None;
    }
    let mut files = Vec::new();
    for file in record["files"].as_array()? {
        let name = file["name"].as_str()?;
        if !super::inside(name).is_ok_and(|clean| clean == name) {
            return None;
        }
        let path = directory.join(name);
        if file["is"].as_str()? != of_file(&path)? {
            return None;
        }
        files.push(path);
    }
    (!files.is_empty()).then(|| (record["told"].take(), files))
}

/// The record of what was told when these files, names and bytes, were made from this digest. It is written
/// with them, so that it never speaks of files that another build put in their place meanwhile.
pub fn record<'a>(
    digest: &str,
    files: impl Iterator<Item = (&'a str, &'a [u8])>,
    told: Value,
) -> Vec<u8> {
    let files = files.map(|(name, bytes)| json!({"name": name, "is": of_bytes(bytes)}));
    let files: Vec<Value> = files.collect();
    let record = json!({"schema": 1, "from": digest, "files": files, "told": told});
    record.to_string().into_bytes()
}

fn of_file(path: &Path) -> Option<String> {
    // a link was not written by a build
    let is_file = fs::symlink_metadata(path).is_ok_and(|about| about.is_file());
    let bytes = is_file.then(|| read_at_most(path, LONGEST_RESULT).ok());
    bytes.flatten().map(|bytes| of_bytes(&bytes))
}

fn of_bytes(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

#[cfg(test)]
mod tests {
    use super::super::Outputs;
    use super::*;

    fn design(text: &str) -> DesignFolder {
        DesignFolder::from_memory("case", [("design.yaml", text), ("booklet/1.md", "Sew.")])
    }

    #[test]
    fn a_digest_hangs_on_every_file_and_on_what_is_asked_for() {
        let of = |text: &str, with: &str| digest(&design(text), with).expect("readable");
        assert_eq!(of("a: 1", "a4"), of("a: 1", "a4"));
        assert_ne!(of("a: 1", "a4"), of("a: 2", "a4"));
        assert_ne!(of("a: 1", "a4"), of("a: 1", "letter"));
        let moved =
            DesignFolder::from_memory("case", [("design.yaml", "a: 1"), ("booklet/2.md", "Sew.")]);
        assert_ne!(of("a: 1", "a4"), digest(&moved, "a4").expect("readable"));
        let files = [("design.yaml", "a: 1"), ("booklet/1.md", "Sew.")];
        let other = DesignFolder::from_memory("another", files);
        assert_ne!(of("a: 1", "a4"), digest(&other, "a4").expect("readable"));
    }

    #[test]
    fn a_folder_that_was_moved_is_the_same_design() {
        let place = tempfile::tempdir().expect("a folder");
        let of = |designs: &str| {
            let root = place.path().join(designs).join("case");
            fs::create_dir_all(&root).expect("made");
            fs::write(root.join("design.yaml"), "a: 1").expect("written");
            let folder = DesignFolder::read(&root).expect("read");
            digest(&folder, "a4").expect("readable")
        };
        assert_eq!(of("here"), of("there"));
    }

    #[test]
    fn what_was_made_is_found_while_every_file_stands_as_it_was_written() {
        let place = tempfile::tempdir().expect("a folder");
        let file = place.path().join("cut").join("toe.svg");
        let made = || {
            let mut outputs = Outputs::new(place.path());
            outputs.add("cut/toe.svg", "a toe");
            let record = record("d1", outputs.files(), json!(["told"]));
            outputs.made_from(record);
            outputs.publish().expect("written");
        };
        assert_eq!(found(place.path(), "d1"), None);
        made();
        assert_eq!(
            found(place.path(), "d1"),
            Some((json!(["told"]), vec![file.clone()]))
        );
        assert_eq!(found(place.path(), "d2"), None, "made from something else");
        fs::write(&file, "a toy").expect("written");
        assert_eq!(found(place.path(), "d1"), None, "a file was changed");
        made();
        #[cfg(unix)]
        {
            let beside = place.path().join("toe beside");
            fs::rename(&file, &beside).expect("moved");
            std::os::unix::fs::symlink(&beside, &file).expect("linked");
            assert_eq!(found(place.path(), "d1"), None, "a link in its place");
        }
        made();
        fs::remove_file(&file).expect("removed");
        assert_eq!(found(place.path(), "d1"), None, "a file is gone");
        made();
        let record = place.path().join(RECORD);
        let text = fs::read_to_string(&record)
            .expect("kept")
            .replace("cut/toe.svg", "../toe.svg");
        fs::write(&record, text).expect("written");
        assert_eq!(found(place.path(), "d1"), None, "a name that leads out");
        made();
        let list = place.path().join(written::LIST);
        let names = written::read(place.path());
        fs::write(&list, written::list(&names, true)).expect("written");
        assert_eq!(found(place.path(), "d1"), None, "a build was killed");
        made();
        fs::write(&record, "{").expect("written");
        assert_eq!(found(place.path(), "d1"), None, "no record");
    }
}
