//! Notes down what the drawing operations of a page leave on it. Millimetres, y down, on the
//! trimmed page; see [`super::sheet`] for what is left out.

use super::sheet::{DrawnLine, Ink, InkKind};
use hayro_interpret::font::Glyph;
use hayro_interpret::{
    BlendMode, ClipPath, Device, GlyphDrawMode, Image, Paint, PathDrawMode, SoftMask, StrokeProps,
};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use std::collections::BTreeMap;

/// Paint with all three colours above this is white: it leaves no ink.
const WHITE: f32 = 0.995;

/// Paint fainter than this is invisible.
const FAINT: f32 = 0.004;

/// Ends of a line that lie nearer than this, mm, close it.
const CLOSED_WITHIN: f64 = 1e-3;

/// Coordinates beyond this, mm, lie on no sheet; such paths are dropped before they can upset
/// curve arithmetic.
const FAR: f64 = 1e5;

/// The box of a glyph that is drawn by operations of its own (colour letters), in thousandths of
/// the em: an em square with the usual descent, since its true box is not worth following.
const DRAWN_GLYPH: Rect = Rect::new(0.0, -250.0, 1000.0, 1000.0);

/// Records one page after the other. Boxes of glyphs are kept from page to page.
#[derive(Debug, Default)]
pub struct Recorder {
    page: Rect,
    clips: Vec<Rect>,
    lines: Vec<DrawnLine>,
    ink: Vec<Ink>,
    glyphs: BTreeMap<(u128, u32), Rect>,
}

impl Recorder {
    /// Starts a page whose trimmed box is `page`.
    pub fn begin(&mut self, page: Rect) {
        self.page = page;
        self.clips.clear();
    }

    /// Ends the page and gives its closed lines and its ink.
    pub fn finish(&mut self) -> (Vec<DrawnLine>, Vec<Ink>) {
        (
            std::mem::take(&mut self.lines),
            std::mem::take(&mut self.ink),
        )
    }

    fn window(&self) -> Rect {
        self.clips.last().copied().unwrap_or(self.page)
    }

    fn leave(&mut self, kind: InkKind, bounds: Rect) {
        let window = self.window();
        let seen = Rect::new(
            bounds.x0.max(window.x0),
            bounds.y0.max(window.y0),
            bounds.x1.min(window.x1),
            bounds.y1.min(window.y1),
        );
        if seen.x0 <= seen.x1 && seen.y0 <= seen.y1 {
            self.ink.push(Ink { kind, bounds: seen });
        }
    }

    fn stroke(&mut self, path: BezPath, transform: Affine, colour: [f32; 3], props: &StrokeProps) {
        let width = f64::from(props.line_width).abs() * transform.determinant().abs().sqrt();
        if width.is_nan() || width > FAR {
            return;
        }
        let bounds = path.bounding_box();
        self.leave(InkKind::Line, bounds.inflate(width / 2.0, width / 2.0));
        if is_ring(&path) {
            let window = self.window();
            self.lines.push(DrawnLine {
                path,
                bounds,
                width,
                dashed: props.dash_array.iter().any(|d| *d > 0.0),
                colour,
                window,
            });
        }
    }

    fn glyph_box(&mut self, glyph: &Glyph<'_>) -> Rect {
        let Glyph::Outline(glyph) = glyph else {
            return DRAWN_GLYPH;
        };
        let key = (glyph.font_cache_key(), glyph.glyph_id().to_u32());
        *self
            .glyphs
            .entry(key)
            .or_insert_with(|| glyph.outline().bounding_box())
    }
}

/// The colour of `paint` if it leaves ink; black for a pattern.
fn inked(paint: &Paint<'_>) -> Option<[f32; 3]> {
    match paint {
        Paint::Pattern(_) => Some([0.0; 3]),
        Paint::Color(color) => {
            let [red, green, blue, alpha] = color.to_rgba().components();
            let white = red > WHITE && green > WHITE && blue > WHITE;
            (!white && alpha > FAINT).then_some([red, green, blue])
        }
    }
}

/// Whether `path` is one closed subpath.
fn is_ring(path: &BezPath) -> bool {
    let elements = path.elements();
    let moves = elements
        .iter()
        .filter(|e| matches!(e, PathEl::MoveTo(_)))
        .count();
    let Some(PathEl::MoveTo(start)) = elements.first() else {
        return false;
    };
    let closed = match elements.last() {
        Some(PathEl::ClosePath) => true,
        Some(last) => last
            .end_point()
            .is_some_and(|end| end.distance(*start) < CLOSED_WITHIN),
        None => false,
    };
    moves == 1 && closed && elements.len() > 3
}

/// `path` on the page, unless a coordinate is no number or lies on no sheet.
fn on_page(path: &BezPath, transform: Affine) -> Option<BezPath> {
    let near = |p: &Point| p.x.abs() < FAR && p.y.abs() < FAR;
    let placed = transform * path;
    let sound = placed.elements().iter().all(|element| match element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => near(a),
        PathEl::QuadTo(a, b) => near(a) && near(b),
        PathEl::CurveTo(a, b, c) => near(a) && near(b) && near(c),
        PathEl::ClosePath => true,
    });
    (sound && !placed.is_empty()).then_some(placed)
}

impl<'a> Device<'a> for Recorder {
    fn draw_path(
        &mut self,
        path: &BezPath,
        transform: Affine,
        paint: &Paint<'a>,
        draw_mode: &PathDrawMode,
    ) {
        let Some((colour, path)) = inked(paint).zip(on_page(path, transform)) else {
            return;
        };
        match draw_mode {
            PathDrawMode::Fill(_) => self.leave(InkKind::Area, path.bounding_box()),
            PathDrawMode::Stroke(props) => self.stroke(path, transform, colour, props),
        }
    }

    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'a>,
        transform: Affine,
        glyph_transform: Affine,
        paint: &Paint<'a>,
        draw_mode: &GlyphDrawMode,
    ) {
        if matches!(draw_mode, GlyphDrawMode::Invisible) || inked(paint).is_none() {
            return;
        }
        let own = self.glyph_box(glyph);
        if own.width() > 0.0 || own.height() > 0.0 {
            let bounds = (transform * glyph_transform).transform_rect_bbox(own);
            self.leave(InkKind::Glyph, bounds);
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, transform: Affine) {
        let pixels = Rect::new(
            0.0,
            0.0,
            f64::from(image.width()),
            f64::from(image.height()),
        );
        self.leave(InkKind::Picture, transform.transform_rect_bbox(pixels));
    }

    fn push_clip_path(&mut self, clip_path: &ClipPath) {
        let (outer, own) = (self.window(), clip_path.path.bounding_box());
        self.clips.push(outer.intersect(own));
    }

    fn pop_clip_path(&mut self) {
        self.clips.pop();
    }

    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn pop_transparency_group(&mut self) {}
}
