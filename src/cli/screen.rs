//! What is shown while pressfoot works: a progress line on a terminal, plain lines elsewhere,
//! messages in the chosen form, timings.

use super::args::Format;
use crate::diagnostic::{Diagnostics, human, json};
use indicatif::{ProgressBar, ProgressStyle};
use serde_json::{Value, json};
use std::cell::Cell;
use std::io::{IsTerminal, Write};
use std::path::Path;
use std::time::{Duration, Instant};

/// The screen of one run.
pub struct Screen {
    format: Format,
    quiet: bool,
    timings: bool,
    colour: bool,
    bar: Option<ProgressBar>,
    watch: Stopwatch,
    /// Standard output is full or closed.
    lost: Cell<bool>,
}

/// How long stages took.
#[derive(Debug, Clone, Default)]
struct Stopwatch {
    stages: Vec<(String, Duration)>,
    running: Option<(String, Instant)>,
}

impl Stopwatch {
    /// A stage begins; the one before ends.
    fn begin(&mut self, stage: &str) {
        self.end();
        self.running = Some((stage.to_string(), Instant::now()));
    }

    fn end(&mut self) {
        if let Some((stage, since)) = self.running.take() {
            self.add(&stage, since.elapsed());
        }
    }

    fn add(&mut self, stage: &str, took: Duration) {
        match self.stages.iter_mut().find(|(name, _)| name == stage) {
            Some((_, sum)) => *sum += took,
            None => self.stages.push((stage.to_string(), took)),
        }
    }
}

/// What the screen shows of work on another thread.
#[derive(Debug, Clone)]
pub struct Aside {
    bar: Option<ProgressBar>,
    watch: Stopwatch,
}

impl Aside {
    /// Work on `design` begins.
    pub fn design(&self, design: &str) {
        tell_design(self.bar.as_ref(), design);
    }

    /// A stage begins; the one before ends.
    pub fn stage(&mut self, stage: &str) {
        self.watch.begin(stage);
        tell_stage(self.bar.as_ref(), stage);
    }
}

fn tell_design(bar: Option<&ProgressBar>, design: &str) {
    if let Some(bar) = bar {
        bar.set_prefix(design.to_string());
    }
}

fn tell_stage(bar: Option<&ProgressBar>, stage: &str) {
    if let Some(bar) = bar {
        bar.set_message(stage.to_string());
        bar.tick();
    }
}

impl Screen {
    /// A screen as the arguments ask for.
    pub fn new(format: Format, quiet: bool, timings: bool) -> Self {
        let terminal = std::io::stderr().is_terminal();
        let bar = (terminal && !quiet && format == Format::Text).then(|| {
            let style = ProgressStyle::with_template("{spinner} {prefix} {wide_msg}");
            let bar = ProgressBar::new_spinner();
            style.map_or(bar.clone(), |style| bar.with_style(style))
        });
        let colour = terminal && std::env::var_os("NO_COLOR").is_none();
        Self {
            format,
            quiet,
            timings,
            colour,
            bar,
            watch: Stopwatch::default(),
            lost: Cell::new(false),
        }
    }

    /// The same screen for a thread that ends the program.
    pub fn on_another_thread(&self) -> Self {
        Self {
            bar: self.bar.clone(),
            watch: Stopwatch::default(),
            lost: Cell::new(false),
            ..*self
        }
    }

    /// Work on `design` begins.
    pub fn design(&self, design: &str) {
        tell_design(self.bar.as_ref(), design);
    }

    /// A stage begins; the one before ends.
    pub fn stage(&mut self, stage: &str) {
        self.watch.begin(stage);
        tell_stage(self.bar.as_ref(), stage);
    }

    /// For work on another thread.
    pub fn aside(&self) -> Aside {
        Aside {
            bar: self.bar.clone(),
            watch: Stopwatch::default(),
        }
    }

    /// Adds how long the stages of work on another thread took.
    pub fn count(&mut self, mut aside: Aside) {
        aside.watch.end();
        for (stage, took) in aside.watch.stages {
            self.watch.add(&stage, took);
        }
    }

