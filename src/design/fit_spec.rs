//! What trial shoes taught: the entries of `fit`.

use super::quantity::Dimension;
use crate::diagnostic::Place;

/// One dated entry of `fit`: what a trial shoe taught.
#[derive(Debug, Clone, PartialEq)]
pub struct FitEntry {
    /// `on`: the date as it is printed, year first.
    pub on: String,
    /// What is changed.
    pub change: FitChange,
    /// The only side it holds for; both unless given.
    pub side: Option<FootSideSpec>,
    /// By how much: mm, or degrees for the throat's angle.
    pub by: f64,
    /// `by` as it was written.
    pub by_words: String,
    /// The only size it holds for, by key; all unless given.
    pub size: Option<String>,
    /// Why, in words.
    pub why: String,
    /// Where it is declared.
    pub place: Place,
}

impl FitEntry {
    /// Whether it holds for the size declared under `key`.
    #[must_use]
    pub fn holds_for(&self, key: &str) -> bool {
        self.size.as_deref().is_none_or(|size| size == key)
    }

    /// What is changed, with its side.
    #[must_use]
    pub fn words(&self) -> String {
        let side = match self.side {
            None => "",
            Some(FootSideSpec::Inner) => ", inner side",
            Some(FootSideSpec::Outer) => ", outer side",
        };
        format!("{}{side}", self.change.words())
    }
}

/// A side of the foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FootSideSpec {
    /// The big toe's.
    Inner,
    /// The little toe's.
    Outer,
}

/// What a fit correction changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FitChange {
    /// More ease round the sole.
    Ease,
    /// Topline higher at the sides.
    SideHeight,
    /// Topline higher at the back.
    BackHeight,
    /// Throat nearer the toe.
    Throat,
    /// Throat steeper, which makes it wider.
    ThroatAngle,
    /// More room above the toes.
    ToeRoom,
    /// Longer toe.
    ToeLength,
    /// More fullness in the toe piece.
    Fullness,
    /// Sole narrower at each side of the heel.
    HeelWidth,
    /// Topline held closer to the heel.
    HeelGrip,
    /// Side marks nearer the toe.
    SideMark,
    /// Side seams taken in at the topline.
    TakeIn,
}

impl FitChange {
    /// All, by the words of `change`.
    pub const ALL: [(&'static str, FitChange); 12] = [
        ("ease", FitChange::Ease),
        ("side height", FitChange::SideHeight),
        ("back height", FitChange::BackHeight),
        ("throat", FitChange::Throat),
        ("throat angle", FitChange::ThroatAngle),
        ("toe room", FitChange::ToeRoom),
        ("toe length", FitChange::ToeLength),
        ("fullness", FitChange::Fullness),
        ("narrower heel", FitChange::HeelWidth),
        ("closer heel", FitChange::HeelGrip),
        ("side mark", FitChange::SideMark),
        ("take in", FitChange::TakeIn),
    ];

    /// In the designer's words.
    #[must_use]
    pub fn words(self) -> &'static str {
        let found = Self::ALL.iter().find(|(_, change)| *change == self);
        found.map_or("", |(words, _)| words)
    }

    /// What its `by` measures.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        match self {
            FitChange::ThroatAngle => Dimension::Angle,
            _ => Dimension::Length,
        }
    }

    /// Whether it can hold for one side alone.
    #[must_use]
    pub fn has_sides(self) -> bool {
        matches!(
            self,
            FitChange::SideHeight | FitChange::SideMark | FitChange::TakeIn
        )
    }
}
