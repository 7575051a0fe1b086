//! Which pieces stand on plates together: those of one size under its head, and, if the designer
//! wants it, the nested ones of several sizes under a head of their own.

use super::PlateJob;
use super::caption;
use super::drawing::Drawing;
use super::nested::{Fault, Nest};
use super::nested_names;
use super::nested_notches;
use super::size_lines::NestedLook;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::piece::SizedPieces;

/// Pieces under one head.
#[derive(Debug, Clone)]
pub struct Group<'a> {
    /// Indices of the sizes.
    pub sizes: Vec<usize>,
    /// The pieces, in the design's order.
    pub nests: Vec<Nest<'a>>,
}

impl Group<'_> {
    /// Whether a buyer of one of this group's sizes needs the other group, too.
    pub fn shares_size(&self, other: &Group<'_>) -> bool {
        self.sizes.iter().any(|size| other.sizes.contains(size))
    }

    /// Titles of the sizes.
    pub fn titles<'s>(&self, sizes: &'s [SizedPieces]) -> Vec<&'s str> {
        self.sizes
            .iter()
            .map(|i| sizes[*i].title.as_str())
            .collect()
    }
}

/// The groups of all pieces, nested ones first; pieces that cannot be nested sensibly stand by
/// themselves, and `notes` say why.
pub fn groups<'a>(
    sizes: &'a [SizedPieces],
    job: &PlateJob,
    notes: &mut Diagnostics,
) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for indices in &job.nested {
        let indices: Vec<usize> = indices
            .iter()
            .copied()
            .filter(|i| *i < sizes.len())
            .collect();
        let Some(first) = indices.first() else {
            continue;
        };
        let found = sizes[*first].pieces.iter();
        let found = found.filter_map(|piece| Nest::of(&piece.key, &indices, sizes, &job.words));
        let nests: Vec<Nest<'a>> = found.filter(|nest| can_be_nested(nest, notes)).collect();
        if !nests.is_empty() {
            groups.push(Group {
                sizes: indices,
                nests,
            });
        }
    }
    let nested = groups.len();
    for (index, size) in sizes.iter().enumerate() {
        let pieces = size.pieces.iter().filter(|piece| {
            let taken = groups[..nested].iter().filter(|g| g.sizes.contains(&index));
            let mut taken = taken.flat_map(|g| &g.nests);
            taken.all(|nest| nest.piece().key != piece.key)
        });
        let nests: Vec<Nest<'a>> = pieces
            .map(|p| Nest::alone(p, &size.title, index, &job.words))
            .collect();
        if !nests.is_empty() {
            groups.push(Group {
                sizes: vec![index],
                nests,
            });
        }
    }
    groups
}

fn can_be_nested(nest: &Nest<'_>, notes: &mut Diagnostics) -> bool {
    let fault = nest.fault().or_else(|| {
        let drawing = Drawing::of(nest, 0);
        let captions = caption::captions(nest, &drawing, &[]);
        let names = nested_names::names(nest, &drawing, (&[], &captions.room), &|_| true);
        let named =
            all_are_named(nest, &names) && nested_notches::are_named(nest, &drawing, &names);
        (captions.unnamed || !named).then_some(Fault::Names)
    });
    let why = match fault {
        None => return true,
        Some(Fault::Small) => return false,
        Some(Fault::Folds) => "its folds would not lie on one line",
        Some(Fault::Close) => "the lines of two sizes would run together for most of their length",
        Some(Fault::Names) => {
            "the names of the sizes would not find room beside their lines and marks"
        }
    };
    let piece = nest.piece();
    let message = format!(
        "{} stands side by side in {}: {why}",
        piece.title,
        nest.words()
    );
    let remedy = match fault {
        Some(Fault::Folds) => {
            "Lay its ‘common point’ on the folded edge, at the same place in all sizes."
        }
        _ => "Choose another ‘common point’ if that would part the lines; else leave it so.",
    };
    notes.push(Diagnostic::note("sizes-not-nested", Some(&piece.place), message).remedy(remedy));
    false
}

/// How the sizes that are drawn over each other are told apart, in their order, for the key to lines.
pub fn looks(groups: &[Group<'_>], sizes: &[SizedPieces]) -> Vec<NestedLook> {
    let mut looks: Vec<NestedLook> = Vec::new();
    for group in groups.iter().filter(|group| group.sizes.len() > 1) {
        let across = group.nests.iter().map(Nest::across).fold(0.0, f64::max);
        let narrow = group.nests.iter().all(Nest::is_narrow);
        for (index, title) in group.titles(sizes).into_iter().enumerate() {
            let look = NestedLook::new(title, index, across, narrow);
            let known = looks
                .iter_mut()
                .find(|l| l.dots == index && l.cut == look.cut);
            match known {
                Some(known) if !known.titles.contains(&look.titles[0]) => {
                    known.titles.extend(look.titles);
                }
                Some(_) => {}
                None => looks.push(look),
            }
        }
    }
    looks
}

/// Whether every size has names enough.
pub fn all_are_named(nest: &Nest<'_>, names: &[super::Label]) -> bool {
    let lines = || names.iter().filter(|name| !name.of_notch);
    let count = |size: usize| lines().filter(|n| n.size == Some(size)).count();
    let least = nested_names::least(nest);
    nest.members.iter().all(|m| count(m.size) >= least)
}
