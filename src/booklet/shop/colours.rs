//! Colours as a printing press takes them: what is grey in black only, what is not in the four inks.

use super::super::pdf::content::Operation;

/// Colours whose red, green and blue differ by less than this are greys.
const GREY: f64 = 0.07;

/// Greys darker than this are black: the ink of the text.
const BLACK: f64 = 0.15;

/// The madder of the house, #8E2A1E, and its inks: cyan, magenta, yellow, black; 232 % together.
const MADDER: ([f64; 3], [f64; 4]) = (
    [142.0 / 255.0, 42.0 / 255.0, 30.0 / 255.0],
    [0.25, 0.92, 0.95, 0.20],
);

/// How near a colour must be to the madder to be it.
const NEAR: f64 = 0.01;

/// The operation that says the same colour in black or in four inks; none if it is no plain colour.
pub fn changed(operation: &Operation) -> Option<String> {
    let strokes = match operation.operator.as_str() {
        "rg" | "sc" | "scn" | "g" => false,
        "RG" | "SC" | "SCN" | "G" => true,
        _ => return None,
    };
    if !operation.names.is_empty() {
        return None;
    }
    let inks = match operation.numbers[..] {
        [grey] => Inks::Black(if grey < BLACK { 0.0 } else { grey }),
        [red, green, blue] => inks([red, green, blue]),
        _ => return None,
    };
    Some(match (inks, strokes) {
        (Inks::Black(grey), false) => format!("{grey:.4} g"),
        (Inks::Black(grey), true) => format!("{grey:.4} G"),
        (Inks::Four([c, m, y, k]), false) => format!("{c:.4} {m:.4} {y:.4} {k:.4} k"),
        (Inks::Four([c, m, y, k]), true) => format!("{c:.4} {m:.4} {y:.4} {k:.4} K"),
    })
}

/// A colour in inks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Inks {
    /// Black only: 0 is all of it, 1 none.
    Black(f64),
    /// Cyan, magenta, yellow and black, 1 all of it.
    Four([f64; 4]),
}

/// The inks of a colour of red, green and blue. Greys keep their luma (ITU-R BT.709); other colours
/// are parted into inks with all their grey in black (full grey-component replacement), so that three
/// inks at most meet.
pub fn inks(colour: [f64; 3]) -> Inks {
    let [red, green, blue] = colour;
    let (most, least) = (red.max(green).max(blue), red.min(green).min(blue));
    if most - least < GREY {
        let luma = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
        return Inks::Black(if luma < BLACK { 0.0 } else { luma });
    }
    let (madder, inks) = MADDER;
    if colour.iter().zip(madder).all(|(a, b)| (a - b).abs() < NEAR) {
        return Inks::Four(inks);
    }
    let of = |part: f64| (most - part) / most;
    Inks::Four([of(red), of(green), of(blue), 1.0 - most])
}
