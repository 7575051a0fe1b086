//! The corpus of `tests/faults`: each mistake in an otherwise good design is told by its code and at its
//! level, and nothing else at error level; the good designs and the demos are built without a word.
//!
//! The stages are called as the program calls them, without a process for each design. A4 alone, and a
//! further form only where the fault needs it. Layouts are kept between the designs of one run. What is told
//! before the pages are set needs none: only where it is not told then, the pages are set and proofed too.

use crate::support::{copy, project};
use pressfoot::booklet::Moment;
use pressfoot::design::{Form, Paper};
use pressfoot::diagnostic::{Diagnostic, Diagnostics, Level};
use pressfoot::folder::DesignFolder;
use pressfoot::pipeline::{self, Options};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// One record of the corpus.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Fault {
    r#in: String,
    form: Option<String>,
    change: Vec<Change>,
    raises: String,
    level: String,
    status: Status,
    #[serde(default)]
    also: Vec<String>,
    group: String,
    why: String,
}

#[derive(Debug, Deserialize, PartialEq, Eq, Clone, Copy)]
#[serde(rename_all = "lowercase")]
enum Status {
    Caught,
    Wanted,
    /// The change is right: neither an error nor a warning is told.
    Silent,
}

/// One edit of a file of the design.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Change {
    file: String,
    find: Option<String>,
    replace: Option<String>,
    add: Option<String>,
    remove: Option<String>,
}

/// What was said of a design.
type Said = Vec<(String, Level, String)>;

