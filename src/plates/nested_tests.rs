//! Checks of nested sizes: what they lie on, how they are told apart, and their layers.

use super::fixtures::{board, job, on_fold, piece, size, small_shoes};
use super::label::Label;
use super::nested::{Nest, common_point};
use super::{PlateJob, PlateSet, Sheet, caption, field, nested_names, plan};
use crate::language::Words;
use crate::piece::{Mark, MarkKind, Piece, SizedPieces};
use crate::plates::drawing::Drawing;
use kurbo::{Affine, BezPath, Line, Point, Rect, Shape, Vec2};

/// A bib `k` times 60 by 50 mm with a curved lower edge, all round 4 mm of allowance.
fn bib(k: f64) -> Piece {
    let data = [
        format!("M0 0 L{} 0", 60.0 * k),
        format!("M{x} 0 C{x} {y} 0 {y} 0 0", x = 60.0 * k, y = 62.0 * k),
    ];
    let edges = [("top", data[0].as_str()), ("round", data[1].as_str())];
    let mut bib = piece(1, "bib", "Bib", &edges, 4.0);
    bib.common_point = Some(Point::new(30.0 * k, 0.0));
    bib
}

fn three(make: impl Fn(f64) -> Vec<Piece>, shares: [f64; 3]) -> Vec<SizedPieces> {
    let titles = ["Small", "Medium", "Large"];
    let sized = titles.iter().zip(shares);
    sized
        .map(|(title, k)| size(&title.to_lowercase(), title, "", make(k)))
        .collect()
}

fn bibs() -> Vec<SizedPieces> {
    three(|k| vec![bib(k)], [1.0, 1.35, 1.7])
}

fn nested_job(paper: &str) -> PlateJob {
    PlateJob {
        nested: vec![vec![0, 1, 2]],
        ..job(paper)
    }
}

fn nested(sizes: &[SizedPieces]) -> PlateSet {
    plan(sizes, &nested_job("a4")).expect("the fixtures fit")
}

/// Lines with this `id` of the piece at `index` on a sheet, with the size that the part belongs to.
fn drawn(set: &PlateSet, sheet: &Sheet, index: usize, id: &str) -> Vec<(usize, BezPath)> {
    let placed = &sheet.pieces[index];
    let by = Affine::translate(placed.place.origin().to_vec2());
    let mut found = Vec::new();
    for part in &placed.parts {
        let text = String::from_utf8(set.files()[&part.file].clone()).expect("text");
        let tree = roxmltree::Document::parse(&text).expect("SVG");
        for node in tree.descendants().filter(|n| n.attribute("id") == Some(id)) {
            let data = node.attribute("d").expect("data");
            let path = BezPath::from_svg(data).expect("path data");
            found.push((part.layers[0], by * path));
        }
    }
    found
}

#[test]
fn common_points_coincide_and_nothing_is_turned() {
    let sizes = bibs();
    let nest = Nest::of("bib", &[0, 1, 2], &sizes, &Words::default()).expect("three sizes");
    for quarters in [0, 1] {
        let drawing = Drawing::of(&nest, quarters);
        let points: Vec<Point> = nest
            .members
            .iter()
            .map(|m| drawing.placed * (common_point(m.piece) + nest.onto_common(m)))
            .collect();
        assert!(points.iter().all(|p| p.distance(points[0]) <= 1e-9));
        for (lines, member) in drawing.sizes.iter().zip(&nest.members) {
            let whole = drawing.placed * Affine::translate(nest.onto_common(member));
            let intended = whole * &member.piece.cut_line;
            let pairs = lines.cut.segments().zip(intended.segments());
            assert!(
                pairs.clone().all(|(a, b)| {
                    use kurbo::ParamCurve;
                    a.eval(0.3).distance(b.eval(0.3)) <= 1e-9
                }) && pairs.count() == intended.segments().count()
            );
        }
    }
}

