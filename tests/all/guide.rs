//! The guide for designers, followed to the letter: its whole example is built and proofed, and so is its
//! variant with a closure of one's own.

use crate::support::{pressfoot, project, record};
use serde_yaml::Value;
use std::fs;
use std::path::Path;

/// The text of the first fenced block of the guide with these words behind its backquotes, after `from`.
fn block(from: &str, words: &str) -> String {
    let guide = fs::read_to_string(project().join("designs/README.md")).expect("the guide");
    let start = guide.find(from).expect("its place");
    let fence = format!("\n```{words}\n");
    let at = start + guide[start..].find(&fence).expect("its block") + fence.len();
    let end = guide[at..].find("\n```").expect("its end");
    format!("{}\n", &guide[at..at + end])
}

/// Writes the needle case of the guide; nothing may be said of it.
fn builds_without_a_word(folder: &Path, design: &str, chapter: &str) {
    let place = folder.join("designs/needle-case");
    fs::create_dir_all(place.join("booklet")).expect("made");
    fs::write(place.join("design.yaml"), design).expect("written");
    fs::write(place.join("booklet/10-making.md"), chapter).expect("written");
    let built = pressfoot(folder, &["build", "needle-case", "--paper", "a4"]);
    let told = record(&built);
    assert!(built.status.success(), "{told}");
    assert!(
        !told.contains("warning") && !told.contains("error"),
        "{told}"
    );
    assert!(
        folder
            .join("build-output/needle-case/needle-case-a4.pdf")
            .exists()
    );
}

#[test]
fn the_whole_example_is_built_and_proofed_without_a_word() {
    let folder = tempfile::tempdir().expect("a folder");
    let design = block("# How to write", "yaml design.yaml");
    let chapter = block("# How to write", "markdown booklet/10-making.md");
    builds_without_a_word(folder.path(), &design, &chapter);
}

#[test]
fn a_closure_of_ones_own_takes_the_place_of_the_button() {
    let folder = tempfile::tempdir().expect("a folder");
    let whole = block("# How to write", "yaml design.yaml");
    let mut design: Value = serde_yaml::from_str(&whole).expect("the design");
    let own = block("### A closure of your own", "yaml");
    let own: Value = serde_yaml::from_str(&own).expect("the variant");
    design["about"] = own["about"].clone();
    design["trims"] = own["trims"].clone();
    design["pieces"]["cover"] = own["pieces"]["cover"].clone();
    let design = serde_yaml::to_string(&design).expect("written again");
    let chapter = block("# How to write", "markdown booklet/10-making.md");
    let step = block(
        "### A closure of your own",
        "markdown (the last step with a snap)",
    );
    let (before, _) = chapter.split_once("## Close it").expect("the last step");
    builds_without_a_word(folder.path(), &design, &format!("{before}{step}"));
}

/// All texts between a line that is `open` and the next one that is `close`.
fn between<'g>(guide: &'g str, open: &str, close: &str) -> Vec<&'g str> {
    let [open, close] = [open, close].map(|fence| format!("\n{fence}\n"));
    let opened = guide.split(open.as_str()).skip(1);
    let ended = opened.map(|rest| rest.split(close.as_str()).next().unwrap_or(rest));
    ended.collect()
}

/// What the guide shows of chapters beside figures of flat pieces, which are drawn where figure blocks are
/// checked: the shoe, pictures, cautions, conditions, shared texts and words.
#[test]
fn what_the_guide_shows_of_chapters_is_built_for_a_shoe() {
    let copy = crate::promised::copied("barn-bar");
    let folder = copy.path();
    let designs = folder.join("designs");
    let guide = fs::read_to_string(project().join("designs/README.md")).expect("the guide");
    let blocks = between(&guide, "````markdown", "````");
    let of_a_shoe = |text: &&&str| {
        ["shoe:", "making:", "picture:"]
            .iter()
            .any(|key| text.contains(&format!("\n{key}")))
    };
    let mut parts: Vec<&str> = blocks.iter().filter(of_a_shoe).copied().collect();
    assert!(parts.len() >= 3, "{parts:?}");
    parts.extend(between(&guide, "```markdown", "```"));
    let texts = between(&guide, "```text", "```");
    let (words, conditions): (Vec<&str>, Vec<&str>) = texts
        .into_iter()
        .partition(|text| text.starts_with("words:"));
    assert_eq!((words.len(), conditions.len()), (1, 2));
    parts.extend(&conditions);
    let chapter = format!(
        "---\ntitle: More\nkind: text\n---\n\n{}\n",
        parts.join("\n\n")
    );
    let place = designs.join("barn-bar");
    fs::write(place.join("booklet/90-more.md"), chapter).expect("written");
    fs::create_dir_all(designs.join("_shared")).expect("made");
    let shared = designs.join("_shared");
    fs::write(
        shared.join("sew-on-a-button.md"),
        "Wind the thread round the shank.\n",
    )
    .expect("written");
    fs::write(shared.join("glossary.en.yaml"), format!("{}\n", words[0])).expect("written");
    fs::create_dir_all(place.join("pictures")).expect("made");
    let photograph = image::RgbImage::from_fn(1600, 1200, |x, y| {
        image::Rgb([(x / 7) as u8, (y / 5) as u8, 128])
    });
    photograph
        .save(place.join("pictures/strap.jpg"))
        .expect("the photograph");
    let built = pressfoot(folder, &["build", "barn-bar", "--paper", "a4"]);
    let told = record(&built);
    assert!(built.status.success() && !told.contains("error"), "{told}");
}
