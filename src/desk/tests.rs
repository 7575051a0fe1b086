//! What is done next, and what leaves off for it.

use super::job::Look;
use super::job::{Job, Task};
use super::kept::Told;
use super::state::Desk;
use crate::folder::reads::Reads;
use crate::folder::seen::Changed;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

fn desk() -> Desk {
    let designs = ["mat", "rug"].map(|key| (PathBuf::from(key), key.to_string()));
    Desk::new(designs)
}

fn saved(desk: &Desk, root: &str, path: &str) -> Vec<String> {
    let changed = Changed {
        paths: [path.to_string()].into(),
        root: false,
    };
    desk.changed(&BTreeMap::from([(PathBuf::from(root), changed)]))
}

fn looks(desk: &Desk, design: &str) -> serde_json::Value {
    let look = Look {
        design: Some(design.to_string()),
        ..Look::default()
    };
    let state = desk.state(&look, 0, Duration::ZERO);
    serde_json::from_str(&state).unwrap()
}

fn is_pages(job: &Job) -> bool {
    matches!(job.task, Task::Pages { .. })
}

/// Pages that could not be set.
fn no_pages(desk: &Desk, job: &Job) {
    desk.pages_done(job, (None, None), None, Told::default());
}

/// A build that made nothing.
fn not_made(desk: &Desk, job: &Job) {
    desk.whole_done(job, (None, None), Some((None, Told::default())));
}

#[test]
fn what_is_looked_at_comes_first_then_its_build_then_the_others() {
    let desk = desk();
    let mut order = Vec::new();
    for _ in 0..3 {
        let job = desk.take().unwrap();
        order.push((job.root.display().to_string(), is_pages(&job)));
        match is_pages(&job) {
            true => no_pages(&desk, &job),
            false => not_made(&desk, &job),
        }
    }
    let wanted = [("mat", true), ("mat", false), ("rug", false)];
    assert_eq!(order, wanted.map(|(key, pages)| (key.to_string(), pages)));
    assert_eq!(looks(&desk, "mat")["designs"][1]["verdict"], "not made");
    desk.end();
    assert!(desk.take().is_none());
}

#[test]
fn a_save_stops_the_work_on_that_design_and_what_it_came_to_counts_for_nothing() {
    let desk = desk();
    no_pages(&desk, &desk.take().unwrap());
    let whole = desk.take().unwrap();
    assert_eq!(saved(&desk, "rug", "design.yaml"), ["rug"]);
    assert!(!whole.stop.is_ordered(), "nobody looks at the rug");
    assert!(saved(&desk, "mat", "notes.txt").is_empty());
    assert!(!whole.stop.is_ordered());
    assert_eq!(saved(&desk, "mat", "booklet/10.md"), ["mat"]);
    assert!(whole.stop.is_ordered());
    not_made(&desk, &whole);
    assert_eq!(looks(&desk, "mat")["designs"][0]["verdict"], "being made");
    let next = desk.take().unwrap();
    assert!(is_pages(&next) && next.root == Path::new("mat") && next.saved == 2);
}

#[test]
fn pages_leave_off_for_newer_ones_but_not_twice_in_a_row() {
    let desk = desk();
    let first = desk.take().unwrap();
    saved(&desk, "mat", "design.yaml");
    assert!(first.stop.is_ordered());
    no_pages(&desk, &first);
    let second = desk.take().unwrap();
    saved(&desk, "mat", "design.yaml");
    assert!(is_pages(&second) && !second.stop.is_ordered());
    no_pages(&desk, &second);
    let third = desk.take().unwrap();
    assert!(is_pages(&third) && third.saved == 3);
    saved(&desk, "mat", "design.yaml");
    assert!(third.stop.is_ordered());
}

#[test]
fn a_whole_build_leaves_off_for_the_design_that_is_looked_at() {
    let desk = desk();
    no_pages(&desk, &desk.take().unwrap());
    let whole = desk.take().unwrap();
    assert!(!is_pages(&whole));
    looks(&desk, "rug");
    assert!(whole.stop.is_ordered());
    not_made(&desk, &whole);
    let next = desk.take().unwrap();
    assert!(is_pages(&next) && next.root == Path::new("rug"));
}

#[test]
fn what_changed_before_it_was_known_to_be_read_counts_afterwards() {
    let desk = desk();
    let pages = desk.take().unwrap();
    // asked for, but not there: it comes while the work is under way
    assert!(saved(&desk, "mat", "drawings/toe.png").is_empty());
    let reads = Reads::new(["drawings/toe.png".to_string()]);
    desk.pages_done(&pages, (Some(reads), None), None, Told::default());
    let next = desk.take().unwrap();
    assert!(is_pages(&next) && next.saved == 2);
    assert_eq!(saved(&desk, "mat", "drawings/toe.png"), ["mat"]);
}

#[test]
fn a_state_that_is_known_is_given_again_only_when_it_is_another() {
    let desk = desk();
    let first = looks(&desk, "mat");
    let version = first["version"].as_u64().unwrap();
    let look = Look::default();
    std::thread::scope(|scope| {
        let waiting = scope.spawn(|| desk.state(&look, version, Duration::from_secs(600)));
        desk.take().unwrap();
        let state: serde_json::Value = serde_json::from_str(&waiting.join().unwrap()).unwrap();
        assert_eq!(state["working"]["what"], "pages");
    });
}
