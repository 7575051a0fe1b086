//! The operations of a content stream with their places in it (ISO 32000-1, 7.8.2), so that a stream is
//! changed only where it must be and stays byte for byte elsewhere.

use std::ops::Range;

/// One operation.
#[derive(Debug, Clone, PartialEq)]
pub struct Operation {
    /// Its operator, e.g. `cm`.
    pub operator: String,
    /// Its operands that are numbers, in order.
    pub numbers: Vec<f64>,
    /// Its operands that are names, without the solidus.
    pub names: Vec<String>,
    /// Where it stands in the stream, operands included.
    pub range: Range<usize>,
}

/// All operations of `stream`. Inline images are not expected: no stream of ours has one.
///
/// # Errors
/// A sentence, if a string or an array does not end.
pub fn operations(stream: &[u8]) -> Result<Vec<Operation>, String> {
    let mut reader = Reader { stream, at: 0 };
    let mut list = Vec::new();
    let (mut numbers, mut names) = (Vec::new(), Vec::new());
    let mut start = None;
    loop {
        reader.skip_space();
        let Some(first) = reader.peek() else { break };
        let began = *start.get_or_insert(reader.at);
        match first {
            b'(' => reader.skip_string()?,
            b'<' | b'[' => reader.skip_nested()?,
            b'/' => names.push(reader.name()),
            _ => {
                let word = reader.word();
                match number(word) {
                    Some(value) => numbers.push(value),
                    None if matches!(word, b"true" | b"false" | b"null") => {}
                    None => {
                        list.push(Operation {
                            operator: String::from_utf8_lossy(word).into_owned(),
                            numbers: std::mem::take(&mut numbers),
                            names: std::mem::take(&mut names),
                            range: began..reader.at,
                        });
                        start = None;
                    }
                }
            }
        }
    }
    Ok(list)
}

fn number(word: &[u8]) -> Option<f64> {
    let digits = word.iter().any(u8::is_ascii_digit);
    let form = |b: &u8| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'.');
    if !digits || !word.iter().all(form) {
        return None;
    }
    std::str::from_utf8(word).ok()?.parse().ok()
}

struct Reader<'a> {
    stream: &'a [u8],
    at: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<u8> {
        self.stream.get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while let Some(byte) = self.peek() {
            if byte == b'%' {
                while self.peek().is_some_and(|b| b != b'\n' && b != b'\r') {
                    self.at += 1;
                }
            } else if is_space(byte) {
                self.at += 1;
            } else {
                break;
            }
        }
    }

    fn skip_string(&mut self) -> Result<(), String> {
        let mut depth = 0;
        while let Some(byte) = self.peek() {
            self.at += 1;
            match byte {
                b'\\' => self.at += 1,
                b'(' => depth += 1,
                b')' => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                return Ok(());
            }
        }
        Err("a string in a page of the PDF does not end".to_string())
    }

    /// A hexadecimal string, a dictionary or an array, with all that is in it.
    fn skip_nested(&mut self) -> Result<(), String> {
        let mut depth = 0;
        while let Some(byte) = self.peek() {
            match byte {
                b'(' => {
                    self.skip_string()?;
                    continue;
                }
                b'<' | b'[' => depth += 1,
                b'>' | b']' => depth -= 1,
                _ => {}
            }
            self.at += 1;
            if depth == 0 {
                return Ok(());
            }
        }
        Err("an array in a page of the PDF does not end".to_string())
    }

    fn name(&mut self) -> String {
        self.at += 1;
        String::from_utf8_lossy(self.word()).into_owned()
    }

    fn word(&mut self) -> &'a [u8] {
        let start = self.at;
        while let Some(byte) = self.peek() {
            let ends = is_space(byte) || b"()<>[]/%{}".contains(&byte);
            if ends {
                break;
            }
            self.at += 1;
        }
        // a stray delimiter is a word of its own, so that reading always goes on
        if self.at == start && self.at < self.stream.len() {
            self.at += 1;
        }
        &self.stream[start..self.at]
    }
}

fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 0x0c | b'\r' | b' ')
}
