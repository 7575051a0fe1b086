//! A foot's file as the designer has it, with a new tracing in the place of its own.

use crate::design::spans::{self, KeyLines, Level};
use std::ops::Range;

/// Why a tracing cannot take the place of the one in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unreplaceable {
    /// The file is no mapping of YAML.
    Unreadable,
    /// It has no `tracing:`.
    NoTracing,
    /// What stands between braces cannot be exchanged line by line: the whole file, or `other foot:`.
    InBraces(&'static str),
}

impl std::fmt::Display for Unreplaceable {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Unreadable => out.write_str("it cannot be read as the file of a foot"),
            Self::NoTracing => {
                out.write_str("it has no ‘tracing:’ whose place this tracing could take")
            }
            Self::InBraces(what) => write!(
                out,
                "{what} stands between braces: write its keys one below the other, each on its own line"
            ),
        }
    }
}

/// `old`, the text of a foot's file, with the outlines of `new` in the place of its own; all else stays as it
/// is written, comments too. Of what `new` says of itself in its first lines, only that stays true.
///
/// # Errors
/// See [`Unreplaceable`].
pub fn replaced(old: &str, new: &str) -> Result<String, Unreplaceable> {
    let theirs = spans::of_text(old).ok_or(Unreplaceable::Unreadable)?;
    let ours = spans::of_text(new).ok_or(Unreplaceable::Unreadable)?;
    if theirs.in_braces {
        return Err(Unreplaceable::InBraces("the whole file"));
    }
    let tracing = |level: &Level| level.key("tracing").cloned();
    let (place, text) = tracing(&theirs)
        .zip(tracing(&ours))
        .ok_or(Unreplaceable::NoTracing)?;
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let mut changes: Vec<(Range<usize>, Vec<&str>)> = vec![(place.lines, part(&new, &text))];
    if let Some(other) = ours.key("other foot") {
        changes.push(match theirs.key("other foot") {
            None => (old.len()..old.len(), with_its_comments(&new, &ours, other)),
            Some(there) => other_foot(there, other, &new)?,
        });
    }
    // what was said of an older tracing is said no longer
    let before = match old.first() {
        Some(first) if first.starts_with(TRACED) => head(&old),
        _ => 0,
    };
    changes.push((0..before, new[..head(&new)].to_vec()));
    changes.sort_by_key(|(lines, _)| lines.start);
    let (mut text, mut at): (Vec<&str>, usize) = (Vec::new(), 0);
    for (lines, instead) in changes {
        text.extend(&old[at..lines.start]);
        text.extend(instead);
        at = lines.end;
    }
    text.extend(&old[at..]);
    let text = text.join("\n") + "\n";
    // an alias may have stood for a part of the old tracing
    match spans::of_text(&text) {
        Some(level) if theirs.keys.iter().all(|key| level.key(&key.key).is_some()) => Ok(text),
        _ => Err(Unreplaceable::Unreadable),
    }
}

/// A key and what stands below it, to the next key of its level or to the end: comments behind it, too.
fn with_its_comments<'n>(lines: &[&'n str], level: &Level, of: &KeyLines) -> Vec<&'n str> {
    let starts = level.keys.iter().map(|key| key.lines.start);
    let next = starts.filter(|start| *start > of.lines.start).min();
    lines[of.lines.start..next.unwrap_or(lines.len())].to_vec()
}

/// With what the first lines of a traced file begin.
const TRACED: &str = "# Traced from ";

/// How many lines of comment a file begins with.
fn head(lines: &[&str]) -> usize {
    let comments = lines.iter().take_while(|line| line.starts_with('#'));
    comments.count()
}

