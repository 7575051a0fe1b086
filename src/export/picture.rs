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

/// The drawing `svg` as large as it fits in a picture of `size` pixels, on white. `None` if it is no
/// drawing.
pub fn picture_of_drawing(svg: &[u8], size: [u32; 2]) -> Option<Vec<u8>> {
    let text = std::str::from_utf8(svg).ok()?;
    // a drawing that stops the rasteriser leaves out a picture, and not the booklet
    catch_unwind(AssertUnwindSafe(|| {
        let tree = Tree::from_str(text, &Options::default()).ok()?;
        png(&tree, size, [0xff; 3])
    }))
    .ok()?
}

/// The page of this number, from 0, of a PDF as large as it fits in a picture of `size` pixels. `None` if
/// there is no such page.
pub fn picture_of_page(pdf: &[u8], page: usize, size: [u32; 2]) -> Option<Vec<u8>> {
    catch_unwind(AssertUnwindSafe(|| {
        let pdf = Pdf::new(pdf.to_vec()).ok()?;
        let page = pdf.pages().get(page)?;
        let paper = SvgRenderSettings {
            bg_color: [0xff; 4],
        };
        let settings = InterpreterSettings::default();
        let text = convert(page, &RenderCache::new(), &settings, &paper);
        let tree = Tree::from_str(&text, &Options::default()).ok()?;
        png(&tree, size, DESK)
    }))
    .ok()?
}

/// The drawing in the middle of a ground; where the ground is not white it lies on white paper.
fn png(tree: &Tree, [width, height]: [u32; 2], ground: [u8; 3]) -> Option<Vec<u8>> {
    let mut pixels = Pixmap::new(width, height)?;
    let [red, green, blue] = ground;
    pixels.fill(Color::from_rgba8(red, green, blue, 0xff));
    let (across, down) = (width as f32, height as f32);
    let margin = 2.0 * MARGIN * across.min(down);
    let (own_across, own_down) = (tree.size().width(), tree.size().height());
    let scale = ((across - margin) / own_across).min((down - margin) / own_down);
    let left = (across - own_across * scale) / 2.0;
    let top = (down - own_down * scale) / 2.0;
    let onto = Transform::from_row(scale, 0.0, 0.0, scale, left, top);
    let mut white = Paint::default();
    white.set_color(Color::WHITE);
    let sheet = Rect::from_xywh(0.0, 0.0, own_across, own_down)?;
    pixels.fill_rect(sheet, &white, onto, None);
    resvg::render(tree, onto, &mut pixels.as_mut());
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

    #[test]
    fn a_drawing_fills_the_picture_but_for_its_margin() {
        // a red square of 10 mm; of 400 x 200 pixels it takes 200 less 2 x 5 % of 200: 180
        let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='10mm' height='10mm' \
            viewBox='0 0 10 10'><rect width='10' height='10' fill='#ff0000'/></svg>";
        let png = picture_of_drawing(svg.as_bytes(), [400, 200]).expect("a picture");
        let picture = pixels(&png);
        assert_eq!(picture.dimensions(), (400, 200));
        let red = picture.pixels().filter(|p| p.0 == [0xff, 0, 0]).count();
        assert_eq!(red, 180 * 180);
        assert_eq!(picture.get_pixel(109, 100).0, [0xff; 3]);
        assert_eq!(picture.get_pixel(110, 100).0, [0xff, 0, 0]);
        assert_eq!(picture_of_drawing(svg.as_bytes(), [400, 200]), Some(png));
    }

    #[test]
    fn what_is_no_drawing_and_no_page_gives_no_picture() {
        assert_eq!(picture_of_drawing(b"no drawing", [400, 200]), None);
        assert_eq!(picture_of_page(b"no PDF", 0, [400, 200]), None);
    }
}
