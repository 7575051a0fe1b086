//! What a finished flat figure shows, gathered for its description and its caption. Only what is drawn
//! is told.

use super::find::Finder;
use super::plan::Plan;
use super::request::{FlatRequest, Named, Scene, Shown, Side, SpotKind, Strip, StripLies};
use super::words::{self, Feature, Subject};
use crate::design::{Design, printed};
use crate::figure::Tint;
use crate::language::Words;

/// The description, and what stands after the caption.
pub(super) fn told(asked: &FlatRequest, plan: &Plan, finder: &mut Finder) -> (String, Vec<String>) {
    let design = finder.design;
    let table = &design.words;
    let edge = |name: &Named| edge_name(&name.text, table);
    let mut features = Vec::new();
    let letters: Vec<(String, String)> = asked
        .letters
        .iter()
        .map(|letter| {
            let says = letter.says.clone();
            let what = says.unwrap_or_else(|| what(&letter.spot.what, finder));
            (letter.letter.clone(), what)
        })
        .collect();
    for row in &asked.stitching {
        let along = row.edges.iter().chain(&row.line).chain(&row.round);
        let edges = along.map(edge).collect();
        features.push(Feature::Stitches(row.look, edges));
    }
    if let Some(opening) = &asked.opening {
        features.push(Feature::Opening(edge(&opening.edge), opening.turn));
    }
    for trim in &asked.trims {
        features.push(Feature::Trimmed(
            trim.edges.iter().map(edge).collect(),
            trim.corners,
        ));
    }
    if let Some(gather) = &asked.gather {
        features.push(Feature::Gathered(edge(&gather.edge)));
    }
    let strip = asked.strip.iter();
    features.extend(strip.map(|strip| strip_told(strip, design)));
    if let Some(detail) = &asked.detail {
        features.push(Feature::Detail(what(&detail.spot.what, finder)));
    }
    if !letters.is_empty() {
        features.push(Feature::Letters(letters.clone()));
    }
    let tints = tints(plan);
    if !tints.is_empty() {
        features.push(Feature::Tints(tints));
    }
    let features: Vec<String> = features.iter().map(|f| words::feature(f, table)).collect();
    let alt = words::whole(&words::subject(&subject(asked, finder), table), &features);
    let mut after = Vec::new();
    for trim in &asked.trims {
        let length = trim.to.as_ref().and_then(|formula| finder.length(formula));
        if let Some(length) = length {
            let style = design.lengths;
            after.push(words::trimmed(&printed::both(length, style), table));
        }
    }
    if !letters.is_empty() {
        after.push(words::legend(&letters));
    }
    (alt, after)
}

/// A trim by its name, and the edge that it hangs out beyond or lies along.
fn strip_told(strip: &Strip, design: &Design) -> Feature {
    let mut trims = design.trims.iter();
    let trim = trims.find(|trim| trim.key == strip.trim.text);
    let name = trim.map_or(&strip.trim.text, |trim| &trim.name);
    let (key, edge) = match (&strip.lies, strip.marked.is_some()) {
        (StripLies::Over(out), false) => ("strip", &out.past),
        (StripLies::Over(out), true) => ("strip marked", &out.past),
        (StripLies::Along(along), _) if along.hidden => ("strip hidden", &along.edge),
        (StripLies::Along(along), _) => ("strip along", &along.edge),
    };
    let edge = edge_name(&edge.text, &design.words);
    Feature::Strip(key, name.clone(), edge)
}

fn title(key: &Named, finder: &Finder) -> String {
    let found = finder.sized.pieces.iter().find(|p| p.key == key.text);
    found.map_or_else(|| key.text.clone(), |piece| piece.title.clone())
}

/// What an edge is called in the language of the booklet.
fn edge_name(name: &str, words: &Words) -> String {
    words.named("edges", name).to_string()
}

fn what(kind: &SpotKind, finder: &Finder) -> String {
    let said = &finder.design.words;
    match kind {
        SpotKind::Edge(name) => words::edge(&edge_name(&name.text, said), said),
        SpotKind::Notch(name) => words::notch(&name.text, said),
        SpotKind::Mark(name) => said.named("marks", &name.text).to_string(),
        SpotKind::Corner([a, b]) => {
            words::corner(&edge_name(&a.text, said), &edge_name(&b.text, said), said)
        }
        SpotKind::Piece(name) => title(name, finder),
    }
}

fn subject(asked: &FlatRequest, finder: &Finder) -> Subject {
    match &asked.scene {
        Scene::Apart(shown) => {
            let name = |s: &Shown| {
                let wrong = s.side == Some(Side::Wrong);
                words::seen(
                    &title(&s.piece, finder),
                    [wrong, s.mirrored, s.finished],
                    &finder.design.words,
                )
            };
            Subject::Apart(shown.iter().map(name).collect())
        }
        Scene::Together(shown) => {
            Subject::Together(shown.iter().map(|s| title(&s.piece, finder)).collect())
        }
        Scene::On { piece, ground, .. } => {
            Subject::On([title(&piece.piece, finder), title(&ground.piece, finder)])
        }
        Scene::Seam { name, together, .. } => {
            let walked = finder.sized.seams.iter().find(|s| s.name == name.text);
            let named = |key: &String| Named {
                text: key.clone(),
                place: name.place.clone(),
            };
            let Some(walked) = walked else {
                return Subject::Apart(Vec::new());
            };
            let names = [
                title(&named(&walked.from.0), finder),
                edge_name(&walked.from.1, &finder.design.words),
                title(&named(&walked.to.0), finder),
                edge_name(&walked.to.1, &finder.design.words),
            ];
            match together {
                true => Subject::Sewn(names),
                false => Subject::Joined(names, walked.notch_pairs.len()),
            }
        }
        Scene::Fold {
            piece,
            states,
            over,
            ..
        } => Subject::Fold(title(&piece.piece, finder), *states, *over),
        Scene::Hem {
            piece,
            edge,
            turned,
            ..
        } => {
            let edge = edge_name(&edge.text, &finder.design.words);
            Subject::Hem(title(&piece.piece, finder), edge, *turned)
        }
    }
}

/// The tints that occur, without white.
pub(super) fn tints(plan: &Plan) -> Vec<Tint> {
    let all = || {
        plan.groups
            .iter()
            .flat_map(|g| &g.plies)
            .map(|ply| ply.tint)
    };
    [Tint::Wrong, Tint::Lining, Tint::Stiffener]
        .into_iter()
        .filter(|tint| all().any(|t| t == *tint))
        .collect()
}
