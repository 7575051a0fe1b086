use super::*;
use std::fs;
use tempfile::{TempDir, tempdir};

fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let directory = tempdir().unwrap();
    for (path, bytes) in files {
        let path = directory.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    directory
}

fn codes(diagnostics: &Diagnostics) -> Vec<&'static str> {
    diagnostics.iter().map(|d| d.code).collect()
}

#[test]
fn files_are_read_by_their_path_below_the_folder() {
    let directory = folder(&[
        ("shoe/design.yaml", b"title: x\n"),
        ("shoe/booklet/20-b.md", b"b"),
        ("shoe/booklet/10-a.md", b"a"),
        ("shoe/booklet/notes.txt", b"n"),
        ("shoe/booklet/old/05.md", b"o"),
        ("shoe/pictures/toe.png", b"\x89PNG"),
        ("shoe/.hidden/secret", b"s"),
    ]);
    let folder = DesignFolder::read(&directory.path().join("shoe")).unwrap();
    assert_eq!(folder.key(), "shoe");
    assert_eq!(folder.booklet(), ["booklet/10-a.md", "booklet/20-b.md"]);
    assert_eq!(folder.pictures(), ["pictures/toe.png"]);
    assert_eq!(folder.bytes("pictures/toe.png"), Some(&b"\x89PNG"[..]));
    assert_eq!(folder.text("./booklet//10-a.md").unwrap().text, "a");
    assert_eq!(folder.file(".hidden/secret"), Err(Unreadable::Missing));
    assert!(folder.text("design.yaml").unwrap().path == "design.yaml");
}

#[test]
fn nothing_outside_the_folder_is_read() {
    let directory = folder(&[("shoe/design.yaml", b""), ("secret.txt", b"s")]);
    let folder = DesignFolder::read(&directory.path().join("shoe")).unwrap();
    for path in [
        "../secret.txt",
        "a/../../secret.txt",
        "a/../design.yaml",
        "/etc/hostname",
        "C:/x",
        "a\0b",
    ] {
        assert_eq!(folder.file(path), Err(Unreadable::Outside), "{path}");
    }
    assert_eq!(folder.file("pictures\\toe.png"), Err(Unreadable::Backslash));
}

#[cfg(unix)]
#[test]
fn a_link_may_stay_inside_but_not_lead_out() {
    use std::os::unix::fs::symlink;
    let directory = folder(&[
        ("shoe/design.yaml", b""),
        ("shoe/pictures/a.png", b"a"),
        ("secret.txt", b"s"),
    ]);
    let shoe = directory.path().join("shoe");
    symlink("a.png", shoe.join("pictures/b.png")).unwrap();
    symlink("nowhere", shoe.join("pictures/c.png")).unwrap();
    let inside = DesignFolder::read(&shoe).unwrap();
    assert_eq!(inside.bytes("pictures/b.png"), Some(&b"a"[..]));
    assert_eq!(inside.file("pictures/c.png"), Err(Unreadable::Missing));
    symlink("../../secret.txt", shoe.join("pictures/d.png")).unwrap();
    symlink("..", shoe.join("up")).unwrap();
    let said = DesignFolder::read(&shoe).unwrap_err();
    assert_eq!(codes(&said), ["outside-folder", "outside-folder"]);
}

#[test]
fn a_text_that_is_not_utf_8_is_refused_at_its_line_and_column() {
    let directory = folder(&[
        (
            "design.yaml",
            b"title: x\r\nabout: \xC3\xA4\xFF\n".as_slice(),
        ),
        ("feet/small.yaml", b"\xFF"),
    ]);
    let said = DesignFolder::read(directory.path()).unwrap_err();
    let places: Vec<_> = said
        .iter()
        .map(|d| {
            let place = d.place.as_ref().unwrap();
            (d.code, place.source.path.as_str(), place.line, place.column)
        })
        .collect();
    assert_eq!(
        places,
        [
            ("not-utf-8", "design.yaml", 2, 9),
            ("not-utf-8", "feet/small.yaml", 1, 1)
        ]
    );
}

