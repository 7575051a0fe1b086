//! Where the cloth of a shoe must give: toe piece and heel piece laid flat, tinted by how much more
//! or less cloth there is than on the shoe's form. Millimetres on paper; line tints only.

use super::Figure;
use super::small::OUTER;
use crate::draft::shoe::{FlatMesh, NotchedPiece, Shoe, ShoeNotch, UpperPiece};
use crate::geometry::Outline;
use crate::geometry::bands::Field;
use crate::plates::ink::{Stroke, path_of};
use crate::plates::svg::{Svg, path_data};
use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape, Vec2};

#[cfg(test)]
mod tests;

/// Space between the pieces, and between them and the key.
const GAP: f64 = 6.0;

/// The largest scale: a small foot's pieces are drawn no larger than this.
const LARGEST: f64 = 2.0;

/// Rounds in which strain is smoothed: single triangles of the mesh are not what cloth does.
const SMOOTHING: usize = 4;

/// Swatches of the key: width, height, space between.
const SWATCH: (f64, f64, f64) = (9.0, 5.5, 2.5);

/// Depth and half base of a notch's triangle.
const NOTCH: (f64, f64) = (1.4, 0.75);

const fn solid(width: f64) -> Stroke {
    Stroke {
        width,
        dash: None,
        round: false,
    }
}

/// A step of strain, shares of the cloth's area; each has a tint of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// Less cloth than on the form: it is stretched there.
    Stretched,
    /// As on the form.
    Even,
    /// A little to ease.
    Little,
    /// To be eased.
    Eased,
    /// Much to be eased.
    Much,
}

impl Step {
    const ALL: [Step; 5] = [
        Step::Stretched,
        Step::Even,
        Step::Little,
        Step::Eased,
        Step::Much,
    ];

    /// The limits between which the step lies (from judgement: 2 in 100 is nothing in any cloth, 10 in
    /// 100 the most that felt takes).
    fn limits(self) -> (f64, f64) {
        match self {
            Step::Stretched => (f64::NEG_INFINITY, -0.02),
            Step::Even => (-0.02, 0.02),
            Step::Little => (0.02, 0.06),
            Step::Eased => (0.06, 0.10),
            Step::Much => (0.10, f64::INFINITY),
        }
    }

    /// Draws the step's tint over `bounds`.
    fn paint(self, svg: &mut Svg, bounds: Rect) {
        match self {
            Step::Even => {}
            Step::Stretched => svg.stroke(None, &level_dashes(bounds), solid(0.16)),
            Step::Little => svg.fill(&dots(bounds, 1.5)),
            Step::Eased => svg.stroke(None, &slanted(bounds, 1.1, 1.0), solid(0.14)),
            Step::Much => {
                svg.stroke(None, &slanted(bounds, 0.9, 1.0), solid(0.16));
                svg.stroke(None, &slanted(bounds, 0.9, -1.0), solid(0.16));
            }
        }
    }
}

/// One piece and how it is shown.
struct Shown<'a> {
    outline: &'a Outline,
    mesh: &'a FlatMesh,
    notches: Vec<&'a ShoeNotch>,
    values: Vec<f64>,
}

impl<'a> Shown<'a> {
    fn new(shoe: &'a Shoe, piece: UpperPiece) -> Self {
        let (outline, notched) = match piece {
            UpperPiece::Toe => (&shoe.toe, NotchedPiece::Toe),
            UpperPiece::Heel => (&shoe.heel, NotchedPiece::Heel),
        };
        let mesh = shoe.flat_mesh(piece);
        let field = Field {
            points: &mesh.points,
            triangles: &mesh.triangles,
            values: &mesh.area_strain,
        };
        Self {
            values: field.smoothed(SMOOTHING),
            outline,
            mesh,
            notches: shoe.notches.iter().filter(|n| n.piece == notched).collect(),
        }
    }

    fn region(&self, step: Step) -> BezPath {
        let (low, high) = step.limits();
        let field = Field {
            points: &self.mesh.points,
            triangles: &self.mesh.triangles,
            values: &self.values,
        };
        field.band(low, high)
    }

    /// Draws the piece; `id` must be unique in the drawing.
    fn draw(&self, svg: &mut Svg, onto: Affine, id: &str) {
        let outline = onto * self.outline.path();
        svg.fill_with(&outline, "#ffffff");
        for (number, step) in Step::ALL.into_iter().enumerate() {
            let region = onto * self.region(step);
            if step != Step::Even && !region.elements().is_empty() {
                clipped(svg, &region, &format!("{id}{number}"), |svg| {
                    step.paint(svg, region.bounding_box());
                });
            }
        }
        svg.stroke(None, &outline, OUTER);
        for notch in &self.notches {
            svg.fill(&self.triangle(notch, onto));
        }
    }

