//! The text of `feet/NAME.yaml`: the outlines that were traced, with what is still to be measured as
//! comments. Lengths in mm.

use super::Traced;
use super::reference::Kind;
use super::side::Side;
use crate::geometry::rounding::decimals;
use std::fmt::Write;

/// Points in one line of the list.
const IN_A_LINE: usize = 6;

/// A foot for the file.
#[derive(Debug, Clone, Copy)]
pub struct OneFoot<'t> {
    /// Its outline.
    pub traced: &'t Traced,
    /// Which one it is.
    pub side: Side,
}

/// What else the file says.
#[derive(Debug, Clone, Copy)]
pub struct Heading<'t> {
    /// Words for the foot.
    pub name: &'t str,
    /// The name of the picture.
    pub picture: &'t str,
    /// What told its size.
    pub kind: Kind,
    /// Half the thickness that is taken off all round, as it was said; nothing if it is `None`.
    pub pencil: Option<&'t str>,
}

/// The text of a foot's file; `other` is the other foot of the same pair.
pub fn text(heading: &Heading<'_>, foot: OneFoot<'_>, other: Option<OneFoot<'_>>) -> String {
    let mut text = String::new();
    let size = size_words(&heading.kind);
    let accuracy = foot.traced.accuracy;
    let _ = writeln!(
        text,
        "# Traced from {}, {size};\n# its length is believed to be true to {accuracy:.1} mm.",
        plain(heading.picture)
    );
    let _ = writeln!(
        text,
        "# The {} foot seen from above with the toe up: x to the right, y down the page, in mm from\n\
         # the centre heel.",
        foot.side.word()
    );
    let _ = writeln!(text, "name: \"{}\"", plain(heading.name).replace('"', "'"));
    text.push_str("tracing:\n");
    tracing(&mut text, "  ", heading, foot);
    measures(&mut text, "");
    if let Some(other) = other {
        text.push_str("other foot:\n  tracing:\n");
        tracing(&mut text, "    ", heading, other);
        let _ = writeln!(
            text,
            "  # measures: only those that differ from the {} foot's",
            foot.side.word()
        );
    }
    text
}

/// A name without what would break a line of YAML.
fn plain(name: &str) -> String {
    let clean = |c: char| if c.is_control() || c == '\\' { ' ' } else { c };
    name.chars().map(clean).collect()
}

fn size_words(kind: &Kind) -> String {
    match kind {
        Kind::Dots {
            per_inch: [across, _],
            from_file,
        } => {
            let who = if *from_file {
                "as the file says"
            } else {
                "as was said"
            };
            format!("a scan of {across:.0} pixels to the inch ({who})")
        }
        Kind::Card { tilt } => {
            format!("a photograph with a card, tilted by {tilt:.0} degrees")
        }
        Kind::Sheet { tilt } => {
            format!("a photograph or scan of the tracing sheet, tilted by {tilt:.0} degrees")
        }
        Kind::Drawing => "a drawing in true size".to_string(),
    }
}

fn tracing(text: &mut String, indent: &str, heading: &Heading<'_>, foot: OneFoot<'_>) {
    let traced = foot.traced;
    let _ = writeln!(text, "{indent}unit: mm");
    let _ = writeln!(text, "{indent}heel: [0, 0]");
    let _ = writeln!(text, "{indent}toe: [0, {}]", number(-traced.chord));
    let _ = writeln!(
        text,
        "{indent}inner side: {}           # where the big toe is: this is a {} foot",
        foot.side.inner(),
        foot.side.word()
    );
    if let Some(pencil) = heading.pencil {
        let _ = writeln!(text, "{indent}pencil: {pencil}");
    }
    if let Some(path) = &traced.drawn {
        let _ = writeln!(text, "{indent}path: \"{path}\"");
        return;
    }
    let _ = writeln!(text, "{indent}points: [");
    for line in traced.points.chunks(IN_A_LINE) {
        let pairs = line
            .iter()
            .map(|p| format!("[{}, {}],", number(p.x), number(p.y)));
        let pairs: Vec<String> = pairs.collect();
        let _ = writeln!(text, "{indent}  {}", pairs.join(" "));
    }
    let _ = writeln!(text, "{indent}]");
}

/// What a shoe needs besides the outline, and how it is taken.
fn measures(text: &mut String, indent: &str) {
    let all = [
        (
            "toe height",
            "table to the top of the toes, at 0.87 of the length",
        ),
        (
            "ball girth",
            "upright round the foot, at seven tenths of the length",
        ),
        (
            "instep height",
            "table to the top of the foot, half way along",
        ),
        ("instep girth", "upright round the foot, half way along"),
        ("bend height", "table to the crease in front of the ankle"),
        ("heel wrap", "level round the back of the heel"),
        (
            "long-heel girth",
            "from the corner of the heel over the bend, the smallest reading",
        ),
    ];
    let _ = writeln!(
        text,
        "{indent}# Still to be measured for a shoe: take the # away from ‘measures:’ and from each line you fill in."
    );
    let _ = writeln!(text, "{indent}# measures:");
    for (name, how) in all {
        let key = format!("{name}: … mm");
        let _ = writeln!(text, "{indent}#   {key:<24} # {how}");
    }
}

fn number(value: f64) -> String {
    decimals(value, 2)
}