#[test]
fn line_ends_and_byte_order_marks_are_made_alike() {
    let folder = DesignFolder::from_memory("x", [("a.md", "\u{FEFF}a\r\nb\rc\n")]);
    assert_eq!(folder.text("a.md").unwrap().text, "a\nb\nc\n");
}

#[test]
fn a_folder_without_design_and_a_path_that_is_no_folder_are_refused() {
    let directory = folder(&[("a.txt", b"")]);
    let said = DesignFolder::read(directory.path()).unwrap_err();
    assert_eq!(codes(&said), ["file-missing"]);
    let said = DesignFolder::read(&directory.path().join("a.txt")).unwrap_err();
    assert_eq!(codes(&said), ["unreadable"]);
    let said = DesignFolder::read(&directory.path().join("nowhere")).unwrap_err();
    assert_eq!(codes(&said), ["unreadable"]);
}

#[test]
fn sizes_are_limited_where_a_file_is_asked_for() {
    let large = vec![b'#'; 1024 * 1024 + 1];
    let directory = folder(&[
        ("design.yaml", b""),
        ("booklet/a.md", &large),
        ("raw.psd", &large),
    ]);
    let said = DesignFolder::read(directory.path()).unwrap_err();
    assert_eq!(codes(&said), ["too-large"]);
    fs::remove_file(directory.path().join("booklet/a.md")).unwrap();
    let folder = DesignFolder::read(directory.path()).unwrap();
    assert_eq!(folder.bytes("raw.psd").unwrap().len(), large.len());
}

#[test]
fn too_many_files_or_folders_are_refused() {
    let (files, folders) = (
        folder(&[("design.yaml", b"")]),
        folder(&[("design.yaml", b"")]),
    );
    let path = |directory: &TempDir, number: i32| directory.path().join(number.to_string());
    (0..2000).for_each(|number| fs::write(path(&files, number), "").unwrap());
    (0..4000).for_each(|number| fs::create_dir(path(&folders, number)).unwrap());
    for directory in [&files, &folders] {
        let said = DesignFolder::read(directory.path()).unwrap_err();
        assert_eq!(codes(&said), ["too-large"]);
    }
}

#[test]
fn every_path_asked_for_is_remembered() {
    let folder = DesignFolder::from_memory("x", [("a.md", "a")]);
    let _ = (
        folder.text("a.md"),
        folder.bytes("./b.png"),
        folder.bytes("../c"),
    );
    assert_eq!(folder.asked(), ["a.md", "b.png"]);
}

#[test]
fn designs_are_found_sorted_and_hidden_ones_skipped() {
    let directory = folder(&[
        ("b/design.yaml", b""),
        ("a/c/design.yaml", b""),
        ("b/inner/design.yaml", b""),
        ("_draft/design.yaml", b""),
        (".git/design.yaml", b""),
        ("empty/readme.txt", b""),
    ]);
    let found = find(directory.path());
    let names: Vec<_> = found
        .iter()
        .map(|path| {
            path.strip_prefix(directory.path())
                .unwrap()
                .display()
                .to_string()
        })
        .collect();
    assert_eq!(names, ["a/c", "b"]);
    assert!(find(&directory.path().join("nowhere")).is_empty());
}

#[test]
fn outputs_are_published_together_or_not_at_all() {
    let directory = folder(&[
        ("out/a.pdf", b"old"),
        ("out/stale.pdf", b"s"),
        ("out/kept.pdf", b"k"),
    ]);
    let out = directory.path().join("out");
    let mut outputs = Outputs::new(&out);
    outputs.add("a.pdf", "new");
    outputs.add("cut/small/toe.svg", "svg");
    outputs.remove("stale.pdf");
    outputs.remove("never-was.pdf");
    outputs.remove("a.pdf");
    let written = outputs.publish().unwrap();
    assert_eq!(written, [out.join("a.pdf"), out.join("cut/small/toe.svg")]);
    assert_eq!(fs::read(out.join("a.pdf")).unwrap(), b"new");
    assert!(!out.join("stale.pdf").exists() && out.join("kept.pdf").exists());

    // a name that cannot be written: a folder stands where a file's folder should be made
    let mut outputs = Outputs::new(&out);
    outputs.add("a.pdf", "newer");
    outputs.add("a.pdf/b.pdf", "x");
    assert!(outputs.publish().is_err());
    assert_eq!(fs::read(out.join("a.pdf")).unwrap(), b"new");
    let left: Vec<_> = fs::read_dir(&out)
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    assert_eq!(left.len(), 4, "{left:?}");
}

