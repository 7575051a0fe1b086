//! Edges of a flat shape held to given lengths.

use super::Patch;
use super::rigid::Rounds;
use kurbo::Point;

/// An edge of the mesh that must have this length in the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldEdge {
    /// Its ends.
    pub ends: [usize; 2],
    /// Its length, mm.
    pub length: f64,
}

/// Stiffness of the springs along held edges, in the units of cotangent weights. Stiffer springs
/// slow the rounds down, softer ones need more corrections.
const SPRING: f64 = 60.0;

/// Rounds of flattening between two corrections of the springs.
const ROUNDS: usize = 12;

/// Most corrections; six to seventeen are usual.
const CORRECTIONS: usize = 60;

/// Bounds of a spring's own length, as shares of the length wanted.
const BOUNDS: [f64; 2] = [0.5, 1.6];

impl Patch<'_> {
    /// The flat shape from `start` that is as rigid as can be while the `held` edges have their
    /// lengths, to `tolerance` as a share. A spring alone would leave an error; the method of
    /// multipliers (Hestenes 1969, Powell 1969) moves each spring's own length by what is missing.
    /// `None` if the patch is not of one piece.
    #[must_use]
    pub fn held(&self, start: &[Point], held: &[HeldEdge], tolerance: f64) -> Option<Vec<Point>> {
        let stepper = Rounds::new(self, held, SPRING)?;
        let mut springs: Vec<f64> = held.iter().map(|edge| edge.length).collect();
        let mut flat = start.to_vec();
        for _ in 0..CORRECTIONS {
            for _ in 0..ROUNDS {
                if stepper.round(&mut flat, &springs) < 1e-10 {
                    break;
                }
            }
            let mut worst = 0.0_f64;
            for (edge, spring) in held.iter().zip(&mut springs) {
                let now = flat[edge.ends[0]].distance(flat[edge.ends[1]]);
                worst = worst.max((now / edge.length - 1.0).abs());
                let [low, high] = BOUNDS.map(|share| share * edge.length);
                *spring = (*spring + edge.length - now).clamp(low, high);
            }
            if worst < tolerance {
                break;
            }
        }
        Some(flat)
    }
}
