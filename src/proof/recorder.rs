//! Notes down what the drawing operations of a page leave on it. Millimetres, y down, on the
//! trimmed page; see [`super::sheet`] for what is left out.

use super::ink::{DrawnLine, Ink, InkKind, Tone, places};
use super::letter::Letter;
use super::look::{FAINT, FAR, Look, dashes_of, inked, is_ring, is_upright, on_page};
use super::paint::{HalfRing, OPAQUE, Paint};
use super::sheet::Sheet;
use hayro_cmap::BfString;
use hayro_interpret::font::Glyph;
use hayro_interpret::{
    BlendMode, ClipPath, Device, FillRule, GlyphDrawMode, Image, Paint as Brush, PathDrawMode,
    SoftMask,
};
use kurbo::{Affine, BezPath, Point, Rect, Shape};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The box of a glyph that is drawn by operations of its own (colour letters), in thousandths of
/// the em: an em square with the usual descent, since its true box is not worth following.
const DRAWN_GLYPH: Rect = Rect::new(0.0, -250.0, 1000.0, 1000.0);

/// Clips one in another: the box of what they leave, and whether all are upright rectangles.
#[derive(Debug, Clone, Copy)]
struct Clip {
    bounds: Rect,
    upright: bool,
}

/// Records one page after the other. Boxes of glyphs are kept from page to page.
#[derive(Debug, Default)]
pub struct Recorder {
    page: Rect,
    clips: Vec<Clip>,
    group_opacities: Vec<f32>,
    order: usize,
    recorded: Sheet,
    glyphs: BTreeMap<(u128, u32), Known>,
    /// Numbers of the marked content that is open, the outermost first.
    content: Vec<Option<i32>>,
    /// Letters and marked content are passed over: lines alone are looked at.
    lines_only: bool,
}

/// A glyph met before: its box in its own axes, and what it reads.
#[derive(Debug, Clone)]
struct Known {
    bounds: Rect,
    text: Arc<str>,
}

impl Recorder {
    /// One that passes over letters.
    pub fn of_lines() -> Self {
        Self {
            lines_only: true,
            ..Self::default()
        }
    }

    /// Starts a page whose trimmed box is `page`.
    pub fn begin(&mut self, page: Rect) {
        self.page = page;
        self.clips.clear();
        self.group_opacities.clear();
        self.content.clear();
        self.order = 0;
    }

    /// Ends the page and gives what it holds, without its measures and links.
    pub fn finish(&mut self) -> Sheet {
        std::mem::take(&mut self.recorded)
    }

    fn clip(&self) -> Clip {
        let whole = Clip {
            bounds: self.page,
            upright: true,
        };
        self.clips.last().copied().unwrap_or(whole)
    }

    /// The part of a box that its clips leave, if any.
    fn seen(&self, bounds: Rect) -> Option<Rect> {
        let window = self.clip().bounds;
        let seen = Rect::new(
            bounds.x0.max(window.x0),
            bounds.y0.max(window.y0),
            bounds.x1.min(window.x1),
            bounds.y1.min(window.y1),
        );
        (seen.x0 <= seen.x1 && seen.y0 <= seen.y1).then_some(seen)
    }

    fn leave(&mut self, kind: InkKind, bounds: Rect) {
        if let Some(seen) = self.seen(bounds) {
            self.recorded.ink.push(Ink { kind, bounds: seen });
            if let Some(content) = self.content_number() {
                let extent = self.recorded.extents.entry(content).or_insert(seen);
                *extent = extent.union(seen);
            }
        }
    }

    /// Number of the innermost marked content that has one.
    fn content_number(&self) -> Option<i32> {
        self.content.iter().rev().find_map(|number| *number)
    }

