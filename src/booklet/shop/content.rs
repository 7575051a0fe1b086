//! A content stream made ready for a press: colours in its inks, and no line thinner than it prints.
//! All else stays as it was, byte for byte. Inline images are not expected: no stream of ours has one.

use super::super::pdf::content::{Operation, operations};
use super::colours;
use kurbo::Affine;

/// Thinnest line that prints, points (common practice).
pub const THINNEST: f64 = 0.25;

/// Widths are rounded in print; one smaller by this, points, is let pass.
const SLACK: f64 = 1e-6;

/// A scale below this draws nothing that could be made thicker.
const NOTHING: f64 = 1e-9;

/// A stream made ready.
pub struct Ready {
    /// The stream.
    pub bytes: Vec<u8>,
    /// Names of the forms and pictures it draws, each with the axes in which that happens.
    pub drawn: Vec<(String, Affine)>,
}

/// The state that `q` keeps.
#[derive(Clone, Copy)]
struct State {
    axes: Affine,
    width: f64,
}

/// The stream made ready, drawn in `axes`, which are points on paper.
///
/// # Errors
/// A sentence, if the stream cannot be read.
pub fn ready(stream: &[u8], axes: Affine) -> Result<Ready, String> {
    let mut writer = Writer {
        stream,
        at: 0,
        bytes: Vec::with_capacity(stream.len()),
    };
    let mut drawn = Vec::new();
    let mut state = State { axes, width: 1.0 };
    let mut kept = Vec::new();
    let mut path = None;
    for operation in operations(stream)? {
        let (start, end) = (operation.range.start, operation.range.end);
        match operation.operator.as_str() {
            "q" => kept.push(state),
            "Q" => state = kept.pop().unwrap_or(state),
            "cm" => state.axes *= matrix(&operation).unwrap_or_default(),
            "w" => state.width = operation.numbers.first().copied().unwrap_or(state.width),
            "m" | "re" => path = path.or(Some(start)),
            "f" | "F" | "f*" | "n" => path = None,
            "S" | "s" | "B" | "B*" | "b" | "b*" => {
                if let (Some(begun), Some(width)) = (path.take(), thicker(state)) {
                    // between a path's first point and its painting no width may be set
                    writer.put(begun, &format!(" {width:.4} w\n"));
                    writer.put(end, &format!("\n{:.4} w\n", state.width));
                }
            }
            "Do" => drawn.extend(operation.names.first().map(|n| (n.clone(), state.axes))),
            _ => {
                if let Some(changed) = colours::changed(&operation) {
                    writer.put(start, &format!(" {changed}"));
                    writer.at = end;
                }
            }
        }
    }
    Ok(Ready {
        bytes: writer.finish(),
        drawn,
    })
}

struct Writer<'a> {
    stream: &'a [u8],
    at: usize,
    bytes: Vec<u8>,
}

impl Writer<'_> {
    /// Writes `text` at a place of the old stream.
    fn put(&mut self, place: usize, text: &str) {
        self.bytes.extend_from_slice(&self.stream[self.at..place]);
        self.bytes.extend_from_slice(text.as_bytes());
        self.at = place;
    }

    fn finish(mut self) -> Vec<u8> {
        self.bytes.extend_from_slice(&self.stream[self.at..]);
        self.bytes
    }
}

fn matrix(operation: &Operation) -> Option<Affine> {
    let numbers: [f64; 6] = operation.numbers.get(..6)?.try_into().ok()?;
    Some(Affine::new(numbers))
}

/// The least factor by which `axes` change a length: the smaller singular value of the matrix.
pub fn least_scale(axes: Affine) -> f64 {
    let [a, b, c, d, ..] = axes.as_coeffs();
    let (sum, product) = (a * a + b * b + c * c + d * d, (a * d - b * c).powi(2));
    let root = (sum * sum - 4.0 * product).max(0.0).sqrt();
    ((sum - root) / 2.0).max(0.0).sqrt()
}

/// The width to set, if the one that is set is too thin on paper.
fn thicker(state: State) -> Option<f64> {
    let scale = least_scale(state.axes);
    let thin = state.width * scale < THINNEST - SLACK && scale > NOTHING;
    thin.then(|| THINNEST / scale)
}
