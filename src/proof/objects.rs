//! Small things read from objects of a PDF.

use hayro_syntax::object::{Dict, Name};

/// A text string: UTF-16 if it begins with its mark, else bytes (ISO 32000-1, 7.9.2.2).
pub(super) fn words(bytes: &[u8]) -> String {
    match bytes.strip_prefix(&[0xfe, 0xff]) {
        Some(wide) => {
            let units = wide
                .chunks_exact(2)
                .map(|b| u16::from_be_bytes([b[0], b[1]]));
            char::decode_utf16(units)
                .map(|c| c.unwrap_or('\u{fffd}'))
                .collect()
        }
        None => String::from_utf8_lossy(bytes).into_owned(),
    }
}

/// Whether `dict` has this name under `key`.
pub(super) fn name_is(dict: &Dict<'_>, key: &str, name: &[u8]) -> bool {
    dict.get::<Name<'_>>(key)
        .is_some_and(|n| n.as_ref() == name)
}
