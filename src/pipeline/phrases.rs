//! Phrases of a chapter's Markdown that are set as they stand, and so can be looked for in the finished
//! file.

/// So many letters of a phrase tell that it is there; shorter ones are passed over.
const PHRASE_FROM: usize = 16;

/// Signs that are set as they stand, besides letters and figures.
const PLAIN: &str = " \u{a0}\u{202f},.;:’'()-–⁄%/";

/// Lines of a text that are not set as they stand: blocks in fences, comments, notes and addresses.
#[derive(Default)]
pub(super) struct Aside {
    fence: Option<&'static str>,
    comment: bool,
}

impl Aside {
    pub(super) fn holds(&mut self, line: &str) -> bool {
        let line = line.trim_start();
        if let Some(fence) = self.fence {
            if line.starts_with(fence) {
                self.fence = None;
            }
            return true;
        }
        if let Some(fence) = ["```", "~~~"].into_iter().find(|f| line.starts_with(f)) {
            self.fence = Some(fence);
            return true;
        }
        let (opens, closes) = (line.contains("<!--"), line.contains("-->"));
        let held = self.comment || opens;
        self.comment = held && !closes;
        held || line.starts_with('[') || line.contains('<')
    }
}

/// The phrases of a line of Markdown that are set as they stand: words between markup, with their figures.
pub(super) fn phrases(line: &str) -> Vec<String> {
    let mut text = String::new();
    let mut rest = after_number(line);
    // addresses of links are not printed
    while let Some((before, after)) = rest.split_once("](") {
        text.push_str(before);
        text.push('\n');
        rest = after.split_once(')').map_or("", |(_, after)| after);
    }
    text.push_str(rest);
    let plain = |c: char| c.is_alphabetic() || c.is_ascii_digit() || PLAIN.contains(c);
    let parts = text.split(|c: char| !plain(c)).map(str::trim);
    let letters = |part: &str| part.chars().filter(|c| c.is_alphabetic()).count();
    parts
        .filter(|part| letters(part) >= PHRASE_FROM)
        .map(str::to_string)
        .collect()
}

/// A line of a numbered list without its number, which is counted anew.
fn after_number(line: &str) -> &str {
    let line = line.trim_start();
    let rest = line.trim_start_matches(|c: char| c.is_ascii_digit());
    match rest.strip_prefix(['.', ')']) {
        Some(after) if after.starts_with(' ') && rest.len() < line.len() => after,
        _ => line,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn phrases_stand_between_markup() {
        let line = "Press the *seams open* with the hot steam iron ({{ x }}), see [](figure:cut_all_the_pieces).";
        assert_eq!(phrases(line), ["with the hot steam iron ("]);
        assert_eq!(
            phrases("2. Sew 3 mm (1⁄8 in) from the edge of the cloth."),
            ["Sew 3 mm (1⁄8 in) from the edge of the cloth."]
        );
    }

    #[test]
    fn what_is_not_set_as_it_stands_is_left_aside() {
        let mut aside = Aside::default();
        let lines = [
            "```figure",
            "pieces: sole",
            "```",
            "Words.",
            "<!-- a",
            "b -->",
            "Words.",
        ];
        let held: Vec<bool> = lines.into_iter().map(|line| aside.holds(line)).collect();
        assert_eq!(held, [true, true, true, false, true, true, false]);
    }
}