    /// Notes a letter, whether or not its clips leave anything of it.
    fn letter(&mut self, known: &Known, place: Affine, look: Option<Look>) {
        if self.lines_only {
            return;
        }
        let bounds = place.transform_rect_bbox(known.bounds);
        let far = bounds.x0.abs().max(bounds.y0.abs()) > FAR;
        if far || !bounds.is_finite() {
            return;
        }
        let alpha = look.map_or(1.0, |look| look.alpha) * self.group_opacity();
        self.recorded.letters.push(Letter {
            text: known.text.clone(),
            own: known.bounds,
            place,
            bounds,
            seen: self.seen(bounds).unwrap_or(Rect::ZERO),
            plain: alpha >= OPAQUE && look.is_none_or(Look::is_plain),
            order: self.order,
            content: self.content_number(),
        });
    }

    /// Opacity of the groups in which something is painted now.
    fn group_opacity(&self) -> f32 {
        self.group_opacities.iter().product()
    }

    /// Notes paint that can be seen.
    fn lay(&mut self, path: &BezPath, look: Option<Look>, stroke: Option<f64>, even_odd: bool) {
        self.order += 1;
        let half = stroke.unwrap_or(0.0) / 2.0;
        let alpha = look.map_or(1.0, |look| look.alpha) * self.group_opacity();
        let seen = self.seen(path.bounding_box().inflate(half, half));
        if let Some(seen) = seen.filter(|_| alpha > FAINT) {
            self.recorded.paint.push(Paint {
                order: self.order,
                path: path.clone(),
                stroke,
                even_odd,
                colour: look.map(|look| look.colour),
                alpha,
                seen,
            });
        }
    }

    /// Notes the ink of a line; a `plain` one, dark enough to be followed, may be an outline.
    fn stroke(
        &mut self,
        path: BezPath,
        width: f64,
        colour: [f32; 3],
        plain: bool,
        dashes: Vec<f64>,
    ) {
        let bounds = path.bounding_box();
        self.leave(InkKind::Line, bounds.inflate(width / 2.0, width / 2.0));
        let clip = self.clip();
        if !plain {
            return;
        }
        if is_ring(&path) {
            self.recorded.lines.push(DrawnLine {
                path,
                bounds,
                width,
                dashed: !dashes.is_empty(),
                dashes,
                colour,
                window: if clip.upright {
                    clip.bounds
                } else {
                    Rect::ZERO
                },
                order: self.order,
            });
        } else if let Some(half) = HalfRing::of(&path)
            && clip.bounds.contains(half.centre)
        {
            self.recorded.half_rings.push(half);
        }
    }

    /// Notes the colour of a letter or a line; that of a pattern is not one.
    fn tone(
        &mut self,
        kind: InkKind,
        look: Option<Look>,
        bounds: Rect,
        places: impl FnOnce(Rect) -> Vec<Point>,
    ) {
        let (Some(Look { colour, alpha }), Some(seen)) = (look, self.seen(bounds)) else {
            return;
        };
        let alpha = alpha * self.group_opacity();
        if alpha > FAINT {
            self.recorded.tones.push(Tone {
                kind,
                order: self.order,
                colour,
                alpha,
                seen,
                points: places(self.clip().bounds),
            });
        }
    }

    /// Notes a white letter: it leaves no ink, and can be read on a dark ground only.
    fn white(
        &mut self,
        glyph: &Glyph<'_>,
        place: Affine,
        (paint, mode): (&Brush<'_>, &GlyphDrawMode),
    ) {
        let known = self.known(glyph);
        let look = Look::of(paint);
        let is_text = matches!(mode, GlyphDrawMode::Fill) && known.bounds.area() > 0.0;
        if is_text && look.is_some_and(|look| look.alpha * self.group_opacity() > FAINT) {
            let bounds = place.transform_rect_bbox(known.bounds);
            self.order += 1;
            let middle = |window: Rect| vec![bounds.intersect(window).center()];
            self.tone(InkKind::Glyph, look, bounds, middle);
            self.letter(&known, place, look);
        }
    }

    fn known(&mut self, glyph: &Glyph<'_>) -> Known {
        let text = |glyph: &Glyph<'_>| match glyph.as_unicode() {
            Some(BfString::Char(letter)) => Arc::from(letter.to_string()),
            Some(BfString::String(letters)) => Arc::from(letters),
            None => Arc::from(""),
        };
        let Glyph::Outline(outline) = glyph else {
            return Known {
                bounds: DRAWN_GLYPH,
                text: text(glyph),
            };
        };
        let key = (outline.font_cache_key(), outline.glyph_id().to_u32());
        let known = self.glyphs.entry(key).or_insert_with(|| Known {
            bounds: outline.outline().bounding_box(),
            text: text(glyph),
        });
        known.clone()
    }
}

