//! What is shown while pressfoot works: a progress line on a terminal, plain lines elsewhere,
//! messages in the chosen form, timings.

use super::args::Format;
use crate::diagnostic::{Diagnostics, human, json};
use indicatif::{ProgressBar, ProgressStyle};
use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// The screen of one run.
pub struct Screen {
    format: Format,
    quiet: bool,
    timings: bool,
    colour: bool,
    bar: Option<ProgressBar>,
    stages: Vec<(String, Duration)>,
    running: Option<(String, Instant)>,
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
        let (stages, running) = (Vec::new(), None);
        Self {
            format,
            quiet,
            timings,
            colour,
            bar,
            stages,
            running,
        }
    }

    /// Work on `design` begins.
    pub fn design(&self, design: &str) {
        if let Some(bar) = &self.bar {
            bar.set_prefix(design.to_string());
        }
    }

    /// A stage begins; the one before ends.
    pub fn stage(&mut self, stage: &str) {
        self.end_stage();
        if let Some(bar) = &self.bar {
            bar.set_message(stage.to_string());
            bar.tick();
        }
        self.running = Some((stage.to_string(), Instant::now()));
    }

    fn end_stage(&mut self) {
        let Some((stage, since)) = self.running.take() else {
            return;
        };
        let took = since.elapsed();
        match self.stages.iter_mut().find(|(name, _)| *name == stage) {
            Some((_, sum)) => *sum += took,
            None => self.stages.push((stage, took)),
        }
    }

    /// A line of result, on standard output.
    pub fn line(&self, text: &str) {
        if !self.quiet {
            self.print(text);
        }
    }

    /// Text that was asked for (tables, explanations), on standard output, also when quiet.
    pub fn print(&self, text: &str) {
        self.clear();
        // A closed pipe (`pressfoot measure | head`) is no fault of ours.
        let _ = writeln!(std::io::stdout(), "{text}");
    }

    /// Messages about the design in `folder`, on standard error.
    pub fn messages(&self, folder: &str, diagnostics: &Diagnostics) {
        self.clear();
        let text = match self.format {
            Format::Json => json::lines(diagnostics, folder),
            Format::Text => human::list(
                diagnostics,
                human::Style {
                    colour: self.colour,
                    folder,
                },
            ),
        };
        let _ = write!(std::io::stderr(), "{text}");
    }

    /// A fault of the command or the machine, on standard error.
    pub fn fault(&self, text: &str) {
        self.clear();
        let _ = writeln!(std::io::stderr(), "pressfoot: {text}");
    }

    /// Ends the run: clears the progress line and prints timings if they were asked for.
    pub fn close(&mut self) {
        self.end_stage();
        self.clear();
        if self.timings {
            let mut out = std::io::stderr().lock();
            for (stage, took) in &self.stages {
                let _ = writeln!(out, "{:9.1} ms  {stage}", took.as_secs_f64() * 1e3);
            }
        }
    }

    fn clear(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
            bar.reset();
        }
    }
}