#[test]
fn each_fault_is_told_and_nothing_is_told_of_a_good_design() {
    let faults = faults();
    let good = good();
    assert!(faults.len() >= 80, "only {} faults", faults.len());
    assert!(good.len() >= 12, "only {} good designs", good.len());
    let work = tempfile::tempdir().expect("a folder to work in");
    // each changes a little of the good design that its neighbours change, too
    pressfoot::booklet::remember(6);
    let shelf = work.path().join("layouts");
    let jobs = faults.len() + good.len();
    // good designs first: their layouts serve the faults
    let results = on_all_processors(jobs, |job| {
        let begun = Instant::now();
        let (name, told) = match job.checked_sub(good.len()) {
            None => (
                good[job].display().to_string(),
                judge_good(&good[job], &shelf),
            ),
            Some(number) => {
                let (name, fault) = &faults[number];
                (name.clone(), judge(fault, &work.path().join(name), &shelf))
            }
        };
        let told = told.map(|told| format!("{name}: {told}"));
        ((begun.elapsed(), name), told)
    });
    let (times, told): (Vec<_>, Vec<_>) = results.into_iter().unzip();
    tell_tally(&faults);
    tell_slowest(times);
    let wrong: Vec<String> = told.into_iter().flatten().collect();
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// Says how many faults of each group are caught, where a passing test is seen too.
fn tell_tally(faults: &[(String, Fault)]) {
    let mut groups: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
    for (_, fault) in faults {
        let [caught, all] = groups.entry(&fault.group).or_default();
        *caught += usize::from(fault.status == Status::Caught);
        *all += usize::from(fault.status != Status::Silent);
    }
    let caught: usize = groups.values().map(|[caught, _]| caught).sum();
    let silent = faults.iter().filter(|(_, f)| f.status == Status::Silent);
    let silent = silent.count();
    let seeded = faults.len() - silent;
    let mut tally = format!("caught {caught} of {seeded} faults, {silent} right changes");
    for (group, [caught, all]) in groups {
        tally.push_str(&format!("; {group} {caught} of {all}"));
    }
    writeln!(std::io::stderr(), "{tally}").expect("a line can be written");
}

/// Says which designs kept the test longest.
fn tell_slowest(mut times: Vec<(Duration, String)>) {
    times.sort_by(|a, b| b.cmp(a));
    let all: Duration = times.iter().map(|(time, _)| *time).sum();
    let slowest = times.iter().take(5);
    let slowest = slowest.map(|(time, name)| format!("{name} {:.1} s", time.as_secs_f64()));
    let slowest = slowest.collect::<Vec<_>>().join(", ");
    let all = all.as_secs_f64();
    writeln!(std::io::stderr(), "{all:.0} s in all; slowest: {slowest}").expect("a line");
}

/// All records, by name.
fn faults() -> Vec<(String, Fault)> {
    let files = names(&project().join("tests/faults"));
    let yaml = files.iter().filter_map(|file| file.strip_suffix(".yaml"));
    let read = |name: &str| {
        let path = project().join(format!("tests/faults/{name}.yaml"));
        let text = fs::read_to_string(&path).expect("a record");
        let fault = serde_yaml::from_str(&text);
        let fault: Fault = fault.unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        assert!(fault.why.ends_with('.'), "{name} does not say why");
        (name.to_string(), fault)
    };
    let mut faults: Vec<(String, Fault)> = yaml.map(read).collect();
    faults.sort_by(|(_, a), (_, b)| a.r#in.cmp(&b.r#in));
    faults
}

/// The good designs of the corpus, then the demos.
fn good() -> Vec<PathBuf> {
    let corpus = project().join("tests/faults/good");
    let demos = project().join("designs");
    let own = names(&corpus).into_iter().map(|name| corpus.join(name));
    let demos = names(&demos).into_iter().map(|name| demos.join(name));
    let is_design = |path: &PathBuf| path.join("design.yaml").is_file();
    own.chain(demos).filter(is_design).collect()
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let name = |entry: std::io::Result<fs::DirEntry>| {
        let name = entry.expect("an entry").file_name();
        name.into_string().expect("a plain name")
    };
    let mut names: Vec<String> = entries.map(name).collect();
    names.sort();
    names
}

/// Where the good design of this name stands.
fn start(name: &str) -> PathBuf {
    let all = good().into_iter();
    let mut found = all.filter(|path| path.file_name().is_some_and(|file| file == name));
    found
        .next()
        .unwrap_or_else(|| panic!("no good design {name}"))
}

/// What is wrong with a good design, if anything is.
fn judge_good(path: &Path, shelf: &Path) -> Option<String> {
    let said = build(path, None, shelf, Until::Proof);
    let told: Vec<String> = said
        .iter()
        .filter(|(_, level, _)| *level != Level::Note)
        .map(|(code, level, message)| format!("{level:?} {code}: {message}"))
        .collect();
    let name = path.display();
    (!told.is_empty()).then(|| format!("{name} is good, yet\n    {}", told.join("\n    ")))
}

/// How a fault is told otherwise than its record says, if it is.
fn judge(fault: &Fault, work: &Path, shelf: &Path) -> Option<String> {
    let design = match changed(fault, work) {
        Ok(design) => design,
        Err(why) => return Some(why),
    };
    let form = fault.form.as_deref();
    let level = match fault.level.as_str() {
        "error" => Level::Error,
        "warning" => Level::Warning,
        _ => Level::Note,
    };
    let tells = |said: &Said| {
        said.iter()
            .any(|(code, at, _)| *code == fault.raises && *at == level)
    };
    let in_text = fault.status == Status::Caught && fault.also.is_empty() && fault.group != "pdf";
    let early = in_text.then(|| build(&design, form, shelf, Until::Pages));
    let said = early
        .filter(|said| tells(said))
        .unwrap_or_else(|| build(&design, form, shelf, Until::Proof));
    fs::remove_dir_all(work).expect("the copy can be removed");
    let is_told = tells(&said);
    let errors: BTreeSet<&str> = said
        .iter()
        .filter(|(code, level, _)| *level == Level::Error && *code != fault.raises)
        .map(|(code, ..)| code.as_str())
        .filter(|code| !fault.also.iter().any(|also| also == code))
        .collect();
    let told = || {
        let lines = said.iter().filter(|(_, level, _)| *level != Level::Note);
        let lines =
            lines.map(|(code, level, message)| format!("\n    {level:?} {code}: {message}"));
        lines.collect::<String>()
    };
    match (fault.status, is_told) {
        (Status::Silent, _) if !told().is_empty() => Some(format!("is right, yet{}", told())),
        (Status::Caught, false) => Some(format!("{} is not told{}", fault.raises, told())),
        (Status::Wanted, true) => Some(format!("{} is told: it is caught now", fault.raises)),
        _ if !errors.is_empty() => Some(format!("besides {errors:?}{}", told())),
        _ => None,
    }
}

/// A copy of the good design with the mistake in it.
fn changed(fault: &Fault, work: &Path) -> Result<PathBuf, String> {
    let from = start(&fault.r#in);
    let to = work.join(&fault.r#in);
    copy(&from, &to);
    let shared = from.parent().expect("a folder of designs").join("_shared");
    if shared.is_dir() {
        copy(&shared, &work.join("_shared"));
    }
    for change in &fault.change {
        apply(change, &to)?;
    }
    Ok(to)
}

fn apply(change: &Change, design: &Path) -> Result<(), String> {
    let path = design.join(&change.file);
    let house = change.file.strip_prefix("template/");
    if let (Some(name), false, true) = (house, path.exists(), change.find.is_some()) {
        let own = project().join("templates").join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder is made");
        fs::copy(&own, &path).map_err(|why| format!("{}: {why}", own.display()))?;
    }
    if change.remove.as_deref() == Some("yes") {
        return fs::remove_file(&path).map_err(|why| format!("{}: {why}", change.file));
    }
    if let Some(add) = &change.add {
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder is made");
        let before = fs::read_to_string(&path).unwrap_or_default();
        fs::write(&path, before + add).expect("a file is written");
        return Ok(());
    }
    let find = change.find.as_deref().unwrap_or_default();
    let text = fs::read_to_string(&path).map_err(|why| format!("{}: {why}", change.file))?;
    let count = text.matches(find).count();
    if find.is_empty() || count != 1 {
        return Err(format!("‘{find}’ stands {count} times in {}", change.file));
    }
    let replace = change.replace.as_deref().unwrap_or_default();
    fs::write(&path, text.replacen(find, replace, 1)).expect("a file is written");
    Ok(())
}

/// How far a design is made.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Until {
    /// Until its pages would be set.
    Pages,
    /// To the end.
    Proof,
}

/// Reads, drafts, reviews, typesets and proofs a design in memory. All that was said.
fn build(path: &Path, form: Option<&str>, shelf: &Path, until: Until) -> Said {
    let mut diagnostics = Diagnostics::default();
    let form = form.map(|words| Form::named(words).expect("a form"));
    let a4 = Paper::said("a4").ok().flatten().expect("A4");
    let options = Options {
        papers: vec![a4],
        forms: Some(form.into_iter().collect()),
        // 2026-09-21
        moment: Moment::from_epoch(1_790_000_000),
        shelf: Some(shelf.to_path_buf()),
        ..Options::default()
    };
    let step = &mut |name: &str| {
        if until == Until::Pages && name == "review" {
            options.stop.order();
        }
    };
    match DesignFolder::read(path) {
        Err(said) => diagnostics.append(said),
        Ok(folder) => {
            let made = pipeline::compute(&folder, &options, step, &mut diagnostics);
            let published = made.and_then(|mut made| {
                let out = Path::new("out");
                pipeline::publish(&folder, &mut made, &options, out, step, &mut diagnostics)
            });
            if let Some(published) = published {
                diagnostics.append(published.findings);
            }
        }
    }
    let row = |d: &Diagnostic| (d.code.to_string(), d.level, d.message.clone());
    diagnostics.iter().map(row).collect()
}

/// The results of `work` for all `jobs`, in order.
fn on_all_processors<T: Send>(jobs: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let mut results: Vec<(usize, T)> = std::thread::scope(|scope| {
        let worker = || {
            let mut done = Vec::new();
            loop {
                let job = next.fetch_add(1, Ordering::Relaxed);
                if job >= jobs {
                    break done;
                }
                done.push((job, work(job)));
            }
        };
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(worker)).collect();
        let done = workers
            .into_iter()
            .map(|worker| worker.join().expect("no panic"));
        done.flatten().collect()
    });
    results.sort_by_key(|(job, _)| *job);
    results.into_iter().map(|(_, result)| result).collect()
}
