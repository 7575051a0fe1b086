//! The keys `making` and `from`: the shoe as it looks at the end of a step.

use super::fields::{Reader, Section};
use crate::figure::shoe::making::{Seen, Step, states};

/// The state of a shoe in the making; one that the design has not is told with those it has.
pub(super) fn read(section: &Section, reader: &mut Reader) -> Option<Step> {
    let named = section.text("making", reader)?;
    if section.get("shoe").is_some() {
        let message = "A figure draws either the finished shoe or the shoe in the making";
        reader.wrong(&named.place, message, "Write a block for each.");
        return None;
    }
    let known = states(reader.design);
    let Some((_, state)) = known.iter().find(|(words, _)| *words == named.text) else {
        let message = format!(
            "A figure asks for the making of ‘{}’, which this design has not",
            named.text
        );
        let has: Vec<&str> = known.iter().map(|(words, _)| *words).collect();
        let remedy = match has.is_empty() {
            true => "It needs a ‘shoe:’ drafted from a tracing.".to_string(),
            false => format!("It has {}.", has.join(", ")),
        };
        reader.wrong(&named.place, message, remedy);
        return None;
    };
    let step = |seen| Step {
        state: *state,
        seen,
        topline_sewn: false,
        pressed: false,
    };
    let Some(from) = section.text("from", reader) else {
        return Some(step(None));
    };
    let found = Seen::ALL.into_iter().find(|(words, _)| *words == from.text);
    if found.is_none() {
        let message = format!(
            "A figure is to be seen from ‘{}’, which is no view",
            from.text
        );
        let known = Seen::ALL.map(|(words, _)| words).join(", ");
        reader.wrong(&from.place, message, format!("It knows {known}."));
    }
    found.map(|(_, seen)| step(Some(seen)))
}
