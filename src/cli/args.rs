//! The command line as typed, and what it means.

use super::offered;
use super::trace_args::{Sheet, Trace};
use clap::{Args, Parser, Subcommand, ValueEnum, ValueHint};
use clap_complete::Shell;
use std::path::PathBuf;

/// Computes, typesets and proofs sewing patterns for small sewn things.
#[derive(Debug, Parser)]
#[command(name = "pressfoot", version, arg_required_else_help = true)]
#[command(
    after_help = "The usual way: new NAME begins a design, watch NAME shows its pages while you write, build NAME \
                  makes its booklets and proofs them, release NAME keeps an edition; trace PICTURE brings a foot. \
                  Whatever is asked about is told by explain WORD and by COMMAND --help.\n\n\
                  Exit codes: 0 done and proofed; 1 a design has errors; 2 the command or the machine is at fault."
)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// How messages are printed.
    #[arg(long, value_enum, default_value_t = Format::Text, global = true)]
    pub format: Format,
    /// Print nothing but warnings and errors.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Print how long each stage took.
    #[arg(long, global = true)]
    pub timings: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make the booklets of designs and proof them.
    Build(Build),
    /// Make booklets in memory and report; write only proof.json and proof.html.
    Proof(Selection),
    /// Build designs again whenever they are saved, and show their pages in the browser.
    Watch(Watch),
    /// Print the pieces, edges and seams of designs as tables.
    Measure(Measure),
    /// Tell what moved since an edition, or between two.
    Compare(Compare),
    /// Keep a design that passes its proof as an edition, and make its booklets.
    Release(Release),
    /// Begin a design: a folder that builds and proofs at once.
    New(New),
    /// Write JSON Schema of the files of a design, for editors that complete and check.
    Schema(SchemaOut),
    /// Print what a shell wants in order to complete commands and options.
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Print the manual page, for `man`.
    Manual,
    /// Take the outline of a foot from a scan or photograph of its tracing.
    Trace(Trace),
    /// Make a page to print that pressfoot itself needs.
    Sheet {
        /// Which page.
        #[command(subcommand)]
        sheet: Sheet,
    },
    /// Tell what a code of a message, or a key of a design folder, means.
    Explain {
        /// A code such as `seam-length`, or a key such as `allowance`.
        word: String,
    },
}

/// Which designs, papers and sizes.
#[derive(Debug, Args)]
pub struct Selection {
    /// Designs: names of folders below the designs folder, or paths of design folders. All of
    /// them if none is named.
    #[arg(value_hint = ValueHint::DirPath, add = offered::designs())]
    pub designs: Vec<String>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
    /// Folder for the results.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "build-output")]
    pub out: PathBuf,
    /// Papers instead of those the design sells, e.g. `a4,letter`.
    #[arg(long, value_delimiter = ',', value_name = "PAPER", add = offered::papers())]
    pub paper: Vec<String>,
    /// Forms of the instructions instead of those the design sells: `stapled`, `large-print`,
    /// `ink-saving`, `print-shop`.
    #[arg(long, value_delimiter = ',', value_name = "FORM", add = offered::forms())]
    pub form: Vec<String>,
    /// How many times the usual work is put into packing the pieces on cloth.
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub effort: u32,
    /// Only these sizes, by key; the results go to a folder `only-SIZE` of their own.
    #[arg(long, value_delimiter = ',', value_name = "SIZE", value_hint = ValueHint::Other)]
    pub size: Vec<String>,
}

/// `build`.
#[derive(Debug, Args)]
pub struct Build {
    /// Which.
    #[command(flatten)]
    pub selection: Selection,
    /// Also write template, data and pictures below this folder, ready for any Typst compiler.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub typst_source: Option<PathBuf>,
    /// Make all anew, also what did not change since it passed its proof.
    #[arg(long)]
    pub anew: bool,
}

/// `watch`.
#[derive(Debug, Args)]
pub struct Watch {
    /// Which.
    #[command(flatten)]
    pub selection: Selection,
    /// Port of this machine at which the pages are shown; 0 takes a free one.
    #[arg(long, value_name = "NUMBER", default_value_t = 4717)]
    pub port: u16,
    /// Look for changes a few times a second: for disks that do not tell of them, such as shared ones.
    #[arg(long)]
    pub poll: bool,
}

/// `measure`.
#[derive(Debug, Args)]
pub struct Measure {
    /// Designs: names of folders below the designs folder, or paths of design folders. All of
    /// them if none is named.
    #[arg(value_hint = ValueHint::DirPath, add = offered::designs())]
    pub designs: Vec<String>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
    /// Only these sizes, by key.
    #[arg(long, value_delimiter = ',', value_name = "SIZE", value_hint = ValueHint::Other)]
    pub size: Vec<String>,
    /// Draw into this folder where the toe of each size will want easing, as SVG.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub picture: Option<PathBuf>,
    /// Draft without what the fitting taught (`fit` in design.yaml): the first draft.
    #[arg(long)]
    pub without_corrections: bool,
}

/// `compare`.
#[derive(Debug, Args)]
pub struct Compare {
    /// The design: the name of a folder below the designs folder, or the path of a design folder.
    #[arg(value_hint = ValueHint::DirPath, add = offered::designs())]
    pub design: String,
    /// The older edition, the last one released if none is named; and the newer one, the folder as it
    /// stands if none is named.
    #[arg(num_args = 0..=2)]
    pub editions: Vec<String>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
    /// Folder in which layouts are kept.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "build-output")]
    pub out: PathBuf,
    /// Draw old against new at true size into this file, as SVG.
    #[arg(long, value_name = "FILE")]
    pub overlay: Option<PathBuf>,
    /// How many times the usual work is put into packing the pieces on cloth.
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub effort: u32,
}

/// `release`.
#[derive(Debug, Args)]
pub struct Release {
    /// The design: the name of a folder below the designs folder, or the path of a design folder.
    #[arg(value_hint = ValueHint::DirPath, add = offered::designs())]
    pub design: String,
    /// Number of the edition, such as `1.1.0`; asked for on a terminal.
    #[arg(long, value_name = "NUMBER")]
    pub edition: Option<String>,
    /// What is new, in words for buyers; once for each language, in the order of the design. Asked for
    /// on a terminal.
    #[arg(long, value_name = "TEXT")]
    pub note: Vec<String>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
    /// Folder for the booklets.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "build-output")]
    pub out: PathBuf,
    /// How many times the usual work is put into packing the pieces on cloth.
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub effort: u32,
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// Name of the folder: small letters, figures and hyphens, such as `harvest-slipper`.
    pub name: String,
    /// What it begins with; asked for on a terminal.
    #[arg(long, value_enum)]
    pub start: Option<Start>,
    /// Title, as printed. Asked for on a terminal.
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// Who made it, as printed. Asked for on a terminal.
    #[arg(long, value_name = "TEXT")]
    pub by: Option<String>,
    /// Where corrections can be sent, as printed. Asked for on a terminal.
    #[arg(long, value_name = "TEXT")]
    pub contact: Option<String>,
    /// The file of a foot that the shoe is drafted from, such as `trace` writes.
    #[arg(long, value_name = "FILE")]
    pub foot: Option<PathBuf>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
}

/// What a new design begins with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Start {
    /// A shoe drafted from a foot.
    Shoe,
    /// A shoe from outlines that you drew.
    Outlines,
    /// A flat thing, from measures.
    Flat,
}

/// `schema`.
#[derive(Debug, Args)]
pub struct SchemaOut {
    /// Folder for the schemas. Usually `_schema` beside the designs.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub to: Option<PathBuf>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
}

/// How messages are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}
