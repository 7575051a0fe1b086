//! Units by their millimetres.

/// An inch, mm (international yard and pound agreement, 1959).
pub const INCH: f64 = 25.4;

/// A point of typesetters and of PDF, mm (ISO 32000-1, 8.3.2.3: 1/72 in).
pub const POINT: f64 = INCH / 72.0;
