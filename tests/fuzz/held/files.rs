//! Several files in one text: a line `%% path` begins the next one.

/// Path and bytes of a file.
pub type File = (String, Vec<u8>);

/// The files in `bytes`; what stands before the first `%%` is that called `first`. Of two with one path the
/// last counts.
pub fn parted(bytes: &[u8], first: &str) -> Vec<File> {
    let mut files: Vec<File> = vec![(first.to_string(), Vec::new())];
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        let path = line.strip_prefix(b"%% ").map(<[u8]>::trim_ascii);
        match path.and_then(|path| std::str::from_utf8(path).ok()) {
            Some(path) if !path.is_empty() => files.push((path.to_string(), Vec::new())),
            _ => {
                if let Some((_, text)) = files.last_mut() {
                    text.extend_from_slice(line);
                }
            }
        }
    }
    files
}

/// Adds a file unless it is there.
pub fn with_default(files: &mut Vec<File>, path: &str, text: &str) {
    if !files.iter().any(|(known, _)| known == path) {
        files.push((path.to_string(), text.as_bytes().to_vec()));
    }
}
