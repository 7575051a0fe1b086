//! Left and right.

/// Which foot of the pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The left foot: seen from above with the toes up, its big toe is at the right.
    Left,
    /// The right foot: its big toe is at the left.
    Right,
}

impl Side {
    /// `left` or `right`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The side on which its big toe is.
    pub(super) fn inner(self) -> &'static str {
        match self {
            Self::Left => "right",
            Self::Right => "left",
        }
    }
}