impl<'a> Device<'a> for Recorder {
    fn draw_path(
        &mut self,
        path: &BezPath,
        transform: Affine,
        paint: &Brush<'a>,
        draw_mode: &PathDrawMode,
    ) {
        let Some(path) = on_page(path, transform) else {
            return;
        };
        let look = Look::of(paint);
        match draw_mode {
            PathDrawMode::Fill(rule) => {
                self.lay(&path, look, None, matches!(rule, FillRule::EvenOdd));
                if inked(look).is_some() {
                    self.leave(InkKind::Area, path.bounding_box());
                }
            }
            PathDrawMode::Stroke(props) => {
                let scale = transform.determinant().abs().sqrt();
                let width = f64::from(props.line_width).abs() * scale;
                if width.is_nan() || width > FAR {
                    return;
                }
                self.lay(&path, look, Some(width), false);
                if let Some(colour) = inked(look) {
                    self.tone(InkKind::Line, look, path.bounding_box(), |window| {
                        places(&path, window)
                    });
                    let faint = self.group_opacities.iter().any(|opacity| *opacity < OPAQUE);
                    let plain = !faint && look.is_none_or(Look::is_plain);
                    self.stroke(path, width, colour, plain, dashes_of(props, scale));
                }
            }
        }
    }

    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'a>,
        transform: Affine,
        glyph_transform: Affine,
        paint: &Brush<'a>,
        draw_mode: &GlyphDrawMode,
    ) {
        if matches!(draw_mode, GlyphDrawMode::Invisible) {
            return;
        }
        if inked(Look::of(paint)).is_none() {
            return self.white(glyph, transform * glyph_transform, (paint, draw_mode));
        }
        let known = self.known(glyph);
        let own = known.bounds;
        if own.width() > 0.0 || own.height() > 0.0 {
            let place = transform * glyph_transform;
            let bounds = place.transform_rect_bbox(own);
            self.leave(InkKind::Glyph, bounds);
            // letters drawn by their outline alone are a stamp across the page, not text
            if matches!(draw_mode, GlyphDrawMode::Fill) {
                self.order += 1;
                let middle = |window: Rect| vec![bounds.intersect(window).center()];
                self.tone(InkKind::Glyph, Look::of(paint), bounds, middle);
                self.letter(&known, place, Look::of(paint));
            }
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, transform: Affine) {
        let pixels = Rect::new(
            0.0,
            0.0,
            f64::from(image.width()),
            f64::from(image.height()),
        );
        let bounds = transform.transform_rect_bbox(pixels);
        if let Some(path) = on_page(&bounds.to_path(1e-3), Affine::IDENTITY) {
            self.lay(&path, None, None, false);
        }
        self.leave(InkKind::Picture, bounds);
    }

    fn push_clip_path(&mut self, clip_path: &ClipPath) {
        let (outer, own) = (self.clip(), &clip_path.path);
        self.clips.push(Clip {
            bounds: outer.bounds.intersect(own.bounding_box()),
            upright: outer.upright && is_upright(own),
        });
    }

    fn pop_clip_path(&mut self) {
        self.clips.pop();
    }

    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}

    fn push_transparency_group(&mut self, opacity: f32, _: Option<SoftMask<'a>>, _: BlendMode) {
        self.group_opacities.push(opacity);
    }

    fn pop_transparency_group(&mut self) {
        self.group_opacities.pop();
    }

    fn begin_marked_content(&mut self, _: &[u8], number: Option<i32>) {
        self.content.push(number);
    }

    fn end_marked_content(&mut self) {
        self.content.pop();
    }
}
