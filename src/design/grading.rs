//! A foot derived from another: longer by one share, larger round by another. Shares.

use super::model::FootSpec;

/// How much a measure takes from the length's share when a foot is graded; the rest comes from the
/// girth's (proportions of a foot, from judgement: a level tape round the heel runs half along the
/// foot, the tape over the bend more than half).
const ALONG: [(&str, f64); 2] = [("heel wrap", 0.5), ("long-heel girth", 0.55)];

impl FootSpec {
    /// This foot made `length` times as long and `girth` times as large across and up. Strips that
    /// run along and over the foot (`… to …`) take half of each.
    #[must_use]
    pub fn graded(&self, length: f64, girth: f64) -> Self {
        let share = |name: &str| {
            let known = ALONG.iter().find(|(known, _)| *known == name);
            match known {
                Some((_, along)) => *along,
                None if name.contains(" to ") => 0.5,
                None => 0.0,
            }
        };
        let mut foot = self.clone();
        for (name, value) in &mut foot.measures {
            let along = share(name);
            *value *= along * length + (1.0 - along) * girth;
        }
        foot.grading = [self.grading[0] * length, self.grading[1] * girth];
        foot.other = self
            .other
            .as_ref()
            .map(|other| Box::new(other.graded(length, girth)));
        foot
    }
}
