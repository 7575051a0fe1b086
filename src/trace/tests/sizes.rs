//! What tells the size of a picture, where two things tell it differently.

use super::scene::{Round, Scene};
use super::{codes, errors, foot, on_sheet};
use crate::diagnostic::Diagnostics;
use crate::trace::{Wish, trace};
use kurbo::Point;
use std::f64::consts::PI;

/// A4 fitted to Letter is printed 279.4/297 = 0.9407 high if its width is let be (ISO 216, ANSI Y14.1).
#[test]
fn a_stretched_sheet_is_refused_and_in_a_scan_told() {
    let right = Round {
        centre: Point::new(42.0, 10.0),
        turned: -0.5 * PI,
        ..foot(0.0, 0.0)
    };
    for printed in [[1.0, 279.4 / 297.0], [0.97, 1.0], [1.0, 0.985]] {
        let scene = Scene {
            printed,
            ..on_sheet(vec![right])
        };
        let mut said = Diagnostics::default();
        assert!(trace(&scene.jpeg(85), &Wish::default(), &mut said).is_none());
        assert_eq!(codes(&said), ["trace-stretched"], "{printed:?}");
        let per_100 = printed.map(|share| format!("{:.0}", 100.0 * share * scene.per_mm));
        let message = &said.iter().next().unwrap().message;
        let figures = format!("{} pixels across and {} down", per_100[0], per_100[1]);
        assert!(message.contains(&figures), "{message}");
        // the resolution of a scan is true whatever the printer did
        let wish = Wish {
            dots_per_inch: Some(scene.per_mm * 25.4),
            ..Wish::default()
        };
        let mut said = Diagnostics::default();
        let sheet = trace(&scene.jpeg(85), &wish, &mut said).unwrap_or_else(|| panic!("{said:?}"));
        assert_eq!(codes(&said), ["trace-stretched"], "{said:?}");
        let off = errors(&sheet.shapes[0], &right, None);
        assert!(off[0] < 0.003 && off[2] < 0.35, "{off:?}");
    }
}

/// No tilt that can be straightened passes for a stretched print, nor does an edge that is bent by the lens.
#[test]
fn a_sheet_seen_aslant_is_not_called_stretched() {
    let right = foot(42.0, 10.0);
    for (tilt, bend) in [(4.0, 0.0), (8.0, 0.03), (12.0, -0.03), (0.0, 0.05)] {
        let scene = Scene {
            tilt,
            bend,
            ..on_sheet(vec![right])
        };
        let mut said = Diagnostics::default();
        assert!(
            trace(&scene.jpeg(85), &Wish::default(), &mut said).is_some(),
            "{tilt} {bend}: {said:?}"
        );
    }
}

#[test]
fn a_resolution_that_is_said_against_the_file_is_told_with_both_figures() {
    let scene = Scene {
        dots: Some(200),
        ..Scene::scan(foot(0.0, 0.0))
    };
    let said_of = |dots: f64| {
        let wish = Wish {
            dots_per_inch: Some(dots),
            ..Wish::default()
        };
        let mut said = Diagnostics::default();
        trace(&scene.jpeg(90), &wish, &mut said);
        let told = said.iter().find(|d| d.code == "trace-resolution");
        told.map(|d| d.message.clone())
    };
    let told = said_of(100.0).unwrap();
    assert!(
        told.contains("100 pixels") && told.contains("says 200"),
        "{told}"
    );
    assert!(told.contains("2.00 times"), "{told}");
    assert_eq!(said_of(200.0), None);
}
