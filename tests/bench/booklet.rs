//! What the booklet stage costs beside the typesetter alone: text, data and typesetting of each demo,
//! over compiling and writing the very same Typst sources. Prints a ratio for each; nothing is asserted.
//!
//!     cargo bench --bench booklet

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use pressfoot::booklet::{forget, template, world::BookletWorld};
use pressfoot::design::Paper;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::folder::DesignFolder;
use pressfoot::pipeline::{self, Options};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};

/// Rounds of each measurement; the shortest counts.
const ROUNDS: usize = 5;

type Sources = BTreeMap<String, Vec<u8>>;

fn main() {
    println!(
        "{:<20} {:>10} {:>10} {:>7}",
        "design", "booklet", "typst", "ratio"
    );
    for path in pressfoot::folder::find(Path::new("designs")) {
        if let Some((name, stage, alone)) = measured(&path) {
            let ratio = stage.as_secs_f64() / alone.as_secs_f64();
            let ms = |time: Duration| format!("{:.0} ms", time.as_secs_f64() * 1000.0);
            println!(
                "{name:<20} {:>10} {:>10} {ratio:>7.3}",
                ms(stage),
                ms(alone)
            );
        }
    }
}

fn measured(path: &Path) -> Option<(String, Duration, Duration)> {
    let folder = DesignFolder::read(path).ok()?;
    let options = Options {
        papers: vec![Paper::named("a4")?],
        forms: Some(Vec::new()),
        typst_sources: true,
        ..Options::default()
    };
    let mut said = Diagnostics::default();
    let computed = pipeline::compute(&folder, &options, &mut |_| {}, &mut said)?;
    let mut stage = Duration::MAX;
    let mut sources = Sources::new();
    for _ in 0..ROUNDS {
        forget(0);
        let mut times: Vec<(String, Instant)> = Vec::new();
        let mut step = |name: &str| times.push((name.to_string(), Instant::now()));
        let place = Path::new("build-output");
        let published =
            pipeline::publish(&folder, &computed, &options, place, &mut step, &mut said)?;
        if std::env::var("STEPS").is_ok() {
            for pair in times.windows(2) {
                println!("  {:<10} {:?}", pair[0].0, pair[1].1 - pair[0].1);
            }
        }
        let steps = ["text", "drawings", "typeset"];
        stage = stage.min(steps.iter().map(|step| first(&times, step)).sum());
        sources = published.sources.into_values().next()?;
    }
    let mut alone = Duration::MAX;
    for _ in 0..ROUNDS {
        forget(0);
        let begun = Instant::now();
        let world = BookletWorld::new(&sources, template::MAIN, None)?;
        let (document, _) = world.compile();
        let pdf = world.export(&document?, "bench").ok()?;
        alone = alone.min(begun.elapsed());
        drop(pdf);
    }
    Some((folder.key().to_string(), stage, alone))
}

/// How long the first step called `name` took: until the next began.
fn first(times: &[(String, Instant)], name: &str) -> Duration {
    let pairs = times.windows(2);
    let found = pairs.into_iter().find(|pair| pair[0].0 == name);
    found.map_or(Duration::ZERO, |pair| pair[1].1 - pair[0].1)
}
