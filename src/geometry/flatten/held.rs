//! Edges of a flat shape held to given lengths.

use super::rigid::Rounds;
use super::{HeldEdge, Patch};
use kurbo::Point;

/// Stiffness of the springs along held edges, in the units of cotangent weights. With 60 and twelve
/// rounds between corrections a shoe's pieces take three times as many rounds; below 5 the rounds
/// grow again.
const SPRING: f64 = 12.0;

/// Most corrections; twenty-five to fifty are usual.
const CORRECTIONS: usize = 500;

/// No point moves further than this in the last round, mm.
const AT_REST: f64 = 2e-3;

/// Bounds of a spring's own length, as shares of the length wanted.
const BOUNDS: [f64; 2] = [0.5, 1.6];

impl Patch<'_> {
    /// The flat shape from `start` that is as rigid as can be while the `held` edges have their
    /// lengths, to `tolerance` as a share. A spring alone would leave an error; the method of
    /// multipliers (Hestenes 1969, Powell 1969) moves each spring's own length by what is missing,
    /// here after every round, without waiting for the shape to come to rest in between. `None` if
    /// the patch is not of one piece.
    #[must_use]
    pub fn held(&self, start: &[Point], held: &[HeldEdge], tolerance: f64) -> Option<Vec<Point>> {
        let mut stepper = Rounds::new(self, held, SPRING)?;
        let mut springs: Vec<f64> = held.iter().map(|edge| edge.length).collect();
        let mut flat = stepper.ordered(start);
        for _ in 0..CORRECTIONS {
            let moved = stepper.round(&mut flat, &springs);
            let mut worst = 0.0_f64;
            for (number, (edge, spring)) in held.iter().zip(&mut springs).enumerate() {
                let now = stepper.length(&flat, number);
                worst = worst.max((now / edge.length - 1.0).abs());
                let [low, high] = BOUNDS.map(|share| share * edge.length);
                *spring = (*spring + edge.length - now).clamp(low, high);
            }
            if worst < tolerance && moved < AT_REST {
                break;
            }
        }
        Some(stepper.restored(&flat))
    }
}