    /// A notch's triangle, its base on the seam line, its point inward.
    fn triangle(&self, notch: &ShoeNotch, onto: Affine) -> BezPath {
        let Some(edge) = self.outline.edge(notch.edge) else {
            return BezPath::new();
        };
        let station = edge.station(notch.distance);
        let base = onto * station.point;
        let along = station.tangent * NOTCH.1;
        // Outlines run clockwise on the page: inside lies to the right.
        let inward = Vec2::new(-station.tangent.y, station.tangent.x) * NOTCH.0;
        let mut path = path_of(&[base - along, base + along, base + inward]);
        path.close_path();
        path
    }
}

/// Both flat pieces of `shoe` side by side in a room `width` mm wide, at the largest scale in whole
/// percent up to 200, with a key of the tints beneath. The tints stand for five steps of strain:
/// less than -2 in 100 level dashes, up to 2 nothing, up to 6 dots, up to 10 hatching, beyond
/// hatching both ways.
#[must_use]
pub fn strain_picture(shoe: &Shoe, width: f64) -> Figure {
    let pieces = [UpperPiece::Toe, UpperPiece::Heel].map(|piece| Shown::new(shoe, piece));
    let bounds = pieces.each_ref().map(|piece| piece.outline.bounds());
    let natural: f64 = bounds.iter().map(Rect::width).sum();
    let room = (width - GAP - 4.0 * OUTER.width).max(1.0);
    let scale = (100.0 * (room / natural.max(1e-9)).min(LARGEST))
        .floor()
        .max(1.0)
        / 100.0;
    let sizes = bounds.map(|b| b.size().to_vec2() * scale + Vec2::splat(2.0 * OUTER.width));
    let high = sizes[0].y.max(sizes[1].y);
    let key = 5.0 * SWATCH.0 + 4.0 * SWATCH.2 + 2.0 * OUTER.width;
    let across = (sizes[0].x + GAP + sizes[1].x).max(key);
    let down = high + GAP + SWATCH.1 + 2.0 * OUTER.width;
    let mut svg = Svg::new(across, down);
    let mut x = 0.5 * (across - sizes[0].x - GAP - sizes[1].x);
    for (number, piece) in pieces.iter().enumerate() {
        let at = Vec2::new(x, 0.5 * (high - sizes[number].y)) + Vec2::splat(OUTER.width);
        let onto = Affine::translate(at)
            * Affine::scale(scale)
            * Affine::translate(-bounds[number].origin().to_vec2());
        piece.draw(&mut svg, onto, ["toe", "heel"][number]);
        x += sizes[number].x + GAP;
    }
    draw_key(
        &mut svg,
        Point::new(0.5 * (across - key) + OUTER.width, high + GAP),
    );
    Figure {
        svg: svg.finish(),
        width: across,
        height: down,
        alt: words(shoe, &pieces, scale),
        scale,
    }
}

/// The steps in their order, as small squares.
fn draw_key(svg: &mut Svg, at: Point) {
    for (number, step) in Step::ALL.into_iter().enumerate() {
        let x = at.x + number as f64 * (SWATCH.0 + SWATCH.2);
        let square = Rect::new(x, at.y, x + SWATCH.0, at.y + SWATCH.1);
        let path = square.to_path(0.1);
        clipped(svg, &path, &format!("key{number}"), |svg| {
            step.paint(svg, square)
        });
        svg.stroke(None, &path, solid(0.25));
    }
}

fn clipped(svg: &mut Svg, region: &BezPath, id: &str, paint: impl FnOnce(&mut Svg)) {
    let clip = path_data(region);
    svg.push(&format!(
        "<clipPath id=\"{id}\"><path d=\"{clip}\"/></clipPath><g clip-path=\"url(#{id})\">"
    ));
    paint(svg);
    svg.push("</g>\n");
}

