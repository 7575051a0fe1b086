//! `new`, `schema`, `completions` and `manual`.

use crate::support::{pressfoot, record};
use std::fs;

#[test]
fn what_is_begun_builds_and_passes_its_proof_without_a_word() {
    let place = tempfile::tempdir().unwrap();
    for kind in ["shoe", "outlines", "flat"] {
        let name = format!("first-{kind}");
        let begun = pressfoot(
            place.path(),
            &[
                "new",
                &name,
                "--start",
                kind,
                "--by",
                "The doll stall",
                "--contact",
                "corrections: stall@harvest-fair.example",
            ],
        );
        assert!(begun.status.success(), "{}", record(&begun));
        let built = pressfoot(place.path(), &["build", &name, "--paper", "a4"]);
        assert!(built.status.success(), "{}", record(&built));
        let said = String::from_utf8_lossy(&built.stderr).into_owned();
        assert!(
            !said.contains("warning") && !said.contains("error"),
            "{kind}: {said}"
        );
        let design =
            fs::read_to_string(place.path().join("designs").join(&name).join("design.yaml"));
        let design = design.unwrap();
        assert!(design.contains("contact: \"corrections: stall@harvest-fair.example\""));
        assert!(design.contains(&format!("title: First {kind}")));
        assert!(!design.contains('«'));
    }
    assert!(place.path().join("designs/_schema/design.json").is_file());
}

#[test]
fn what_is_there_already_is_not_touched_and_what_is_not_said_is_asked_for() {
    let place = tempfile::tempdir().unwrap();
    let new = |rest: &[&str]| pressfoot(place.path(), &[&["new"], rest].concat());
    let flat = ["mat", "--start", "flat"];
    assert!(new(&flat).status.success());
    let path = place.path().join("designs/mat/design.yaml");
    fs::write(&path, "title: mine\n").unwrap();
    let again = new(&flat);
    assert_eq!(again.status.code(), Some(2), "{}", record(&again));
    assert_eq!(fs::read_to_string(&path).unwrap(), "title: mine\n");
    for wrong in [
        vec!["../mat", "--start", "flat"],
        vec!["Mat", "--start", "flat"],
        vec!["other"],
        vec!["other", "--start", "flat", "--foot", "foot.yaml"],
        vec!["other", "--foot", "nowhere.yaml"],
    ] {
        let said = new(&wrong);
        assert_eq!(said.status.code(), Some(2), "{}", record(&said));
    }
    let entries: Vec<_> = fs::read_dir(place.path().join("designs"))
        .unwrap()
        .collect();
    assert_eq!(
        entries.len(),
        2,
        "the design and the schemas, nothing half made"
    );
}

#[test]
fn a_foot_of_her_own_is_drafted_and_what_she_has_not_said_is_told() {
    let place = tempfile::tempdir().unwrap();
    let foot = crate::support::project().join("designs/harvest-bar-shoe/feet/medium.yaml");
    // each key on one line: the same to a reader of YAML
    let foot = fs::read_to_string(foot).unwrap();
    let keys: serde_json::Map<String, serde_json::Value> = serde_yaml::from_str(&foot).unwrap();
    let lines: String = keys
        .iter()
        .map(|(key, value)| format!("{key}: {value}\n"))
        .collect();
    fs::write(place.path().join("traced.yaml"), lines).unwrap();
    let begun = pressfoot(place.path(), &["new", "slipper", "--foot", "traced.yaml"]);
    assert!(begun.status.success(), "{}", record(&begun));
    let built = pressfoot(place.path(), &["build", "slipper", "--paper", "a4"]);
    assert!(built.status.success(), "{}", record(&built));
    let said = String::from_utf8_lossy(&built.stderr).to_lowercase();
    assert!(
        said.contains("your name here") && said.contains("your address here"),
        "{said}"
    );
    let numbers = fs::read_to_string(place.path().join("build-output/slipper/numbers.json"));
    let numbers: serde_json::Value = serde_json::from_str(&numbers.unwrap()).unwrap();
    // the toe of that tracing lies 70 mm from its heel
    let length = numbers["sizes"]["one"]["foot"]["length"].as_f64();
    assert!(
        length.is_some_and(|mm| (mm - 70.0).abs() < 0.1),
        "{:?}",
        numbers["sizes"]["one"]["foot"]
    );
}

