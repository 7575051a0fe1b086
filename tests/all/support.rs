//! Running the program, and records that can be accepted anew.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The folder of the project.
pub fn project() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Runs `pressfoot` in `folder`. The date is fixed, so that two runs give the same bytes.
pub fn pressfoot(folder: &Path, arguments: &[&str]) -> Output {
    command(folder, arguments)
        .output()
        .expect("the program starts")
}

/// The command that [`pressfoot`] runs.
pub fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pressfoot"));
    command
        .current_dir(folder)
        .env("SOURCE_DATE_EPOCH", "1790000000")
        .env_remove("COLUMNS")
        .args(arguments);
    command
}

/// What the program said, as a record: exit code, then what it printed.
pub fn record(output: &Output) -> String {
    let code = output
        .status
        .code()
        .map_or("killed".into(), |c| c.to_string());
    let said = String::from_utf8_lossy(&output.stderr);
    let printed = String::from_utf8_lossy(&output.stdout);
    format!("exit {code}\n{said}{printed}")
}

/// Compares `actual` with the file `expected`. With `PRESSFOOT_ACCEPT=1` in the environment the
/// file is written anew instead. Returns what differs, if anything does.
pub fn compare(expected: &Path, actual: &str) -> Option<String> {
    if std::env::var_os("PRESSFOOT_ACCEPT").is_some() {
        std::fs::write(expected, actual).expect("the record can be written");
        return None;
    }
    let wanted = std::fs::read_to_string(expected).unwrap_or_default();
    if wanted == actual {
        return None;
    }
    Some(format!(
        "--- {}\n{wanted}\n+++ now\n{actual}",
        expected.display()
    ))
}

/// Copies the folder `from` with all below it to the folder `to`, which need not be there.
pub fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.expect("an entry");
        let below = entry.path().strip_prefix(from).expect("below the folder");
        if entry.file_type().is_dir() {
            std::fs::create_dir_all(to.join(below)).expect("a folder is made");
        } else {
            std::fs::copy(entry.path(), to.join(below)).expect("a file is copied");
        }
    }
}
