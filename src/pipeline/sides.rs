//! Left and right: where both feet of a doll were traced, whether one mirrored pattern serves, and
//! else a size for each foot. Lengths in mm.

use crate::design::{Design, FootSide, FootSpec, Size, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use crate::foot::pair::compare;
use crate::language::Words;
use rayon::prelude::*;

/// The sizes of a design with their feet, in order: those whose feet differ by more than their
/// tolerance become two, the right foot first. Lengths of the design are printed as it wants.
pub(super) fn sizes_with_feet(
    design: &Design,
    diagnostics: &mut Diagnostics,
) -> Vec<(Size, Option<Foot>)> {
    let one = |size: &Size| {
        let mut said = Diagnostics::default();
        (with_feet(design, size, &mut said), said)
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
    diagnostics: &mut Diagnostics,
) -> Vec<(Size, Option<Foot>)> {
    let Some(spec) = &size.foot else {
        return vec![(size.clone(), None)];
    };
    let foot = Foot::new(spec, diagnostics);
    let other = spec.other.as_deref();
    match other.map(|other| (other, Foot::new(other, diagnostics))) {
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
