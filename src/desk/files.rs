//! The page that a browser shows, and the faces it is set in: embedded, so that it works without a network.

use crate::booklet::fonts;
use std::borrow::Cow;

/// A file of the page: what it is, and its bytes.
pub(super) struct PageFile {
    pub(super) kind: &'static str,
    pub(super) bytes: Cow<'static, [u8]>,
}

/// Texts of the page by path.
const TEXTS: [(&str, &str, &str); 7] = [
    (
        "/",
        "text/html; charset=utf-8",
        include_str!("../../templates/desk/desk.html"),
    ),
    (
        "/desk.css",
        "text/css; charset=utf-8",
        include_str!("../../templates/desk/desk.css"),
    ),
    (
        "/pages.css",
        "text/css; charset=utf-8",
        include_str!("../../templates/desk/pages.css"),
    ),
    (
        "/desk.js",
        "text/javascript; charset=utf-8",
        include_str!("../../templates/desk/desk.js"),
    ),
    (
        "/pages.js",
        "text/javascript; charset=utf-8",
        include_str!("../../templates/desk/pages.js"),
    ),
    (
        "/lists.js",
        "text/javascript; charset=utf-8",
        include_str!("../../templates/desk/lists.js"),
    ),
    (
        "/mark.svg",
        "image/svg+xml",
        include_str!("../../templates/desk/mark.svg"),
    ),
];

/// Faces by path: family, whether bold, whether italic.
const FACES: [(&str, &str, bool, bool); 5] = [
    ("/faces/serif.otf", "Libertinus Serif", false, false),
    ("/faces/serif-italic.otf", "Libertinus Serif", false, true),
    ("/faces/serif-bold.otf", "Libertinus Serif", true, false),
    ("/faces/sans.ttf", "Noto Sans", false, false),
    ("/faces/sans-bold.ttf", "Noto Sans", true, false),
];

/// The file at this path of the page.
pub(super) fn file(path: &str) -> Option<PageFile> {
    let text = TEXTS.iter().find(|(name, ..)| *name == path);
    if let Some((_, kind, text)) = text {
        return Some(PageFile {
            kind,
            bytes: Cow::Borrowed(text.as_bytes()),
        });
    }
    let face = FACES.iter().find(|(name, ..)| *name == path)?;
    let (name, family, bold, italic) = *face;
    let kind = match name.ends_with(".otf") {
        true => "font/otf",
        false => "font/ttf",
    };
    fonts::bytes_of(family, bold, italic).map(|bytes| PageFile {
        kind,
        bytes: Cow::Owned(bytes),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_that_the_page_names_is_there() {
        let named = |text: &str| -> Vec<String> {
            let parts = text.split(['"', '(', ')', '\'']);
            let is_path = |part: &&str| part.starts_with('/') && !part.contains([' ', '*', '\n']);
            let paths = parts.filter(is_path).filter(|part| part.contains('.'));
            paths.map(str::to_string).collect()
        };
        let texts = TEXTS.iter().filter(|(path, ..)| !path.ends_with(".js"));
        let paths: Vec<String> = texts.flat_map(|(_, _, text)| named(text)).collect();
        assert!(paths.len() >= 10, "{paths:?}");
        for path in paths.iter().filter(|path| !path.starts_with("/desk.json")) {
            assert!(
                file(path).is_some_and(|file| !file.bytes.is_empty()),
                "{path}"
            );
        }
    }

    #[test]
    fn nothing_on_the_page_comes_from_elsewhere() {
        for (path, _, text) in TEXTS {
            let elsewhere = text.matches("//").count();
            let allowed = text.matches("http://www.w3.org/2000/svg").count()
                + text
                    .lines()
                    .filter(|l| l.trim_start().starts_with("//"))
                    .count();
            assert_eq!(elsewhere, allowed, "{path}");
            let html = path == "/";
            assert!(
                !html || !text.contains(" style=\"") && !text.contains(" onclick="),
                "{path}"
            );
        }
    }
}
