//! A design from its folder to all that is to be written, with what was said on the way.

use super::handover::papers;
use super::{Computed, Options, Published, Step, compute, publish, refused};
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::proof::Report;
use std::path::Path;

/// What one design led to.
#[derive(Debug)]
pub struct Made {
    /// Files and report, if booklets could be made.
    pub published: Option<Published>,
    /// What is told of a design that could be read and not made.
    pub refused: Option<Report>,
    /// All that was said, but for what the proof of the PDFs found.
    pub diagnostics: Diagnostics,
    /// What the design sells, if it could be understood.
    pub sold: Option<Sold>,
}

impl Made {
    /// What the files hold, bytes: the most of what it takes in memory.
    pub fn bytes(&self) -> usize {
        let outputs = self.published.iter().map(|published| &published.outputs);
        let files = outputs.flat_map(|outputs| outputs.files());
        files.map(|(_, bytes)| bytes.len()).sum()
    }
}

/// Which booklets a design has.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sold {
    /// Its title.
    pub title: String,
    /// Key and name of each paper.
    pub papers: Vec<(String, String)>,
    /// The languages' tags, the design's own first.
    pub languages: Vec<String>,
}

impl Sold {
    /// What is made of a design.
    pub fn of(computed: &Computed, options: &Options) -> Self {
        let design = &computed.design;
        let papers = papers(design, options).into_iter();
        let further = design.translations.iter().map(|t| t.language.clone());
        Self {
            title: design.title.clone(),
            papers: papers.map(|paper| (paper.key, paper.name)).collect(),
            languages: std::iter::once(design.language.clone())
                .chain(further)
                .collect(),
        }
    }
}

/// Computes, typesets and proofs the design in `read`, for `directory`.
pub fn made(
    read: Result<&DesignFolder, Diagnostics>,
    options: &Options,
    directory: &Path,
    step: Step,
) -> Made {
    let mut diagnostics = Diagnostics::default();
    let folder = match read {
        Ok(folder) => folder,
        Err(said) => {
            return Made {
                published: None,
                refused: None,
                diagnostics: said,
                sold: None,
            };
        }
    };
    let mut computed = compute(folder, options, step, &mut diagnostics);
    let sold = computed.as_ref().map(|made| Sold::of(made, options));
    let published = computed
        .as_mut()
        .and_then(|made| publish(folder, made, options, directory, step, &mut diagnostics));
    let refused = match published {
        Some(_) => None,
        None => {
            let key = folder.key();
            Some(refused(key, computed.as_ref(), options, &diagnostics))
        }
    };
    Made {
        published,
        refused,
        diagnostics,
        sold,
    }
}
