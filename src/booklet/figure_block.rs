//! The fenced block ```` ```figure ````: which pieces to draw, in YAML.

use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::SHOE_VIEWS;
use crate::figure::shoe::ShoeView;
use crate::figure::shoe::making::{Seen, Step, states};
use serde_yaml::Value;

/// A drawing that a chapter asks for. Whoever calls the booklet draws it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureRequest {
    /// Number of the drawing from 1: its file is `figures/NUMBER.svg`.
    pub number: usize,
    /// Keys of the pieces, in order; none where the finished shoe is drawn.
    pub pieces: Vec<String>,
    /// From where the finished shoe is seen.
    pub shoe: Option<ShoeView>,
    /// The state of a shoe in the making.
    pub making: Option<Step>,
    /// Key of the size; the first unless given.
    pub size: Option<String>,
    /// Words under it.
    pub caption: Option<String>,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Where it stands.
    pub place: Place,
}

impl FigureRequest {
    /// Path of the drawing among the booklet's files.
    pub fn path(&self) -> String {
        format!("figures/{}.svg", self.number)
    }
}

const KEYS: [&str; 7] = ["pieces", "shoe", "making", "from", "size", "caption", "alt"];

const EXAMPLE: &str = "Write ‘pieces: [toe, heel]’.";

/// Reads a block. `None` if there is nothing to draw; what is wrong is said at `place`.
pub fn read(
    text: &str,
    number: usize,
    design: &Design,
    place: &Place,
    diagnostics: &mut Diagnostics,
) -> Option<FigureRequest> {
    let mut wrong = |message: String, remedy: String| {
        diagnostics.push(Diagnostic::error("figure-block", Some(place), message).remedy(remedy));
    };
    let map = mapping(text, &mut wrong)?;
    for key in map
        .keys()
        .map(words)
        .filter(|key| !KEYS.contains(&key.as_str()))
    {
        let known = format!("It knows {}.", KEYS.join(", "));
        wrong(format!("A figure block has no key ‘{key}’."), known);
    }
    let of = |key: &str| map.get(Value::from(key));
    let pieces = known_pieces(of("pieces"), design, &mut wrong);
    let shoe = of("shoe").map(words);
    let shoe = shoe.map(|view| known_view(&view, design, &mut wrong));
    let size = match of("size").map(words) {
        None => None,
        Some(key) => Some(known_size(&key, design, &mut wrong)?),
    };
    let making = of("making").map(words);
    let making = match making {
        Some(state) => {
            let from = of("from").map(words);
            Some(known_state(&state, from.as_deref(), design, &mut wrong)?)
        }
        None => None,
    };
    if let (Some(_), Some(_)) = (&shoe, of("pieces")) {
        let message = "A figure draws either pieces or the finished shoe.";
        wrong(message.into(), "Write a block for each.".into());
        return None;
    }
    let shoe = match shoe {
        Some(view) => Some(view?),
        // pieces that the design has not were told
        None if making.is_some() => None,
        None if pieces.is_empty() && names_any(of("pieces")) => return None,
        None if pieces.is_empty() => {
            wrong(
                "A figure block names no piece to draw.".into(),
                EXAMPLE.into(),
            );
            return None;
        }
        None => None,
    };
    let alt = of("alt").map(words).filter(|alt| !alt.trim().is_empty());
    let alt = alt.unwrap_or_else(|| match (shoe, making) {
        (Some(view), _) => finished(view, design),
        (None, Some(step)) => step.words(&design.words),
        (None, None) => drawn_flat(&pieces, design),
    });
    let caption = of("caption").map(words);
    Some(FigureRequest {
        number,
        pieces,
        shoe,
        making,
        size,
        caption,
        alt,
        place: place.clone(),
    })
}

/// Whether the value of ‘pieces’ names anything.
fn names_any(asked: Option<&Value>) -> bool {
    match asked {
        None | Some(Value::Null) => false,
        Some(Value::Sequence(list)) => !list.is_empty(),
        Some(_) => true,
    }
}

/// The block's keys; a block without any is said to be wrong.
fn mapping(text: &str, wrong: &mut dyn FnMut(String, String)) -> Option<serde_yaml::Mapping> {
    match serde_yaml::from_str::<Value>(text) {
        Ok(Value::Mapping(map)) => Some(map),
        Ok(_) => {
            wrong("A figure block holds no keys.".into(), EXAMPLE.into());
            None
        }
        Err(error) => {
            let message = format!("A figure block cannot be read: {error}.");
            wrong(message, "Write one ‘key: value’ below the other.".into());
            None
        }
    }
}

/// The key of a size; where left and right take patterns of their own, that of the first.
fn known_size(key: &str, design: &Design, wrong: &mut dyn FnMut(String, String)) -> Option<String> {
    let found = design.sizes.iter().find(|size| size.key == key);
    let found = found.or_else(|| design.sizes.iter().find(|size| size.declared == key));
    if found.is_none() {
        let keys = design.sizes.iter().map(|size| size.key.as_str());
        let message = format!("A figure asks for a size ‘{key}’, which the design has not.");
        wrong(message, near(key, keys));
    }
    found.map(|size| size.key.clone())
}

