//! What a figure block asks to be drawn flat.

use super::fields::{Reader, Section, named};
use super::{spots, strips};
use crate::design::node::{Kind, Node};
use crate::design::{Design, Formula};
use crate::diagnostic::Place;
use crate::figure::flat::request::{
    Along, FlatRequest, Gather, Named, Opening, RowEnds, Scene, Shown, Side, Stitching, Trim,
    TurnedIn,
};
use crate::figure::flat::{Look, nearest};

pub(super) const PIECE: &[&str] = &["piece", "side", "cloth", "mirrored", "opened", "finished"];
pub(super) const ON: &[&str] = &[
    "piece", "line", "side", "cloth", "mirrored", "opened", "finished",
];
pub(super) const FOLD: &[&str] = &[
    "piece",
    "side",
    "cloth",
    "mirrored",
    "opened",
    "finished",
    "along",
    "lay",
    "on",
    "show",
    "turned over",
];
pub(super) const HEM: &[&str] = &[
    "piece",
    "side",
    "cloth",
    "mirrored",
    "opened",
    "finished",
    "edge",
    "stitch",
    "at",
    "elastic",
    "turned twice",
];
pub(super) const STITCHING: &[&str] = &[
    "piece", "edges", "line", "round", "inside", "up to", "ends", "stitch",
];
pub(super) const OPENING: &[&str] = &["edge", "length"];
pub(super) const TRIM: &[&str] = &["piece", "edges", "to", "corners"];
pub(super) const GATHER: &[&str] = &["piece", "edge", "between"];

/// Words of how far rows go.
pub(super) const ENDS: [(&str, RowEnds); 2] = [
    ("seam line", RowEnds::SeamLine),
    ("cut edge", RowEnds::CutEdge),
];

/// Words of the states of folding.
const STATES: [(&str, [bool; 2]); 3] = [
    ("before", [true, false]),
    ("after", [false, true]),
    ("both", [true, true]),
];

/// Reads it; `None` if there is nothing, or after a report. `other` says that something else is drawn.
pub(super) fn read(
    section: &Section,
    other: bool,
    place: &Place,
    reader: &mut Reader,
) -> Option<FlatRequest> {
    let kinds = ["pieces", "seam", "fold", "hem"];
    let given: Vec<&str> = kinds
        .into_iter()
        .filter(|k| section.get(k).is_some())
        .collect();
    if given.len() + usize::from(other) > 1 {
        let at = given.last().and_then(|key| section.get(key));
        let message = "A figure draws either pieces, a seam, a fold, a hem or the shoe";
        let remedy = "Write a block for each.";
        reader.wrong(at.map_or(place, |node| &node.place), message, remedy);
        return None;
    }
    let scene = match given.first() {
        None if other || reader.failed => return None,
        None => {
            reader.wrong(
                place,
                "A figure block names no piece to draw",
                super::EXAMPLE,
            );
            return None;
        }
        Some(&"pieces") => pieces_scene(section, reader),
        Some(&"seam") => seam(section, reader),
        Some(&"fold") => fold(section.get("fold")?, reader),
        Some(_) => hem(section.get("hem")?, reader),
    };
    let (stitching, trims) = (stitchings(section, reader), trims(section, reader));
    let opening = opening(section, reader);
    let gather = gather(section, reader);
    let strip = strips::strip(section, reader);
    let letters = spots::letters(section, reader);
    let detail = spots::detail(section, reader);
    Some(FlatRequest {
        scene: scene?,
        stitching,
        trims,
        opening,
        gather,
        strip,
        letters,
        detail,
    })
}

/// The pieces whose numbers stand in the drawing.
pub(super) fn pieces(asked: &FlatRequest, design: &Design) -> Vec<String> {
    let key = |shown: &Shown| shown.piece.text.clone();
    match &asked.scene {
        Scene::Apart(shown) => shown.iter().map(key).collect(),
        Scene::Together(shown) if shown.len() == 1 => shown.iter().map(key).collect(),
        Scene::Seam { name, .. } => {
            let spec = design.seams.iter().find(|seam| seam.name == name.text);
            let ends = spec.map(|seam| [&seam.join.piece, &seam.to.piece]);
            let mut list: Vec<String> = ends.into_iter().flatten().cloned().collect();
            list.dedup();
            list
        }
        Scene::Hem { piece, .. } => vec![key(piece)],
        Scene::Together(_) | Scene::On { .. } | Scene::Fold { .. } => Vec::new(),
    }
}

