//! The files of a design: whatever stands in them it is drafted and reviewed, or refused with a word.

use super::files::{self, File};
use super::said::can_be_told;
use kurbo::Shape;
use pressfoot::booklet::{self, Prose, SizeValues};
use pressfoot::design::Design;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::draft::Draft;
use pressfoot::folder::DesignFolder;
use pressfoot::pipeline::{self, Computed, Options};
use pressfoot::review::{self, Asked};
use std::collections::BTreeMap;

/// A foot, for designs that bring none.
const FOOT: &str = include_str!("../../../designs/harvest-bar-shoe/feet/small.yaml");

/// A chapter, for designs that bring none.
const CHAPTER: &str =
    "---\ntitle: Making\nkind: steps\n---\n\n## Sew\n\nSew {{ measures.seam }} from the edge.\n";

/// Drafts and reviews the design in `bytes`: design.yaml, and further files after lines `%% path`.
pub fn check(bytes: &[u8]) {
    let mut given = files::parted(bytes, "design.yaml");
    files::with_default(&mut given, "feet/small.yaml", FOOT);
    if !given.iter().any(|(path, _)| path.starts_with("booklet/")) {
        files::with_default(&mut given, "booklet/10-making.md", CHAPTER);
    }
    let (folder, said) = (folder(given), &mut Diagnostics::default());
    let Some(computed) = computed(&folder, said) else {
        return;
    };
    let prose = text_of(&computed.design, &computed.drafts, said);
    let asked = Asked {
        design: &computed.design,
        sizes: &computed.sizes,
        materials: &computed.materials,
        prose: &prose,
    };
    review::review(&[asked], None, said);
    can_be_told(said);
}

/// The folder of these files.
pub fn folder(files: Vec<File>) -> DesignFolder {
    DesignFolder::from_memory("held", files)
}

/// The design with every piece of every size; `None` if it is refused or lacks a piece, which is said then.
pub fn computed(folder: &DesignFolder, said: &mut Diagnostics) -> Option<Computed> {
    let options = Options {
        quick: true,
        ..Options::default()
    };
    let computed = pipeline::compute(folder, &options, &mut |_| {}, said);
    can_be_told(said);
    let whole = computed.filter(|computed| computed.complete);
    if whole.is_none() {
        assert!(said.has_errors(), "refused without a word");
    }
    let computed = whole?;
    for piece in computed.sizes.iter().flat_map(|sized| &sized.pieces) {
        let line = &piece.cut_line;
        assert!(line.is_finite(), "the cut line of {} is endless", piece.key);
        assert!(
            line.area() > 0.0,
            "the cut line of {} holds nothing",
            piece.key
        );
    }
    Some(computed)
}

/// The text of a design with the values of its sizes.
pub fn text_of(design: &Design, drafts: &[Draft], said: &mut Diagnostics) -> Prose {
    let sizes = design.sizes.iter().zip(drafts);
    let values: Vec<SizeValues> = sizes
        .map(|(size, draft)| SizeValues {
            key: size.key.clone(),
            title: size.title.clone(),
            values: draft.values.map().clone(),
        })
        .collect();
    booklet::prose(design, &values, &BTreeMap::new(), said)
}
