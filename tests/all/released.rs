//! What stands in the way of a release, and what `compare` and `build` tell between two of them.

use crate::editions::{NAME, change, copied, copied_of, design, release, run, widen_the_foot};
use crate::support::{pressfoot, record};
use std::fs;

#[test]
fn an_edition_of_another_design_is_told_and_a_renamed_design_goes_on() {
    let copy = copied();
    let folder = copy.path();
    release(folder, "1.0.0", 0);
    let compare = |name: &str, more: &[&str], exit: i32| {
        run(
            folder,
            &[&["compare", name, "1.0.0", "1.0.0"], more].concat(),
            exit,
        )
    };
    for (file, why) in [
        ("moved.txt", "ends in .svg"),
        ("nowhere/moved.svg", "no folder nowhere"),
        ("own.svg", "something else stands there"),
    ] {
        fs::write(folder.join("own.svg"), "<svg>mine</svg>").expect("written");
        let told = compare(NAME, &["--overlay", file], 2);
        assert!(told.contains(why), "{told}");
        let own = fs::read_to_string(folder.join("own.svg")).expect("still there");
        assert_eq!(own, "<svg>mine</svg>");
    }
    assert!(!folder.join("nowhere").exists());

    change(folder, "design.yaml", |text| {
        text.replace("title: Lane tie shoe", "title: Path shoe")
    });
    compare(NAME, &[], 0);
    fs::rename(design(folder), folder.join("designs/path-shoe")).expect("renamed");
    let told = compare("path-shoe", &[], 1);
    assert!(told.contains("error edition-of-another"), "{told}");
    assert!(
        told.contains("editions/1.0.0.yaml:") && told.contains("formerly:"),
        "{told}"
    );
    let file = folder.join("designs/path-shoe/design.yaml");
    let text = fs::read_to_string(&file).expect("the design");
    fs::write(&file, format!("{text}\nformerly: [{NAME}]\n")).expect("written");
    compare("path-shoe", &[], 0);
    let told = run(folder, &["build", "path-shoe", "--out", "out"], 0);
    assert!(!told.contains("error"), "{told}");
}

#[test]
fn a_low_number_is_refused_and_a_plate_that_is_not_there_and_a_day_to_come_are_told() {
    let copy = copied();
    let folder = copy.path();
    release(folder, "1.0.0", 0);
    change(folder, "design.yaml", |text| {
        let fault = "faults: [{edition: 1.0.0, plates: [99], wrong: A notch was missing., do: Print plate 1 again.}]";
        format!("{text}\n{fault}\n")
    });
    let line = fs::read_to_string(design(folder).join("design.yaml"))
        .expect("text")
        .lines()
        .count();
    let build = ["build", NAME, "--out", "out"];
    let told = run(folder, &build, 1);
    assert!(told.contains("error edition-plate"), "{told}");
    assert!(told.contains(&format!("design.yaml:{line}:")), "{told}");
    change(folder, "design.yaml", |text| {
        text.replace("plates: [99]", "plates: [1]")
    });

    widen_the_foot(folder);
    let told = run(folder, &["compare", NAME, "--out", "out"], 0);
    // no figure without its unit
    assert!(
        told.contains(" mm, allowance ") && !told.contains(", +"),
        "{told}"
    );
    let next = "next edition: 1.1.0 is suggested (pieces, seams or materials changed)";
    assert!(told.contains(next), "{told}");
    let told = release(folder, "1.0.1", 1);
    assert!(
        told.contains("error edition-number-low") && told.contains("Say 1.1.0 or a later number."),
        "{told}"
    );
    assert!(!design(folder).join("editions/1.0.1.yaml").exists());
    release(folder, "1.1.0", 0);
    let told = run(folder, &["compare", NAME, "1.0.0", "1.1.0"], 0);
    assert!(told.contains("asks for the number 1.1.0"), "{told}");

    change(folder, "design.yaml", |text| {
        text.replace("title: Lane tie shoe", "title: Path shoe")
    });
    // a day that is to come; the moment of these tests is in September 2026
    change(folder, "editions/1.1.0.yaml", |text| {
        text.replacen("\non: \"2026-", "\non: \"2099-", 1)
    });
    let told = release(folder, "1.1.1", 1);
    assert!(told.contains("error edition-day"), "{told}");
    assert!(told.contains("editions/1.1.0.yaml:4:1"), "{told}");
}

#[test]
fn a_design_of_two_languages_is_not_released_with_one_note() {
    const TWO: &str = "harvest-bar-shoe";
    let copy = copied_of(TWO);
    let folder = copy.path();
    let told = |number: &str, exit| {
        let more = ["--edition", number, "--note", "The first.", "--out", "out"];
        run(folder, &[&["release", TWO][..], &more].concat(), exit)
    };
    let said = told("1.0.0", 1);
    assert!(
        said.contains("error missing-translation") && said.contains("NOT RELEASED"),
        "{said}"
    );
    let said = told("9999999999.0.0", 2);
    assert!(said.contains("at most six figures"), "{said}");
    assert!(!folder.join("designs").join(TWO).join("editions").exists());
}

#[test]
fn of_two_releases_at_one_moment_one_is_kept_and_the_other_is_told() {
    let copy = copied();
    let folder = copy.path();
    let release = |number: &'static str| {
        let more = ["--edition", number, "--note", "First.", "--out", number];
        record(&pressfoot(
            folder,
            &[&["release", NAME][..], &more].concat(),
        ))
    };
    let (one, other) = std::thread::scope(|scope| {
        let other = scope.spawn(|| release("2.0.0"));
        (release("1.0.0"), other.join().expect("it ended"))
    });
    let kept = [&one, &other]
        .into_iter()
        .filter(|told| told.starts_with("exit 0"));
    assert_eq!(kept.count(), 1, "{one}\n{other}");
    // where one had ended before the other began, that one has nothing new to release
    let late = if one.starts_with("exit 0") {
        &other
    } else {
        &one
    };
    let why = ["edition-meanwhile", "edition-same", "edition-not-later"];
    assert!(why.iter().any(|code| late.contains(code)), "{late}");
    let editions = fs::read_dir(design(folder).join("editions")).expect("editions");
    assert_eq!(editions.count(), 1);
}
