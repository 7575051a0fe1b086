//! Pictures of drawings and pages, for a shop: PNG of a given size in pixels, on white or on the grey of a
//! desk. The same bytes wherever they are made.

use hayro_interpret::InterpreterSettings;
use hayro_svg::{RenderCache, SvgRenderSettings, convert};
use hayro_syntax::Pdf;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use resvg::tiny_skia::{Color, Paint, Pixmap, Rect, Transform};
use resvg::usvg::{Options, Tree};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Room left at each side, in shares of the picture's shorter side.
const MARGIN: f32 = 0.05;

/// What a page lies on, so that its edges are seen.
const DESK: [u8; 3] = [0xe4, 0xe1, 0xda];

/// Room left between pages and between drawings, in shares of the picture's shorter side.
const GAP: f32 = 0.04;

/// How drawings share a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sharing {
    /// All at one scale, as what is compared wants it.
    OneScale,
    /// Each as large as its field.
    Fields,
}

/// A drawing and where it stands: left, top, scale.
type Placed<'a> = (&'a Tree, [f32; 3]);

/// The drawings in rows, as large as they fit in a picture of `size` pixels, on white. `None` if one of
/// them is no drawing, or if there is none.
pub fn picture_of_drawings(
    drawings: &[&[u8]],
    sharing: Sharing,
    size: [u32; 2],
) -> Option<Vec<u8>> {
    // a drawing that stops the rasteriser leaves out a picture, and not the booklet
    let tree = |svg: &&[u8]| {
        let text = std::str::from_utf8(svg).ok()?;
        Tree::from_str(text, &Options::default()).ok()
    };
    catch_unwind(AssertUnwindSafe(|| {
        let trees: Vec<Tree> = drawings.iter().map(tree).collect::<Option<_>>()?;
        png(&arranged(&trees, sharing, size)?, size, None)
    }))
    .ok()?
}

/// Of the pages of these numbers, from 0, of a PDF as many of the first side by side as fill a picture of
/// `size` pixels best. `None` if there are no such pages.
pub fn picture_of_pages(pdf: &[u8], pages: &[usize], size: [u32; 2]) -> Option<Vec<u8>> {
    catch_unwind(AssertUnwindSafe(|| {
        let pdf = Pdf::new(pdf.to_vec()).ok()?;
        let paper = SvgRenderSettings {
            bg_color: [0xff; 4],
        };
        let drawn = |page: &usize| {
            let page = pdf.pages().get(*page)?;
            let settings = InterpreterSettings::default();
            let text = convert(page, &RenderCache::new(), &settings, &paper);
            Tree::from_str(&text, &Options::default()).ok()
        };
        let trees: Vec<Tree> = pages.iter().map(drawn).collect::<Option<_>>()?;
        let ways = (1..=trees.len()).filter_map(|n| {
            let placed = arranged(&trees[..n], Sharing::OneScale, size)?;
            let inked = placed.iter().map(|(tree, [.., scale])| {
                tree.size().width() * tree.size().height() * scale * scale
            });
            let inked: f32 = inked.sum();
            Some((inked, placed))
        });
        // of equal ones that with fewer pages
        let best = ways.reduce(|best, way| if way.0 > best.0 * 1.05 { way } else { best });
        png(&best?.1, size, Some(DESK))
    }))
    .ok()?
}

/// The trees in so many rows, in their order, that they are largest: of the ways to break the list into
/// rows of one length that with the largest scale.
fn arranged(
    trees: &[Tree],
    sharing: Sharing,
    [width, height]: [u32; 2],
) -> Option<Vec<Placed<'_>>> {
    let (across, down) = (width as f32, height as f32);
    let side = across.min(down);
    let room = [across, down].map(|long| long - 2.0 * MARGIN * side);
    let ways = (1..=trees.len()).map(|in_row| {
        let rows: Vec<&[Tree]> = trees.chunks(in_row).collect();
        let gap = GAP * side;
        match sharing {
            Sharing::OneScale => at_one_scale(&rows, room, gap),
            Sharing::Fields => in_fields(&rows, in_row, room, gap),
        }
    });
    let (_, placed) = ways.reduce(|best, way| if way.0 > best.0 { way } else { best })?;
    let margin = MARGIN * side;
    let moved = placed
        .into_iter()
        .map(|(tree, [left, top, scale])| (tree, [left + margin, top + margin, scale]));
    Some(moved.collect())
}

/// Rows below each other, all at one scale; and that scale.
fn at_one_scale<'a>(rows: &[&'a [Tree]], room: [f32; 2], gap: f32) -> (f32, Vec<Placed<'a>>) {
    let wide = |row: &[Tree]| row.iter().map(|tree| tree.size().width()).sum::<f32>();
    let tall = |row: &[Tree]| {
        row.iter()
            .map(|tree| tree.size().height())
            .fold(0.0, f32::max)
    };
    let gaps = |n: usize| n.saturating_sub(1) as f32 * gap;
    let by_width = rows
        .iter()
        .map(|row| (room[0] - gaps(row.len())) / wide(row));
    let all: f32 = rows.iter().map(|row| tall(row)).sum();
    let by_height = (room[1] - gaps(rows.len())) / all;
    let scale = by_width.fold(by_height, f32::min).max(0.0);
    let mut top = (room[1] - all * scale - gaps(rows.len())) / 2.0;
    let mut placed = Vec::new();
    for row in rows {
        let mut left = (room[0] - wide(row) * scale - gaps(row.len())) / 2.0;
        for tree in *row {
            let above = (tall(row) - tree.size().height()) * scale / 2.0;
            placed.push((tree, [left, top + above, scale]));
            left += tree.size().width() * scale + gap;
        }
        top += tall(row) * scale + gap;
    }
    (scale, placed)
}

