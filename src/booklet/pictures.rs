//! Pictures that a chapter names: there, of a format we know by its content, not too large, and sharp
//! enough at the size they are printed. Nothing is decoded here.

use super::drawn_picture::{self, Unfit};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use image::{ImageFormat, ImageReader};
use std::collections::BTreeMap;
use std::io::Cursor;

/// Pixels of the largest picture: more would take gigabytes of memory to decode.
pub const MOST_PIXELS: u64 = 100_000_000;
/// Resolution at printed size below which a picture looks coarse, pixels per inch (common practice;
/// 300 is good).
const LEAST_RESOLUTION: f64 = 150.0;

/// A picture that can be set.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// File ending and name of the format: `png`, `jpg`, `svg`.
    pub format: &'static str,
    /// Width and height, pixels (of a drawing, in its own units).
    pub size: [f64; 2],
}

/// Finds the picture `name` among the design's `files` and looks at it. What is wrong with it is
/// said at `place`.
pub fn look_at<'a>(
    name: &str,
    files: &'a BTreeMap<String, Vec<u8>>,
    place: &Place,
    diagnostics: &mut Diagnostics,
) -> Option<(Picture, &'a [u8])> {
    let name = name.trim_start_matches("./");
    let Some(bytes) = files.get(name) else {
        diagnostics.push(missing(name, files, place));
        return None;
    };
    match measure(bytes) {
        Ok(picture) => Some((picture, bytes)),
        Err(unfit) => {
            diagnostics.push(unfit_picture(name, &unfit.why, unfit.remedy, place));
            None
        }
    }
}

/// Says that the picture `name` cannot be used.
pub fn unfit_picture(name: &str, why: &str, remedy: &str, place: &Place) -> Diagnostic {
    let message = format!("The picture ‘{name}’ cannot be used: {why}.");
    Diagnostic::error("picture-format", Some(place), message).remedy(remedy)
}

fn missing(name: &str, files: &BTreeMap<String, Vec<u8>>, place: &Place) -> Diagnostic {
    let message = format!("There is no picture ‘{name}’ in the design folder.");
    let endings = [".png", ".jpg", ".jpeg", ".svg"];
    let pictures = files
        .keys()
        .filter(|key| endings.iter().any(|end| key.ends_with(end)));
    let near = pictures
        .map(|key| (strsim::damerau_levenshtein(name, key), key))
        .min()
        .filter(|(far, _)| *far <= 2.max(name.chars().count() / 3));
    let diagnostic = Diagnostic::error("picture-missing", Some(place), message);
    match near {
        Some((_, key)) => diagnostic.remedy(format!("Did you mean ‘{key}’?")),
        None => diagnostic.remedy("Put it into ‘pictures/’ and name it as ‘pictures/NAME.png’."),
    }
}

fn measure(bytes: &[u8]) -> Result<Picture, Unfit> {
    match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Png | ImageFormat::Jpeg)) => {
            let reader = ImageReader::with_format(Cursor::new(bytes), format);
            let (width, height) = reader
                .into_dimensions()
                .map_err(|error| Unfit::format(error.to_string()))?;
            if u64::from(width) * u64::from(height) > MOST_PIXELS {
                return Err(Unfit::format(format!(
                    "{width} × {height} pixels are more than 100 megapixels"
                )));
            }
            if width == 0 || height == 0 {
                return Err(Unfit::format("it is empty"));
            }
            let format = if format == ImageFormat::Png {
                "png"
            } else {
                "jpg"
            };
            Ok(Picture {
                format,
                size: [f64::from(width), f64::from(height)],
            })
        }
        Ok(_) => Err(Unfit::format("it is none of PNG, JPEG and SVG")),
        Err(_) => Ok(Picture {
            format: "svg",
            size: drawn_picture::size(bytes)?,
        }),
    }
}

impl Picture {
    /// Width at which it is printed if it may be `widest` wide and `highest` high, mm.
    pub fn printed_width(&self, widest: f64, highest: f64) -> f64 {
        widest.min(highest * self.size[0] / self.size[1])
    }

    /// Warns if it is too coarse at `width` mm.
    pub fn check_resolution(
        &self,
        name: &str,
        width: f64,
        place: &Place,
        diagnostics: &mut Diagnostics,
    ) {
        let resolution = self.size[0] / (width / crate::design::printed::INCH);
        if self.format == "svg" || resolution >= LEAST_RESOLUTION {
            return;
        }
        let needed = (width / crate::design::printed::INCH * 300.0).ceil();
        let message = format!(
            "The picture ‘{name}’ has {resolution:.0} pixels per inch at its printed width of \
             {width:.0} mm; it will look coarse."
        );
        diagnostics.push(
            Diagnostic::warning("picture-resolution", Some(place), message)
                .remedy(format!("Use a picture {needed:.0} pixels wide.")),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::booklet::fixture;

    #[test]
    fn pictures_are_known_by_their_content() {
        assert_eq!(measure(&fixture::png(30, 20)).unwrap().size, [30.0, 20.0]);
        assert_eq!(measure(&fixture::png(30, 20)).unwrap().format, "png");
        let drawing = measure(b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 40 10'/>");
        assert_eq!(
            drawing.unwrap(),
            Picture {
                format: "svg",
                size: [40.0, 10.0]
            }
        );
    }

    #[test]
    fn what_is_no_picture_or_too_large_is_refused_undecoded() {
        for bytes in [
            &b""[..],
            b"GIF89a....",
            b"<html/>",
            b"\x89PNG\r\n\x1a\n",
            b"\xff\xd8\xff",
        ] {
            assert!(measure(bytes).is_err(), "{bytes:?}");
        }
        // A PNG header that claims 20,000 by 20,000 pixels (PNG specification, section 11.2.2).
        let mut bytes = fixture::png(1, 1);
        bytes[16..24].copy_from_slice(&[0, 0, 0x4e, 0x20, 0, 0, 0x4e, 0x20]);
        assert!(measure(&bytes).is_err());
        assert!(measure(b"<svg viewBox='0 0 0 10'/>").is_err());
        assert!(measure(b"<svg viewBox='0 0 1e999 10'/>").is_err());
    }

    #[test]
    fn a_missing_picture_is_named_with_its_nearest() {
        let place = fixture::place();
        let files = BTreeMap::from([("pictures/strap.png".to_string(), fixture::png(2, 2))]);
        let mut diagnostics = Diagnostics::default();
        assert!(look_at("pictures/starp.png", &files, &place, &mut diagnostics).is_none());
        let said = diagnostics.iter().next().unwrap();
        assert_eq!(said.code, "picture-missing");
        assert_eq!(said.remedy, "Did you mean ‘pictures/strap.png’?");
    }

    #[test]
    fn coarse_pictures_are_warned_of() {
        let mut diagnostics = Diagnostics::default();
        let picture = Picture {
            format: "png",
            size: [300.0, 200.0],
        };
        picture.check_resolution("a", 50.8, &fixture::place(), &mut diagnostics);
        assert_eq!(diagnostics.iter().count(), 0);
        picture.check_resolution("a", 50.9, &fixture::place(), &mut diagnostics);
        assert_eq!(
            diagnostics.iter().next().unwrap().code,
            "picture-resolution"
        );
    }
}
