//! The house template, embedded in the program. A design may replace single files of it.

/// The file that is compiled.
pub const MAIN: &str = "booklet.typ";

/// All files of the template by name.
pub const FILES: &[(&str, &str)] = &[
    ("booklet.typ", include_str!("../../templates/booklet.typ")),
    ("bound.typ", include_str!("../../templates/bound.typ")),
    ("changes.typ", include_str!("../../templates/changes.typ")),
    ("colours.typ", include_str!("../../templates/colours.typ")),
    ("cover.typ", include_str!("../../templates/cover.typ")),
    ("large.typ", include_str!("../../templates/large.typ")),
    ("drawings.typ", include_str!("../../templates/drawings.typ")),
    ("fitting.typ", include_str!("../../templates/fitting.typ")),
    ("key.typ", include_str!("../../templates/key.typ")),
    ("layers.typ", include_str!("../../templates/layers.typ")),
    ("layouts.typ", include_str!("../../templates/layouts.typ")),
    ("look_up.typ", include_str!("../../templates/look_up.typ")),
    (
        "make_ready.typ",
        include_str!("../../templates/make_ready.typ"),
    ),
    (
        "measuring.typ",
        include_str!("../../templates/measuring.typ"),
    ),
    ("measures.typ", include_str!("../../templates/measures.typ")),
    ("notions.typ", include_str!("../../templates/notions.typ")),
    ("ornament.typ", include_str!("../../templates/ornament.typ")),
    ("plates.typ", include_str!("../../templates/plates.typ")),
    ("press.typ", include_str!("../../templates/press.typ")),
    ("printing.typ", include_str!("../../templates/printing.typ")),
    (
        "proof_sheet.typ",
        include_str!("../../templates/proof_sheet.typ"),
    ),
    ("prose.typ", include_str!("../../templates/prose.typ")),
    (
        "tracing_sheet.typ",
        include_str!("../../templates/tracing_sheet.typ"),
    ),
    (
        "which_pages.typ",
        include_str!("../../templates/which_pages.typ"),
    ),
];
