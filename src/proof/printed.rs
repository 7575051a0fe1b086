//! What a printer puts on whole sheets, also outside the trim: boxes of all ink, sizes of letters,
//! thickness of lines. Boxes in mm, y down, from the upper left corner of the sheet; letters and lines in
//! points, as printers speak of them.

use super::POINTS;
use super::ink::InkKind;
use super::pictures::Pictures;
use hayro_interpret::font::Glyph;
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, GlyphDrawMode, Image, InterpreterCache,
    InterpreterSettings, Paint, PathDrawMode, SoftMask, interpret_page,
};
use hayro_syntax::Pdf;
use hayro_syntax::object::Rect as Box;
use hayro_syntax::page::Page;
use kurbo::{Affine, BezPath, Rect, Shape};
use std::collections::{BTreeSet, HashMap};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Paint with all three colours above this is white: it leaves no ink.
const WHITE: f32 = 0.995;

/// Paint fainter than this is invisible.
const FAINT: f32 = 0.004;

/// Glyphs are given in thousandths of the em.
const EM: f64 = 1000.0;

/// A sheet as it leaves the printer.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// Width and height of the sheet, mm.
    pub size: [f64; 2],
    /// What is left when it is trimmed.
    pub trim: Rect,
    /// How far ink may run over the trim.
    pub bleed: Rect,
    /// Everything that leaves ink.
    pub marks: Vec<Mark>,
}

/// Something that leaves ink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// What it is.
    pub kind: InkKind,
    /// Its box, cut by its clips and the sheet.
    pub bounds: Rect,
    /// Size of a letter's type, or thickness of a line where it is thinnest; points, 0 for others.
    pub points: f64,
    /// Whether the tags count it to a picture.
    pub in_picture: bool,
}

/// Reads all sheets. `None` if the file cannot be read, which [`super::reading::read`] told before: it
/// also bounds what is read here.
pub fn read(bytes: &[u8]) -> Option<Vec<Printed>> {
    // a young library: see `reading::read`
    catch_unwind(AssertUnwindSafe(|| read_sheets(bytes)))
        .ok()
        .flatten()
}

fn read_sheets(bytes: &[u8]) -> Option<Vec<Printed>> {
    let pdf = Pdf::new(bytes.to_vec()).ok()?;
    let mut pictures = Pictures::of(&pdf);
    let cache = InterpreterCache::new();
    let mut glyphs = HashMap::new();
    let mut sheets = Vec::new();
    for page in pdf.pages().iter() {
        let pictures = pictures.on(page);
        sheets.push(read_sheet(page, &pdf, &cache, pictures, &mut glyphs));
    }
    Some(sheets)
}

fn read_sheet<'a>(
    page: &Page<'a>,
    pdf: &'a Pdf,
    cache: &InterpreterCache<'a>,
    pictures: BTreeSet<i32>,
    glyphs: &mut GlyphBoxes,
) -> Printed {
    let unit = page.raw().get::<f64>("UserUnit");
    // ISO 32000-1, 8.3.2.3: a unit of user space is UserUnit / 72 in.
    let unit = unit.filter(|u| u.is_finite() && *u > 0.0).unwrap_or(1.0) / POINTS;
    let to_sheet = Affine::scale(unit) * Affine::new(page.initial_transform(true).as_coeffs());
    let crop = page.intersected_crop_box();
    let placed = |b: Box| to_sheet.transform_rect_bbox(Rect::new(b.x0, b.y0, b.x1, b.y1));
    let whole = placed(crop);
    let named = |key: &str| page.raw().get::<Box>(key).map(placed);
    let mut inspector = Inspector {
        whole,
        clips: Vec::new(),
        content: Vec::new(),
        pictures,
        glyphs,
        marks: Vec::new(),
    };
    let settings = InterpreterSettings::default();
    let mut context = Context::new(to_sheet, whole, cache, pdf.xref(), settings);
    interpret_page(page, &mut context, &mut inspector);
    Printed {
        size: [whole.width(), whole.height()],
        trim: named("TrimBox").unwrap_or(whole),
        bleed: named("BleedBox").unwrap_or(whole),
        marks: inspector.marks,
    }
}

/// Boxes of glyphs by font and number, as their fonts give them: the outline of a glyph is worked out once.
type GlyphBoxes = HashMap<(u128, u32), Rect>;

