//! What a designer should know of a shoe that could be drafted. Millimetres.

use super::choices::ShoeChoices;
use super::easing::Easing;
use super::shoe_form::ShoeForm;
use super::told::Told;
use crate::foot::form::{FootForm, FootSide};
use crate::geometry::space::Vec3;

/// Less room than this between foot and cloth, mm, rubs.
const LEAST_ROOM: f64 = 0.2;

/// Less than this, mm, is no error of the net on which it is measured.
const OUTSIDE: f64 = -0.05;

/// Above this share of the bend height the form closes over the foot.
const OPEN: f64 = 0.9;

/// A fullness that exceeds the cloth's limit by less than this share is taken up by the form.
const CLOSE: f64 = 1.25;

/// Tells all warnings and returns the smallest room between the foot and the middle of the cloth.
pub(super) fn tell(
    foot: &FootForm,
    form: &ShoeForm,
    easing: &Easing,
    choices: &ShoeChoices,
    told: &mut Told<'_>,
) -> f64 {
    fullness(easing, choices, told);
    let bend = foot.measures.bend_height;
    let points = form.toplines.iter().flatten();
    let highest = points.map(|p| p.point.z).fold(0.0, f64::max);
    if highest > OPEN * bend {
        told.warn(
            "shoe-topline",
            format!(
                "The topline rises to {highest:.1} mm, near the bend of the ankle at {bend:.1} mm, \
                 where the form closes over the foot."
            ),
            "Lower the topline; boots above the bend are not drafted.",
        );
    }
    let radius = throat_radius(form);
    if radius < choices.allowance {
        told.warn(
            "shoe-throat",
            format!(
                "The throat is rounded with about {radius:.1} mm, less than its allowance of {:.1} \
                 mm: it cannot be turned without many clips.",
                choices.allowance
            ),
            "Make the throat angle greater or the allowance smaller.",
        );
    }
    let room = smallest_room(foot, form);
    if room < OUTSIDE {
        told.refuse(
            "shoe-ease",
            format!(
                "The foot stands out of the shoe by {:.1} mm somewhere.",
                -room
            ),
            "Raise the ease round the sole, or correct the heel by less.",
        );
    } else if room < LEAST_ROOM {
        told.warn(
            "shoe-ease",
            format!("Between the foot and the cloth there are only {room:.2} mm somewhere."),
            "Raise the ease round the sole a little.",
        );
    }
    room
}

/// Tells of more fullness than the cloth eases.
pub(super) fn too_full(easing: &Easing, choices: &ShoeChoices, told: &mut Told<'_>) {
    let kind = choices.cloth.kind.words();
    told.warn(
        "shoe-fullness",
        format!(
            "The toe piece has {:.1} mm of fullness, {kind} eases {:.1} mm.",
            easing.used, easing.cap
        ),
        "Gather it with a thread, or take tucks.",
    );
}

fn fullness(easing: &Easing, choices: &ShoeChoices, told: &mut Told<'_>) {
    if easing.used > easing.cap + 1e-9 {
        too_full(easing, choices, told);
    } else if easing.natural > easing.cap && easing.used < easing.natural {
        let message = format!(
            "The toe wants {:.1} mm of fullness, this cloth eases {:.1} mm.",
            easing.natural, easing.cap
        );
        if easing.natural > CLOSE * easing.cap {
            let remedy = "Gather it with a thread, or use cloth that eases more: wool felt and knit ease most.";
            told.warn("shoe-fullness", message, remedy);
        } else {
            let remedy = "It is drafted with that; the toe comes out a little flatter. A gathering thread \
                          takes up the rest (‘fullness’).";
            told.note("shoe-fullness", message, remedy);
        }
    }
}

/// The radius of the throat seen from above, mm: the topline falls from the ridge by β while the
/// section falls as the square of the distance from it (a = 2).
fn throat_radius(form: &ShoeForm) -> f64 {
    let surface = &form.surface;
    let x = form.cut.throat;
    let height = surface.height(x);
    let slope = (surface.height(x + 0.01) - surface.height(x - 0.01)) / 0.02;
    let half = 0.5 * surface.edge.width(x);
    let (_, rise) = surface.exponents(x);
    let bend = 2.0 * height / (rise * half * half);
    (slope.abs() + form.cut.throat_angle.to_radians().tan()) / bend
}

/// Points of the foot that are looked at on each side, along and up.
const FOOT_POINTS: (usize, usize) = (48, 14);

/// The net of the shoe's surface, along and up, and how far along from the same share of the way the
/// nearest point is sought.
const NET: (usize, usize) = (90, 40);
const WINDOW: usize = 7;

/// The smallest way from the foot, below the topline, out to the shoe's surface, mm; negative where
/// the foot stands out of it.
fn smallest_room(foot: &FootForm, form: &ShoeForm) -> f64 {
    let mut smallest = f64::INFINITY;
    for side in FootSide::BOTH {
        let net = net(form, side);
        let whole = foot.form.edge.length(side);
        for i in 0..FOOT_POINTS.0 {
            let share = i as f64 / (FOOT_POINTS.0 - 1) as f64;
            let section = foot.form.section(side, share * whole);
            let highest = topline_above(form, side, share);
            for j in 0..FOOT_POINTS.1 {
                let place = 0.05 + 0.92 * j as f64 / (FOOT_POINTS.1 - 1) as f64;
                let point = section.point(place);
                if point.z < highest {
                    smallest = smallest.min(way_out(&net, share, point, foot.length));
                }
            }
        }
    }
    smallest
}

/// Height of the topline at this share of the way from toe to heel; infinite before the throat.
fn topline_above(form: &ShoeForm, side: FootSide, share: f64) -> f64 {
    let distance = share * form.surface.edge.length(side);
    if distance <= form.toplines[side as usize][0].distance {
        return f64::INFINITY;
    }
    form.point(side, distance, form.topline_place(side, distance))
        .z
}

fn net(form: &ShoeForm, side: FootSide) -> Vec<Vec<Vec3>> {
    let whole = form.surface.edge.length(side);
    let line = |i: usize| {
        let section = form
            .surface
            .section(side, whole * i as f64 / (NET.0 - 1) as f64);
        let point = |j: usize| section.point(j as f64 / (NET.1 - 1) as f64);
        (0..NET.1).map(point).collect()
    };
    (0..NET.0).map(line).collect()
}

/// The way from `point` to the tangent plane of the net at its nearest point.
fn way_out(net: &[Vec<Vec3>], share: f64, point: Vec3, length: f64) -> f64 {
    let middle = (share * (NET.0 - 1) as f64).round() as usize;
    let lines = middle.saturating_sub(WINDOW)..(middle + WINDOW + 1).min(NET.0);
    let mut nearest = (f64::INFINITY, 0, 0);
    for i in lines {
        for (j, other) in net[i].iter().enumerate() {
            let away = *other - point;
            let square = away.dot(away);
            if square < nearest.0 {
                nearest = (square, i, j);
            }
        }
    }
    let (_, i, j) = nearest;
    let (before, after) = (i.saturating_sub(1), (i + 1).min(NET.0 - 1));
    let (below, above) = (j.saturating_sub(1), (j + 1).min(NET.1 - 1));
    let normal = (net[after][j] - net[before][j])
        .cross(net[i][above] - net[i][below])
        .unit();
    // Outward is away from a point low inside the shoe.
    let inside = Vec3::new(0.4 * length, 0.0, 3.0);
    let outward = if normal.dot(net[i][j] - inside) < 0.0 {
        -normal
    } else {
        normal
    };
    (net[i][j] - point).dot(outward)
}