/// Each in a field of its own, all fields alike; and the smallest scale.
fn in_fields<'a>(
    rows: &[&'a [Tree]],
    in_row: usize,
    room: [f32; 2],
    gap: f32,
) -> (f32, Vec<Placed<'a>>) {
    let field = |long: f32, n: usize| (long - (n - 1) as f32 * gap) / n as f32;
    let (across, down) = (field(room[0], in_row), field(room[1], rows.len()));
    let mut smallest = f32::INFINITY;
    let mut placed = Vec::new();
    for (r, row) in rows.iter().enumerate() {
        // a last row with fewer stands in the middle
        let short = (in_row - row.len()) as f32 * (across + gap) / 2.0;
        for (c, tree) in row.iter().enumerate() {
            let (own_across, own_down) = (tree.size().width(), tree.size().height());
            let scale = (across / own_across).min(down / own_down);
            let left = short + c as f32 * (across + gap) + (across - own_across * scale) / 2.0;
            let top = r as f32 * (down + gap) + (down - own_down * scale) / 2.0;
            smallest = smallest.min(scale);
            placed.push((tree, [left, top, scale]));
        }
    }
    (smallest, placed)
}

/// What is placed, on white; or on a `ground`, each on white paper.
fn png(
    placed: &[Placed<'_>],
    [width, height]: [u32; 2],
    ground: Option<[u8; 3]>,
) -> Option<Vec<u8>> {
    let mut pixels = Pixmap::new(width, height)?;
    let [red, green, blue] = ground.unwrap_or([0xff; 3]);
    pixels.fill(Color::from_rgba8(red, green, blue, 0xff));
    let mut white = Paint::default();
    white.set_color(Color::WHITE);
    for (tree, [left, top, scale]) in placed {
        let onto = Transform::from_row(*scale, 0.0, 0.0, *scale, *left, *top);
        let sheet = Rect::from_xywh(0.0, 0.0, tree.size().width(), tree.size().height())?;
        pixels.fill_rect(sheet, &white, onto, None);
        resvg::render(tree, onto, &mut pixels.as_mut());
    }
    // all of it is covered, so that colours stand as they are
    let colours: Vec<u8> = pixels
        .data()
        .chunks_exact(4)
        .flat_map(|pixel| [pixel[0], pixel[1], pixel[2]])
        .collect();
    let mut file = Vec::new();
    PngEncoder::new(&mut file)
        .write_image(&colours, width, height, ExtendedColorType::Rgb8)
        .ok()?;
    Some(file)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pixels(png: &[u8]) -> image::RgbImage {
        image::load_from_memory(png).expect("a picture").to_rgb8()
    }

    fn red(width: u32, height: u32) -> String {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{width}mm' height='{height}mm' \
             viewBox='0 0 {width} {height}'><rect width='{width}' height='{height}' fill='#ff0000'/></svg>"
        )
    }

    fn picture(drawings: &[String], sharing: Sharing, size: [u32; 2]) -> image::RgbImage {
        let drawings: Vec<&[u8]> = drawings.iter().map(String::as_bytes).collect();
        pixels(&picture_of_drawings(&drawings, sharing, size).expect("a picture"))
    }

    fn inked(picture: &image::RgbImage) -> usize {
        picture.pixels().filter(|p| p.0 == [0xff, 0, 0]).count()
    }

    #[test]
    fn a_drawing_fills_the_picture_but_for_its_margin() {
        // a red square of 10 mm; of 400 x 200 pixels it takes 200 less 2 x 5 % of 200: 180
        for sharing in [Sharing::OneScale, Sharing::Fields] {
            let picture = picture(&[red(10, 10)], sharing, [400, 200]);
            assert_eq!(picture.dimensions(), (400, 200));
            assert_eq!(inked(&picture), 180 * 180);
            assert_eq!(picture.get_pixel(109, 100).0, [0xff; 3]);
            assert_eq!(picture.get_pixel(110, 100).0, [0xff, 0, 0]);
        }
    }

    #[test]
    fn two_drawings_stand_side_by_side_with_a_gap() {
        // 400 x 200 pixels: 380 wide less a gap of 4 % of 200 is 372 for two squares, so the height rules
        let picture = picture(&[red(10, 10), red(10, 10)], Sharing::OneScale, [400, 200]);
        assert_eq!(inked(&picture), 2 * 180 * 180);
        assert_eq!(picture.get_pixel(200, 100).0, [0xff; 3]);
    }

    #[test]
    fn one_scale_keeps_sizes_apart_and_fields_do_not() {
        // 10 and 20 mm side by side in 620 x 220 pixels: at one scale 180 of height serve 20 mm
        let two = [red(10, 10), red(20, 20)];
        let at_one = inked(&picture(&two, Sharing::OneScale, [620, 200]));
        assert_eq!(at_one, 90 * 90 + 180 * 180);
        let in_fields = inked(&picture(&two, Sharing::Fields, [620, 200]));
        assert_eq!(in_fields, 2 * 180 * 180);
    }

    #[test]
    fn what_is_no_drawing_and_no_page_gives_no_picture() {
        let none = picture_of_drawings(&[b"no drawing"], Sharing::Fields, [400, 200]);
        assert_eq!(none, None);
        assert_eq!(picture_of_drawings(&[], Sharing::Fields, [400, 200]), None);
        assert_eq!(picture_of_pages(b"no PDF", &[0], [400, 200]), None);
    }
}
