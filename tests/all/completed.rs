//! Completions in bash: the script is read by bash itself, which then completes as it does at the prompt.

use crate::support::pressfoot;
use std::fs;
use std::process::Command;

/// What bash offers for the last of these words, in a folder with two designs.
fn offered(words: &[&str]) -> Vec<String> {
    let place = tempfile::tempdir().expect("a folder");
    for (from, name) in [
        ("designs", "hay-mat"),
        ("designs", "hay-rug"),
        ("barn", "sill-mat"),
    ] {
        let root = place.path().join(from).join(name);
        fs::create_dir_all(&root).expect("made");
        fs::write(root.join("design.yaml"), "title: Mat\n").expect("written");
    }
    // beside them what is no design
    fs::create_dir_all(place.path().join("designs/_shared")).expect("made");
    let script = pressfoot(place.path(), &["completions", "bash"]);
    assert!(script.status.success());
    let file = place.path().join("pressfoot.bash");
    fs::write(&file, &script.stdout).expect("written");
    // as bash does it: https://www.gnu.org/software/bash/manual/html_node/Programmable-Completion.html
    let ask = "source pressfoot.bash\n\
        set -- $(complete -p pressfoot)\n\
        while [ \"$1\" != -F ]; do shift; done\n\
        offer=$2\n\
        COMP_WORDS=(pressfoot $WORDS \"$WORD\")\n\
        COMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n\
        $offer pressfoot \"$WORD\" \"${COMP_WORDS[COMP_CWORD - 1]}\"\n\
        printf '%s\\n' \"${COMPREPLY[@]}\"\n";
    let (word, before) = words.split_last().expect("a word");
    let output = Command::new("bash")
        .args(["--norc", "-c", ask])
        .env("WORDS", before.join(" "))
        .env("WORD", word)
        .current_dir(place.path())
        .output()
        .expect("bash runs");
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && errors.is_empty(), "{errors}");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    text.lines().map(str::to_string).collect()
}

#[test]
fn bash_offers_designs_papers_forms_and_what_commands_take() {
    assert_eq!(offered(&["build", "hay"]), ["hay-mat", "hay-rug"]);
    assert_eq!(offered(&["build", "hay-mat", "hay-r"]), ["hay-rug"]);
    assert_eq!(offered(&["watch", "--poll", "hay-m"]), ["hay-mat"]);
    assert_eq!(offered(&["proof", "--from", "barn", "s"]), ["sill-mat"]);
    assert_eq!(offered(&["release", "hay-m"]), ["hay-mat"]);
    assert_eq!(offered(&["build", "--paper", "let"]), ["letter"]);
    assert_eq!(offered(&["build", "--paper", "a4,let"]), ["a4,letter"]);
    assert_eq!(offered(&["build", "--form", "large"]), ["large-print"]);
    assert_eq!(offered(&["new", "mat", "--start", "o"]), ["outlines"]);
    assert_eq!(offered(&["--format", "j"]), ["json"]);
    assert_eq!(offered(&["rele"]), ["release"]);
    let commands = offered(&[""]);
    for command in ["build", "watch", "new", "trace", "explain"] {
        assert!(commands.iter().any(|word| word == command), "{commands:?}");
    }
    assert_eq!(offered(&["build", "--anew", "--typst"]), ["--typst-source"]);
}
