//! What the booklet stage costs beside the typesetter alone: text, data and typesetting of each demo,
//! over compiling and writing the very same Typst sources. Prints a ratio for each; nothing is asserted.
//! Rounds of both alternate, each is set against its neighbour and the middle ratio counts: on a machine
//! whose speed swings from second to second the shortest rounds of both need not be of the same minute.
//!
//!     cargo bench --bench booklet -- [DESIGN]...

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use pressfoot::booklet::{forget, template, world::BookletWorld};
use pressfoot::design::Paper;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::folder::DesignFolder;
use pressfoot::pipeline::{self, Options};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};
use typst_layout::PagedDocument;

/// As in the program: the typesetter alone is not held back by the system's way with memory.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Rounds of each measurement.
const ROUNDS: usize = 15;

type Sources = BTreeMap<String, Vec<u8>>;

/// Steps of the stage.
const STEPS: [&str; 3] = ["text", "drawings", "typeset"];

/// The shortest round of the stage, step by step, and of the typesetter alone; the ratio of each round.
struct Measured {
    name: String,
    steps: [Duration; 3],
    alone: Duration,
    ratios: Vec<f64>,
}

fn main() {
    let [text, drawings, typeset] = STEPS;
    println!(
        "{:<20} {text:>9} {drawings:>9} {typeset:>9} {:>9} {:>9} {:>7} {:>13}",
        "design", "booklet", "typst", "ratio", "of rounds"
    );
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    for path in pressfoot::folder::find(Path::new("designs")) {
        let named = |wanted: &String| path.ends_with(wanted);
        let all = wanted.iter().all(|wanted| wanted.starts_with('-'));
        if !all && !wanted.iter().any(named) {
            continue;
        }
        if let Some(measured) = measured(&path) {
            print(measured);
        }
    }
}

fn print(measured: Measured) {
    let ms = |time: Duration| format!("{:.0} ms", time.as_secs_f64() * 1000.0);
    let mut ratios = measured.ratios;
    ratios.sort_by(f64::total_cmp);
    let at = |part: usize| ratios.get(ratios.len() * part / 4).copied();
    let [quarter, middle, last] = [1, 2, 3].map(|part| at(part).unwrap_or(f64::NAN));
    let [text, drawings, typeset] = measured.steps.map(ms);
    println!(
        "{:<20} {text:>9} {drawings:>9} {typeset:>9} {:>9} {:>9} {middle:>7.3} {:>13}",
        measured.name,
        ms(measured.steps.iter().sum()),
        ms(measured.alone),
        format!("{quarter:.2} to {last:.2}")
    );
}

fn measured(path: &Path) -> Option<Measured> {
    let folder = DesignFolder::read(path).ok()?;
    let mut options = Options {
        papers: vec![Paper::named("a4")?],
        forms: Some(Vec::new()),
        typst_sources: true,
        ..Options::default()
    };
    let mut said = Diagnostics::default();
    let mut computed = pipeline::compute(&folder, &options, &mut |_| {}, &mut said)?;
    // the sources are those of the first language
    computed.design.translations.clear();
    let mut round = |options: &Options| {
        forget(0);
        let mut times: Vec<(String, Instant)> = Vec::new();
        let mut step = |name: &str| times.push((name.to_string(), Instant::now()));
        let place = Path::new("build-output");
        let published =
            pipeline::publish(&folder, &mut computed, options, place, &mut step, &mut said)?;
        Some((STEPS.map(|step| first(&times, step)), published.sources))
    };
    let (_, sources) = round(&options)?;
    let sources = sources.into_values().next()?;
    // Only who asks for the sources pays for them.
    options.typst_sources = false;
    let mut steps = [Duration::MAX / 4; 3];
    let mut alone = Duration::MAX;
    let mut ratios = Vec::new();
    for _ in 0..ROUNDS {
        let (took, _) = round(&options)?;
        let sum = |steps: [Duration; 3]| steps.iter().sum::<Duration>();
        if sum(took) < sum(steps) {
            steps = took;
        }
        let typst = typesetter(&sources)?;
        ratios.push(sum(took).as_secs_f64() / typst.as_secs_f64());
        alone = alone.min(typst);
    }
    Some(Measured {
        name: folder.key().to_string(),
        steps,
        alone,
        ratios,
    })
}

/// How long the typesetter alone takes to compile and write the sources.
fn typesetter(sources: &Sources) -> Option<Duration> {
    forget(0);
    let begun = Instant::now();
    let world = BookletWorld::new(sources, template::MAIN, None)?;
    let document = typst::compile::<PagedDocument>(&world).output.ok();
    let pdf = world.export(&document?, "bench").ok()?;
    let took = begun.elapsed();
    drop(pdf);
    Some(took)
}

/// How long the first step called `name` took: until the next began.
fn first(times: &[(String, Instant)], name: &str) -> Duration {
    let pairs = times.windows(2);
    let found = pairs.into_iter().find(|pair| pair[0].0 == name);
    found.map_or(Duration::ZERO, |pair| pair[1].1 - pair[0].1)
}