    /// What a design came to, on standard output.
    pub fn verdict(&self, design: &str, verdict: &str) {
        if !self.quiet {
            let object = json!({"kind": "verdict", "design": design, "verdict": verdict});
            self.out(&format!("{design}: {verdict}"), &object);
        }
    }

    /// A design was saved and is made anew, on standard output.
    pub fn saved(&self, design: &str) {
        if !self.quiet {
            let object = json!({"kind": "saved", "design": design});
            self.out(&format!("{design}: saved"), &object);
        }
    }

    /// A booklet that was written, on standard output.
    pub fn file(&self, path: &Path) {
        if !self.quiet {
            let path = path.display().to_string();
            self.out(&format!("  {path}"), &json!({"kind": "file", "path": path}));
        }
    }

    /// A folder to which so many files were written, on standard output.
    pub fn folder(&self, path: &Path, files: usize) {
        if !self.quiet {
            let path = path.display().to_string();
            let object = json!({"kind": "folder", "path": path, "files": files});
            self.out(&format!("  {path}: {files} files"), &object);
        }
    }

    /// Text that was asked for (tables, explanations), on standard output, also when quiet.
    pub fn print(&self, text: &str) {
        self.out(text, &json!({"kind": "text", "text": text}));
    }

    /// What was asked for, in words or as an object of `kind`, also when quiet.
    pub fn answer(&self, text: &str, object: &Value) {
        self.out(text, object);
    }

    /// A line on standard output, in the chosen form.
    fn out(&self, text: &str, object: &Value) {
        match self.format {
            Format::Text => self.write(text),
            Format::Json => self.write(&object.to_string()),
        }
    }

    fn write(&self, text: &str) {
        self.clear();
        let mut out = std::io::stdout().lock();
        let written = writeln!(out, "{text}").and_then(|()| out.flush());
        if let Err(why) = written
            && !self.lost.replace(true)
        {
            let text = format!("standard output cannot be written ({why})");
            let _ = writeln!(std::io::stderr(), "pressfoot: {text}");
        }
    }

    /// Whether something could not be written to standard output.
    pub fn lost(&self) -> bool {
        self.lost.get()
    }

    /// Messages about the design in `folder`: on standard error, as JSON on standard output.
    pub fn messages(&self, folder: &str, diagnostics: &Diagnostics) {
        self.clear();
        let mut diagnostics = diagnostics.clone();
        if self.quiet {
            diagnostics.leave_out_notes();
        }
        let diagnostics = &diagnostics;
        match self.format {
            Format::Json => {
                let lines = json::lines(diagnostics, folder);
                lines.lines().for_each(|line| self.write(line));
            }
            Format::Text => {
                let colour = self.colour;
                let text = human::list(diagnostics, human::Style { colour, folder });
                let _ = write!(std::io::stderr(), "{text}");
            }
        }
    }

    /// A fault of the command or the machine: on standard error, as JSON on standard output.
    pub fn fault(&self, text: &str) {
        self.clear();
        match self.format {
            Format::Json => self.write(&json!({"kind": "fault", "message": text}).to_string()),
            Format::Text => {
                let _ = writeln!(std::io::stderr(), "pressfoot: {text}");
            }
        }
    }

    /// Ends the run: clears the progress line and prints timings if they were asked for.
    pub fn close(&mut self) {
        self.watch.end();
        self.clear();
        for (stage, took) in self.watch.stages.iter().filter(|_| self.timings) {
            let took = took.as_secs_f64() * 1e3;
            match self.format {
                Format::Json => {
                    let object = json!({"kind": "timing", "stage": stage, "milliseconds": took});
                    self.write(&object.to_string());
                }
                Format::Text => {
                    let _ = writeln!(std::io::stderr(), "{took:9.1} ms  {stage}");
                }
            }
        }
    }

    /// Takes the progress line away while something is asked.
    pub fn pause(&mut self) {
        self.watch.end();
        self.clear();
    }

    fn clear(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
            bar.reset();
        }
    }
}
