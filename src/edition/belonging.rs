//! Which design an edition belongs to: it holds the name of the folder and the title that the design had
//! when it was released.
//!
//! A title is changed now and then, and so is the name of a folder; rarely are both at once. So an edition
//! belongs to a design that has kept either of them, or that says what it was formerly.

use super::file::place_of;
use super::record::Record;
use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::folder::DesignFolder;

/// Takes the editions of other designs out of `records`, each told as an error at its line.
pub fn keep_own(
    records: &mut Vec<Record>,
    folder: &DesignFolder,
    design: &Design,
    diagnostics: &mut Diagnostics,
) {
    let (own, others) = parted(std::mem::take(records), names_of(folder, design));
    *records = own;
    for record in &others {
        diagnostics.push(told(record, folder, design));
    }
}

/// What a design is called, and what it was called.
fn names_of(folder: &DesignFolder, design: &Design) -> Vec<String> {
    let mut names = vec![folder.key().to_string(), design.own().title.clone()];
    names.extend(design.look_up.formerly.iter().cloned());
    names
}

/// The editions of a design that is known by `names`, and the others, both in their order. A name that
/// one edition shares with the design leads to those that share another with the edition.
fn parted(records: Vec<Record>, mut names: Vec<String>) -> (Vec<Record>, Vec<Record>) {
    let (mut own, mut others) = (Vec::new(), records);
    loop {
        let is_known = |record: &Record| names_in(record).any(|name| names.contains(name));
        let (found, left): (Vec<Record>, Vec<Record>) = others.into_iter().partition(is_known);
        others = left;
        if found.is_empty() {
            own.sort_by_key(|record: &Record| record.edition);
            return (own, others);
        }
        names.extend(found.iter().flat_map(names_in).cloned());
        own.extend(found);
    }
}

/// The names that an edition holds: of the folder, where it was kept with one, and the title.
fn names_in(record: &Record) -> impl Iterator<Item = &String> {
    let names = [&record.content.design, &record.content.title].into_iter();
    names.filter(|name| !name.is_empty())
}

fn told(record: &Record, folder: &DesignFolder, design: &Design) -> Diagnostic {
    let key = match record.content.design.as_str() {
        "" => "title",
        _ => "design",
    };
    let place = place_of(folder, record.edition, &format!("  {key}:"));
    let names: Vec<String> = names_in(record).map(|name| format!("‘{name}’")).collect();
    let message = format!(
        "edition {} is one of {}, and this design is ‘{}’",
        record.edition,
        names.join(", "),
        design.own().title
    );
    let known = names_in(record).next().map_or("", String::as_str);
    let remedy = format!(
        "Take the file away if it came from another design. If this design was called so before, say it in \
         design.yaml: formerly: [{}]",
        serde_json::to_string(known).unwrap_or_default()
    );
    Diagnostic::error("edition-of-another", place.as_ref(), message).remedy(remedy)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edition::Version;
    use crate::edition::file::tests::record;

    /// An edition under a number, with the folder and the title it was released with.
    fn edition(last: u32, design: &str, title: &str) -> Record {
        let mut record = record();
        record.edition = Version([1, 0, last]);
        record.content.design = design.into();
        record.content.title = title.into();
        record
    }

    fn own(records: &[Record], names: &[&str]) -> Vec<u32> {
        let names = names.iter().map(|name| (*name).to_string()).collect();
        let (own, others) = parted(records.to_vec(), names);
        assert_eq!(own.len() + others.len(), records.len());
        own.iter().map(|record| record.edition.0[2]).collect()
    }

    #[test]
    fn a_design_knows_its_editions_by_its_folder_its_title_or_what_it_was() {
        let first = [edition(0, "vest", "Stall vest")];
        assert_eq!(own(&first, &["vest", "Fair vest"]), [0], "another title");
        assert_eq!(own(&first, &["gilet", "Stall vest"]), [0], "another folder");
        assert_eq!(own(&first, &["bag", "Twine bag"]), [0; 0], "another design");
        assert_eq!(own(&first, &["bag", "Twine bag", "vest"]), [0], "formerly");
        let old = [edition(0, "", "Stall vest")];
        assert_eq!(
            own(&old, &["vest", "Fair vest"]),
            [0; 0],
            "kept without a folder"
        );
    }

    #[test]
    fn what_was_renamed_twice_is_followed_through_its_editions() {
        let three = [
            edition(0, "vest", "Stall vest"),
            edition(1, "vest", "Fair vest"),
            edition(2, "gilet", "Fair vest"),
        ];
        assert_eq!(own(&three, &["gilet", "Fair gilet"]), [0, 1, 2]);
        assert_eq!(own(&three[..2], &["gilet", "Fair gilet"]), [0; 0]);
    }
}
