//! Adding to files of a design that are never changed: its editions. Of two programs that add at the same
//! moment, one is first, and the other is told.

use super::write::{Unwritten, write_new};
use super::{DESIGN_FILE, EDITIONS, hold};
use std::fs;
use std::path::{Path, PathBuf};

/// What became of an edition that was to be added.
#[derive(Debug, PartialEq, Eq)]
pub enum Added {
    /// It is kept here.
    Kept(PathBuf),
    /// It is not: these paths below the design's folder came since it was begun.
    Meanwhile(Vec<String>),
}

/// Adds the edition `path`, below the folder `root` of a design whose editions were `known`.
///
/// # Errors
/// As [`write_new`]; also if another program holds the design's file and does not let go.
pub fn add(root: &Path, path: &str, bytes: &[u8], known: &[&str]) -> Result<Added, Unwritten> {
    // the design's file: others who add to it wait
    let file = root.join(DESIGN_FILE);
    let _held = hold::held_in_time(&file).map_err(|why| Unwritten::new(&file, why))?;
    let mut newer = listed(root);
    newer.retain(|path| !known.contains(&path.as_str()));
    if !newer.is_empty() {
        return Ok(Added::Meanwhile(newer));
    }
    let place = root.join(path);
    write_new(&place, bytes)?;
    Ok(Added::Kept(place))
}

/// Paths of the editions that lie there now, below the design's folder, sorted.
fn listed(root: &Path) -> Vec<String> {
    let entries = fs::read_dir(root.join(EDITIONS)).into_iter().flatten();
    let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let editions = names.filter(|name| name.ends_with(".yaml") && !name.starts_with('.'));
    let mut paths: Vec<String> = editions.map(|name| format!("{EDITIONS}/{name}")).collect();
    paths.sort();
    paths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_editions_added_at_one_moment_the_first_is_kept() {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join(DESIGN_FILE), "title: Boards\n").unwrap();
        let begun: Vec<&str> = Vec::new();
        let names: Vec<String> = (0..8).map(|n| format!("editions/1.{n}.0.yaml")).collect();
        let added: Vec<Added> = std::thread::scope(|scope| {
            let threads: Vec<_> = names
                .iter()
                .map(|name| scope.spawn(|| add(root.path(), name, b"kept", &begun).unwrap()))
                .collect();
            threads.into_iter().map(|t| t.join().unwrap()).collect()
        });
        let kept = added.iter().filter(|a| matches!(a, Added::Kept(_))).count();
        assert_eq!(kept, 1, "{added:?}");
        let there = listed(root.path());
        assert_eq!(there.len(), 1);
        let late = added
            .iter()
            .filter(|a| **a == Added::Meanwhile(there.clone()));
        assert_eq!(late.count(), 7, "{added:?}");
    }

    #[test]
    fn who_knows_the_last_edition_may_add_the_next_one_and_never_the_same() {
        let root = tempfile::tempdir().unwrap();
        let (one, two) = ("editions/1.0.0.yaml", "editions/1.1.0.yaml");
        let kept = |path: &str| Added::Kept(root.path().join(path));
        assert_eq!(add(root.path(), one, b"1", &[]).unwrap(), kept(one));
        assert_eq!(add(root.path(), two, b"2", &[one]).unwrap(), kept(two));
        assert!(add(root.path(), one, b"3", &[one, two]).is_err());
        assert_eq!(fs::read(root.path().join(one)).unwrap(), b"1");
    }
}
