//! `watch`: designs are saved in every way that editors save, and what a browser is given is looked at as
//! a browser gets it, over HTTP (RFC 9112). Waiting is patient and never measured.

mod over;

use super::support::{pressfoot, record};
use over::{DESIGN, Watched, about, ask, designs};
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::net::TcpListener;
use std::path::Path;
use std::thread;
use std::time::Duration;

fn fresh(state: &Value) -> bool {
    state["view"]["fresh"] == true
}

fn done(state: &Value) -> bool {
    let verdict = &state["designs"][0]["verdict"];
    fresh(state) && verdict != "being made" && state["view"]["settled"] == true
}

fn names(state: &Value) -> Vec<String> {
    let pages = state["view"]["pages"].as_array().expect("pages");
    let name = |page: &Value| page["name"].as_str().expect("a name").to_string();
    pages.iter().map(name).collect()
}

fn says(state: &Value, words: &str) -> bool {
    let pages = state["view"]["pages"].as_array();
    let mut pages = pages.into_iter().flatten();
    pages.any(|page| page["words"].as_str().is_some_and(|w| w.contains(words)))
}

#[test]
fn a_save_brings_the_new_page_and_leaves_the_others_as_they_were() {
    let watched = Watched::over(designs(&["mat"]), &["--paper", "a4"]);
    let first = watched.until("mat", done);
    assert_eq!(first["designs"][0]["verdict"], "passed its proof");
    let old = names(&first);
    let design = watched.design("mat").join("design.yaml");
    fs::write(&design, about("A mat to sit on.")).expect("saved");
    let next = watched.until("mat", |state| {
        fresh(state) && says(state, "A mat to sit on.")
    });
    let new = names(&next);
    assert_eq!(new.len(), old.len());
    let same = new.iter().filter(|name| old.contains(name)).count();
    assert!(
        same > 0 && same < new.len(),
        "{same} of {} are the same",
        new.len()
    );
    for name in &new {
        let (code, page) = watched.get(&format!("/kept/{name}"));
        assert!(code == 200 && page.starts_with(b"<svg"), "{name}");
        let text = String::from_utf8(page).expect("text");
        // true scale: A4 (ISO 216) in points of 1/72 in
        let drawn = roxmltree::Document::parse(&text).expect("SVG");
        let width = drawn.root_element().attribute("width").expect("a width");
        let points: f64 = width.trim_end_matches("pt").parse().expect("points");
        assert!((points - 210.0 / 25.4 * 72.0).abs() < 0.01, "{width}");
    }
    // what was changed is compared with the last good pages
    let pages = next["view"]["pages"].as_array().expect("pages");
    assert!(
        pages
            .iter()
            .zip(&old)
            .all(|(page, old)| page["before"] == **old)
    );
    let facts = next["view"]["facts"].as_str().expect("figures");
    let (_, facts) = watched.get(&format!("/kept/{facts}"));
    let facts: Value = serde_json::from_slice(&facts).expect("JSON");
    // two sides of 120 mm less two corners of 12 mm: 96 mm
    let edges = facts["mat"]["sizes"][0]["edges"].to_string();
    assert!(edges.contains("96"), "{edges}");
    assert_eq!(next["view"]["plates"][0]["piece"], "mat");
    let (code, _) = watched.stop();
    assert_eq!(code, Some(0));
}

#[test]
fn an_error_is_shown_at_its_place_with_the_last_good_pages_and_is_gone_when_it_is_mended() {
    let watched = Watched::over(designs(&["mat"]), &["--paper", "a4", "--poll"]);
    let first = watched.until("mat", done);
    let design = watched.design("mat").join("design.yaml");
    fs::write(&design, DESIGN.replace("width: 120 mm", "width: 120")).expect("saved");
    let wrong = watched.until("mat", |state| state["designs"][0]["errors"] == 1);
    let message = &wrong["messages"][0];
    assert_eq!(message["level"], "error");
    assert!(
        message["file"]
            .as_str()
            .expect("a file")
            .ends_with("mat/design.yaml")
    );
    let line = message["line"].as_u64().expect("a line");
    let excerpt = message["excerpt"].as_array().expect("lines");
    let here = excerpt
        .iter()
        .find(|l| l["line"] == line)
        .expect("its line");
    assert_eq!(here["marked"], "120");
    assert!(here["before"].as_str().expect("text").ends_with("width: "));
    assert_eq!(names(&wrong), names(&first));
    assert!(!fresh(&wrong));
    fs::write(&design, DESIGN).expect("saved");
    let mended = watched.until("mat", |state| {
        fresh(state) && state["designs"][0]["errors"] == 0
    });
    assert_eq!(names(&mended), names(&first));
}

