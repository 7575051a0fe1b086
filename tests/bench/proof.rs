//! What share of a build its proof takes: each demo as it is sold, in all its papers, forms and languages,
//! without layouts kept from before. Prints a ratio for each; nothing is asserted.
//!
//!     cargo bench --bench proof -- [DESIGN]...

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use pressfoot::booklet::forget;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::folder::DesignFolder;
use pressfoot::pipeline::{self, Options};
use std::path::Path;
use std::time::{Duration, Instant};

/// Rounds of each measurement; the one with the shortest build counts.
const ROUNDS: usize = 3;

fn main() {
    println!(
        "{:<20} {:>9} {:>9} {:>14}",
        "design", "build", "proof", "proof / build"
    );
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let named: Vec<&String> = wanted
        .iter()
        .filter(|word| !word.starts_with('-'))
        .collect();
    for path in pressfoot::folder::find(Path::new("designs")) {
        if !named.is_empty() && !named.iter().any(|name| path.ends_with(name)) {
            continue;
        }
        let rounds = (0..ROUNDS).filter_map(|_| round(&path));
        if let Some((build, proof)) = rounds.min() {
            let ms = |time: Duration| format!("{:.0} ms", time.as_secs_f64() * 1000.0);
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let ratio = proof.as_secs_f64() / build.as_secs_f64();
            println!("{name:<20} {:>9} {:>9} {ratio:>14.3}", ms(build), ms(proof));
        }
    }
}

/// How long a whole build in memory took, and its step `proof` with the writing of the report.
fn round(path: &Path) -> Option<(Duration, Duration)> {
    forget(0);
    let folder = DesignFolder::read(path).ok()?;
    let options = Options::default();
    let mut said = Diagnostics::default();
    let begun = Instant::now();
    let mut proof = None;
    let mut step = |name: &str| {
        if name == "proof" {
            proof = Some(Instant::now());
        }
    };
    let mut computed = pipeline::compute(&folder, &options, &mut step, &mut said)?;
    let place = Path::new("build-output");
    let published = pipeline::publish(
        &folder,
        &mut computed,
        &options,
        place,
        &mut step,
        &mut said,
    )?;
    let ended = Instant::now();
    drop(published);
    Some((ended - begun, ended - proof?))
}
