//! The measures of a foot and their names in a foot's file. How each is taken stands in the tables of
//! words.

use crate::foot::Foot;

/// A measure of a foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// From the centre heel to the centre toe, on the tracing.
    Length,
    /// Across the ball, on the tracing.
    BallWidth,
    /// Across the heel, on the tracing.
    HeelWidth,
    /// Table to the top of the toes.
    ToeHeight,
    /// Table to the top at the ball.
    BallHeight,
    /// Table to the top half way along.
    InstepHeight,
    /// Table to the crease in front of the ankle.
    BendHeight,
    /// Round the ball.
    BallGirth,
    /// Round the instep.
    InstepGirth,
    /// Round the back of the heel.
    HeelWrap,
    /// Round heel corner and bend.
    LongHeelGirth,
    /// Round the ankle.
    AnkleGirth,
}

impl Measure {
    /// All, in the order in which they are numbered.
    pub const ALL: [Measure; 12] = [
        Measure::Length,
        Measure::BallWidth,
        Measure::HeelWidth,
        Measure::ToeHeight,
        Measure::BallHeight,
        Measure::InstepHeight,
        Measure::BendHeight,
        Measure::BallGirth,
        Measure::InstepGirth,
        Measure::HeelWrap,
        Measure::LongHeelGirth,
        Measure::AnkleGirth,
    ];

    /// Its name, as a foot's file has it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Measure::Length => "foot length",
            Measure::BallWidth => "ball width",
            Measure::HeelWidth => "heel width",
            Measure::ToeHeight => "toe height",
            Measure::BallHeight => "ball height",
            Measure::InstepHeight => "instep height",
            Measure::BendHeight => "bend height",
            Measure::BallGirth => "ball girth",
            Measure::InstepGirth => "instep girth",
            Measure::HeelWrap => "heel wrap",
            Measure::LongHeelGirth => "long-heel girth",
            Measure::AnkleGirth => "ankle girth",
        }
    }

    /// What it is on `foot`, mm.
    #[must_use]
    pub fn value(self, foot: &Foot) -> Option<f64> {
        match self {
            Measure::Length => Some(foot.length),
            Measure::BallWidth => Some(foot.ball_width),
            Measure::HeelWidth => Some(foot.heel_width),
            _ => foot.measures.get(self.name()).copied(),
        }
    }

    /// Whether it is a height above the table.
    pub(super) fn is_height(self) -> bool {
        matches!(
            self,
            Measure::ToeHeight | Measure::BallHeight | Measure::InstepHeight | Measure::BendHeight
        )
    }

    /// Whether it is taken with a tape round the foot.
    pub(super) fn is_tape(self) -> bool {
        self >= Measure::BallGirth
    }
}
