//! Typefaces of the design's own: files that can be read, may be embedded, and have the letters of the
//! text. Signs that they lack, such as fractions, come from the faces of the house.

use super::fonts;
use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use std::collections::BTreeMap;
use std::fmt;
use ttf_parser::{Face, Permissions};
use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// The letters of the booklet's own words.
const OWN_LETTERS: &str =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,:;()-–’“”";

/// Typefaces besides those of the house.
#[derive(Clone, Default)]
pub struct Faces {
    fonts: Vec<Font>,
    /// Path and bytes of each file.
    files: Vec<(String, Vec<u8>)>,
    text: Option<String>,
    labels: Option<String>,
}

impl fmt::Debug for Faces {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let files = self.files.iter().map(|(path, _)| path);
        to.debug_list().entries(files).finish()
    }
}

impl PartialEq for Faces {
    fn eq(&self, other: &Self) -> bool {
        self.files == other.files && self.text == other.text && self.labels == other.labels
    }
}

impl Faces {
    /// Reads the files that the look of `design` names. What is wrong is said where it names them,
    /// letters that are missing where they stand.
    pub fn read(
        design: &Design,
        files: &BTreeMap<String, Vec<u8>>,
        diagnostics: &mut Diagnostics,
    ) -> Self {
        let mut faces = Self::default();
        let look = &design.look;
        faces.text = faces.family(&look.text_face, files, diagnostics);
        let text_fonts = faces.fonts.len();
        faces.labels = faces.family(&look.label_face, files, diagnostics);
        if faces.text.is_some() {
            tell_of_letters(&faces.fonts[..text_fonts], design, diagnostics);
        }
        faces
    }

    /// Adds the files of one face; its family, if all of them are sound and of the same.
    fn family(
        &mut self,
        named: &[(String, Place)],
        files: &BTreeMap<String, Vec<u8>>,
        diagnostics: &mut Diagnostics,
    ) -> Option<String> {
        let mut family: Option<String> = None;
        for (path, place) in named {
            let bytes = files.get(path.trim_start_matches("./"))?;
            let font = match checked(bytes) {
                Ok(font) => font,
                Err(why) => {
                    let message = format!("The typeface ‘{path}’ cannot be used: {why}.");
                    let told = Diagnostic::error("look-face", Some(place), message);
                    diagnostics.push(told.remedy(
                        "Take a TrueType or OpenType file whose licence lets it be embedded.",
                    ));
                    return None;
                }
            };
            let own = font.info().family.as_str().to_string();
            if let Some(other) = family.as_ref().filter(|other| **other != own) {
                let message = format!(
                    "The typeface ‘{path}’ is of the family ‘{own}’, the first of ‘{other}’."
                );
                let told = Diagnostic::error("look-face", Some(place), message);
                diagnostics
                    .push(told.remedy("Name the files of one family: upright, italic, bold."));
                return None;
            }
            family = Some(own);
            self.fonts.push(font);
            self.files.push((path.clone(), bytes.clone()));
        }
        family
    }

    /// Family of the text.
    pub fn text(&self) -> Option<&str> {
        self.text.as_deref()
    }

    /// Family of labels in the text.
    pub fn labels(&self) -> Option<&str> {
        self.labels.as_deref()
    }

    /// Path and bytes of each file.
    pub fn files(&self) -> &[(String, Vec<u8>)] {
        &self.files
    }

    /// These faces after those of the house, if there are any.
    pub fn book(&self) -> Option<LazyHash<FontBook>> {
        (!self.fonts.is_empty()).then(|| {
            let mut book = FontBook::clone(fonts::store().book());
            for font in &self.fonts {
                book.push(font.info().clone());
            }
            LazyHash::new(book)
        })
    }

    /// The face of this number after those of the house.
    pub fn font(&self, number: usize) -> Option<Font> {
        self.fonts.get(number).cloned()
    }
}

/// The font in `bytes`.
///
/// # Errors
/// Why it cannot be used.
fn checked(bytes: &[u8]) -> Result<Font, String> {
    let face = Face::parse(bytes, 0).map_err(|error| format!("it cannot be read ({error})"))?;
    if ttf_parser::fonts_in_collection(bytes).is_some() {
        return Err("it is a collection of several faces".into());
    }
    // OpenType, table OS/2, fsType: bits 1 to 3 say how it may be embedded, bit 8 that it may not be
    // reduced to the letters used, bit 9 that only its bitmaps may be embedded
    let permitted = match face.permissions() {
        Some(Permissions::Restricted) | None => false,
        Some(_) => face.is_subsetting_allowed() && face.is_outline_embedding_allowed(),
    };
    if !permitted {
        return Err("its maker does not permit it to be embedded (OS/2, fsType)".into());
    }
    let lacking: String = OWN_LETTERS
        .chars()
        .filter(|letter| face.glyph_index(*letter).is_none())
        .collect();
    if !lacking.is_empty() {
        return Err(format!("it lacks ‘{lacking}’"));
    }
    Font::new(Bytes::new(bytes.to_vec()), 0).ok_or_else(|| "it cannot be read".to_string())
}

/// Says which letters of the design's texts the upright face lacks: a word would be set in two faces.
fn tell_of_letters(fonts: &[Font], design: &Design, diagnostics: &mut Diagnostics) {
    let Some(font) = fonts.first() else { return };
    let chapters = design.chapters.iter().map(|chapter| &chapter.source);
    let mut told = Vec::new();
    for source in std::iter::once(&design.source).chain(chapters) {
        for (at, letter) in source.text.char_indices() {
            let known = font.info().coverage.contains(u32::from(letter));
            // what no face has is told elsewhere
            let other = !letter.is_alphanumeric() || !fonts::covers(letter);
            if known || other || told.contains(&letter) {
                continue;
            }
            told.push(letter);
            let (line, column) = super::source_map::line_column(&source.text, at);
            let place = Place {
                source: source.clone(),
                line,
                column,
            };
            let code = u32::from(letter);
            let family = font.info().family.as_str();
            let message =
                format!("The letter ‘{letter}’ (U+{code:04X}) is not in the typeface ‘{family}’.");
            let remedy = "Write it otherwise, or choose a typeface that has it.";
            diagnostics
                .push(Diagnostic::error("missing-glyph", Some(&place), message).remedy(remedy));
        }
    }
}
