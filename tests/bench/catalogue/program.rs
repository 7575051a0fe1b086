//! Running the program, and how long and how large it was.

use std::fs;
use std::io;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// The program as it is sold.
const PROGRAM: &str = env!("CARGO_BIN_EXE_pressfoot");

/// How often its memory is looked at.
const LOOK: Duration = Duration::from_millis(20);

/// A run of the program.
pub struct Run {
    /// From its start to its end.
    pub took: Duration,
    /// The most memory when a quarter of the results was there, MB; 0 where it cannot be known.
    pub quarter: u64,
    /// The most memory, MB; 0 where it cannot be known.
    pub most: u64,
}

/// Builds in the folder `place` with these words behind, on so many threads; `count` results are awaited.
/// What a build that fails says is the error.
pub fn build(place: &Path, threads: usize, words: &[&str], count: usize) -> io::Result<Run> {
    let out = place.join("build-output");
    if words.first() == Some(&"--anew") && out.exists() {
        fs::remove_dir_all(&out)?;
    }
    let said = place.join("said.txt");
    let begun = Instant::now();
    let mut child = Command::new(PROGRAM)
        .current_dir(place)
        .args(["build", "--quiet"])
        .args(words)
        .env("RAYON_NUM_THREADS", threads.to_string())
        .stdout(Stdio::null())
        .stderr(fs::File::create(&said)?)
        .spawn()?;
    let (mut quarter, mut most) = (0, 0);
    let status = loop {
        if let Some(status) = child.try_wait()? {
            break status;
        }
        most = memory(child.id()).unwrap_or(most);
        let done = || fs::read_dir(&out).map_or(0, |entries| entries.count());
        if quarter == 0 && done() > count / 4 {
            quarter = most;
        }
        thread::sleep(LOOK);
    };
    let took = begun.elapsed();
    match status.success() {
        true => Ok(Run {
            took,
            quarter,
            most,
        }),
        false => Err(io::Error::other(format!(
            "the build ended with {status}:\n{}",
            fs::read_to_string(said)?
        ))),
    }
}

/// The most memory that a process had so far, MB.
fn memory(process: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kilobytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kilobytes / 1024)
}

/// How long the program takes to say its version.
pub fn start() -> io::Result<Duration> {
    let begun = Instant::now();
    Command::new(PROGRAM).arg("--version").output()?;
    Ok(begun.elapsed())
}
