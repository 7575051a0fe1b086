//! How dense the packing is beside a peer, on known instances with the same time for both.
//!
//! `cargo bench --bench packing -- SECONDS SEED [--peer PYTHON] INSTANCE.json…` prints one line for
//! each instance and the mean ratio last. PYTHON is an interpreter that has `spyrrow`; without it
//! only our own densities are printed. Both solvers run alone, one after the other. The instances
//! beside this file are those of the ESICUP working group on cutting and packing (CC0).

#![allow(clippy::print_stdout, reason = "a program that prints a table")]

use kurbo::Point;
use pressfoot::packing::{Budget, Cloth, Effort, Item, Strip, Turns, faults, greedy_strip, strip};
use serde_json::Value;
use std::error::Error;
use std::process::Command;
use std::time::{Duration, Instant};

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1).filter(|word| word != "--bench");
    // Run without a time, as `cargo test` does with benches, there is nothing to measure.
    let Some(seconds) = words.next() else {
        return Ok(());
    };
    let seconds: u64 = seconds.parse()?;
    let seed: u64 = words.next().ok_or("a seed is missing")?.parse()?;
    let mut rest: Vec<String> = words.collect();
    let peer = rest.iter().position(|word| word == "--peer").map(|at| {
        let python = rest.remove(at + 1);
        rest.remove(at);
        python
    });
    println!(
        "{:12} {:>8} {:>8} {:>8} {:>8} {:>7}",
        "", "greedy", "s", "ours", "peer", "ratio"
    );
    let mut ratios = Vec::new();
    for path in &rest {
        let ratio = compare(path, seconds, seed, peer.as_deref())?;
        ratios.extend(ratio);
    }
    if !ratios.is_empty() {
        let mean = ratios.iter().sum::<f64>() / ratios.len() as f64;
        println!("mean ratio over {} instances: {mean:.4}", ratios.len());
    }
    Ok(())
}

fn compare(
    path: &str,
    seconds: u64,
    seed: u64,
    peer: Option<&str>,
) -> Result<Option<f64>, Box<dyn Error>> {
    let (name, items, width) = instance(path)?;
    let cloth = Strip {
        width,
        spacing: 0.0,
        simplify: 0.0,
    };
    let start = Instant::now();
    let refused = |_| format!("{name}: items were refused");
    let greedy = greedy_strip(&items, &cloth).map_err(refused)?;
    let greedy_seconds = start.elapsed().as_secs_f64();
    let effort = Effort {
        budget: Budget::Time(Duration::from_secs(seconds)),
        seed,
    };
    let ours = strip(&items, &cloth, &effort).map_err(refused)?;
    if !faults(&items, &ours.placed, &Cloth::strip(width), 0.0).is_empty() {
        return Err(format!("{name}: the layout cannot be cut").into());
    }
    let theirs = peer
        .map(|python| peer_density(python, path, seconds, seed))
        .transpose()?;
    let ratio = theirs.map(|theirs| ours.density / theirs);
    println!(
        "{name:12} {:8.3} {greedy_seconds:8.3} {:8.3} {:8.3} {:7.4}",
        100.0 * greedy.density,
        100.0 * ours.density,
        100.0 * theirs.unwrap_or(f64::NAN),
        ratio.unwrap_or(f64::NAN),
    );
    Ok(ratio)
}

fn peer_density(python: &str, path: &str, seconds: u64, seed: u64) -> Result<f64, Box<dyn Error>> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bench/packing/peer.py");
    let words = [script, &seconds.to_string(), &seed.to_string(), path];
    let output = Command::new(python).args(words).output()?;
    let line: Value = serde_json::from_slice(&output.stdout)?;
    line["density"]
        .as_f64()
        .ok_or_else(|| "the peer gave no density".into())
}

/// The name of an instance, its items and the width of its cloth.
fn instance(path: &str) -> Result<(String, Vec<Item>, f64), Box<dyn Error>> {
    let data: Value = serde_json::from_slice(&std::fs::read(path)?)?;
    let name = data["name"].as_str().ok_or("a name is missing")?.to_owned();
    let width = data["strip_height"].as_f64().ok_or("a height is missing")?;
    let list = data["items"].as_array().ok_or("items are missing")?;
    let items = list
        .iter()
        .map(item)
        .collect::<Option<Vec<Item>>>()
        .ok_or("an item is broken")?;
    Ok((name, items, width))
}

fn item(item: &Value) -> Option<Item> {
    let point = |point: &Value| Some(Point::new(point[0].as_f64()?, point[1].as_f64()?));
    let ring = item["shape"]["data"]
        .as_array()?
        .iter()
        .map(point)
        .collect::<Option<_>>()?;
    let turns = match item["allowed_orientations"].as_array() {
        Some(turns) => Turns::Only(turns.iter().map(Value::as_f64).collect::<Option<_>>()?),
        None => Turns::Any,
    };
    let count = usize::try_from(item["demand"].as_u64()?).ok()?;
    Some(Item {
        count,
        turns,
        ..Item::new(ring)
    })
}
