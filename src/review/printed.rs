//! Whether the finished booklet prints what a buyer must read: cover, edition, materials, safety, terms. A
//! template of the design's own may have left it out. Only the words of the PDF are read.

use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics};

/// So many letters of a text are looked for: what follows may hold a length, which is set in its own way.
const LETTERS: usize = 40;

/// Looks through the pages of the file called `file` before the plates, whose letters are `texts`.
pub fn printed(design: &Design, texts: &[String], file: &str, diagnostics: &mut Diagnostics) {
    if texts.is_empty() {
        return;
    }
    let book = Book {
        design,
        file,
        cover: letters(texts.first().map_or("", String::as_str)),
        all: letters(&texts.concat()),
        figures: texts.concat().split_whitespace().collect(),
    };
    for (is_wrong, code, message, remedy) in [
        book.cover(),
        book.edition(),
        book.materials(),
        book.safety(),
        book.small_parts(),
        book.terms(),
    ] {
        if is_wrong {
            diagnostics.push(Diagnostic::error(code, None, message).remedy(remedy));
        }
    }
}

/// Whether something is wrong, its code, message and remedy.
type Found = (bool, &'static str, String, String);

/// The words of a booklet: letters and figures only, in small letters.
struct Book<'a> {
    design: &'a Design,
    file: &'a str,
    /// Those of the first page.
    cover: String,
    all: String,
    /// Everything but spaces.
    figures: String,
}

impl Book<'_> {
    fn has(&self, words: &str) -> bool {
        self.all.contains(&start(words))
    }

    fn found(&self, is_wrong: bool, code: &'static str, what: &str, part: &str) -> Found {
        let message = format!("{}: {what}", self.file);
        let remedy = format!("Call ‘{part}’ in your own template, or take the template away.");
        (is_wrong, code, message, remedy)
    }

    /// The first page says what it is.
    fn cover(&self) -> Found {
        let said = [&self.design.title, &self.design.about];
        let words = &self.design.words;
        // the page of the contents has both too
        let chapters = ["booklet.contents", "booklet.materials"].map(|key| letters(words.get(key)));
        let is_contents = chapters.iter().all(|title| self.cover.contains(title));
        let is_there = !is_contents && said.iter().all(|words| self.cover.contains(&start(words)));
        let what = "the first page is no cover: it has not both the title and the words about it";
        self.found(!is_there, "no-cover", what, "cover()")
    }

    fn edition(&self) -> Found {
        let what = format!(
            "no page before the plates names the edition {}",
            self.design.edition
        );
        let is_there = self.figures.contains(&self.design.edition);
        self.found(!is_there, "no-edition", &what, "terms-chapter()")
    }

    fn materials(&self) -> Found {
        let design = self.design;
        let names = design.cloth.iter().map(|cloth| &cloth.name);
        let names = names
            .chain(design.trims.iter().map(|trim| &trim.name))
            .chain(&design.tools);
        let left_out = names.into_iter().find(|name| !self.has(name));
        let title = self.has(design.words.get("booklet.materials"));
        let any = design.cloth.len() + design.trims.len() + design.tools.len() > 0;
        let what = match left_out {
            Some(name) => format!("the booklet does not say to buy ‘{name}’"),
            None => "the booklet has no list of materials and tools".to_string(),
        };
        let is_wrong = any && (!title || left_out.is_some());
        self.found(is_wrong, "no-materials", &what, "materials-chapter()")
    }

    fn has_safety(&self) -> bool {
        self.has(self.design.words.get("booklet.safety note"))
            || self.has(self.design.words.get("booklet.pins words"))
    }

    fn safety(&self) -> Found {
        let what = "the booklet has no part on safety";
        self.found(!self.has_safety(), "no-safety", what, "safety-chapter()")
    }

    fn small_parts(&self) -> Found {
        let trims = self.design.trims.iter();
        let small: Vec<&str> = trims
            .filter(|trim| {
                let fits = trim
                    .width
                    .is_none_or(|width| trim.kind.fits_small_parts(width));
                trim.small_part || (trim.kind.is_hard() && fits)
            })
            .map(|trim| trim.name.as_str())
            .collect();
        let words = self.has(self.design.words.get("booklet.small parts words"));
        let is_wrong = self.has_safety() && !small.is_empty() && !words;
        let what = format!("no caution names the small parts: {}", small.join(", "));
        self.found(
            is_wrong,
            "no-small-parts-caution",
            &what,
            "safety-chapter()",
        )
    }

    /// Terms and contact stand in one part.
    fn terms(&self) -> Found {
        let left_out = |words: &Option<String>| words.as_deref().is_some_and(|w| !self.has(w));
        let [terms, contact] = [&self.design.terms, &self.design.contact].map(left_out);
        let (code, what) = match (terms, contact) {
            (true, true) => (
                "no-terms",
                "the terms and the contact of the design are not printed",
            ),
            (false, true) => ("no-contact", "the contact of the design is not printed"),
            _ => ("no-terms", "the terms of the design are not printed"),
        };
        self.found(terms || contact, code, what, "terms-chapter()")
    }
}

fn letters(text: &str) -> String {
    let plain = text.chars().filter(|c| c.is_alphanumeric());
    plain.flat_map(char::to_lowercase).collect()
}

/// The beginning of a text, as far as it holds no figures that may be set otherwise.
fn start(text: &str) -> String {
    let end = text
        .find(|c: char| c.is_ascii_digit())
        .filter(|end| *end > 8);
    let plain = letters(&text[..end.unwrap_or(text.len())]);
    plain.chars().take(LETTERS).collect()
}
