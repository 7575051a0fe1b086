//! What one stage hands to another, where the two do not know each other.

use super::{Computed, Options};
use crate::booklet::{OwnTemplates, SizeValues, template};
use crate::design::{Design, Dimension, FootSide, Paper, Quantity, Size, SizeLayout};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::draft::Draft;
use crate::folder::DesignFolder;
use crate::plates::PlateJob;
use std::collections::BTreeMap;
use std::sync::Arc;

pub(super) fn plate_job(design: &Design, paper: &Paper) -> PlateJob {
    PlateJob {
        paper: paper.clone(),
        title: design.title.clone(),
        edition: design.edition_words(),
        lengths: design.lengths,
        nested: nested_sizes(design),
        pairs: pairs(design),
        cloth: cloth_names(design),
        words: design.words.clone(),
    }
}

/// The sizes of each pair whose feet take patterns of their own.
fn pairs(design: &Design) -> Vec<Vec<usize>> {
    let mut pairs: Vec<(&str, Vec<usize>)> = Vec::new();
    for (index, size) in design.sizes.iter().enumerate() {
        match pairs.iter_mut().find(|(key, _)| *key == size.declared) {
            Some((_, members)) => members.push(index),
            None => pairs.push((&size.declared, vec![index])),
        }
    }
    let members = pairs.into_iter().map(|(_, members)| members);
    members.filter(|members| members.len() > 1).collect()
}

/// Which sizes are nested with each other, by index: those for the left foot, those for the right
/// one and those for both each among themselves, for a left piece on its mirrored fellow would
/// confuse.
fn nested_sizes(design: &Design) -> Vec<Vec<usize>> {
    if design.size_layout == SizeLayout::SideBySide {
        return Vec::new();
    }
    let sides = [None, Some(FootSide::Right), Some(FootSide::Left)];
    let of = |side: Option<FootSide>| {
        let sizes = design.sizes.iter().enumerate();
        sizes
            .filter(|(_, size)| size.only == side)
            .map(|(i, _)| i)
            .collect()
    };
    sides.into_iter().map(of).collect()
}

pub(super) fn cloth_names(design: &Design) -> Vec<(String, String)> {
    design
        .cloth
        .iter()
        .map(|cloth| (cloth.key.clone(), cloth.name.clone()))
        .collect()
}

/// The papers asked for, or those the design sells.
pub(super) fn papers(design: &Design, options: &Options) -> Vec<Paper> {
    match options.papers.is_empty() {
        true => design
            .papers
            .iter()
            .map(|(paper, _)| paper.clone())
            .collect(),
        false => options.papers.clone(),
    }
}

/// The values of the formulas, by size.
pub(super) fn draft_values(design: &Design, drafts: &[Draft]) -> Vec<SizeValues> {
    let of = |(size, draft): (&Size, &Draft)| SizeValues {
        key: size.key.clone(),
        title: size.title.clone(),
        values: draft.values.map().clone(),
    };
    design.sizes.iter().zip(drafts).map(of).collect()
}

/// What the text may name, by size: the values of the formulas and the cut lengths of the trims.
pub(super) fn size_values(computed: &Computed) -> Vec<SizeValues> {
    let mut list = draft_values(&computed.design, &computed.drafts);
    for trim in &computed.materials.trims {
        for line in &trim.lines {
            let quantity = Quantity {
                value: line.length_mm,
                dimension: Dimension::Length,
            };
            let all = line.size.is_none();
            for size in &mut list {
                if all || line.size.as_ref() == Some(&size.title) {
                    size.values
                        .insert(format!("trims.{}.length", trim.key), quantity);
                }
            }
        }
    }
    list
}

/// The pictures of the design folder and the typefaces that its look names, by path.
pub(super) fn text_files(folder: &DesignFolder, design: &Design) -> BTreeMap<String, Vec<u8>> {
    let bytes = |path: &str| folder.bytes(path).map(|b| (path.to_string(), b.to_vec()));
    let look = &design.look;
    let faces = look.text_face.iter().chain(&look.label_face);
    let faces = faces.map(|(path, _)| path.trim_start_matches("./"));
    let paths = folder.pictures().into_iter().chain(faces);
    paths.filter_map(bytes).collect()
}

/// Files that look like chapters and are none: in a folder whose name begins like that of the chapters, and
/// not read from there.
pub(super) fn tell_of_unread_chapters(
    folder: &DesignFolder,
    design: &Design,
    diagnostics: &mut Diagnostics,
) {
    let languages = design.translations.iter().map(|spoken| spoken.words.tag());
    let folders: Vec<String> = std::iter::once("booklet".to_string())
        .chain(languages.map(|tag| format!("booklet.{tag}")))
        .collect();
    for path in folder.paths() {
        let Some((directory, name)) = path.split_once('/') else {
            continue;
        };
        let is_near = directory.to_lowercase().starts_with("booklet");
        let is_read = folders.iter().any(|known| known == directory) && name.ends_with(".md");
        if !is_near || is_read && !name.contains('/') {
            continue;
        }
        let place = Place {
            source: folder.text(path).unwrap_or_else(|| {
                let (path, text) = (path.to_string(), String::new());
                Arc::new(SourceText { path, text })
            }),
            line: 1,
            column: 1,
        };
        let message = format!("‘{path}’ is not read");
        let remedy = format!(
            "Chapters are files that end in .md and lie in {}.",
            folders.join(" or ")
        );
        let told = Diagnostic::warning("chapter-unread", Some(&place), message);
        diagnostics.push(told.remedy(remedy));
    }
}

/// The design's own templates. A file that replaces none of the house is an error: it
/// would do nothing, in silence.
pub(super) fn own_templates(folder: &DesignFolder, diagnostics: &mut Diagnostics) -> OwnTemplates {
    let mut files = BTreeMap::new();
    let paths: Vec<&str> = folder.paths().collect();
    for path in paths {
        let Some(name) = path.strip_prefix("template/") else {
            continue;
        };
        // tables of words were read with the design
        if name.starts_with("words/") && name.ends_with(".yaml") {
            continue;
        }
        let known = template::FILES.iter().any(|(known, _)| *known == name);
        match folder.text(path) {
            Some(source) if known => {
                files.insert(name.to_string(), source);
            }
            source => diagnostics.push(unknown_template(path, name, source)),
        }
    }
    OwnTemplates {
        folder: folder.root().display().to_string(),
        files,
    }
}

fn unknown_template(path: &str, name: &str, source: Option<Arc<SourceText>>) -> Diagnostic {
    let source = source.unwrap_or_else(|| {
        Arc::new(SourceText {
            path: path.to_string(),
            text: String::new(),
        })
    });
    let place = Place {
        source,
        line: 1,
        column: 1,
    };
    let known = template::FILES.iter().map(|(known, _)| *known);
    let near = known
        .map(|known| (strsim::damerau_levenshtein(name, known), known))
        .min();
    let near = near.map_or("", |(_, known)| known);
    let message = format!("‘{path}’ replaces no file of the template.");
    let remedy = format!("The nearest name is ‘template/{near}’; other files belong elsewhere.");
    Diagnostic::error("template-unknown", Some(&place), message).remedy(remedy)
}
