//! Left and right: where both feet of a doll were traced, whether one mirrored pattern serves, and
//! else a size for each foot. Lengths in mm.

use crate::design::{Design, FootSide, FootSpec, Size, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use crate::foot::pair::compare;
use crate::language::Words;
use rayon::prelude::*;
use std::sync::{Arc, Mutex, PoisonError};

/// So many feet are remembered: both of each size of a large range, and some that were changed.
const FEET: usize = 60;

/// Feet that were made before, with what they were made of; copies are the same ones. Only those of which
/// nothing was said.
#[derive(Debug, Clone, Default)]
pub(super) struct Feet(Arc<Mutex<Vec<(FootSpec, Foot)>>>);

impl Feet {
    /// As [`Foot::new`].
    fn foot(&self, spec: &FootSpec, diagnostics: &mut Diagnostics) -> Option<Foot> {
        let known = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let found = {
            let all = known();
            let found = all.iter().find(|(of, _)| is_same_foot(of, spec));
            found.map(|(_, foot)| foot.clone())
        };
        if let Some(mut foot) = found {
            // its file may have changed about it
            foot.place = spec.place.clone();
            return Some(foot);
        }
        let mut said = Diagnostics::default();
        let foot = Foot::new(spec, &mut said);
        if let (Some(foot), true) = (&foot, said.iter().next().is_none()) {
            let mut all = known();
            if all.len() >= FEET {
                all.clear();
            }
            all.push((spec.clone(), foot.clone()));
        }
        diagnostics.append(said);
        foot
    }
}

/// Whether two tracings make one foot, wherever they stand.
fn is_same_foot(a: &FootSpec, b: &FootSpec) -> bool {
    let of = |spec: &FootSpec| (spec.marks, spec.inner_left, spec.pencil, spec.grading);
    of(a) == of(b) && a.measures == b.measures && a.tracing == b.tracing
}

/// The sizes of a design with their feet, in order: those whose feet differ by more than their
/// tolerance become two, the right foot first. Feet that are `known` are not made again. Lengths of the
/// design are printed as it wants.
pub(super) fn sizes_with_feet(
    design: &Design,
    known: &Feet,
    diagnostics: &mut Diagnostics,
) -> Vec<(Size, Option<Foot>)> {
    let one = |size: &Size| {
        let mut said = Diagnostics::default();
        (with_feet(design, size, known, &mut said), said)
    };
    let all = design.sizes.par_iter().with_max_len(1).map(one);
    let mut sizes = Vec::new();
    for (found, said) in all.collect::<Vec<_>>() {
        sizes.extend(found);
        diagnostics.append(said);
    }
    sizes
}

/// One size with its foot, or two if its feet differ.
fn with_feet(
    design: &Design,
    size: &Size,
    known: &Feet,
    diagnostics: &mut Diagnostics,
) -> Vec<(Size, Option<Foot>)> {
    let Some(spec) = &size.foot else {
        return vec![(size.clone(), None)];
    };
    let foot = known.foot(spec, diagnostics);
    let other = spec.other.as_deref();
    match other.map(|other| (other, known.foot(other, diagnostics))) {
        None => vec![(size.clone(), foot)],
        Some((other, other_foot)) => {
            let both = foot.zip(other_foot);
            pair(design, size, [spec, other], both, diagnostics)
        }
    }
}

/// One size or two from a foot and the other one.
fn pair(
    design: &Design,
    size: &Size,
    specs: [&FootSpec; 2],
    feet: Option<(Foot, Foot)>,
    diagnostics: &mut Diagnostics,
) -> Vec<(Size, Option<Foot>)> {
    if specs[0].inner_left == specs[1].inner_left {
        let side = if specs[0].inner_left { "right" } else { "left" };
        let message = format!("Both tracings of size {} are of a {side} foot", size.title);
        let said = Diagnostic::error("feet-same-side", Some(&specs[1].place), message);
        diagnostics.push(said.remedy("say with ‘inner side’ where the big toe is on each"));
        return vec![(size.clone(), None)];
    }
    let Some((first, second)) = feet else {
        return vec![(size.clone(), None)];
    };
    let ([right, left], [right_spec, left_spec]) = match specs[0].inner_left {
        true => ([first, second], specs),
        false => ([second, first], [specs[1], specs[0]]),
    };
    let difference = compare(&right, &left);
    let print = |mm: f64| printed::plain(&printed::both(mm, design.lengths));
    let told = format!(
        "Size {}: the {} foot is larger by {:.2} mm ({}); its area differs by {:.0} mm², its \
         length by {:.2} mm",
        size.title,
        if difference.left_larger {
            "left"
        } else {
            "right"
        },
        difference.largest,
        difference.near,
        difference.area.abs(),
        difference.length.abs(),
    );
    let tolerance = specs[0].pair_tolerance;
    if difference.largest <= tolerance {
        let message = format!("{told}. One mirrored pattern serves both");
        let said = Diagnostic::note("feet-differ", Some(&specs[1].place), message);
        diagnostics.push(said.remedy(format!("it would not from {} on", print(tolerance))));
        return vec![(size.clone(), Some(right))];
    }
    let message = format!("{told}. Each foot gets a pattern of its own");
    let said = Diagnostic::note("feet-differ", Some(&specs[1].place), message);
    diagnostics.push(said.remedy(format!(
        "one pattern serves feet that differ by no more than {}; ‘pair tolerance’ can be raised",
        print(tolerance)
    )));
    [
        (FootSide::Right, right, right_spec),
        (FootSide::Left, left, left_spec),
    ]
    .map(|(side, foot, spec)| (of_side(size, side, spec, &design.words), Some(foot)))
    .into()
}

/// The size for one foot.
fn of_side(size: &Size, side: FootSide, spec: &FootSpec, printed: &Words) -> Size {
    let words = side.words();
    Size {
        key: format!("{}-{words}", size.key),
        title: printed.say(&format!("size.{words}"), &[("title", &size.title)]),
        only: Some(side),
        foot: Some(spec.clone()),
        ..size.clone()
    }
}