/// The tracing of the other foot in the place of that which is there, or above its other keys.
fn other_foot<'n>(
    there: &KeyLines,
    ours: &KeyLines,
    new: &[&'n str],
) -> Result<(Range<usize>, Vec<&'n str>), Unreplaceable> {
    if there.below.in_braces {
        return Err(Unreplaceable::InBraces("‘other foot:’"));
    }
    let text = ours.below.key("tracing").ok_or(Unreplaceable::NoTracing)?;
    let text = part(new, text);
    let below_key = there.lines.start + 1;
    let lines = there.below.key("tracing").map(|key| key.lines.clone());
    Ok((lines.unwrap_or(below_key..below_key), text))
}

fn part<'n>(lines: &[&'n str], of: &KeyLines) -> Vec<&'n str> {
    lines[of.lines.clone()].to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NEW: &str = "# Traced from b.png, a scan;\n# its length\nname: \"b\"\ntracing:\n  unit: mm\n  \
        points: [9 9]\n# Still to be measured\n# measures:\nother foot:\n  tracing:\n    points: [8 8]\n  \
        # measures: only\n";

    #[test]
    fn a_new_tracing_takes_the_place_of_the_old_one_and_nothing_else() {
        let old = "# Traced from a.png, a scan;\n# its length\nname: \"doll\"\ntracing:\n  points: [1 1]\n\
            measures:\n  toe height: 9 mm # mine\npair tolerance: 1 mm\nother foot:\n  tracing:\n    \
            points: [2 2]\n  measures:\n    ball girth: 70 mm\n";
        assert_eq!(
            replaced(old, NEW).as_deref(),
            Ok(
                "# Traced from b.png, a scan;\n# its length\nname: \"doll\"\ntracing:\n  unit: mm\n  points: \
                 [9 9]\nmeasures:\n  toe height: 9 mm # mine\npair tolerance: 1 mm\nother foot:\n  tracing:\n    \
                 points: [8 8]\n  measures:\n    ball girth: 70 mm\n"
            )
        );
    }

    #[test]
    fn another_foot_is_added_and_a_file_without_a_tracing_is_left_alone() {
        let old = "name: doll\ntracing:\n  points: [1 1]\nmeasures: {toe height: 9 mm}\n";
        let both = replaced(old, NEW).expect("replaced");
        let end = "measures: {toe height: 9 mm}\nother foot:\n  tracing:\n    points: [8 8]\n  # measures: only\n";
        assert!(both.ends_with(end), "{both}");
        assert!(
            both.contains("name: doll\ntracing:\n  unit: mm\n  points: [9 9]\nmeasures"),
            "{both}"
        );
        assert_eq!(replaced("name: doll\n", NEW), Err(Unreplaceable::NoTracing));
    }

    #[test]
    fn a_tracing_between_braces_is_exchanged_and_comments_round_it_stay() {
        let old = "# mine\nname: doll # hers\ntracing: {unit: mm,\n  points: [[1, 1]]}\n  # after it\n# before\n\
            measures: {toe height: 9 mm} # read twice\nother foot: # left\n  # longer\n  measures: {ball girth: 70 \
            mm}\n";
        let text = replaced(old, NEW).expect("replaced");
        assert_eq!(
            text,
            "# Traced from b.png, a scan;\n# its length\n# mine\nname: doll # hers\ntracing:\n  unit: mm\n  points: [9 \
             9]\n  # after it\n# before\nmeasures: {toe height: 9 mm} # read twice\nother foot: # left\n  tracing:\n    \
             points: [8 8]\n  # longer\n  measures: {ball girth: 70 mm}\n"
        );
    }

    #[test]
    fn what_cannot_be_exchanged_line_by_line_is_refused() {
        let whole = "{name: doll, tracing: {points: [[1, 1]]}}\n";
        assert_eq!(
            replaced(whole, NEW),
            Err(Unreplaceable::InBraces("the whole file"))
        );
        let other = "tracing: {points: [[1, 1]]}\nother foot: {tracing: {points: [[2, 2]]}}\n";
        assert_eq!(
            replaced(other, NEW),
            Err(Unreplaceable::InBraces("‘other foot:’"))
        );
        assert_eq!(
            replaced("tracing: [\n", NEW),
            Err(Unreplaceable::Unreadable)
        );
    }
}
