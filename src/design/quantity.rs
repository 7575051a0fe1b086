//! Quantities: numbers, lengths (mm), areas (mm²) and angles (degrees), and how a designer writes
//! them: `3/16 in`, `1½ in`, `4.5 mm`, `18 L`, `45 deg`, `50 %`. Nothing is computed here; sums and
//! products are formulas.

#[cfg(test)]
mod tests;

use crate::geometry::units::INCH;

/// Yard in mm, exactly (international yard and pound agreement, 1959).
pub const YARD: f64 = 914.4;

/// The fraction slash of Unicode: the booklet sets `3⁄16` as a vulgar fraction.
pub const FRACTION_SLASH: char = '\u{2044}';

/// Ligne in mm: 1/40 in (button trade, common practice).
pub const LIGNE: f64 = INCH / 40.0;

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A count or a ratio.
    Number,
    /// A length, in mm.
    Length,
    /// An area, in mm².
    Area,
    /// An angle, in degrees.
    Angle,
}

/// A value with its dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// In mm, mm², degrees or as it is.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
}

/// What is wrong with a quantity or a formula, and where in its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Code of the diagnostic it becomes.
    pub code: &'static str,
    /// Characters before the mistake.
    pub at: usize,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub remedy: String,
}

/// A quantity at the start of a longer text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Literal {
    /// Its value.
    pub quantity: Quantity,
    /// Bytes it takes.
    pub bytes: usize,
}

impl Dimension {
    /// With its article, for messages: `a length`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Number => "a plain number",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Angle => "an angle",
        }
    }
}

impl Quantity {
    /// A count or a ratio.
    pub const fn number(value: f64) -> Self {
        let dimension = Dimension::Number;
        Self { value, dimension }
    }

    /// A length in mm.
    pub const fn length(value: f64) -> Self {
        let dimension = Dimension::Length;
        Self { value, dimension }
    }

    /// An area in mm².
    pub const fn area(value: f64) -> Self {
        let dimension = Dimension::Area;
        Self { value, dimension }
    }

    /// An angle in degrees.
    pub const fn angle(value: f64) -> Self {
        let dimension = Dimension::Angle;
        Self { value, dimension }
    }

    /// The quantity that `text` writes, e.g. `-1 1/2 in`.
    ///
    /// # Errors
    /// What cannot be read, with the place in `text` and what was expected.
    pub fn parse(text: &str) -> Result<Self, Fault> {
        let inner = text.trim_start();
        let (sign, digits) = match inner.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (-1.0, rest.trim_start()),
            None => (1.0, inner),
        };
        let before = text.chars().count() - digits.chars().count();
        let shift = |mut fault: Fault| {
            fault.at += before;
            fault
        };
        let literal = literal(digits, true).map_err(shift)?;
        let rest = digits[literal.bytes..].trim();
        if !rest.is_empty() {
            let at = digits[..literal.bytes].chars().count();
            return Err(shift(unknown_unit(rest, at)));
        }
        let Quantity { value, dimension } = literal.quantity;
        let value = sign * value;
        Ok(Self { value, dimension })
    }
}

impl Fault {
    /// A fault `at` characters into the text.
    pub fn new(code: &'static str, at: usize, message: impl Into<String>) -> Self {
        let (message, remedy) = (message.into(), String::new());
        Self {
            code,
            at,
            message,
            remedy,
        }
    }

    /// The same with a remedy.
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }
}

/// Factor to mm, degrees or a ratio of the unit called `word`.
pub(super) fn unit(word: &str) -> Option<Quantity> {
    Some(match word {
        "mm" => Quantity::length(1.0),
        "cm" => Quantity::length(10.0),
        "m" => Quantity::length(1000.0),
        "in" | "inch" | "inches" | "\"" | "\u{201D}" | "\u{2033}" => Quantity::length(INCH),
        "yd" => Quantity::length(YARD),
        "L" => Quantity::length(LIGNE),
        "deg" | "°" => Quantity::angle(1.0),
        "%" => Quantity::number(0.01),
        _ => return None,
    })
}

/// The fault of a word that stands where a unit is expected.
pub(super) fn unknown_unit(word: &str, at: usize) -> Fault {
    let word = word.split_whitespace().next().unwrap_or(word);
    let lower = word.to_lowercase();
    let remedy = match lower.as_str() {
        "mm" | "cm" | "m" | "in" | "inch" | "inches" | "yd" | "deg" => {
            format!("write {lower} in small letters")
        }
        "l" | "lig" | "ligne" | "lignes" | "line" | "lines" => {
            "a ligne is written with a capital L, as in 18 L".into()
        }
        "pt" | "point" | "points" => "printer's points are no measure for cloth: write mm".into(),
        "yard" | "yards" => "write yd".into(),
        "ft" | "foot" | "feet" => "write inches: 1 foot is 12 in".into(),
        "degree" | "degrees" => "write deg".into(),
        "percent" => "write %".into(),
        _ if lower.starts_with("milli") => "write mm".into(),
        _ if lower.starts_with("centi") => "write cm".into(),
        _ => "lengths are written in mm, cm, m, in, yd or L (ligne), angles in deg".into(),
    };
    Fault::new(
        "unknown-unit",
        at,
        format!("‘{word}’ is no unit that pressfoot knows"),
    )
    .remedy(remedy)
}

