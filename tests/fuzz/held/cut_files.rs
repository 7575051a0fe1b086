//! Files for cutters: what is written of any pieces is read back as the same pieces.

use super::design::{computed, folder};
use super::read_back::{self, Drawing};
use super::sketch;
use arbitrary::{Result, Unstructured};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point, Shape};
use pressfoot::diagnostic::Diagnostics;
use pressfoot::export;
use pressfoot::geometry::curve;
use pressfoot::piece::{MarkKind, Piece};
use pressfoot::pipeline::Computed;

/// How far a length may be off, mm.
const OFF: f64 = 0.01;

/// Lines nearer to each other than this are cut as one, mm, with a little for how it is looked for.
const SAME: f64 = 0.011;

/// Makes pieces of `bytes`, writes them for cutters and reads them back.
pub fn check(bytes: &[u8]) {
    // bytes that end too early are no input
    let _ = checked(&mut Unstructured::new(bytes));
}

fn checked(bytes: &mut Unstructured<'_>) -> Result<()> {
    let text = sketch::design(bytes)?;
    let file = ("design.yaml".to_string(), text.into_bytes());
    let said = &mut Diagnostics::default();
    let Some(computed) = computed(&folder(vec![file]), said) else {
        return Ok(());
    };
    if !said.has_errors() {
        drawn(&computed);
        exchanged(&computed);
    }
    Ok(())
}

/// The drawings for cutters, each piece and each layout.
fn drawn(computed: &Computed) {
    let bought = &computed.materials.bought;
    let files = export::cut_files(&computed.design, &computed.sizes, bought);
    for sized in &computed.sizes {
        for piece in &sized.pieces {
            let name = format!("cut/{}/{}.svg", sized.size, piece.key.replace(' ', "-"));
            let file = files.iter().find(|file| file.name == name);
            let file = file.unwrap_or_else(|| panic!("no file {name}"));
            let drawing = Drawing::read(&file.text);
            assert_eq!(drawing.outlines.len(), 1, "{name}: {}", file.text);
            let (there, here) = (drawing.length(), opened(piece));
            // a line that lies on another is cut once
            let is_whole = (there - here).abs() <= OFF;
            assert!(
                is_whole || there < here && here - there <= doubled(piece) + OFF,
                "{name}: {there} mm, not {here} mm\n{}",
                file.text
            );
            assert!(drawing.holes <= 2 * holes(piece), "{name} has more holes");
            assert_eq!(drawing.holes == 0, holes(piece) == 0, "{name} has no holes");
        }
    }
    let laid = bought.iter().flat_map(|bought| &bought.for_machine().laid);
    let laid: usize = laid.map(|laid| laid.placed.len()).sum();
    let on_cloth = |name: &str| {
        let ending = name.rsplit_once('-').map_or("", |(_, ending)| ending);
        !name.contains("/piece-") && (ending == "roll.svg" || name.contains("-sheet-"))
    };
    let layouts = files.iter().filter(|file| on_cloth(&file.name));
    let outlines = layouts.map(|file| Drawing::read(&file.text).outlines.len());
    assert_eq!(
        outlines.sum::<usize>(),
        laid,
        "pieces are missing on the cloth"
    );
}

/// The file for programs of the trade.
fn exchanged(computed: &Computed) {
    let text = export::dxf(&computed.design, &computed.sizes, None);
    let blocks = read_back::blocks(&text);
    let pieces: Vec<&Piece> = computed.sizes.iter().flat_map(|s| &s.pieces).collect();
    assert_eq!(blocks.len(), pieces.len());
    for (block, piece) in blocks.iter().zip(pieces) {
        assert_eq!(block.boundary.len(), 1, "{}", piece.key);
        let here = curve::length(&piece.cut_line, 1e-6);
        let off = (block.length() - here).abs();
        assert!(
            off <= OFF,
            "{}: {} mm, not {here} mm",
            piece.key,
            block.length()
        );
        assert_eq!(block.drilled, holes(piece), "{}", piece.key);
    }
}

fn holes(piece: &Piece) -> usize {
    let hole = |kind: &MarkKind| matches!(kind, MarkKind::Hole { .. });
    piece.marks.iter().filter(|mark| hole(&mark.kind)).count()
}

/// How much of the cut line, opened out, lies no further from the rest of it than two lines that are cut as one.
fn doubled(piece: &Piece) -> f64 {
    let segments: Vec<PathSeg> = piece.cut_line.segments().collect();
    let copies = if piece.fold.is_some() { 2.0 } else { 1.0 };
    let on_another = |number: usize, point: Point| {
        let others = segments.iter().enumerate();
        others
            .filter(|(other, _)| *other != number)
            .any(|(_, other)| other.nearest(point, 1e-6).distance_sq.sqrt() < SAME)
    };
    let of_one = |(number, segment): (usize, &PathSeg)| {
        let length = segment.arclen(1e-6);
        let looks = (length / SAME).ceil().clamp(1.0, 1e5);
        let step = length / looks;
        // at its ends every segment lies on its neighbours
        let within = 2..(looks as usize).saturating_sub(2);
        let points = within.map(|look| segment.eval((look as f64 + 0.5) / looks));
        step * points.filter(|point| on_another(number, *point)).count() as f64
    };
    copies * segments.iter().enumerate().map(of_one).sum::<f64>()
}

/// The length of the cut line, of one on the fold when it is opened out.
fn opened(piece: &Piece) -> f64 {
    let line: &BezPath = &piece.cut_line;
    let fold = piece
        .fold
        .as_deref()
        .and_then(|fold| piece.outline.edge(fold));
    let Some(fold) = fold else {
        return curve::length(line, 1e-6);
    };
    let along = (fold.end() - fold.start()).normalize();
    let on_fold = |segment: &PathSeg| {
        let off = |share: f64| (segment.eval(share) - fold.start()).cross(along).abs();
        [0.0, 0.3, 0.7, 1.0]
            .into_iter()
            .all(|share| off(share) < 1e-3)
    };
    let open = line.segments().filter(|segment| !on_fold(segment));
    let half: f64 = open.map(|s| s.arclen(1e-6)).sum();
    assert!(line.area() > 0.0);
    2.0 * half
}
