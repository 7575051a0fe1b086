//! The commands. The only place that prints, reads the clock and sets the exit code.

mod args;
mod asking;
mod build;
mod compare;
mod compare_tables;
mod end;
mod measure;
mod measure_cloth;
mod measure_shoe;
mod new;
mod offered;
mod patience;
mod release;
mod schema;
mod screen;
mod shell;
mod side_by_side;
mod table;
mod trace;
mod trace_args;
mod tracing_sheet;
mod unchanged;
mod watch;

pub use args::Arguments;
pub use shell::offer;

use crate::booklet::Moment;
use crate::design::keys;
use crate::diagnostic::{Diagnostic, Diagnostics, entry};
use crate::folder::{self, DesignFolder};
use crate::pipeline::{self, Options};
use args::{Command, Measure};
use screen::Screen;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Exit code when a design has errors.
pub const DESIGN_AT_FAULT: u8 = 1;

/// Exit code when the command or the machine is at fault.
pub const COMMAND_AT_FAULT: u8 = 2;

/// Why a command could not be carried out at all.
pub(crate) struct Fault(String);

/// Runs the command; what it has to say goes to the terminal.
pub fn run(arguments: &Arguments) -> ExitCode {
    let mut screen = Screen::new(arguments.format, arguments.quiet, arguments.timings);
    if !matches!(arguments.command, Command::Watch(_)) {
        // `watch` has an end of its own
        end::in_order();
    }
    patience::keep_watch(screen.on_another_thread());
    let outcome = match &arguments.command {
        Command::Build(build) => build::build(build, &mut screen),
        Command::Proof(selection) => build::proof(selection, &mut screen),
        Command::Watch(wanted) => watch::watch(wanted, &mut screen),
        Command::Measure(measure) => measures(measure, &mut screen),
        Command::Compare(wanted) => compare::compare(wanted, &mut screen),
        Command::Release(wanted) => release::release(wanted, &mut screen),
        Command::New(wanted) => new::new(wanted, &mut screen),
        Command::Schema(wanted) => schema::schema(wanted, &screen),
        Command::Completions { shell } => shell::completions(*shell, &screen),
        Command::Manual => shell::manual(&screen),
        Command::Trace(wanted) => trace::trace(wanted, &mut screen),
        Command::Sheet { sheet } => tracing_sheet::sheet(sheet, &screen),
        Command::Explain { word } => explain(word, &screen),
    };
    screen.close();
    let code = match outcome {
        Ok(true) => 0,
        Ok(false) => DESIGN_AT_FAULT,
        Err(Fault(text)) => {
            screen.fault(&text);
            COMMAND_AT_FAULT
        }
    };
    match screen.lost() {
        false => ExitCode::from(code),
        true => ExitCode::from(COMMAND_AT_FAULT),
    }
}

/// A size that the command asks for and a design has not is a fault of the command.
fn fault_of_the_command(diagnostics: &Diagnostics) -> Result<(), Fault> {
    let unknown = |d: &&Diagnostic| d.code == "unknown-size" && d.place.is_none();
    match diagnostics.iter().find(unknown) {
        Some(told) => Err(Fault(format!("{} {}", told.message, told.remedy))),
        None => Ok(()),
    }
}

/// The design folders that the command names, or all below `from`.
fn chosen(names: &[String], from: &Path) -> Result<Vec<PathBuf>, Fault> {
    if names.is_empty() {
        let all = folder::find(from);
        if all.is_empty() {
            return Err(Fault(format!(
                "there is no design below {}: a design is a folder with a design.yaml",
                from.display()
            )));
        }
        return Ok(all);
    }
    let mut list: Vec<PathBuf> = Vec::new();
    for name in names {
        let candidates = [from.join(name), PathBuf::from(name)];
        match candidates
            .into_iter()
            .find(|path| path.join("design.yaml").is_file())
        {
            Some(path) => {
                let whole = |path: &PathBuf| path.canonicalize().ok();
                let known =
                    |other: &PathBuf| whole(other).is_some() && whole(other) == whole(&path);
                if !list.iter().any(known) {
                    list.push(path);
                }
            }
            None => {
                return Err(Fault(format!(
                    "there is no design {name}: neither {} nor {name} holds a design.yaml",
                    from.join(name).display()
                )));
            }
        }
    }
    Ok(list)
}

/// The moment given by SOURCE_DATE_EPOCH (reproducible-builds.org), if it is set.
fn moment() -> Result<Option<Moment>, Fault> {
    let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") else {
        return Ok(None);
    };
    let fault = || Fault(format!("SOURCE_DATE_EPOCH is no number of seconds: {text}"));
    let seconds: i64 = text.trim().parse().map_err(|_| fault())?;
    Moment::from_epoch(seconds).map(Some).ok_or_else(fault)
}

fn measures(measure: &Measure, screen: &mut Screen) -> Result<bool, Fault> {
    let options = Options {
        sizes: measure.size.clone(),
        without_corrections: measure.without_corrections,
        ..Options::default()
    };
    let mut good = true;
    for path in chosen(&measure.designs, &measure.from)? {
        let mut diagnostics = Diagnostics::default();
        let name = path.display().to_string();
        let computed = match DesignFolder::read(&path) {
            Ok(folder) => pipeline::compute(
                &folder,
                &options,
                &mut |stage| screen.stage(stage),
                &mut diagnostics,
            ),
            Err(said) => {
                diagnostics.append(said);
                None
            }
        };
        fault_of_the_command(&diagnostics)?;
        screen.messages(&name, &diagnostics);
        if let Some(computed) = computed {
            screen.print(&measure::tables(&computed));
            if let Some(folder) = &measure.picture {
                measure_shoe::pictures(&computed, folder, screen)?;
            }
        }
        good &= !diagnostics.has_errors();
    }
    Ok(good)
}

fn explain(word: &str, screen: &Screen) -> Result<bool, Fault> {
    let (code, entries) = (entry(word), keys::explain(word));
    if let Some(code) = code {
        screen.print(&format!("message {}\n  {}\n", code.code, code.why));
    } else if entries.is_empty() {
        return Err(Fault(format!(
            "{word} is neither a code of a message nor a key of a design"
        )));
    }
    for entry in entries {
        screen.print(&format!(
            "key {}\n  {}\n  {}\n",
            entry.path, entry.meaning, entry.example
        ));
    }
    Ok(true)
}
