//! A design that did not change since a build that passed its proof: its files stand, and what was told
//! is told again.

use crate::diagnostic::{Diagnostics, json};
use crate::folder::{DesignFolder, Outputs, made_before};
use crate::pipeline::{Options, Stop};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

/// What a build hangs on, as a digest; none where a file of the design cannot be read.
#[derive(Default)]
pub(super) struct Origin(Option<String>);

/// What an earlier build told and wrote.
pub(super) struct Before {
    pub(super) told: [Diagnostics; 2],
    pub(super) written: Vec<PathBuf>,
}

impl Origin {
    /// Of the design in `folder` and what is asked for.
    pub(super) fn of(folder: &DesignFolder, options: &Options) -> Self {
        // where layouts are kept changes none of them
        let asked = Options {
            shelf: None,
            memory: None,
            stop: Stop::default(),
            ..options.clone()
        };
        let with = program().map(|program| format!("{program} {asked:?}"));
        Self(with.and_then(|with| made_before::digest(folder, &with)))
    }

    /// What was made of just this before, if all of it stands in `directory`.
    pub(super) fn before(&self, folder: &DesignFolder, directory: &Path) -> Option<Before> {
        let (told, written) = made_before::found(directory, self.0.as_deref()?)?;
        let list = |told: &Value| {
            let mut all = Diagnostics::default();
            for object in told.as_array()? {
                all.push(json::read(object, |path| folder.text(path))?);
            }
            Some(all)
        };
        let told = [list(&told[0])?, list(&told[1])?];
        Some(Before { told, written })
    }

    /// The record of these outputs and of what was told, for the next build.
    pub(super) fn record(&self, outputs: &Outputs, told: [&Diagnostics; 2]) -> Option<Vec<u8>> {
        let digest = self.0.as_ref()?;
        let objects = |told: &Diagnostics| told.iter().map(|d| json::object(d, "")).collect();
        let told: Vec<Value> = told.map(objects).into();
        Some(made_before::record(digest, outputs.files(), json!(told)))
    }
}

/// Which program this is: another build of it may make other booklets.
fn program() -> Option<String> {
    let about = std::env::current_exe().and_then(std::fs::metadata).ok()?;
    let changed = about.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    let version = env!("CARGO_PKG_VERSION");
    Some(format!("{version} {} {}", about.len(), changed.as_nanos()))
}