/// The quantity at the start of `text`. `comma_is_decimal` says that a comma inside a number is a
/// decimal comma (and refused), not the comma between two values.
pub(super) fn literal(text: &str, comma_is_decimal: bool) -> Result<Literal, Fault> {
    let number = number(text, comma_is_decimal)?;
    if !number.value.is_finite() || number.value.abs() > 1e15 {
        return Err(Fault::new("out-of-range", 0, "this number is too large")
            .remedy("check it for figures too many, or for a missing point"));
    }
    let quantity = match unit_at(&text[number.bytes..]) {
        Some((unit, bytes)) => Literal {
            quantity: Quantity {
                value: number.value * unit.value,
                dimension: unit.dimension,
            },
            bytes: number.bytes + bytes,
        },
        None => Literal {
            quantity: Quantity::number(number.value),
            bytes: number.bytes,
        },
    };
    Ok(quantity)
}

/// A number without its unit.
struct Number {
    value: f64,
    bytes: usize,
}

fn number(text: &str, comma_is_decimal: bool) -> Result<Number, Fault> {
    let whole = digits(text);
    let rest = &text[whole.len()..];
    let after = rest.trim_start();
    let gap = rest.len() - after.len();
    if let Some((value, bytes)) = vulgar(after) {
        let value = value + parsed(whole);
        let bytes = whole.len() + gap + bytes;
        return Ok(Number { value, bytes });
    }
    if let Some(decimals) = rest.strip_prefix('.') {
        let decimals = digits(decimals);
        let bytes = whole.len() + 1 + decimals.len();
        if !decimals.is_empty() {
            let value = parsed(&text[..bytes]);
            return Ok(Number { value, bytes });
        }
    }
    if whole.is_empty() {
        return Err(not_a_number(text));
    }
    if let Some(decimals) = rest.strip_prefix(',').map(digits)
        && comma_is_decimal
        && !decimals.is_empty()
    {
        let message = format!("‘{whole},{decimals}’ is written with a comma");
        let remedy = format!("write the decimals after a point: {whole}.{decimals}");
        return Err(Fault::new("decimal-comma", whole.len(), message).remedy(remedy));
    }
    if let Some(fraction) = fraction(text, whole.len())? {
        return Ok(fraction);
    }
    Ok(Number {
        value: parsed(whole),
        bytes: whole.len(),
    })
}

/// `3/16` (only with a unit behind it, else it is a division), `3⁄16`, or `1 3/16`.
fn fraction(text: &str, whole: usize) -> Result<Option<Number>, Fault> {
    let rest = &text[whole..];
    let after = rest.trim_start();
    let gap = rest.len() - after.len();
    let second = digits(after);
    let mixed = gap > 0 && !second.is_empty();
    let top_ends = if mixed {
        whole + gap + second.len()
    } else {
        whole
    };
    let tail = &text[top_ends..];
    let Some(slash) = tail
        .chars()
        .next()
        .filter(|c| *c == '/' || *c == FRACTION_SLASH)
    else {
        return Ok(None);
    };
    let bottom = digits(&tail[slash.len_utf8()..]);
    let bytes = top_ends + slash.len_utf8() + bottom.len();
    let plain = !mixed && slash == '/';
    let decimals = text[bytes..].starts_with('.');
    if bottom.is_empty() || decimals || (plain && unit_at(&text[bytes..]).is_none()) {
        return Ok(None);
    }
    let (start, before) = if mixed {
        (whole + gap, parsed(&text[..whole]))
    } else {
        (0, 0.0)
    };
    let (top, bottom) = (parsed(&text[start..top_ends]), parsed(bottom));
    if bottom == 0.0 {
        let message = "a fraction cannot have 0 below the stroke";
        let at = text[..top_ends].chars().count();
        return Err(Fault::new("formula", at, message)
            .remedy("write a fraction as 3/16 in, or leave the stroke and the 0 out"));
    }
    let value = before + top / bottom;
    Ok(Some(Number { value, bytes }))
}

/// The unit after a number, with the bytes of it and of the space before it.
fn unit_at(text: &str) -> Option<(Quantity, usize)> {
    let after = text.trim_start();
    let gap = text.len() - after.len();
    let first = after.chars().next()?;
    let length = if first.is_alphabetic() {
        after
            .find(|c: char| !c.is_alphanumeric() && c != '_')
            .unwrap_or(after.len())
    } else {
        first.len_utf8()
    };
    unit(&after[..length]).map(|unit| (unit, gap + length))
}

fn not_a_number(text: &str) -> Fault {
    let shown: String = text.trim().chars().take(40).collect();
    let message = if shown.is_empty() {
        "a value is missing here".to_string()
    } else {
        format!("‘{shown}’ does not begin with a number")
    };
    Fault::new("formula", 0, message).remedy("write a number with its unit: 5 mm or 3/16 in")
}

fn digits(text: &str) -> &str {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    &text[..end]
}

/// The value of decimal digits with at most one point; 0 for none at all.
fn parsed(digits: &str) -> f64 {
    digits.parse().unwrap_or(0.0)
}

/// The vulgar fractions of Unicode at the start of `text`, with their bytes.
fn vulgar(text: &str) -> Option<(f64, usize)> {
    let first = text.chars().next()?;
    let (top, bottom) = match first {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((f64::from(top) / f64::from(bottom), first.len_utf8()))
}
