//! `schema`: JSON Schema of the files of a design folder, for editors.

use super::Fault;
use super::args::SchemaOut;
use super::screen::Screen;
use crate::design::keys::schema::schemas;
use crate::folder::write;
use std::path::Path;

/// The folder beside the designs in which their schemas lie; no design, for its name begins with `_`.
pub(super) const SCHEMA_FOLDER: &str = "_schema";

pub(super) fn schema(wanted: &SchemaOut, screen: &Screen) -> Result<bool, Fault> {
    let folder = match &wanted.to {
        Some(folder) => folder.clone(),
        None => wanted.from.join(SCHEMA_FOLDER),
    };
    write_below(&folder, screen)?;
    Ok(true)
}

/// Writes the schemas into `folder`.
pub(super) fn write_below(folder: &Path, screen: &Screen) -> Result<(), Fault> {
    for (name, schema) in schemas() {
        let path = folder.join(format!("{name}.json"));
        let text = format!("{schema:#}\n");
        write::write(&path, text.as_bytes()).map_err(|why| Fault(why.to_string()))?;
        screen.file(&path);
    }
    Ok(())
}
