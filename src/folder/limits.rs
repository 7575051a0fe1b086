//! How large the files of a design folder may be, in bytes, and which of them are texts.

/// Bytes of a mebibyte.
const MIB: u64 = 1024 * 1024;

/// `design.yaml` and the other YAML files: a thousand pieces take a quarter of this, so more is a
/// mistake, and all of it must be parsed twice.
const YAML: u64 = MIB;

/// The file of an edition: outlines of a thousand pieces, and all words of the booklet.
const EDITION: u64 = 8 * MIB;

/// Each Markdown file: a novel's length. More is no booklet.
const MARKDOWN: u64 = MIB;

/// A drawing: tens of thousands of curves. Larger ones hold embedded pictures.
const DRAWING: u64 = 4 * MIB;

/// A picture or any other file: a full-page photograph at 600 dpi fits uncompressed twice over.
const PICTURE: u64 = 40 * MIB;

/// Files in one folder: far above the largest booklet with pictures for each step; more means that
/// a wrong folder was given, a home folder for example.
pub(super) const FILES: usize = 2000;

/// Files, folders and links in one folder: those that are no file are looked at too.
pub(super) const ENTRIES: usize = 2 * FILES;

/// All files that are read of one folder together, so that one design fits in memory.
pub(super) const TOTAL: u64 = 400 * MIB;

/// What the file at `path` may have.
pub(super) fn of_file(path: &str) -> u64 {
    match extension(path) {
        "yaml" if path.starts_with("editions/") => EDITION,
        "yaml" | "yml" => YAML,
        "md" | "typ" => MARKDOWN,
        "svg" => DRAWING,
        _ => PICTURE,
    }
}

/// Whether the file at `path` is read as text when the folder is read.
pub(super) fn is_text(path: &str) -> bool {
    matches!(extension(path), "yaml" | "yml" | "md" | "typ" | "svg")
}

/// Whether the file at `path` holds words or keys, and is nothing to look at.
pub(super) fn is_yaml_or_text(path: &str) -> bool {
    matches!(extension(path), "yaml" | "yml" | "md" | "typ" | "txt")
}

/// A size for people: `1.5 MB`.
pub(super) fn shown(bytes: u64) -> String {
    if bytes < MIB {
        format!("{} kB", bytes.div_ceil(1024))
    } else {
        format!("{:.1} MB", bytes as f64 / MIB as f64)
    }
}

fn extension(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(_, extension)| extension)
}
