//! The colours of a photograph, from those of its own profile (ISO 15076-1) to sRGB (IEC 61966-2-1).

use crate::booklet::drawn_picture::Unfit;
use image::DynamicImage;
use moxcms::{ColorProfile, DataColorSpace, Layout, TransformF64Executor, TransformOptions};
use std::sync::Arc;

const TO_SRGB: &str = "Save it anew with the colour profile sRGB.";

/// Levels of each component at which a profile is compared with sRGB.
const LEVELS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Half a step of 8 bits, and a little: a profile that moves no colour further is sRGB.
const SAME: f64 = 0.6 / 255.0;

/// A way from a profile's colours to sRGB.
pub struct Profile {
    grey: bool,
    transform: Arc<TransformF64Executor>,
}

/// The way from the profile `bytes` of `picture`; `None` where there is none or it is sRGB.
///
/// # Errors
/// If the profile cannot be read, or is not for the colours of the picture.
pub fn profile(bytes: Option<&[u8]>, picture: &DynamicImage) -> Result<Option<Profile>, Unfit> {
    let Some(bytes) = bytes else { return Ok(None) };
    let unread = |why: String| Unfit::new(format!("its colour profile {why}"), TO_SRGB);
    let own = ColorProfile::new_from_slice(bytes)
        .map_err(|error| unread(format!("cannot be read ({error})")))?;
    let grey = match (own.color_space, picture.color().has_color()) {
        (DataColorSpace::Gray, false) => true,
        // greys are colours of equal parts
        (DataColorSpace::Rgb, _) => false,
        _ => return Err(unread("is not for its colours".into())),
    };
    let layout = if grey { Layout::Gray } else { Layout::Rgb };
    let srgb = ColorProfile::new_srgb();
    // reckoned in f64, where every processor comes to the same
    let transform = own
        .create_transform_f64(layout, &srgb, Layout::Rgb, TransformOptions::default())
        .map_err(|error| unread(format!("cannot be used ({error})")))?;
    let profile = Profile { grey, transform };
    Ok((!profile.is_srgb()?).then_some(profile))
}

impl Profile {
    fn is_srgb(&self) -> Result<bool, Unfit> {
        let mut asked = Vec::new();
        for red in LEVELS {
            if self.grey {
                asked.push(red);
                continue;
            }
            for green in LEVELS {
                asked.extend(LEVELS.into_iter().flat_map(|blue| [red, green, blue]));
            }
        }
        let given = self.converted(&asked)?;
        let wanted: Vec<f64> = match self.grey {
            true => asked.iter().flat_map(|grey| [*grey; 3]).collect(),
            false => asked,
        };
        let near = |(a, b): (&f64, &f64)| (a - b).abs() <= SAME;
        Ok(given.iter().zip(&wanted).all(near))
    }

    fn converted(&self, asked: &[f64]) -> Result<Vec<f64>, Unfit> {
        let each = if self.grey { 1 } else { 3 };
        let mut given = vec![0.0; asked.len() / each * 3];
        self.transform
            .transform(asked, &mut given)
            .map_err(|error| {
                Unfit::new(format!("its colours cannot be read ({error})"), TO_SRGB)
            })?;
        Ok(given)
    }

    /// `picture` in sRGB, of 8 bits; what stands beyond sRGB becomes its nearest edge.
    ///
    /// # Errors
    /// If the colours cannot be read.
    pub fn to_srgb(&self, picture: DynamicImage) -> Result<DynamicImage, Unfit> {
        let alpha = picture.color().has_alpha();
        let mut pixels = picture.to_rgba8();
        let width = pixels.width() as usize;
        for row in pixels.chunks_exact_mut(4 * width.max(1)) {
            let asked: Vec<f64> = match self.grey {
                true => row
                    .chunks_exact(4)
                    .map(|p| f64::from(p[0]) / 255.0)
                    .collect(),
                false => row
                    .chunks_exact(4)
                    .flat_map(|p| [p[0], p[1], p[2]].map(|part| f64::from(part) / 255.0))
                    .collect(),
            };
            let given = self.converted(&asked)?;
            for (pixel, colour) in row.chunks_exact_mut(4).zip(given.chunks_exact(3)) {
                for (part, value) in pixel.iter_mut().zip(colour) {
                    *part = (value.clamp(0.0, 1.0) * 255.0).round() as u8;
                }
            }
        }
        let whole = DynamicImage::ImageRgba8(pixels);
        Ok(match (alpha, self.grey) {
            (true, false) => whole,
            (true, true) => DynamicImage::ImageLumaA8(whole.to_luma_alpha8()),
            (false, false) => DynamicImage::ImageRgb8(whole.to_rgb8()),
            (false, true) => DynamicImage::ImageLuma8(whole.to_luma8()),
        })
    }
}