fn pieces_scene(section: &Section, reader: &mut Reader) -> Option<Scene> {
    let node = section.get("pieces")?;
    let list: Vec<&Node> = match &node.kind {
        Kind::List(list) => list.iter().collect(),
        _ => vec![node],
    };
    if list.is_empty() || node.is_null() {
        let message = "A figure block names no piece to draw";
        reader.wrong(&node.place, message, super::EXAMPLE);
        return None;
    }
    let shown: Vec<Shown> = list.iter().filter_map(|n| shown(n, reader)).collect();
    if shown.len() < list.len() {
        return None;
    }
    let together = section.choice("laid", &[("apart", false), ("together", true)], reader);
    if let Some(node) = section.get("on") {
        let own = Section::of(node, "‘on’", ON, reader)?;
        let ground = shown_of(&own, reader)?;
        let line = own.wanted("line", reader)?;
        let piece = only(shown, node, reader)?;
        return Some(Scene::On {
            piece,
            ground,
            line,
        });
    }
    if together != Some(true) {
        return Some(Scene::Apart(shown));
    }
    if shown.len() > 2 {
        let message = "Two pieces lie together, not more";
        reader.wrong(
            &node.place,
            message,
            "Name two pieces, or one that is cut twice.",
        );
        return None;
    }
    Some(Scene::Together(shown))
}

fn only(shown: Vec<Shown>, node: &Node, reader: &mut Reader) -> Option<Shown> {
    if shown.len() != 1 {
        let message = "One piece is laid on another";
        reader.wrong(&node.place, message, "Name one piece at ‘pieces’.");
        return None;
    }
    shown.into_iter().next()
}

/// A piece by its key, or with what is said of it.
fn shown(node: &Node, reader: &mut Reader) -> Option<Shown> {
    if let Kind::Mapping(_) = node.kind {
        let own = Section::of(node, "A piece of a figure", PIECE, reader)?;
        return shown_of(&own, reader);
    }
    let key = named(node, "pieces", reader)?;
    reader
        .knows_piece(&key)
        .then(|| Shown::plain(&key.text, &key.place))
}

fn shown_of(own: &Section, reader: &mut Reader) -> Option<Shown> {
    let piece = own.wanted("piece", reader)?;
    if !reader.knows_piece(&piece) {
        return None;
    }
    let sides = [("right", Side::Right), ("wrong", Side::Wrong)];
    let turned = match own.get("finished").map(|node| &node.kind) {
        Some(Kind::List(_)) => own.list("finished", reader),
        _ => Vec::new(),
    };
    Some(Shown {
        side: own.choice("side", &sides, reader),
        cloth: own.text("cloth", reader),
        mirrored: own.yes("mirrored", reader),
        opened: own.yes("opened", reader),
        finished: !turned.is_empty() || own.yes("finished", reader),
        turned,
        piece,
    })
}

fn seam(section: &Section, reader: &mut Reader) -> Option<Scene> {
    let name = section.text("seam", reader)?;
    let names: Vec<&str> = reader
        .design
        .seams
        .iter()
        .map(|s| s.name.as_str())
        .collect();
    if !names.contains(&name.text.as_str()) {
        reader.unknown("a seam", &name, names);
        return None;
    }
    let laid = [("apart", false), ("together", true)];
    Some(Scene::Seam {
        together: section.choice("laid", &laid, reader) == Some(true),
        stitch: stitch(section, reader),
        name,
    })
}

/// The stitch at the key `stitch`.
fn stitch(own: &Section, reader: &mut Reader) -> Option<Look> {
    let named = own.text("stitch", reader)?;
    let look = Look::named(&named.text);
    if look.is_none() {
        let message = format!("‘{}’ is no stitch that a figure knows", named.text);
        let known: Vec<&str> = Look::all_words().collect();
        let near = nearest(&named.text, known.iter().copied());
        let remedy = format!("{near} It knows {}.", known.join(", "));
        reader.wrong(&named.place, message, remedy);
    }
    look
}

