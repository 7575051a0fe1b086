//! Allowances and insets of any outline.

use super::rings::{self, number, one_of};
use arbitrary::{Result, Unstructured};
use pressfoot::geometry::probe::is_inside;
use pressfoot::geometry::{Corner, CutFault, Outline, curve, cut_line};

/// The tolerance that drafting asks for, mm.
const TOLERANCE: f64 = 1e-3;

/// How far off an outline that was moved may lie, mm: one that crosses itself by less than two hundredths
/// passes for one that does not.
const NEAR: f64 = 0.025;

/// Makes an outline of `bytes`, with allowances and corners, and moves it.
pub fn check(bytes: &[u8]) {
    // bytes that end too early are no input
    let _ = checked(&mut Unstructured::new(bytes));
}

fn checked(bytes: &mut Unstructured<'_>) -> Result<()> {
    let by = number(bytes, -12.0, 12.0)?;
    let same = bytes.arbitrary()?;
    let Some(outline) = rings::outline(bytes)? else {
        return Ok(());
    };
    let count = outline.edges().len();
    let (mut allowances, mut corners) = (Vec::new(), Vec::new());
    for _ in 0..count {
        allowances.push(allowance(bytes)?);
        corners.push(corner(bytes)?);
    }
    if same {
        allowances = vec![allowances[0]; count];
        corners = vec![corners[0]; count];
    }
    match cut_line(&outline, &allowances, &corners, TOLERANCE) {
        Ok(line) => rings::lies_round(&line, &outline),
        Err(CutFault::Swallowed { edge, at }) => {
            assert!(outline.edge(&edge).is_some() && at.is_finite());
        }
        // what the sweep breaks off over is refused: about one in 200,000
        Err(CutFault::Nothing) => {}
        Err(fault) => panic!(
            "{fault:?}: {allowances:?} {corners:?} {}",
            outline.path().to_svg()
        ),
    }
    inset(&outline, by);
    Ok(())
}

fn allowance(bytes: &mut Unstructured<'_>) -> Result<f64> {
    match bytes.int_in_range(0..=3)? {
        0 => Ok(0.0),
        1 => one_of(bytes, &[1e-6, 1.5875, 3.175, 6.35, 10.0, 31.75]),
        _ => number(bytes, 0.0, 12.0),
    }
}

fn corner(bytes: &mut Unstructured<'_>) -> Result<Corner> {
    Ok(match bytes.int_in_range(0..=5)? {
        0 => Corner::Round,
        1 => Corner::Chamfer,
        2 => Corner::Square,
        3 => Corner::Folded {
            hem_begins: bytes.arbitrary()?,
        },
        _ => Corner::Mitre {
            limit: number(bytes, 1.0, 6.0)?,
        },
    })
}

/// The outline moved all round: simple, with edges of its own names, at its distance and on the right side.
fn inset(outline: &Outline, by: f64) {
    let Ok(moved) = outline.inset(by) else {
        return;
    };
    let (before, after) = (outline.path(), moved.path());
    rings::is_simple(&after);
    for edge in moved.edges() {
        assert!(outline.edge(&edge.name).is_some(), "{}", edge.name);
    }
    if by.abs() < 1e-2 {
        return;
    }
    for point in curve::spread(&after, 60) {
        let far = rings::distance(&before, point);
        assert!(
            (far - by.abs()).abs() < NEAR,
            "{far} mm for {by} mm: {} {}",
            before.to_svg(),
            after.to_svg()
        );
        assert_eq!(is_inside(&before, point), by > 0.0, "{}", before.to_svg());
    }
}