#[test]
fn every_size_is_drawn_as_it_was_computed() {
    let sizes = bibs();
    let set = nested(&sizes);
    assert_eq!(set.page_count(), 1);
    let sheet = &set.sheets[0];
    assert_eq!(sheet.pieces.len(), 1);
    assert_eq!(sheet.pieces[0].sizes, ["small", "medium", "large"]);
    let cuts = drawn(&set, sheet, 0, "cut");
    let seams = drawn(&set, sheet, 0, "seam");
    assert_eq!((cuts.len(), seams.len()), (3, 3));
    for (own, path) in &cuts {
        let piece = &sizes[*own].pieces[0];
        // SVG coordinates have six decimals
        let (a, b) = (path.bounding_box(), piece.cut_line.bounding_box());
        assert!((a.width() - b.width()).abs() < 1e-5 && (a.height() - b.height()).abs() < 1e-5);
        assert!((path.area() - piece.cut_line.area()).abs() < 1e-3);
    }
    for size in &sizes {
        assert_eq!(set.where_is(&size.size, "bib"), [1]);
    }
    assert!(
        set.plan()
            .iter()
            .all(|s| s.sheets == [0] && s.shared.len() == 2)
    );
}

#[test]
fn dots_tell_the_sizes_apart() {
    let set = nested(&bibs());
    let arrays = |id: &str| -> Vec<Vec<f64>> {
        let parts = set.sheets[0].pieces[0].parts.iter();
        parts
            .filter_map(|part| {
                let text = String::from_utf8(set.files()[&part.file].clone()).expect("text");
                let tree = roxmltree::Document::parse(&text).expect("SVG");
                let node = tree.descendants().find(|n| n.attribute("id") == Some(id))?;
                assert_eq!(node.attribute("stroke-linecap"), Some("round"));
                let array = node.attribute("stroke-dasharray").expect("dashes");
                Some(
                    array
                        .split(' ')
                        .map(|n| n.parse().expect("a number"))
                        .collect(),
                )
            })
            .collect()
    };
    // house style for cut lines; a dash and gap for the first size, a dot and gap more for each
    for (index, array) in arrays("cut").iter().enumerate() {
        assert_eq!(array.len(), 2 + 2 * index);
        assert!((array.iter().sum::<f64>() - (9.0 + 1.25 * (index as f64 + 1.0))).abs() < 1e-6);
    }
    for (index, array) in arrays("seam").iter().enumerate() {
        assert!((array.iter().sum::<f64>() - (2.4 + 0.9 * (index as f64 + 1.0))).abs() < 1e-6);
    }
    let label = &set.sheets[0].labels[0];
    assert_eq!(label.samples.len(), 3);
    assert_eq!(label.size, None);
}

/// Distance of an upright or turned name from a line.
fn nearest(name: &Label, lines: &[Line]) -> f64 {
    let line = &name.lines[0];
    let upright = Rect::new(
        -line.width / 2.0 + 0.15,
        -line.face.height() * line.points * 25.4 / 72.0,
        line.width / 2.0 - 0.15,
        0.0,
    );
    let turn = Affine::translate(line.at.to_vec2()) * Affine::rotate(line.turn.to_radians());
    let corners = upright.path_segments(0.1).map(|s| turn * s);
    let mut least = f64::INFINITY;
    for segment in corners {
        for step in 0..=20 {
            let point = kurbo::ParamCurve::eval(&segment, f64::from(step) / 20.0);
            for line in lines {
                least = least.min(field::distance(point, *line));
            }
        }
    }
    least
}

#[test]
fn every_size_is_named_at_three_places_clear_of_all_lines_and_nearest_to_its_own() {
    for sizes in [bibs(), three(|k| vec![bib(k)], [1.0, 1.08, 1.16])] {
        let set = nested(&sizes);
        assert_eq!(set.notes.iter().count(), 0, "{:?}", set.notes);
        let sheet = &set.sheets[0];
        let flat = |id: &str| -> Vec<(usize, Vec<Line>)> {
            let lines = drawn(&set, sheet, 0, id).into_iter();
            lines
                .map(|(size, path)| (size, field::flat(&path, 0.01)))
                .collect()
        };
        let (cuts, seams) = (flat("cut"), flat("seam"));
        for own in 0..3 {
            let names = sheet.pieces[0].names.iter().filter(|n| n.size == Some(own));
            let names: Vec<&Label> = names.collect();
            assert!(names.len() >= 3, "{}", names.len());
            for name in names {
                assert!(name.lines[0].points >= 7.2 && name.lines[0].text == sizes[own].title);
                let to_own = nearest(name, &cuts[own].1);
                for (size, lines) in cuts.iter().chain(&seams) {
                    let near = nearest(name, lines);
                    assert!(near >= 0.6, "{near}");
                    match name.dot {
                        Some(dot) => {
                            let far = |l: &Line| field::distance(dot, *l);
                            let far = lines.iter().map(far).fold(f64::INFINITY, f64::min);
                            assert!(*size == own || far >= 1.2 - 0.06, "{far}");
                        }
                        None => assert!(*size == own || near > to_own + 0.5, "{near} {to_own}"),
                    }
                }
            }
        }
    }
}

