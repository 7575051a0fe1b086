//! A catalogue: many designs made from the demos with varied feet and measures, built by the program as a
//! designer would. Prints what a design costs on one thread and on two, beside the typesetter alone on the
//! sources of the same booklets; the most memory, after a quarter of the designs and after all; what one
//! change in the catalogue costs beside that design alone; and how long the program takes to say its version.
//! Ratios and figures only; nothing is asserted.
//!
//!     cargo bench --bench catalogue -- [DESIGNS] [PAPER]
//!
//! DESIGNS is 200 if it is not said; without a PAPER the booklets are made for all papers of each design.
//! Memory is read from `/proc`, so only Linux prints it.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

mod program;
mod varied;

use pressfoot::booklet::{forget, template, world::BookletWorld};
use program::Run;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};
use typst_layout::PagedDocument;

/// As in the program: the typesetter alone is not held back by the system's way with memory.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Designs in the catalogue, if nothing else is asked for.
const DESIGNS: usize = 200;

/// Starts of the program without work.
const STARTS: usize = 21;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let asked: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let count = asked.iter().find_map(|word| word.parse().ok());
    let count = count.unwrap_or(DESIGNS);
    let paper = asked.iter().find(|word| word.parse::<usize>().is_err());
    let paper: Vec<&str> = paper.iter().flat_map(|paper| ["--paper", paper]).collect();
    let place = tempfile::tempdir()?;
    let names = varied::catalogue(Path::new("designs"), place.path(), count)?;
    println!("{count} designs from {} demos", varied::DEMOS.len());

    let of = |run: &Run| run.took.as_secs_f64() / count as f64;
    let built = [1, 2].map(|threads| {
        let words = [&["--anew"], paper.as_slice()].concat();
        program::build(place.path(), threads, &words, count)
    });
    let [one, two] = built;
    let (one, two) = (one?, two?);
    println!("one thread   {:6.2} s a design", of(&one));
    println!(
        "two threads  {:6.2} s a design, {:.2} times as fast",
        of(&two),
        of(&one) / of(&two)
    );
    for (threads, run) in [("one thread", &one), ("two threads", &two)] {
        println!(
            "memory, {threads}: {} MB after a quarter, {} MB after all",
            run.quarter, run.most
        );
    }

    let (alone, booklets) = typesetter(place.path(), &names, &paper)?;
    let built: Duration = first_of_each(place.path(), &names, &paper)?;
    println!(
        "each demo's first design on one thread, all that is made of it: {:.2} of the typesetter alone on its \
         {booklets} booklets",
        built.as_secs_f64() / alone.as_secs_f64()
    );

    let changed = &names[count / 2];
    varied::change(place.path(), changed)?;
    let whole = program::build(place.path(), 2, &paper, count)?;
    let words = [&[changed.as_str(), "--anew"], paper.as_slice()].concat();
    let single = program::build(place.path(), 2, &words, count)?;
    println!(
        "one change: {:.2} s, that design alone {:.2} s, {:.2} of it",
        whole.took.as_secs_f64(),
        single.took.as_secs_f64(),
        whole.took.as_secs_f64() / single.took.as_secs_f64()
    );

    let mut starts: Vec<Duration> = (0..STARTS)
        .map(|_| program::start())
        .collect::<Result<_, _>>()?;
    starts.sort();
    println!(
        "a start without work: {:.1} ms",
        starts[STARTS / 2].as_secs_f64() * 1e3
    );
    Ok(())
}

/// What the first design of each demo takes, together, one after the other.
fn first_of_each(
    place: &Path,
    names: &[String],
    paper: &[&str],
) -> Result<Duration, Box<dyn std::error::Error>> {
    let mut sum = Duration::ZERO;
    for name in names.iter().take(varied::DEMOS.len()) {
        let words = [&[name.as_str(), "--anew"], paper].concat();
        sum += program::build(place, 1, &words, 1)?.took;
    }
    Ok(sum)
}

/// What the typesetter alone takes for the booklets of the same designs, and how many these are.
fn typesetter(
    place: &Path,
    names: &[String],
    paper: &[&str],
) -> Result<(Duration, usize), Box<dyn std::error::Error>> {
    let (mut sum, mut booklets) = (Duration::ZERO, 0);
    for name in names.iter().take(varied::DEMOS.len()) {
        let sources = place.join("sources");
        let words = [name.as_str(), "--anew", "--typst-source", "sources"];
        program::build(place, 2, &[&words, paper].concat(), 1)?;
        for paper in fs::read_dir(sources.join(name))? {
            let files = files(&paper?.path())?;
            forget(0);
            let begun = Instant::now();
            let world = BookletWorld::new(&files, template::MAIN, None).ok_or("no world")?;
            let document = typst::compile::<PagedDocument>(&world).output;
            let document = document.map_err(|_| "the sources cannot be set")?;
            let pdf = world.export(&document, "bench").map_err(|_| "no PDF")?;
            sum += begun.elapsed();
            booklets += 1;
            drop(pdf);
        }
    }
    Ok((sum, booklets))
}

/// The files below `folder`, by their paths in it.
fn files(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>, Box<dyn std::error::Error>> {
    let mut found = BTreeMap::new();
    for entry in walkdir::WalkDir::new(folder) {
        let entry = entry?;
        if entry.file_type().is_file() {
            let name = entry.path().strip_prefix(folder)?.to_string_lossy();
            found.insert(name.replace('\\', "/"), fs::read(entry.path())?);
        }
    }
    Ok(found)
}
