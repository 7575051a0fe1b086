//! One piece of work on a design, and what somebody looks at.

use crate::pipeline::Stop;
use std::path::PathBuf;

/// What somebody looks at: the first of all where nothing is named.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Look {
    /// Key of the design.
    pub design: Option<String>,
    /// Key of the paper.
    pub paper: Option<String>,
    /// The language's tag.
    pub language: Option<String>,
}

/// What is to be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Task {
    /// Set the booklet that is looked at: its paper and language, the design's first if it names none.
    Pages {
        /// Key of the paper.
        paper: Option<String>,
        /// The language's tag.
        language: Option<String>,
        /// After the whole build: with its layouts, and whether it passed its proof.
        after: Option<bool>,
    },
    /// Make all files, proof and write them.
    Whole,
}

/// A task on one design as it was saved last.
#[derive(Debug, Clone)]
pub struct Job {
    /// The design's folder.
    pub root: PathBuf,
    /// What is to be done.
    pub task: Task,
    /// How often the design had been saved.
    pub saved: u64,
    /// Bids it leave off.
    pub stop: Stop,
}

impl Job {
    /// The look for which pages are set.
    pub(super) fn look(&self) -> Look {
        match &self.task {
            Task::Pages {
                paper, language, ..
            } => Look {
                design: None,
                paper: paper.clone(),
                language: language.clone(),
            },
            Task::Whole => Look::default(),
        }
    }
}
