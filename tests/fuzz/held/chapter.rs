//! A chapter of a booklet: its values are filled in and its Markdown becomes calls of the template, never
//! markup of the typesetter's own.

use super::design::{computed, folder, text_of};
use super::files;
use super::said::can_be_told;
use pressfoot::design;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::pipeline::Computed;
use pressfoot::review::{self, Asked};
use std::sync::OnceLock;

/// A small design of whose values a chapter may speak.
const DESIGN: &str = include_str!("chapter.yaml");

/// A text that designs share.
const SHARED: &str = "Thread the needle with {{ measures.seam }} of thread.\n";

/// A chapter with which the design is drafted.
const PLAIN: &[u8] = b"---\ntitle: Making\n---\n\nSew round.\n";

/// Fills in and reads the chapter in `bytes`, its head included.
pub fn check(bytes: &[u8]) {
    static DRAFTED: OnceLock<Computed> = OnceLock::new();
    let drafted = DRAFTED.get_or_init(|| {
        let said = &mut Diagnostics::default();
        let made = computed(&folder(files_with(PLAIN)), said);
        made.unwrap_or_else(|| panic!("the design of chapters: {said:?}"))
    });
    let folder = folder(files_with(bytes));
    let mut said = Diagnostics::default();
    let design = design::read(&folder, &mut said);
    can_be_told(&said);
    let Some(design) = design else {
        assert!(said.has_errors(), "refused without a word");
        return;
    };
    let prose = text_of(&design, &drafted.drafts, &mut said);
    can_be_told(&said);
    let (wrong, _) = typst::syntax::parse(&prose.typst).errors_and_warnings();
    assert!(wrong.is_empty(), "{wrong:?}\n{}", prose.typst);
    let asked = Asked {
        design: &design,
        sizes: &drafted.sizes,
        materials: &drafted.materials,
        prose: &prose,
    };
    review::review(&[asked], None, &mut said);
    can_be_told(&said);
}

fn files_with(chapter: &[u8]) -> Vec<files::File> {
    let file = |path: &str, text: &[u8]| (path.to_string(), text.to_vec());
    vec![
        file("design.yaml", DESIGN.as_bytes()),
        file("_shared/needle.md", SHARED.as_bytes()),
        file("booklet/10-making.md", chapter),
    ]
}
