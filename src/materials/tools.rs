//! Tools: as the design lists them, and the needles that it does not name.

use super::needles::needles_of_thickest;
use super::sewn_by::{SewnBy, sewn_by};
use crate::design::Design;

/// The design's tools in its own words; after them a needle for each way of sewing that none of them is
/// for, where the design lists tools or tells of its thread.
pub fn tools(design: &Design) -> Vec<String> {
    let mut tools = design.tools.clone();
    let told = !tools.is_empty() || design.thread.is_some();
    let Some(needles) = needles_of_thickest(design).filter(|_| told) else {
        return tools;
    };
    let sewn = sewn_by(design).unwrap_or(SewnBy {
        hand: true,
        machine: false,
    });
    let (words, own) = (&design.words, design.own());
    let for_machine = |tool: &&String| own.words.knows("known.machine needle", tool);
    let machine_named = own.tools.iter().any(|tool| for_machine(&tool));
    let hand_named = own
        .tools
        .iter()
        .filter(|tool| !for_machine(tool))
        .any(|tool| own.words.knows("known.needle", tool));
    if sewn.hand && !hand_named {
        let size = needles.hand_words(words);
        tools.push(words.say("materials.hand needle", &[("size", &size)]));
    }
    if sewn.machine && !machine_named {
        let size = needles.machine;
        tools.push(words.say("materials.machine needle", &[("size", &size)]));
    }
    tools
}