fn fold(node: &Node, reader: &mut Reader) -> Option<Scene> {
    let own = Section::of(node, "‘fold’", FOLD, reader)?;
    let piece = shown_of(&own, reader)?;
    let along = match (own.text("along", reader), own.text("lay", reader)) {
        (Some(line), None) => Along::Line(line),
        (None, Some(lay)) => Along::Edges {
            lay,
            on: own.wanted("on", reader)?,
        },
        _ => {
            let message = "It is not said where the piece is folded";
            let remedy = "Write ‘along: LINE’, or ‘lay: EDGE’ and ‘on: EDGE’.";
            reader.wrong(&own.place, message, remedy);
            return None;
        }
    };
    let states = own.choice("show", &STATES, reader).unwrap_or([true, true]);
    Some(Scene::Fold {
        piece,
        along,
        states,
        over: own.yes("turned over", reader),
    })
}

fn hem(node: &Node, reader: &mut Reader) -> Option<Scene> {
    let own = Section::of(node, "‘hem’", HEM, reader)?;
    let piece = shown_of(&own, reader)?;
    let edge = own.wanted("edge", reader)?;
    let at = own.length("at", reader);
    let stitch = stitch(&own, reader);
    let place = own.place.clone();
    Some(Scene::Hem {
        piece,
        edge,
        stitch: stitch.map(|look| (look, at.unwrap_or_else(|| Formula::constant(0.0, &place)))),
        turned: TurnedIn {
            twice: own.yes("turned twice", reader),
            elastic: own.yes("elastic", reader),
        },
    })
}

/// The parts of a key that holds one group of keys, or a list of them.
fn groups<'n>(section: &Section<'n>, key: &str) -> Vec<&'n Node> {
    match section.get(key) {
        None => Vec::new(),
        Some(node) => match &node.kind {
            Kind::List(list) => list.iter().collect(),
            _ => vec![node],
        },
    }
}

fn piece_of(own: &Section, reader: &mut Reader) -> Option<Named> {
    let piece = own.text("piece", reader)?;
    reader.knows_piece(&piece).then_some(piece)
}

fn stitchings(section: &Section, reader: &mut Reader) -> Vec<Stitching> {
    let mut list = Vec::new();
    for node in groups(section, "stitching") {
        let Some(own) = Section::of(node, "‘stitching’", STITCHING, reader) else {
            continue;
        };
        let usual = reader.design.thread.as_ref().map(|thread| thread.stitch);
        let usual = usual.unwrap_or(crate::design::Stitch::Backstitch);
        list.push(Stitching {
            piece: piece_of(&own, reader),
            edges: own.list("edges", reader),
            line: own.text("line", reader),
            round: own.text("round", reader),
            inside: own.length("inside", reader),
            up_to: own.text("up to", reader),
            ends: own.choice("ends", &ENDS, reader).unwrap_or_default(),
            look: stitch(&own, reader).unwrap_or(Look::Seam(usual)),
            place: own.place.clone(),
        });
    }
    list
}

fn trims(section: &Section, reader: &mut Reader) -> Vec<Trim> {
    let mut list = Vec::new();
    for node in groups(section, "trim") {
        let Some(own) = Section::of(node, "‘trim’", TRIM, reader) else {
            continue;
        };
        let trim = Trim {
            piece: piece_of(&own, reader),
            edges: own.list("edges", reader),
            to: own.length("to", reader),
            corners: own.yes("corners", reader),
            place: own.place.clone(),
        };
        if trim.to.is_none() && !trim.corners {
            let message = "It is not said what is trimmed";
            reader.wrong(&own.place, message, "Write ‘to: 3 mm’ or ‘corners: yes’.");
        }
        list.push(trim);
    }
    list
}

fn opening(section: &Section, reader: &mut Reader) -> Option<Opening> {
    let turn = section.get("turn through");
    let node = turn.or_else(|| section.get("opening"))?;
    let own = Section::of(node, "An opening", OPENING, reader)?;
    let edge = own.wanted("edge", reader)?;
    own.wanted("length", reader)?;
    Some(Opening {
        edge,
        length: own.length("length", reader)?,
        turn: turn.is_some(),
    })
}

fn gather(section: &Section, reader: &mut Reader) -> Option<Gather> {
    let own = Section::of(section.get("gather")?, "‘gather’", GATHER, reader)?;
    let edge = own.wanted("edge", reader)?;
    let between = own.between("An edge is gathered between two notches", reader);
    Some(Gather {
        piece: piece_of(&own, reader),
        edge,
        between: between?,
    })
}