/// A foot as `trace` leaves it, its measures not yet taken; and one whose other foot differs.
#[test]
fn a_traced_foot_lacks_its_measures_and_two_feet_have_papers_of_their_own() {
    let place = tempfile::tempdir().unwrap();
    let foot = crate::support::project().join("designs/frost-slipper/feet/small.yaml");
    let whole = fs::read_to_string(foot).unwrap();
    assert!(whole.contains("other foot:"));
    let (before, after) = whole.split_once("\nmeasures:\n").unwrap();
    let kept = after.lines().skip_while(|line| line.starts_with("  "));
    let kept: Vec<&str> = kept.collect();
    let without = format!("{before}\n{}\n", kept.join("\n"));
    fs::write(place.path().join("traced.yaml"), without).unwrap();
    let begun = pressfoot(place.path(), &["new", "slipper", "--foot", "traced.yaml"]);
    let told = record(&begun);
    assert!(begun.status.success(), "{told}");
    assert!(
        told.contains("fill in what is missing, then pressfoot build slipper"),
        "{told}"
    );
    for name in ["toe height", "ball girth", "long-heel girth"] {
        let add = format!("‘{name}: … mm’");
        assert!(told.contains(&add), "{add}: {told}");
    }
    assert!(
        told.contains("feet/doll.yaml has no ‘measures:’ yet"),
        "{told}"
    );

    let apart = whole.replace("pair tolerance: 1/32 in", "pair tolerance: 0.1 mm");
    assert_ne!(apart, whole);
    fs::write(place.path().join("both.yaml"), apart).unwrap();
    let begun = pressfoot(place.path(), &["new", "boots", "--foot", "both.yaml"]);
    assert!(begun.status.success(), "{}", record(&begun));
    let built = pressfoot(place.path(), &["build", "boots", "--paper", "a4"]);
    assert!(built.status.success(), "{}", record(&built));
    let pdf = fs::read(place.path().join("build-output/boots/boots-a4.pdf")).unwrap();
    let reading = pressfoot::proof::reading::read(&pdf).unwrap();
    let letters = reading.sheets.iter().flat_map(|page| &page.letters);
    let read: String = letters.map(|letter| letter.text.as_ref()).collect();
    let read: String = read.split_whitespace().collect();
    assert!(read.contains("papersoftheirown"));
    assert!(!read.contains("Turnthepaperover"));
}

#[test]
fn a_shell_and_man_are_told_of_every_command() {
    let place = tempfile::tempdir().unwrap();
    let help = pressfoot(place.path(), &["--help"]);
    let help = String::from_utf8_lossy(&help.stdout).into_owned();
    let listed = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let commands = listed.take_while(|line| !line.is_empty());
    let commands: Vec<&str> = commands
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|command| *command != "help")
        .collect();
    assert!(commands.len() > 6, "{help}");
    let manual = pressfoot(place.path(), &["manual"]);
    let manual = String::from_utf8_lossy(&manual.stdout).into_owned();
    for command in &commands {
        assert!(manual.contains(command), "{command} is not in\n{manual}");
    }
    // a script asks the program, which knows the commands
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = pressfoot(place.path(), &["completions", shell]);
        let script = String::from_utf8_lossy(&script.stdout).into_owned();
        let asks = format!("PRESSFOOT_OFFER={shell}");
        let script = script.replace(['"', ' '], "");
        assert!(script.contains(&asks), "{shell}: {script}");
        assert!(script.contains(env!("CARGO_BIN_EXE_pressfoot")), "{script}");
    }
}
