//! Shoes of the demo designs: a correction changes what it should and nothing else, and every
//! drawing of a finished shoe closes.

use pressfoot::diagnostic::Diagnostics;
use pressfoot::figure::shoe::making::{Step, states};
use pressfoot::figure::{FinishedShoes, SHOE_VIEWS, ShoesInTheMaking};
use pressfoot::folder::DesignFolder;
use pressfoot::language::Words;
use pressfoot::pipeline::{self, Computed, Options};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The demo designs that have a shoe.
fn shoes() -> Vec<PathBuf> {
    let designs = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs");
    let mut list = pressfoot::folder::find(&designs);
    list.retain(|path| {
        let text = std::fs::read_to_string(path.join("design.yaml")).expect("a design file");
        text.lines().any(|line| line == "shoe:")
    });
    list
}

fn computed(path: &Path, options: &Options) -> Computed {
    let mut diagnostics = Diagnostics::default();
    let folder = DesignFolder::read(path).expect("a readable folder");
    let computed = pipeline::compute(&folder, options, &mut |_| {}, &mut diagnostics);
    assert!(!diagnostics.has_errors(), "{diagnostics:#?}");
    computed.expect("a computed design")
}

/// Lengths of all edges by `PIECE.EDGE`, mm.
fn edges(computed: &Computed) -> BTreeMap<String, f64> {
    let pieces = computed.sizes.iter().flat_map(|sized| &sized.pieces);
    let edges = pieces.flat_map(|piece| {
        let named = piece.outline.edges().iter();
        named.map(|edge| (format!("{}.{}", piece.key, edge.name), edge.length()))
    });
    edges.collect()
}

#[test]
fn a_higher_side_changes_the_upper_and_leaves_the_sole_alone() {
    let designs = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs");
    let path = designs.join("harvest-bar-shoe");
    let only = |without_corrections| Options {
        sizes: vec!["medium".into()],
        without_corrections,
        ..Options::default()
    };
    let (first, fitted) = (computed(&path, &only(true)), computed(&path, &only(false)));
    let (before, after) = (edges(&first), edges(&fitted));
    let change = |edge: &str| after[edge] - before[edge];
    for edge in ["toe edge", "heel edge"] {
        for piece in ["sole", "lining sole", "stiffener"] {
            assert_eq!(change(&format!("{piece}.{edge}")), 0.0, "{piece} {edge}");
        }
    }
    // On a foot of 70 mm, 1 mm more makes the seams 0.91 mm longer, the topline of the toe piece
    // 0.89 mm and that of the heel piece 0.58 mm shorter; the sole edges stay, the natural fullness
    // changes by 0.02 mm (values of an independent draft, for 1 mm; here 1/32 in).
    let by = 25.4 / 32.0;
    for (edge, expected) in [
        ("toe.inner side", 0.91),
        ("toe.outer side", 0.91),
        ("heel.inner side", 0.91),
        ("heel.outer side", 0.91),
        ("toe.topline", -0.89),
        ("heel.topline", -0.58),
        ("heel.sole edge", 0.0),
        ("toe.sole edge", 0.0),
    ] {
        let change = change(edge);
        assert!((change - expected * by).abs() < 0.15, "{edge}: {change}");
    }
    let drawn = |computed: &Computed| {
        let one = computed.sizes.iter().zip(&computed.drafts).take(1);
        let shoes = FinishedShoes::new(&computed.design, one);
        shoes.cover(&Words::default()).unwrap().unwrap().svg
    };
    assert_ne!(drawn(&first), drawn(&fitted), "the drawing follows");
}

#[test]
fn every_published_view_of_every_demo_closes() {
    let all = shoes();
    assert!(!all.is_empty());
    for path in all {
        let computed = computed(&path, &Options::default());
        let keys = computed.design.sizes.iter().map(|size| size.key.as_str());
        let sizes = computed.sizes.iter().zip(&computed.drafts);
        let shoes = FinishedShoes::new(&computed.design, sizes);
        let name = path.display();
        assert!(
            shoes.cover(&Words::default()).unwrap().is_ok(),
            "{name}: cover"
        );
        for key in keys {
            for (words, view) in SHOE_VIEWS {
                let drawn = shoes.requested(Some(key), view, &Words::default()).unwrap();
                assert!(drawn.is_ok(), "{name}, {key}, {words}: {drawn:?}");
            }
        }
    }
}

#[test]
fn every_state_of_every_demo_closes() {
    for path in shoes() {
        let computed = computed(&path, &Options::default());
        let design = &computed.design;
        let keys = design.sizes.iter().map(|size| size.key.as_str());
        let sizes = computed.sizes.iter().zip(&computed.drafts);
        let shoes = ShoesInTheMaking::new(design, sizes);
        let known = states(design);
        assert!(known.len() > 10, "{}", path.display());
        for key in keys {
            for (words, state) in &known {
                let step = Step {
                    pressed: false,
                    state: *state,
                    seen: None,
                    topline_sewn: true,
                };
                let drawn = shoes.requested(Some(key), step, &design.words).unwrap();
                assert!(
                    drawn.is_ok(),
                    "{}, {key}, {words}: {drawn:?}",
                    path.display()
                );
            }
        }
    }
}