#[test]
fn short_pieces_and_lines_that_run_together_stay_side_by_side() {
    // house style: under 25 mm with several sizes there is a band for each size
    let short = nested(&three(
        |k| vec![board(1, "tab", 20.0 * k, 14.0)],
        [1.0, 1.05, 1.1],
    ));
    assert_eq!(short.sheets[0].pieces.len(), 3);
    assert_eq!(short.notes.iter().count(), 0);
    let close = nested(&three(
        |k| vec![board(1, "strap", 90.0 + k, 30.0)],
        [0.0, 5.0, 10.0],
    ));
    assert!(
        close
            .sheets
            .iter()
            .flat_map(|s| &s.pieces)
            .all(|p| p.sizes.len() == 1)
    );
    let codes: Vec<&str> = close.notes.iter().map(|d| d.code).collect();
    assert_eq!(codes, ["sizes-not-nested"]);
}

#[test]
fn folds_lie_on_one_line() {
    let half = |k: f64| {
        let mut half = on_fold();
        let grow = Affine::scale(k);
        half.outline = half.outline.transformed(grow);
        half.cut_line = grow * &half.cut_line;
        vec![half]
    };
    let sizes = three(half, [1.0, 1.2, 1.4]);
    let nest = Nest::of("gusset", &[0, 1, 2], &sizes, &Words::default()).expect("three sizes");
    assert_eq!(nest.fault(), None);
    // half way up the fold of each: x 0, y 48 k
    let middle = common_point(nest.members[1].piece);
    assert!(middle.distance(Point::new(0.0, 57.6)) <= 1e-9);
    let mut apart = sizes.clone();
    apart[2].pieces[0].common_point = Some(Point::new(5.0, 40.0));
    let nest = Nest::of("gusset", &[0, 1, 2], &apart, &Words::default()).expect("three sizes");
    assert_eq!(nest.fault(), Some(super::nested::Fault::Folds));
}

#[test]
fn marks_on_each_other_are_drawn_once_and_others_carry_their_size() {
    let mark = |x: f64, y: f64| Mark {
        kind: MarkKind::Button {
            at: Point::new(x, y),
            diameter: 8.0,
        },
        words: None,
    };
    let make = |k: f64| {
        let mut bib = bib(k);
        // 8 mm below the common point in every size, and low down
        bib.marks = vec![mark(30.0 * k, 8.0), mark(30.0 * k, 20.0 * k)];
        vec![bib]
    };
    let sizes = three(make, [1.0, 1.35, 1.7]);
    let nest = Nest::of("bib", &[0, 1, 2], &sizes, &Words::default()).expect("three sizes");
    assert_eq!(nest.shared_marks(), [true, false]);
    let drawing = Drawing::of(&nest, 0);
    let captions = caption::captions(&nest, &drawing, &[]);
    assert!(!captions.unnamed);
    let said: Vec<_> = captions
        .lines
        .iter()
        .map(|l| (l.text.as_str(), l.size))
        .collect();
    let wanted = [("Small", Some(0)), ("Medium", Some(1)), ("Large", Some(2))];
    assert_eq!(said, wanted);
    let names = nested_names::names(&nest, &drawing, (&[], &captions.room), &|_| true);
    assert!(super::nested_groups::all_are_named(&nest, &names));
}