#[test]
fn a_whole_build_takes_away_what_only_older_builds_made() {
    let directory = folder(&[
        ("out/notes.txt", b"of somebody else"),
        ("out/.pressfoot-notes-of-mine", b"of somebody else"),
        (
            "out/only-small/.pressfoot-x1Y2z3",
            b"of a build with a list of its own",
        ),
        ("out/cut/tiny/.pressfoot-x1Y2z3", b"of a killed build"),
        ("out/cut/large/mine.svg", b"of somebody else"),
        ("out/.pressfoot-x1Y2z3", b"of a killed build"),
        ("out/cut/large/.pressfoot-aB3dE6", b"of a killed build"),
    ]);
    let out = directory.path().join("out");
    let publish = |names: &[&str], whole: bool| {
        let mut outputs = Outputs::new(&out);
        names.iter().for_each(|name| outputs.add(*name, "x"));
        if whole {
            outputs.replace_older();
        }
        outputs.publish()
    };
    let old = [
        "a-a4.pdf",
        "a-letter.pdf",
        "cut/large/toe.svg",
        "cut/small/toe.svg",
    ];
    publish(&old, true).unwrap();
    assert!(!out.join(".pressfoot-x1Y2z3").exists());
    assert!(!out.join("cut/large/.pressfoot-aB3dE6").exists());
    assert!(
        !out.join("cut/tiny").exists(),
        "a folder that is empty then"
    );
    assert!(out.join("only-small/.pressfoot-x1Y2z3").exists());
    // a build that failed its proof, or of one paper only, takes nothing away
    publish(&["a-a4.unproofed.pdf"], false).unwrap();
    assert!(old.iter().all(|name| out.join(name).exists()));
    publish(&["a-a4.pdf", "cut/large/heel.svg"], true).unwrap();
    for gone in [
        "a-letter.pdf",
        "a-a4.unproofed.pdf",
        "cut/large/toe.svg",
        "cut/small",
    ] {
        assert!(!out.join(gone).exists(), "{gone}");
    }
    for kept in [
        "a-a4.pdf",
        "cut/large/heel.svg",
        "notes.txt",
        ".pressfoot-notes-of-mine",
        "cut/large/mine.svg",
    ] {
        assert!(out.join(kept).exists(), "{kept}");
    }
}

#[test]
fn a_folder_in_the_place_of_a_file_keeps_all_files_as_they_are() {
    let directory = folder(&[("out/a.pdf", b"old"), ("out/b.pdf/inside", b"x")]);
    let out = directory.path().join("out");
    let mut outputs = Outputs::new(&out);
    outputs.add("a.pdf", "new");
    outputs.add("b.pdf", "new");
    assert!(outputs.publish().is_err());
    assert_eq!(fs::read(out.join("a.pdf")).unwrap(), b"old");
}

#[test]
fn what_cannot_be_published_leaves_no_folders_and_says_what_stands_there() {
    let directory = folder(&[("out/cut", b"a file"), ("file", b"x")]);
    let place = |path: &str| directory.path().join(path);
    let told = |out: &str, name: &str| {
        let mut outputs = Outputs::new(place(out));
        outputs.add("deep/er/a.svg", "new");
        outputs.add(name, "new");
        outputs.publish().unwrap_err().to_string()
    };
    let in_a_file = "cut cannot be written (it should be a folder, and a file stands there)";
    assert!(told("out", "cut/toe.svg").contains(in_a_file));
    assert!(!place("out/deep").exists());
    assert!(told("file/out", "a.svg").contains("file cannot be written (it should be a folder"));
    let outside = "‘../a.svg’ is no path below the output folder";
    assert!(told("fresh/out", "../a.svg").contains(outside));
    assert!(!place("fresh").exists());
}