/// What the picture shows: where the toe piece wants easing, how much, and what the key means.
fn words(shoe: &Shoe, pieces: &[Shown<'_>; 2], scale: f64) -> String {
    let [toe, heel] = pieces;
    let mut words = format!(
        "Toe piece and heel piece laid flat, drawn at {:.0} in 100.",
        100.0 * scale
    );
    let peak = (0..toe.values.len()).max_by(|a, b| toe.values[*a].total_cmp(&toe.values[*b]));
    match peak.map(|index| (toe.values[index], toe.mesh.points[index])) {
        Some((most, at)) if most >= Step::Little.limits().0 => {
            words.push_str(&format!(
                " The toe piece wants most easing near the {}, {:.0} in 100 more cloth than the form; \
                 {:.0} in 100 of it want easing. Between the ease notches its sole edge is {:.1} mm \
                 fuller than the sole.",
                nearest_notch(toe, at),
                100.0 * most,
                100.0 * share_above(toe, Step::Little.limits().0),
                shoe.easing.used
            ));
        }
        _ => words.push_str(" The toe piece wants no easing."),
    }
    let stretched = share_below(toe, Step::Even.limits().0);
    if stretched >= 0.005 {
        words.push_str(&format!(
            " {:.0} in 100 of it are stretched a little.",
            100.0 * stretched
        ));
    }
    if share_above(heel, Step::Little.limits().0) < 0.005 {
        words.push_str(" The heel piece lies flat.");
    } else if shoe.casing.is_some_and(|casing| casing.added > 0.0) {
        words.push_str(" The heel piece has the cloth that is gathered at its back.");
    }
    words.push_str(
        " Key, left to right: stretched, as on the form, up to 6, up to 10, and more than 10 in 100 to \
         ease.",
    );
    words
}

/// The name of the notch nearest to a point of the piece.
fn nearest_notch(piece: &Shown<'_>, at: Point) -> &'static str {
    let distance = |notch: &ShoeNotch| {
        let edge = piece.outline.edge(notch.edge);
        edge.map_or(f64::INFINITY, |e| {
            e.station(notch.distance).point.distance(at)
        })
    };
    let near = piece.notches.iter();
    let near = near.min_by(|a, b| distance(a).total_cmp(&distance(b)));
    near.map_or("toe", |notch| notch.name)
}

/// The share of a piece's area whose strain lies above, or below, a limit.
fn share_above(piece: &Shown<'_>, limit: f64) -> f64 {
    share(piece, limit, f64::INFINITY)
}

fn share_below(piece: &Shown<'_>, limit: f64) -> f64 {
    share(piece, f64::NEG_INFINITY, limit)
}

fn share(piece: &Shown<'_>, low: f64, high: f64) -> f64 {
    let field = Field {
        points: &piece.mesh.points,
        triangles: &piece.mesh.triangles,
        values: &piece.values,
    };
    field.band(low, high).area().abs() / piece.outline.area().max(1e-9)
}

/// Short level dashes, every second row half a step along.
fn level_dashes(bounds: Rect) -> BezPath {
    const PITCH: f64 = 1.1;
    const DASH: (f64, f64) = (1.3, 2.2);
    let mut path = BezPath::new();
    let rows = (bounds.height() / PITCH).ceil() as usize;
    let columns = (bounds.width() / DASH.1).ceil() as usize + 1;
    for row in 0..=rows {
        let y = bounds.y0 + (row as f64 + 0.5) * PITCH;
        let shift = if row % 2 == 0 { 0.0 } else { 0.5 * DASH.1 };
        for column in 0..=columns {
            let x = bounds.x0 + column as f64 * DASH.1 - shift;
            path.move_to((x, y));
            path.line_to((x + DASH.0, y));
        }
    }
    path
}

fn dots(bounds: Rect, pitch: f64) -> BezPath {
    const RADIUS: f64 = 0.17;
    let mut path = BezPath::new();
    let rows = (bounds.height() / pitch).ceil() as usize;
    let columns = (bounds.width() / pitch).ceil() as usize;
    for row in 0..rows {
        for column in 0..columns {
            let x = bounds.x0 + (column as f64 + 0.5) * pitch;
            let y = bounds.y0 + (row as f64 + 0.5) * pitch;
            path.extend(Circle::new((x, y), RADIUS).path_elements(0.01));
        }
    }
    path
}

/// Lines at 45 degrees, `pitch` apart; `turn` 1 rises to the right, -1 to the left.
fn slanted(bounds: Rect, pitch: f64, turn: f64) -> BezPath {
    let mut path = BezPath::new();
    let step = pitch * std::f64::consts::SQRT_2;
    let high = bounds.height();
    let count = ((bounds.width() + high) / step).ceil() as usize;
    for number in 0..=count {
        let x = bounds.x0 - high + number as f64 * step;
        let (low, top) = if turn > 0.0 {
            (x, x + high)
        } else {
            (x + high, x)
        };
        path.move_to((low, bounds.y1));
        path.line_to((top, bounds.y0));
    }
    path
}