/// The view of the finished shoe that is asked for; what is wrong is said.
fn known_view(
    view: &str,
    design: &Design,
    wrong: &mut dyn FnMut(String, String),
) -> Option<ShoeView> {
    if design.shoe.is_none() {
        let message = "A figure asks for the finished shoe, but the design has no ‘shoe:’.";
        wrong(message.into(), "Name pieces: ‘pieces: [toe, heel]’.".into());
        return None;
    }
    let found = SHOE_VIEWS.iter().find(|(words, _)| *words == view);
    if found.is_none() {
        let known = SHOE_VIEWS.map(|(words, _)| words).join(", ");
        let message = format!("A figure asks for the shoe from ‘{view}’, which is no view.");
        wrong(message, format!("It knows {known}."));
    }
    found.map(|(_, view)| *view)
}

/// The state of a shoe in the making; one that the design has not is said to be wrong.
fn known_state(
    state: &str,
    from: Option<&str>,
    design: &Design,
    wrong: &mut dyn FnMut(String, String),
) -> Option<Step> {
    let known = states(design);
    let words = |list: Vec<&str>| list.join(", ");
    let Some((_, found)) = known.iter().find(|(words, _)| *words == state) else {
        let message =
            format!("A figure asks for the making of ‘{state}’, which this design has not.");
        let has = words(known.iter().map(|(words, _)| *words).collect());
        let remedy = if has.is_empty() {
            "It needs a ‘shoe:’ drafted from a tracing.".to_string()
        } else {
            format!("It has {has}.")
        };
        wrong(message, remedy);
        return None;
    };
    let seen = match from {
        None => None,
        Some(from) => {
            let found = Seen::ALL.into_iter().find(|(words, _)| *words == from);
            if found.is_none() {
                let message = format!("A figure is to be seen from ‘{from}’, which is no view.");
                let known = words(Seen::ALL.map(|(words, _)| words).to_vec());
                wrong(message, format!("It knows {known}."));
            }
            Some(found?.1)
        }
    };
    Some(Step {
        state: *found,
        seen,
    })
}

/// The pieces asked for that the design has; the others are said to be `wrong`.
fn known_pieces(
    asked: Option<&Value>,
    design: &Design,
    wrong: &mut dyn FnMut(String, String),
) -> Vec<String> {
    let asked: Vec<String> = match asked {
        Some(Value::Sequence(list)) => list.iter().map(words).collect(),
        Some(Value::Null) | None => Vec::new(),
        Some(one) => vec![words(one)],
    };
    let keys = || design.pieces.iter().map(|piece| piece.key.as_str());
    let (known, unknown): (Vec<String>, Vec<String>) = asked
        .into_iter()
        .partition(|key| keys().any(|known| known == key));
    for key in unknown {
        let message = format!("A figure asks for a piece ‘{key}’, which the design has not.");
        wrong(message, near(&key, keys()));
    }
    known
}

fn words(value: &Value) -> String {
    match value {
        Value::String(words) => words.clone(),
        Value::Number(number) => number.to_string(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_string(),
        _ => String::new(),
    }
}

fn near<'a>(key: &str, keys: impl Iterator<Item = &'a str>) -> String {
    let best = keys
        .map(|other| (strsim::damerau_levenshtein(key, other), other))
        .min();
    best.map_or_else(String::new, |(_, other)| {
        format!("The nearest key is ‘{other}’.")
    })
}

/// What a drawing of the finished shoe shows.
fn finished(view: ShoeView, design: &Design) -> String {
    let known = SHOE_VIEWS.iter().find(|(_, known)| *known == view);
    let key = format!("figures.finished {}", known.map_or("", |(name, _)| name));
    design.words.get(&key).to_string()
}

fn drawn_flat(pieces: &[String], design: &Design) -> String {
    let title = |key: &String| {
        let piece = design.pieces.iter().find(|piece| piece.key == *key);
        piece.map_or_else(|| key.clone(), |piece| piece.title.clone())
    };
    let titles: Vec<String> = pieces.iter().map(title).collect();
    let words = &design.words;
    words.say("figures.flat", &[("pieces", &words.joined(&titles))])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::booklet::fixture;

    fn request(text: &str) -> (Option<FigureRequest>, Vec<String>) {
        let mut diagnostics = Diagnostics::default();
        let request = read(
            text,
            3,
            &fixture::design(),
            &fixture::place(),
            &mut diagnostics,
        );
        (
            request,
            diagnostics
                .iter()
                .map(|d| format!("{} {}", d.message, d.remedy))
                .collect(),
        )
    }

    #[test]
    fn pieces_size_and_words_are_read() {
        let (figure, said) = request("pieces: [toe, heel]\nsize: large\ncaption: Both.\n");
        let figure = figure.unwrap();
        assert!(said.is_empty(), "{said:?}");
        assert_eq!(figure.pieces, ["toe", "heel"]);
        assert_eq!(figure.size.as_deref(), Some("large"));
        assert_eq!(figure.caption.as_deref(), Some("Both."));
        assert_eq!(figure.alt, "Toe piece and Heel piece, drawn flat.");
        assert_eq!(figure.path(), "figures/3.svg");
    }

    #[test]
    fn mistakes_are_named() {
        for (text, word) in [
            ("pieces: [tow]", "The nearest key is ‘toe’."),
            ("pieces: toe\nsize: lagre", "The nearest key is ‘large’."),
            ("peices: toe", "no key ‘peices’"),
            ("pieces: [", "cannot be read"),
            ("just words", "holds no keys"),
            ("", "holds no keys"),
        ] {
            let (_, said) = request(text);
            assert!(
                said.iter().any(|line| line.contains(word)),
                "{text}: {said:?}"
            );
        }
    }
}
