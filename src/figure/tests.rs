//! Checks of figures made from invented pieces.

use super::{Figure, Look, Tint, key, pieces};
use crate::language::Words;
use crate::plates::fixtures::{heel, on_fold, sole, strap, toe};
use kurbo::{BezPath, Rect, Shape};

/// Bounds of everything stroked or filled, without clipped tints.
fn drawn(figure: &Figure) -> Rect {
    let text = String::from_utf8(figure.svg.clone()).expect("text");
    let tree = roxmltree::Document::parse(&text).expect("SVG");
    let outside_clips = |n: &roxmltree::Node<'_, '_>| {
        !n.ancestors()
            .any(|a| a.has_tag_name("clipPath") || a.has_tag_name("g"))
    };
    tree.descendants()
        .filter(outside_clips)
        .filter_map(|n| n.attribute("d"))
        .map(|d| BezPath::from_svg(d).expect("path data").bounding_box())
        .reduce(|a, b| a.union(b))
        .expect("something is drawn")
}

fn is_within(figure: &Figure) -> bool {
    let drawn = drawn(figure);
    drawn.x0 >= -0.01
        && drawn.y0 >= -0.01
        && drawn.x1 <= figure.width + 0.01
        && drawn.y1 <= figure.height + 0.01
}

#[test]
fn pieces_together_fit_their_room_at_one_scale() {
    let all = [
        toe(1.7, 4.8),
        heel(75.0, 22.0, 4.8),
        strap(96.0),
        sole(1.55, 4.8),
        on_fold(),
    ];
    let all: Vec<_> = all.iter().collect();
    for tint in [Tint::Right, Tint::Wrong, Tint::Lining, Tint::Stiffener] {
        let look = Look {
            tint,
            ..Look::within(118.0, 90.0)
        };
        let figure = pieces(&all, &look, &Words::default());
        assert!(figure.width <= 118.0 && figure.height <= 90.0);
        assert!(figure.scale > 0.3 && figure.scale <= 1.0);
        assert!(is_within(&figure));
        assert!(
            figure.alt.contains("1 Toe piece")
                && figure.alt.contains(" drawn at")
                && figure.alt.contains("\u{a0}%")
        );
        let text = String::from_utf8_lossy(&figure.svg).into_owned();
        assert!(!text.contains("<text"), "figures need no fonts");
    }
}

#[test]
fn the_key_has_one_figure_a_piece_at_a_common_scale() {
    let all = [toe(1.7, 4.8), heel(75.0, 22.0, 4.8), sole(1.55, 4.8)];
    let all: Vec<_> = all.iter().collect();
    let figures = key(&all, 40.0, 35.0, &Words::default());
    assert_eq!(figures.len(), 3);
    for figure in &figures {
        assert_eq!(figure.scale, figures[0].scale);
        assert!(figure.width <= 40.0 && figure.height <= 35.0 && is_within(figure));
    }
    assert_eq!(
        figures[0].scale_words(&Words::default()),
        format!("{:.0}\u{a0}%", figures[0].scale * 100.0)
    );
}
