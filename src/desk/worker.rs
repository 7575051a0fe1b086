//! The work on the desk: takes one job after the other until the desk is closed.

use super::job::{Job, Task};
use super::kept::Told;
use super::state::Desk;
use super::told;
use super::view::{self, Stored, View};
use crate::booklet;
use crate::diagnostic::{Diagnostics, Level};
use crate::folder::DesignFolder;
use crate::pipeline::{self, Looked, Made, Memory, Options, Sold, Step};
use std::path::{Path, PathBuf};
use std::sync::mpsc::channel;
use std::thread;

/// So many typesettings are remembered: pages that are looked at are set before all files are, and after them.
const TYPESETTINGS: usize = 8;

/// So many designs are remembered: more are hardly written at a time.
const MEMORIES: usize = 8;

/// What a terminal may show.
pub enum Said {
    /// Work on the whole of this design folder begins.
    Begun(PathBuf),
    /// A stage of it begins.
    Stage(String),
    /// It was left off for something newer.
    LeftOff,
    /// Pages that are looked at are set, or it was said why they are not.
    Shown,
    /// It came to this, from the files that were read, if they could be; its own files are still to be
    /// written.
    Made(PathBuf, Box<Made>, Option<Box<DesignFolder>>),
}

/// Works until the desk is closed. `directory` says where the files of a design go; `say` is told what a
/// terminal may show.
pub fn work(
    desk: &Desk,
    options: &Options,
    directory: &dyn Fn(&Path) -> PathBuf,
    say: &dyn Fn(Said),
) {
    booklet::remember(TYPESETTINGS);
    let mut memories: Vec<(PathBuf, Memory)> = Vec::new();
    thread::scope(|scope| {
        let (set, all_set) = channel::<Job>();
        scope.spawn(move || all_set.iter().for_each(|job| desk.compare(&job)));
        while let Some(job) = desk.take() {
            let options = &Options {
                memory: Some(memory(&mut memories, &job.root)),
                stop: job.stop.clone(),
                ..options.clone()
            };
            match &job.task {
                Task::Pages { .. } => {
                    set_pages(desk, &job, options, say);
                    // the next save does not wait for it
                    let _ = set.send(job);
                }
                Task::Whole => whole(desk, &job, options, directory, say),
            }
        }
    });
}

/// What is remembered of the design in the folder `root`.
fn memory(memories: &mut Vec<(PathBuf, Memory)>, root: &Path) -> Memory {
    let known = memories.iter().position(|(other, _)| other == root);
    let memory = known.map_or_else(Memory::default, |at| memories.remove(at).1);
    memories.insert(0, (root.to_path_buf(), memory.clone()));
    memories.truncate(MEMORIES);
    memory
}

fn counted(all: &[&Diagnostics]) -> [usize; 3] {
    let count = |level| all.iter().map(|said| said.count(level)).sum();
    [Level::Error, Level::Warning, Level::Note].map(count)
}

fn set_pages(desk: &Desk, job: &Job, options: &Options, say: &dyn Fn(Said)) {
    let mut diagnostics = Diagnostics::default();
    let (mut reads, mut sold, mut set) = (None, None, None);
    match DesignFolder::read(&job.root) {
        Ok(folder) => {
            let step = &mut |stage: &str| say(Said::Stage(format!("pages: {stage}")));
            set = pages(
                desk,
                (job, &folder),
                options,
                step,
                (&mut diagnostics, &mut sold),
            );
            reads = Some(folder.reads());
        }
        Err(said) => diagnostics.append(said),
    }
    let folder = job.root.display().to_string();
    let told = Told {
        messages: told::messages(&diagnostics, &folder),
        whole: false,
        counts: counted(&[&diagnostics]),
    };
    desk.pages_done(job, (reads, sold), set, told);
    say(Said::Shown);
}

fn pages(
    desk: &Desk,
    (job, folder): (&Job, &DesignFolder),
    options: &Options,
    step: Step,
    (diagnostics, sold): (&mut Diagnostics, &mut Option<Sold>),
) -> Option<(View, Vec<Stored>)> {
    let Task::Pages {
        paper,
        language,
        after,
    } = &job.task
    else {
        return None;
    };
    let options = Options {
        quick: after.is_none(),
        ..options.clone()
    };
    let mut computed = pipeline::compute(folder, &options, step, diagnostics)?;
    *sold = Some(Sold::of(&computed, &options));
    let looked = Looked {
        paper: paper.as_deref(),
        language: language.as_deref(),
        unproofed: *after == Some(false),
    };
    let preview = pipeline::preview(folder, &mut computed, &options, looked, step, diagnostics)?;
    step("draw");
    let known = desk.marks(&job.root);
    let (mut view, stored) = view::view(&preview, job.saved, &known);
    view.stamped = looked.unproofed || diagnostics.has_errors();
    view.rough = options.quick && computed.has_new_layouts();
    Some((view, stored))
}

fn whole(
    desk: &Desk,
    job: &Job,
    options: &Options,
    directory: &dyn Fn(&Path) -> PathBuf,
    say: &dyn Fn(Said),
) {
    say(Said::Begun(job.root.clone()));
    let read = DesignFolder::read(&job.root);
    let step = &mut |stage: &str| say(Said::Stage(stage.to_string()));
    let place = directory(&job.root);
    let (made, folder) = match read {
        Ok(folder) => {
            let made = pipeline::made(Ok(&folder), options, &place, step);
            (made, Some(Box::new(folder)))
        }
        Err(said) => (pipeline::made(Err(said), options, &place, step), None),
    };
    let reads = folder.as_ref().map(|folder| folder.reads());
    if job.stop.is_ordered() {
        desk.whole_done(job, (reads, None), None);
        say(Said::LeftOff);
        return;
    }
    let passed = made.published.as_ref().map(|published| published.passed);
    let sold = made.sold.clone();
    let told = told_of(&made, &job.root);
    // files first: what a browser calls made is there
    say(Said::Made(job.root.clone(), Box::new(made), folder));
    desk.whole_done(job, (reads, sold), Some((passed, told)));
}

fn told_of(made: &Made, root: &Path) -> Told {
    let folder = root.display().to_string();
    let mut messages = told::messages(&made.diagnostics, &folder);
    let mut all = vec![&made.diagnostics];
    if let Some(published) = &made.published {
        messages.extend(told::messages(&published.findings, &folder));
        all.push(&published.findings);
    }
    Told {
        messages,
        whole: true,
        counts: counted(&all),
    }
}
