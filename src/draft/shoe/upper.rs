//! The two pieces of an upper, from the shoe's form to outlines on the page. Millimetres.

use super::body::Builder;
use super::choices::Closure;
use super::donning::{Donning, donning};
use super::easing::{Easing, Zone};
use super::edges::{self, PieceEdges};
use super::fitting::take_in;
use super::flat::{FlatFault, FlatPatch, flat_heel, flat_toe};
use super::patch::{MeshedPatch, Mesher, UpperEdge, UpperPiece};
use super::shoe_form::ShoeForm;
use super::spreading::{Casing, Spread};
use super::steps::DraftStep;
use super::told::Told;
use crate::geometry::mesh::MeshFault;
use crate::geometry::{Edge, Outline};

/// Halves of the heel piece that differ by no more than this, mm, are made alike and cut on the fold.
const ALIKE: f64 = 0.3;

/// Side seams that differ by no more than this, mm, are given one length: less than a needle's width.
const ONE_LENGTH: f64 = 0.1;

/// Both pieces, flat.
pub(super) struct Upper {
    pub(super) toe: FlatPatch,
    pub(super) heel: FlatPatch,
    pub(super) toe_outline: Outline,
    pub(super) heel_outline: Outline,
    pub(super) heel_on_fold: bool,
    pub(super) easing: Easing,
    pub(super) zone: Zone,
    pub(super) donning: Donning,
    pub(super) casing: Option<Casing>,
    /// Greatest distance from an edge of the flat mesh to its curve.
    pub(super) worst_fit: f64,
    /// What toe and heel corners make together, degrees: sole inner, outer, topline inner, outer.
    pub(super) corners: [f64; 4],
}

/// Drafts the pieces; what is in the way is told. `outer` is how the outer shoe goes on, if this is
/// its lining, which is gathered with it.
pub(super) fn upper(
    builder: &Builder<'_>,
    form: &ShoeForm,
    outer: Option<&Donning>,
    told: &mut Told<'_>,
    done: &mut dyn FnMut(DraftStep),
) -> Option<Upper> {
    let length = builder.body.length;
    let flat = laid_flat(builder, form, outer, told, done)?;
    let [inner, outer] = builder.choices.corrections.take_in;
    let on_fold = flat.one_length && inner == outer && halves_differ(&flat.heel) <= ALIKE;
    let mut toe_edges = PieceEdges::new(&flat.toe, length, false)?;
    let mut heel_edges = PieceEdges::new(&flat.heel, length, on_fold)?;
    edges::true_corners(&mut toe_edges, &mut heel_edges)?;
    let corners = edges::corners_together(&toe_edges, &heel_edges);
    for (edge, by) in [(UpperEdge::Inner, inner), (UpperEdge::Outer, outer)] {
        if by != 0.0 && take_in(&mut toe_edges, &mut heel_edges, edge, by).is_none() {
            told.refuse(
                "shoe-topline",
                format!("The {} seam cannot be taken in by {by:.1} mm.", edge.name()),
                "The topline is not long enough for that.",
            );
            return None;
        }
    }
    let toe_outline = outline(&toe_edges, UpperPiece::Toe, told)?;
    let heel_outline = outline(&heel_edges, UpperPiece::Heel, told)?;
    done(DraftStep::Edges);
    Some(Upper {
        toe_outline,
        heel_outline,
        heel_on_fold: on_fold,
        worst_fit: toe_edges.worst_fit().max(heel_edges.worst_fit()),
        toe: flat.toe,
        heel: flat.heel,
        easing: flat.easing,
        zone: flat.zone,
        donning: flat.donning,
        casing: flat.casing.map(|casing| casing.taken_in(inner)),
        corners,
    })
}

/// Both pieces as they lie flat, before their edges are curves.
struct LaidFlat {
    toe: FlatPatch,
    heel: FlatPatch,
    easing: Easing,
    zone: Zone,
    donning: Donning,
    casing: Option<Casing>,
    /// Whether both side seams were given one length.
    one_length: bool,
}