/// Numbers that look random and are the same every time (Knuth, The Art of Computer Programming, volume
/// 2, 3.3.4; MMIX's generator, from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }
}

/// Saves a text in one of the ways of editors, people and tools.
fn save(root: &Path, text: &str, way: u64) -> std::io::Result<()> {
    let file = root.join("design.yaml");
    match way {
        0 => fs::write(&file, text),
        1 => {
            let beside = root.join(".design.yaml.part");
            fs::write(&beside, text)?;
            fs::rename(beside, file)
        }
        2 => {
            let mut open = fs::File::create(&file)?;
            let (first, second) = text.as_bytes().split_at(text.len() / 2);
            open.write_all(first)?;
            open.flush()?;
            open.write_all(second)
        }
        3 => {
            fs::remove_file(&file)?;
            fs::write(&file, text)
        }
        4 => {
            let kept = root.join("design.yaml~");
            fs::rename(&file, kept)?;
            fs::write(&file, text)
        }
        _ => {
            let away = root.with_extension("away");
            fs::rename(root, &away)?;
            fs::write(away.join("design.yaml"), text)?;
            fs::rename(away, root)
        }
    }
}

#[test]
fn after_five_hundred_saves_of_all_kinds_the_last_state_is_shown_and_written() {
    let watched = Watched::over(designs(&["mat"]), &["mat", "--paper", "a4"]);
    watched.until("mat", fresh);
    let root = watched.design("mat");
    let mut dice = Dice(20_261_129);
    for round in 1..=500 {
        let text = about(&format!("Round {round} of many."));
        save(&root, &text, dice.below(6)).expect("saved");
        thread::sleep(Duration::from_millis(dice.below(12)));
    }
    let last = watched.until("mat", |state| {
        done(state) && says(state, "Round 500 of many.")
    });
    assert_eq!(last["designs"][0]["verdict"], "passed its proof");
    let (code, place) = watched.stop();
    assert_eq!(code, Some(0));
    // the files are those of a build of the last state
    let arguments = ["build", "mat", "--paper", "a4", "--out", "again", "--quiet"];
    let built = pressfoot(place.path(), &arguments);
    assert_eq!(built.status.code(), Some(0));
    for file in ["mat/mat-a4.pdf", "mat/numbers.json", "mat/proof.json"] {
        let read = |out: &str| fs::read(place.path().join(out).join(file)).expect("a file");
        assert!(read("build-output") == read("again"), "{file}");
    }
}

#[test]
fn what_watch_made_is_not_made_again_by_a_build_wherever_the_folder_lies() {
    let watched = Watched::over(designs(&["mat"]), &["mat", "--paper", "a4"]);
    watched.until("mat", done);
    let (code, place) = watched.stop();
    assert_eq!(code, Some(0));
    let (here, there) = (place.path().join("designs"), place.path().join("elsewhere"));
    fs::rename(here, there).expect("moved");
    let build = |more: &[&str]| {
        let arguments = [&["build", "mat", "--from", "elsewhere", "--paper"], more].concat();
        record(&pressfoot(place.path(), &arguments))
    };
    let same = build(&["a4"]);
    assert!(same.contains("passed its proof, unchanged"), "{same}");
    let other = build(&["letter"]);
    assert!(!other.contains("unchanged"), "{other}");
}

