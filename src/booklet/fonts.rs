//! The faces that booklets are set in, the same on every machine: Libertinus Serif, DejaVu Sans
//! Mono and New Computer Modern from typst's assets, and Noto Sans for what is printed on plates.
//! System fonts are never looked at, or the same design would break lines differently elsewhere.

use std::sync::LazyLock;
use typst::foundations::Bytes;
use typst::text::{Font, FontStretch, FontStyle, FontVariant, FontWeight};
use typst_kit::fonts::{FontStore, embedded};

static FONTS: LazyLock<FontStore> = LazyLock::new(|| {
    let mut store = FontStore::new();
    store.extend(embedded());
    for file in [notosans::REGULAR_TTF, notosans::BOLD_TTF] {
        for font in Font::iter(Bytes::new(file)) {
            let info = font.info().clone();
            store.push((font, info));
        }
    }
    store
});

/// All faces, read once.
pub fn store() -> &'static FontStore {
    &FONTS
}

/// How many faces there are.
pub fn count() -> usize {
    static COUNT: LazyLock<usize> = LazyLock::new(|| {
        let known = |index: &usize| store().book().info(*index).is_some();
        (0..).take_while(known).count()
    });
    *COUNT
}

/// The file of a face, by its family.
pub fn bytes_of(family: &str, bold: bool, italic: bool) -> Option<Vec<u8>> {
    let wanted = FontVariant {
        style: match italic {
            true => FontStyle::Italic,
            false => FontStyle::Normal,
        },
        weight: match bold {
            true => FontWeight::BOLD,
            false => FontWeight::REGULAR,
        },
        stretch: FontStretch::NORMAL,
    };
    let index = store().book().select(&family.to_lowercase(), wanted)?;
    Some(store().font(index)?.data().to_vec())
}

/// Whether some face has a glyph for `character`, or it needs none: a PDF/UA file may not hold
/// text that cannot be shown.
pub fn covers(character: char) -> bool {
    if character.is_ascii_graphic() || matches!(character, ' ' | '\n' | '\t') {
        return true;
    }
    // PDF/UA-1 allows no text that maps to U+FEFF (ISO 14289-1, 7.21.7).
    (typst::text::is_default_ignorable(character) && character != '\u{feff}')
        || (!character.is_control()
            && (0..)
                .map_while(|index| store().book().info(index))
                .any(|info| info.coverage.contains(u32::from(character))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_house_faces_are_there() {
        for family in ["libertinus serif", "noto sans", "dejavu sans mono"] {
            assert!(store().book().contains_family(family), "{family}");
        }
    }

    #[test]
    fn fractions_and_accents_are_covered_and_pictographs_are_not() {
        assert!("½⅛é–“”⁄\u{202f}\u{a0}\u{ad}°²".chars().all(covers));
        assert!(!covers('\u{1F9F5}'));
        assert!(!covers('\u{1}'));
    }
}
