//! Designs made from the demos: feet and measures a little larger or smaller.

use std::fs;
use std::io;
use std::path::Path;
use walkdir::WalkDir;

/// The demos that the catalogue is made from.
pub const DEMOS: [&str; 5] = [
    "frost-slipper",
    "gleaners-apron",
    "harvest-bar-shoe",
    "lane-tie-shoe",
    "seed-pouch",
];

/// Makes so many designs below `place/designs` from those in `demos`; their names.
pub fn catalogue(demos: &Path, place: &Path, count: usize) -> io::Result<Vec<String>> {
    let designs = place.join("designs");
    copy(&demos.join("_shared"), &designs.join("_shared"))?;
    let mut names = Vec::with_capacity(count);
    for number in 0..count {
        let demo = DEMOS[number % DEMOS.len()];
        // the number first: so the demos take turns when the designs are made by name
        let name = format!("{number:03}-{demo}");
        let root = designs.join(&name);
        copy(&demos.join(demo), &root)?;
        // from 3 % smaller to 3 % larger, none like another
        let round = number / DEMOS.len();
        let rounds = count.div_ceil(DEMOS.len()).max(2) - 1;
        vary(&root, 0.97 + 0.06 * round as f64 / rounds as f64)?;
        names.push(name);
    }
    Ok(names)
}

/// Changes a measure of one design of the catalogue.
pub fn change(place: &Path, name: &str) -> io::Result<()> {
    vary(&place.join("designs").join(name), 1.01)
}

/// Feet so many times as large; without a foot, the heights of the design.
fn vary(root: &Path, times: f64) -> io::Result<()> {
    let feet = root.join("feet");
    if !feet.is_dir() {
        let file = root.join("design.yaml");
        let text = fs::read_to_string(&file)?;
        return fs::write(file, lengths(&text, "height", times));
    }
    for foot in fs::read_dir(feet)? {
        let file = foot?.path();
        let text = fs::read_to_string(&file)?;
        fs::write(file, lengths(&points(&text, times), "", times))?;
    }
    Ok(())
}

/// Each `12 mm` behind a key that ends with these words so many times as long.
fn lengths(text: &str, words: &str, times: f64) -> String {
    let line = |line: &str| {
        let longer = || {
            let (key, value) = line
                .split_once(": ")
                .filter(|(key, _)| key.ends_with(words))?;
            let (figure, rest) = value.split_once(" mm")?;
            let figure: f64 = figure.parse().ok()?;
            Some(format!("{key}: {:.2} mm{rest}", figure * times))
        };
        longer().unwrap_or_else(|| line.to_string())
    };
    text.split('\n').map(line).collect::<Vec<_>>().join("\n")
}

/// Each pair `[12, -3.5]` so many times as far out.
fn points(text: &str, times: f64) -> String {
    let mut out = String::with_capacity(text.len());
    let mut parts = text.split('[');
    out.push_str(parts.next().unwrap_or(""));
    for part in parts {
        out.push('[');
        let further = || {
            let (pair, rest) = part.split_once(']')?;
            let (x, y) = pair.split_once(", ")?;
            let [x, y]: [f64; 2] = [x.parse().ok()?, y.parse().ok()?];
            Some(format!("{:.2}, {:.2}]{rest}", x * times, y * times))
        };
        out.push_str(&further().unwrap_or_else(|| part.to_string()));
    }
    out
}

/// Copies a folder but for what was released: an edition is of the demo.
fn copy(from: &Path, to: &Path) -> io::Result<()> {
    for entry in WalkDir::new(from) {
        let entry = entry?;
        let below = entry.path().strip_prefix(from).map_err(io::Error::other)?;
        if below.starts_with("editions") {
            continue;
        }
        match entry.file_type().is_dir() {
            true => fs::create_dir_all(to.join(below))?,
            false => fs::copy(entry.path(), to.join(below)).map(|_| ())?,
        }
    }
    Ok(())
}