#[test]
fn a_design_that_is_removed_leaves_the_list_and_one_that_comes_back_is_on_it_again() {
    let watched = Watched::over(designs(&["mat", "rug"]), &["--paper", "a4"]);
    let keys = |state: &Value| -> Vec<String> {
        let designs = state["designs"].as_array().expect("designs");
        let key = |design: &Value| design["key"].as_str().expect("a key").to_string();
        designs.iter().map(key).collect()
    };
    watched.until("mat", |state| keys(state) == ["mat", "rug"]);
    let away = watched.place.path().join("away");
    fs::rename(watched.design("rug"), &away).expect("moved");
    watched.until("mat", |state| keys(state) == ["mat"]);
    fs::rename(&away, watched.design("rug")).expect("moved");
    watched.until("mat", |state| keys(state) == ["mat", "rug"]);
    let code = watched.stop().0;
    assert_eq!(code, Some(0));
}

#[test]
fn only_what_was_read_starts_a_build_and_never_what_was_written() {
    let place = designs(&["mat", "rug"]);
    let out = place.path().join("designs/mat/out");
    let out = out.to_str().expect("a path").to_string();
    let mut watched = Watched::over(place, &["--paper", "a4", "--out", &out]);
    watched.hear("verdict");
    watched.hear("verdict");
    let write = |watched: &Watched, name: &str, words: &str| {
        // at one moment, so that it is told once
        save(&watched.design(name), &about(words), 1).expect("saved");
    };
    fs::write(watched.design("rug").join("notes.txt"), "thread is out").expect("written");
    write(&watched, "rug", "Weaving it");
    assert_eq!(watched.hear("saved")["design"], "rug");
    assert_eq!(watched.hear("verdict")["design"], "rug");
    write(&watched, "mat", "Weaving it");
    assert_eq!(watched.hear("saved")["design"], "mat");
    assert_eq!(watched.hear("verdict")["design"], "mat");
    write(&watched, "rug", "Binding it");
    assert_eq!(watched.hear("saved")["design"], "rug");
    assert_eq!(watched.hear("verdict")["design"], "rug");
    assert_eq!((watched.heard("saved"), watched.heard("verdict")), (3, 5));
    // a text that both may use is read by both
    let shared = watched.place.path().join("designs/_shared");
    fs::create_dir_all(&shared).expect("made");
    fs::write(shared.join("knot.md"), "Tie a knot.\n").expect("saved");
    let mut both = [(); 2].map(|()| watched.hear("saved")["design"].to_string());
    both.sort();
    assert_eq!(both, ["\"mat\"", "\"rug\""]);
}

#[test]
fn strangers_and_paths_that_climb_are_refused() {
    let watched = Watched::over(designs(&["mat"]), &["--paper", "a4"]);
    let address = watched.address.clone();
    let code = |method: &str, path: &str, host: &str| ask(&address, method, path, host).0;
    assert_eq!(code("GET", "/", &address), 200);
    let port = address.rsplit(':').next().expect("a port");
    assert_eq!(code("GET", "/", &format!("localhost:{port}")), 200);
    // a name that someone else leads to this machine (DNS rebinding)
    for host in [
        "example.org",
        &format!("example.org:{port}"),
        "127.0.0.1",
        "",
    ] {
        assert_eq!(code("GET", "/desk.json", host), 403, "{host}");
    }
    for path in [
        "/../Cargo.toml",
        "/kept/../../designs/mat/design.yaml",
        "/kept/%2e%2e/design.yaml",
        "/design.yaml",
        "/faces/",
        "//etc/passwd",
    ] {
        assert_eq!(code("GET", path, &address), 404, "{path}");
    }
    for method in ["POST", "PUT", "DELETE", "OPTIONS"] {
        assert_eq!(code(method, "/", &address), 405, "{method}");
    }
}

#[test]
fn a_port_in_use_is_said_with_what_to_do() {
    let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("an address").port().to_string();
    let place = designs(&["mat"]);
    let said = pressfoot(place.path(), &["watch", "--port", &port]);
    assert_eq!(said.status.code(), Some(2));
    let text = String::from_utf8_lossy(&said.stderr);
    assert!(
        text.contains(&format!("port {port} is in use")) && text.contains("--port 0"),
        "{text}"
    );
}
