//! The steps in which a shoe is drafted, for those who want to know how far it is or how long each
//! takes. No clock here: who listens brings his own.

/// A step of drafting a shoe, in the order in which they are done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DraftStep {
    /// The foot's body was solved from its measures.
    Foot,
    /// The shoe's form, its topline and side seams.
    Form,
    /// Sole, lining sole and stiffener.
    Soles,
    /// Both patches of the upper were meshed.
    Meshes,
    /// Toe piece and heel piece were laid flat, and the toe eased.
    Flat,
    /// Both pieces have edges that are curves.
    Edges,
    /// Getting it on, warnings, notches.
    Checks,
    /// The pieces of the upper's lining, if they were asked for.
    Lining,
}

impl DraftStep {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            DraftStep::Foot => "foot's body",
            DraftStep::Form => "shoe's form",
            DraftStep::Soles => "soles",
            DraftStep::Meshes => "meshes",
            DraftStep::Flat => "laid flat",
            DraftStep::Edges => "edges",
            DraftStep::Checks => "checks",
            DraftStep::Lining => "lining",
        }
    }
}
