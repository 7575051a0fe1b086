//! The arguments of `trace` and `sheet`.

use crate::trace::Toe;
use clap::{Args, Subcommand, ValueEnum, ValueHint};
use std::path::PathBuf;

/// `trace`.
#[derive(Debug, Args)]
pub struct Trace {
    /// The scan or photograph, PNG or JPEG; or a drawing in true size, SVG.
    pub picture: PathBuf,
    /// Pixels to the inch of a scan, if the file does not say so itself.
    #[arg(long, value_name = "NUMBER", value_parser = dots)]
    pub dpi: Option<f64>,
    /// Take the size from the card in the picture, whatever the file says.
    #[arg(long, conflicts_with = "dpi")]
    pub card: bool,
    /// Name of the foot and of its file, `feet/NAME.yaml`; both feet in one file if there are two. The
    /// name of the picture unless it is said.
    #[arg(long, value_name = "NAME", conflicts_with_all = ["left", "right"])]
    pub name: Option<String>,
    /// Name of the left foot, if it has a file of its own.
    #[arg(long, value_name = "NAME")]
    pub left: Option<String>,
    /// Name of the right foot, if it has a file of its own.
    #[arg(long, value_name = "NAME")]
    pub right: Option<String>,
    /// Where the toe is in the picture, if both halves of the foot are equally broad.
    #[arg(long, value_enum, value_name = "WAY")]
    pub toe: Option<Way>,
    /// Half the thickness of the pencil, taken off all round, such as `0.25 mm`.
    #[arg(long, value_name = "LENGTH")]
    pub pencil: Option<String>,
    /// The design whose folder `feet` takes the files, by name or path; or any folder. Usually the
    /// folder `feet` below this one.
    #[arg(long = "to", value_name = "DESIGN_OR_DIR")]
    pub to: Option<PathBuf>,
    /// Folder that holds the design folders.
    #[arg(long = "from", value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "designs")]
    pub from: PathBuf,
    /// Take the place of files that are there already.
    #[arg(long)]
    pub replace: bool,
}

/// `sheet`.
#[derive(Debug, Subcommand)]
pub enum Sheet {
    /// The page to trace feet on, whose photograph `trace` can measure.
    Tracing(TracingSheet),
}

/// `sheet tracing`.
#[derive(Debug, Args)]
pub struct TracingSheet {
    /// The paper: `a4` or `letter`.
    #[arg(long, value_enum, default_value_t = SheetPaper::A4)]
    pub paper: SheetPaper,
    /// The language of its words, such as `de`.
    #[arg(long, value_name = "LANGUAGE", default_value = "en")]
    pub language: String,
    /// The folder that takes the file.
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath, default_value = "build-output")]
    pub out: PathBuf,
}

/// Papers that the tracing sheet is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SheetPaper {
    /// A4.
    A4,
    /// US Letter.
    Letter,
}

/// Where the toe is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Way {
    /// At the top of the picture.
    Up,
    /// At the bottom.
    Down,
    /// At the left.
    Left,
    /// At the right.
    Right,
}

impl Way {
    /// The same for tracing.
    pub fn toe(self) -> Toe {
        match self {
            Self::Up => Toe::Up,
            Self::Down => Toe::Down,
            Self::Left => Toe::Left,
            Self::Right => Toe::Right,
        }
    }
}

fn dots(text: &str) -> Result<f64, String> {
    let number: f64 = text
        .parse()
        .map_err(|_| "a number is wanted, such as 300".to_string())?;
    match (50.0..=4800.0).contains(&number) {
        true => Ok(number),
        false => Err("scanners have 50 to 4800 pixels to the inch".into()),
    }
}