#[test]
fn after_each_crossing_a_line_is_named_anew() {
    let make = |title, width, height| size(title, title, "", vec![board(1, "mat", width, height)]);
    let sizes = [make("Wide", 120.0, 50.0), make("High", 60.0, 110.0)];
    let nest = Nest::of("mat", &[0, 1], &sizes, &Words::default()).expect("two sizes");
    let drawing = Drawing::of(&nest, 0);
    let names = nested_names::names(&nest, &drawing, (&[], &[]), &|_| true);
    // they cross at four places, so that each line has four stretches; three names would do for its length
    assert_eq!(nested_names::least(&nest), 3);
    for size in [0, 1] {
        let own = names.iter().filter(|name| name.size == Some(size));
        assert!(own.count() >= 4, "size {size}");
    }
}

#[test]
fn layers_are_the_sizes_and_the_allowances() {
    let set = nested(&bibs());
    let names = ["Size Small", "Size Medium", "Size Large", "Seam allowances"];
    assert_eq!(set.layers(), names);
    let layers: Vec<&[usize]> = set.sheets[0].pieces[0]
        .parts
        .iter()
        .map(|p| &p.layers[..])
        .collect();
    assert_eq!(layers, [&[0, 3][..], &[0], &[1, 3], &[1], &[2, 3], &[2]]);

    // side by side: label and drawing of a size on its layer
    let set = plan(&small_shoes(), &job("a4")).expect("the shoes fit");
    assert_eq!(
        set.layers(),
        ["Size Small", "Size Large", "Seam allowances"]
    );
    for sheet in &set.sheets {
        for (placed, label) in sheet.pieces.iter().zip(&sheet.labels) {
            let size = usize::from(placed.sizes == ["large"]);
            assert!(placed.parts.iter().all(|p| p.layers[0] == size));
            assert!(placed.parts.iter().any(|p| p.layers == [size, 2]));
            assert_eq!(label.size, Some(size));
        }
    }

    let plain = size("one", "One size", "", vec![board(1, "mat", 60.0, 40.0)]);
    let set = plan(&[plain], &job("a4")).expect("it fits");
    assert!(set.layers().is_empty());
    assert!(
        set.sheets[0].pieces[0]
            .parts
            .iter()
            .all(|p| p.layers.is_empty())
    );
}

#[test]
fn a_large_nested_piece_is_spread_with_all_its_sizes() {
    let sizes = three(|k| vec![bib(k)], [3.6, 4.0, 4.4]);
    let set = nested(&sizes);
    let sheets: Vec<&Sheet> = set.sheets.iter().filter(|s| s.letter.is_some()).collect();
    assert!(sheets.len() >= 2);
    for sheet in &sheets {
        assert_eq!(sheet.pieces[0].sizes.len(), 3);
        assert!(!sheet.pieces[0].names.is_empty(), "names on every sheet");
        for name in &sheet.pieces[0].names {
            let frame = sheet.furniture.as_ref().expect("a frame").frame;
            let room = Rect::from_origin_size(Point::ZERO, frame);
            assert!(room.contains_rect(name.bounds()), "{:?}", name.bounds());
        }
    }
    let names = sheets.iter().flat_map(|s| &s.pieces[0].names);
    let large = names.filter(|n| n.size == Some(2)).count();
    assert!(large >= 3, "{large}");
    // all parts are moved alike
    let origin = sheets[0].pieces[0].place.origin() - sheets[1].pieces[0].place.origin();
    assert!(origin != Vec2::ZERO);
}

#[test]
fn the_key_is_told_the_line_of_each_size() {
    let set = nested(&bibs());
    let looks = set.looks();
    let told: Vec<_> = looks
        .iter()
        .map(|l| (l.titles.join(", "), l.dots))
        .collect();
    let wanted = [("Small", 0), ("Medium", 1), ("Large", 2)];
    assert_eq!(told, wanted.map(|(title, dots)| (title.to_string(), dots)));
    // the same dashes as the lines on the plates
    let file = set
        .files()
        .into_iter()
        .find(|(name, _)| name.ends_with("-3-cut.svg"));
    let text = String::from_utf8(file.expect("the last size's cut line").1).expect("text");
    let dashes: Vec<String> = looks[2]
        .cut
        .iter()
        .map(|l| super::svg::number(*l))
        .collect();
    assert!(text.contains(&format!("stroke-dasharray=\"{}\"", dashes.join(" "))));
    assert!(
        plan(&small_shoes(), &job("a4"))
            .expect("they fit")
            .looks()
            .is_empty()
    );
}
