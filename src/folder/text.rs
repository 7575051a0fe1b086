//! Bytes of a file as text: UTF-8 checked, line ends made alike.

use super::Unreadable;
use crate::diagnostic::{Place, SourceText};
use std::sync::Arc;

/// The text in `bytes`, without a byte order mark and with `\n` as the only line end, so that
/// lines count the same everywhere.
pub(super) fn decoded(path: &str, bytes: &[u8]) -> Result<SourceText, Unreadable> {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]).into_owned();
            let good = unified(&good);
            let line = good.matches('\n').count() + 1;
            let last = good.rsplit('\n').next().unwrap_or("");
            let column = last.chars().count() + 1;
            return Err(Unreadable::NotText { line, column });
        }
    };
    Ok(SourceText {
        path: path.to_string(),
        text: unified(text),
    })
}

fn unified(text: &str) -> String {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    text.replace("\r\n", "\n").replace('\r', "\n")
}

/// A place in a file whose text could not be read: without an excerpt.
pub(super) fn place(path: &str, line: usize, column: usize) -> Place {
    Place {
        source: Arc::new(SourceText {
            path: path.to_string(),
            text: String::new(),
        }),
        line,
        column,
    }
}
