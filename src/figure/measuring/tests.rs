//! The guide over the four known feet.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::diagnostic::Diagnostics;
use crate::foot::form::fixture;
use crate::language::Words;

const WIDTH: f64 = 78.0;

/// Of each foot with usual letters, and with those of large print.
fn guides() -> Vec<(Foot, MeasuringGuide)> {
    let known = fixture::known().into_iter();
    let sizes = known.flat_map(|(spec, _)| [(spec.clone(), 1.0), (spec, 1.5)]);
    sizes
        .map(|(spec, larger)| {
            let mut said = Diagnostics::default();
            let foot = Foot::new(&spec, &mut said).unwrap();
            let form = FootForm::new(&foot, &mut said).unwrap();
            let guide = measuring_guide(&foot, &form, (WIDTH, larger), &Words::default()).unwrap();
            (foot, guide)
        })
        .collect()
}

#[test]
fn every_measure_of_the_foot_has_its_number_in_the_list_and_in_a_drawing() {
    for (foot, guide) in guides() {
        for (name, value) in &foot.measures {
            let line = guide.legend.iter().find(|line| line.1 == name).unwrap();
            assert_eq!(line.2, Some(*value), "{name}");
        }
        let words = Words::default();
        for (number, name, _) in &guide.legend {
            let badges = guide.badges.iter().filter(|b| b.number == *number);
            assert_eq!(badges.count(), 1, "{name}");
            assert!(words.find(&format!("how measured.{name}")).is_some());
            let figure = guide.badges.iter().find(|b| b.number == *number).unwrap();
            let alt = &guide.figures[figure.figure].alt;
            assert!(alt.contains(&format!("{number} {name}")), "{alt}");
        }
    }
}

#[test]
fn numbers_stand_apart_and_inside_their_drawing() {
    for (foot, guide) in guides() {
        for (index, badge) in guide.badges.iter().enumerate() {
            let figure = &guide.figures[badge.figure];
            let (x, y, r) = (badge.at.x, badge.at.y, badge.radius);
            assert!(x >= r && x <= figure.width - r && y >= r && y <= figure.height - r);
            for other in &guide.badges[index + 1..] {
                let apart = badge.at.distance(other.at);
                assert!(
                    badge.figure != other.figure || apart > 2.0 * r + 0.5,
                    "{} and {} on a foot of {:.0} mm",
                    badge.number,
                    other.number,
                    foot.length
                );
            }
        }
    }
}

#[test]
fn drawings_keep_to_their_width() {
    for (_, guide) in guides() {
        for figure in &guide.figures {
            assert!((figure.width - WIDTH).abs() < 1e-9);
            let text = String::from_utf8(figure.svg.clone()).unwrap();
            // every number of a path: x and y in turn
            for data in text.split(" d=\"").skip(1) {
                let data = data.split('"').next().unwrap();
                let path = kurbo::BezPath::from_svg(data).unwrap();
                let bounds = kurbo::Shape::bounding_box(&path);
                assert!(bounds.x0 >= 0.0 && bounds.x1 <= WIDTH, "{bounds:?}");
                assert!(bounds.y0 >= 0.0 && bounds.y1 <= figure.height, "{bounds:?}");
            }
        }
    }
}

#[test]
fn a_tape_has_the_length_that_was_measured() {
    // The course drawn is the section of the surface, the measure a tape drawn tight over it; on
    // sections that bulge everywhere both are one (closed form: perimeter of a convex curve).
    for (spec, _) in fixture::known() {
        let mut said = Diagnostics::default();
        let foot = Foot::new(&spec, &mut said).unwrap();
        let form = FootForm::new(&foot, &mut said).unwrap();
        let solid = body::Body::new(&form).unwrap();
        for measure in [Measure::BallGirth, Measure::InstepGirth] {
            let course = tapes::tape(&form, &solid, measure);
            let lengths = course
                .iter()
                .map(|c| crate::figure::drawing::polyline::length(&c.points));
            let (drawn, measured) = (lengths.sum::<f64>(), measure.value(&foot).unwrap());
            assert!((drawn / measured - 1.0).abs() < 0.01, "{drawn} {measured}");
        }
    }
}

#[test]
fn a_guide_is_drawn_the_same_every_time() {
    let [first, second] = [guides(), guides()];
    for ((_, a), (_, b)) in first.iter().zip(&second) {
        assert_eq!(a, b);
    }
}

/// Writes the drawings of the four feet into the folder named by `MEASURING_GUIDE`, to look at.
#[test]
#[ignore = "writes files"]
fn write() {
    let Ok(folder) = std::env::var("MEASURING_GUIDE") else {
        return;
    };
    for (foot, guide) in guides() {
        for (index, figure) in guide.figures.iter().enumerate() {
            let path = format!("{folder}/{:.0}-{index}.svg", foot.length);
            std::fs::write(path, &figure.svg).unwrap();
        }
    }
}