fn laid_flat(
    builder: &Builder<'_>,
    form: &ShoeForm,
    outer: Option<&Donning>,
    told: &mut Told<'_>,
    done: &mut dyn FnMut(DraftStep),
) -> Option<LaidFlat> {
    let choices = builder.choices;
    let length = builder.body.length;
    let mesher = Mesher::new(form, length / choices.fineness.clamp(16.0, 160.0));
    let (toe, heel) = rayon::join(
        || mesher.mesh(UpperPiece::Toe),
        || mesher.mesh(UpperPiece::Heel),
    );
    let toe = meshed(toe, UpperPiece::Toe, told);
    let heel = meshed(heel, UpperPiece::Heel, told);
    let (toe, heel) = (toe?, heel?);
    done(DraftStep::Meshes);
    let mut sides = [UpperEdge::Inner, UpperEdge::Outer].map(|e| heel.edge(e).length());
    let one_length = (sides[0] - sides[1]).abs() <= ONE_LENGTH;
    if one_length {
        sides = [0.5 * (sides[0] + sides[1]); 2];
    }
    let zone = Zone::new(form, length);
    let [ahead, behind] = [&toe, &heel].map(|piece| piece.edge(UpperEdge::Topline).length());
    // A seam taken in shortens the topline on both its sides.
    let taken_in: f64 = choices.corrections.take_in.iter().sum();
    let topline = ahead + behind - 2.0 * taken_in;
    let own = || donning(builder.body, form, choices, topline);
    let donning = outer.copied().unwrap_or_else(own);
    let (casing, spread) = if choices.donning.closure == Closure::BackElastic {
        let (casing, spread) = Spread::new(form, &donning.back, told)?;
        (Some(casing), Some(spread))
    } else {
        (None, None)
    };
    let (toe, heel) = rayon::join(
        || flat_toe(toe, sides, zone, choices),
        || flat_heel(heel, sides, spread.as_ref()),
    );
    done(DraftStep::Flat);
    let toe = toe.map_err(|fault| told_of(fault, UpperPiece::Toe, told));
    let heel = heel.map_err(|fault| told_of(fault, UpperPiece::Heel, told));
    let ((toe, easing), heel) = (toe.ok()?, heel.ok()?);
    Some(LaidFlat {
        toe,
        heel,
        easing,
        zone,
        donning,
        casing,
        one_length,
    })
}

fn meshed(
    mesh: Result<MeshedPatch, MeshFault>,
    piece: UpperPiece,
    told: &mut Told<'_>,
) -> Option<MeshedPatch> {
    if mesh.is_err() {
        told.refuse(
            "shoe-folds",
            format!(
                "The {} piece is too narrow somewhere to be laid flat.",
                piece.words()
            ),
            "Raise the sides or move the side marks.",
        );
    }
    mesh.ok()
}

fn told_of(fault: FlatFault, piece: UpperPiece, told: &mut Told<'_>) {
    let message = match fault {
        FlatFault::Folded => format!("The flat {} piece folds over itself.", piece.words()),
        FlatFault::Mesh => format!(
            "The {} piece is too narrow somewhere to be laid flat.",
            piece.words()
        ),
    };
    told.refuse("shoe-folds", message, "Less ease or a lower toe is needed.");
}

/// How far the heel piece is from its own mirror image; infinite where its sides do not compare.
fn halves_differ(heel: &FlatPatch) -> f64 {
    let points = UpperEdge::around(UpperPiece::Heel).map(|edge| heel.edge_points(edge));
    let [sole, inner, top, outer] = points;
    if inner.len() != outer.len() {
        return f64::INFINITY;
    }
    [(&sole, &sole), (&top, &top), (&inner, &outer)]
        .into_iter()
        .flat_map(|(edge, image)| edge.iter().zip(image.iter().rev()))
        .map(|(p, q)| (p.x + q.x).hypot(p.y - q.y))
        .fold(0.0, f64::max)
}

fn outline(edges: &PieceEdges, piece: UpperPiece, told: &mut Told<'_>) -> Option<Outline> {
    let named = edges
        .chains
        .iter()
        .map(|(edge, chain)| Edge::new(edge.name(), edges::on_page(chain)));
    let outline = Outline::new(named.collect());
    let sound = outline.and_then(|outline| outline.check_simple().map(|()| outline));
    if sound.is_err() {
        told_of(FlatFault::Folded, piece, told);
    }
    sound.ok()
}