#[cfg(unix)]
#[test]
fn a_link_in_the_place_of_a_file_is_replaced_and_one_to_nowhere_is_no_folder() {
    use std::os::unix::fs::symlink;
    let directory = folder(&[("out/x", b"x"), ("kept/y", b"y")]);
    let out = directory.path().join("out");
    symlink(directory.path().join("kept"), out.join("a.pdf")).unwrap();
    symlink(directory.path().join("nowhere"), out.join("cut")).unwrap();
    let publish = |name: &str| {
        let mut outputs = Outputs::new(&out);
        outputs.add(name, "new");
        outputs.publish()
    };
    publish("a.pdf").unwrap();
    assert!(!out.join("a.pdf").is_symlink());
    assert!(directory.path().join("kept/y").exists());
    let told = publish("cut/toe.svg").unwrap_err().to_string();
    assert!(told.contains("cut cannot be written (a link that leads nowhere"));
}

#[test]
fn sets_that_are_published_at_one_moment_come_one_after_the_other() {
    let directory = tempdir().unwrap();
    let out = directory.path().join("out");
    let names: Vec<String> = (0..40).map(|n| format!("cut/{}/{n}.svg", n % 3)).collect();
    let publish = |set: usize| {
        let mut outputs = Outputs::new(&out);
        outputs.replace_older();
        // each set has names of its own, too
        names
            .iter()
            .skip(set)
            .for_each(|n| outputs.add(n.as_str(), format!("set {set}")));
        outputs.publish()
    };
    std::thread::scope(|scope| {
        let publish = &publish;
        let sets: Vec<_> = (0..6)
            .map(|set| scope.spawn(move || publish(set)))
            .collect();
        for (number, set) in sets.into_iter().enumerate() {
            assert_eq!(set.join().unwrap().unwrap().len(), 40 - number);
        }
    });
    let left: BTreeMap<String, String> = names
        .iter()
        .filter_map(|name| Some((name.clone(), fs::read_to_string(out.join(name)).ok()?)))
        .collect();
    let sets: BTreeSet<&String> = left.values().collect();
    assert_eq!(sets.len(), 1, "{left:?}");
    let last: usize = left.values().next().unwrap()[4..].parse().unwrap();
    assert_eq!(left.len(), 40 - last, "what only others wrote is gone");
    assert!(!written::is_unfinished(&out));
}

#[test]
fn files_that_belong_together_are_new_together_or_not_there() {
    let directory = folder(&[("feet/left.yaml", b"old")]);
    let feet = directory.path().join("feet");
    let files = [
        (feet.join("right.yaml"), "new"),
        (feet.join("left.yaml"), "new"),
    ];
    assert!(write::write_all_new(&files).is_err());
    assert!(!feet.join("right.yaml").exists());
    write::write_all(&files).unwrap();
    assert_eq!(fs::read(feet.join("left.yaml")).unwrap(), b"new");
    assert_eq!(fs::read_dir(&feet).unwrap().count(), 2);
}

#[test]
fn outputs_never_leave_their_folder() {
    let directory = folder(&[("kept.txt", b"k")]);
    let mut outputs = Outputs::new(directory.path().join("out"));
    outputs.add("../kept.txt", "x");
    assert!(outputs.publish().is_err());
    let mut outputs = Outputs::new(directory.path().join("out"));
    outputs.remove("../kept.txt");
    assert!(outputs.publish().is_err());
    assert_eq!(fs::read(directory.path().join("kept.txt")).unwrap(), b"k");
}

#[cfg(unix)]
#[test]
fn written_files_have_the_rights_of_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let directory = tempdir().unwrap();
    let (ours, plain) = (directory.path().join("deep/a"), directory.path().join("b"));
    write::write(&ours, b"x").unwrap();
    fs::write(&plain, b"x").unwrap();
    let mode = |path| fs::metadata(path).unwrap().permissions().mode();
    assert_eq!(mode(&ours), mode(&plain));
}