/// Notes what leaves ink.
struct Inspector<'g> {
    whole: Rect,
    clips: Vec<Rect>,
    /// For each open marked content whether it belongs to a picture.
    content: Vec<bool>,
    pictures: BTreeSet<i32>,
    glyphs: &'g mut GlyphBoxes,
    marks: Vec<Mark>,
}

impl Inspector<'_> {
    fn leave(&mut self, kind: InkKind, bounds: Rect, points: f64) {
        let window = self.clips.last().copied().unwrap_or(self.whole);
        let seen = Rect::new(
            bounds.x0.max(window.x0),
            bounds.y0.max(window.y0),
            bounds.x1.min(window.x1),
            bounds.y1.min(window.y1),
        );
        if seen.x0 <= seen.x1 && seen.y0 <= seen.y1 {
            self.marks.push(Mark {
                kind,
                bounds: seen,
                points,
                in_picture: self.content.last().copied().unwrap_or(false),
            });
        }
    }
}

/// Whether paint leaves ink; a pattern does.
fn leaves_ink(paint: &Paint<'_>) -> bool {
    match paint {
        Paint::Pattern(_) => true,
        Paint::Color(colour) => {
            let [red, green, blue, alpha] = colour.to_rgba().components();
            alpha > FAINT && [red, green, blue].iter().any(|c| *c <= WHITE)
        }
    }
}

/// The least scale of a transform in any direction: its smaller singular value.
fn least_scale(transform: Affine) -> f64 {
    let [a, b, c, d, _, _] = transform.as_coeffs();
    let (sum, product) = (a * a + b * b + c * c + d * d, (a * d - b * c).abs());
    let root = (sum * sum / 4.0 - product * product).max(0.0).sqrt();
    (sum / 2.0 - root).max(0.0).sqrt()
}

impl<'a> Device<'a> for Inspector<'_> {
    fn draw_path(
        &mut self,
        path: &BezPath,
        transform: Affine,
        paint: &Paint<'a>,
        draw_mode: &PathDrawMode,
    ) {
        if !leaves_ink(paint) {
            return;
        }
        let bounds = (transform * path).bounding_box();
        match draw_mode {
            PathDrawMode::Fill(_) => self.leave(InkKind::Area, bounds, 0.0),
            PathDrawMode::Stroke(props) => {
                let thickness = f64::from(props.line_width).abs();
                let half = thickness * transform.determinant().abs().sqrt() / 2.0;
                let points = thickness * least_scale(transform) * POINTS;
                self.leave(InkKind::Line, bounds.inflate(half, half), points);
            }
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
        if matches!(draw_mode, GlyphDrawMode::Invisible) || !leaves_ink(paint) {
            return;
        }
        let Glyph::Outline(glyph) = glyph else {
            return;
        };
        let key = (glyph.font_cache_key(), glyph.glyph_id().to_u32());
        let own = self.glyphs.entry(key);
        let own = *own.or_insert_with(|| glyph.outline().bounding_box());
        if own.width() > 0.0 || own.height() > 0.0 {
            let placed = transform * glyph_transform;
            let points = placed.determinant().abs().sqrt() * EM * POINTS;
            self.leave(InkKind::Glyph, placed.transform_rect_bbox(own), points);
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, transform: Affine) {
        let (width, height) = (f64::from(image.width()), f64::from(image.height()));
        let bounds = transform.transform_rect_bbox(Rect::new(0.0, 0.0, width, height));
        self.leave(InkKind::Picture, bounds, 0.0);
    }

    fn push_clip_path(&mut self, clip_path: &ClipPath) {
        let outer = self.clips.last().copied().unwrap_or(self.whole);
        let own = clip_path.path.bounding_box();
        self.clips.push(outer.intersect(own));
    }

    fn pop_clip_path(&mut self) {
        self.clips.pop();
    }

    fn begin_marked_content(&mut self, _: &[u8], number: Option<i32>) {
        let outer = self.content.last().copied().unwrap_or(false);
        let own = number.is_some_and(|number| self.pictures.contains(&number));
        self.content.push(outer || own);
    }

    fn end_marked_content(&mut self) {
        self.content.pop();
    }

    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn pop_transparency_group(&mut self) {}
}
