//! Pictures that a design names: there, of a format we know by its content, not too large, sharp enough
//! at the size they are printed, and made ready for print. Widths in mm.

use super::drawn_picture::{self, Unfit};
use super::photo::{self, Format, Measured};
use crate::design::Crop;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::geometry::units::INCH;
use image::ImageFormat;
use std::collections::BTreeMap;

/// Resolution at printed size below which a picture looks coarse, pixels per inch (common practice;
/// 300 is good).
const COARSE: f64 = 200.0;

/// Resolution below which its pixels show, pixels per inch (common practice).
const TOO_COARSE: f64 = 100.0;

/// A picture as it is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// Its path below the design folder.
    pub name: &'a str,
    /// What is cropped off.
    pub crop: Crop,
    /// Width in print, at most, mm.
    pub width: Option<f64>,
    /// The widest and the highest there is room for, mm.
    pub room: [f64; 2],
}

/// A picture that can be set.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// File ending and name of the format: `png`, `jpg`, `svg`.
    pub format: &'static str,
    /// The file.
    pub bytes: Vec<u8>,
    /// Width in print, mm.
    pub width: f64,
    /// Height in print, mm.
    pub height: f64,
}

/// What a file holds.
enum Kind {
    Photo(Measured),
    Drawing([f64; 2]),
}

/// Finds the picture among the design's `files` and makes it ready for print. What is wrong with it is
/// said at `place`; one that is merely too coarse is given all the same.
pub fn ready(
    asked: &Asked<'_>,
    files: &BTreeMap<String, Vec<u8>>,
    place: &Place,
    diagnostics: &mut Diagnostics,
) -> Option<Picture> {
    let name = asked.name.trim_start_matches("./");
    let Some(bytes) = files.get(name) else {
        diagnostics.push(missing(name, files, place));
        return None;
    };
    match made(bytes, name, asked, place, diagnostics) {
        Ok(picture) => Some(picture),
        Err(unfit) => {
            diagnostics.push(unfit_picture(name, &unfit.why, unfit.remedy, place));
            None
        }
    }
}

fn made(
    bytes: &[u8],
    name: &str,
    asked: &Asked<'_>,
    place: &Place,
    diagnostics: &mut Diagnostics,
) -> Result<Picture, Unfit> {
    let kind = measure(bytes)?;
    let format = kind.ending();
    tell_of_ending(name, format, place, diagnostics);
    let [across, down] = match &kind {
        Kind::Photo(measured) => {
            let [_, _, across, down] = asked.crop.left_of(measured.size);
            [f64::from(across), f64::from(down)]
        }
        Kind::Drawing(_) if !asked.crop.is_none() => {
            let why = "it is a drawing, of which nothing is cropped";
            let remedy = "Make its page smaller in the drawing program, or take ‘crop’ away.";
            return Err(Unfit::new(why, remedy));
        }
        Kind::Drawing(size) => *size,
    };
    let [widest, highest] = asked.room;
    let widest = asked.width.map_or(widest, |width| width.min(widest));
    let width = widest.min(highest * across / down);
    let bytes = match &kind {
        Kind::Drawing(_) => bytes.to_vec(),
        Kind::Photo(measured) => {
            if let Some(told) = coarse(name, across, width, place) {
                diagnostics.push(told);
            }
            photo::ready(bytes, measured, &asked.crop, width)?.bytes
        }
    };
    Ok(Picture {
        format,
        bytes,
        width,
        height: width * down / across,
    })
}

impl Kind {
    fn ending(&self) -> &'static str {
        match self {
            Self::Photo(measured) => measured.format.ending(),
            Self::Drawing(_) => "svg",
        }
    }
}

/// Says that a file is not what its ending says.
fn tell_of_ending(name: &str, format: &str, place: &Place, diagnostics: &mut Diagnostics) {
    let ending = name.rsplit('.').next().unwrap_or_default().to_lowercase();
    let fits = ending == format || (format, ending.as_str()) == ("jpg", "jpeg");
    if fits {
        return;
    }
    let message = format!(
        "The picture ‘{name}’ is {} by its content, whatever its ending says.",
        format.to_uppercase().replace("JPG", "JPEG")
    );
    let remedy = format!("Give its file the ending ‘.{format}’, here and in the folder.");
    diagnostics.push(Diagnostic::warning("picture-ending", Some(place), message).remedy(remedy));
}

/// What is said of a picture of `across` pixels that is printed `width` mm wide.
fn coarse(name: &str, across: f64, width: f64, place: &Place) -> Option<Diagnostic> {
    let resolution = across / (width / INCH);
    let told = |level: fn(&'static str, Option<&Place>, String) -> Diagnostic, how: &str| {
        let message = format!(
            "The picture ‘{name}’ has {resolution:.0} pixels per inch at its printed width of \
             {width:.0} mm; {how}."
        );
        let needed = (width / INCH * photo::RESOLUTION).ceil();
        let narrower = (across / COARSE * INCH).floor();
        let smaller = match narrower >= 20.0 {
            true => format!(", or print it at most {narrower} mm wide"),
            false => String::new(),
        };
        level("picture-resolution", Some(place), message)
            .remedy(format!("Use a picture {needed:.0} pixels wide{smaller}."))
    };
    // a rounding of the printed width is no fault of the picture
    if resolution < TOO_COARSE - 1e-6 {
        return Some(told(Diagnostic::error, "its pixels would show"));
    }
    let coarse = resolution < COARSE - 1e-6;
    coarse.then(|| told(Diagnostic::warning, "it will look coarse"))
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

fn measure(bytes: &[u8]) -> Result<Kind, Unfit> {
    match image::guess_format(bytes) {
        Ok(ImageFormat::Png) => photo::measure(bytes, Format::Png).map(Kind::Photo),
        Ok(ImageFormat::Jpeg) => photo::measure(bytes, Format::Jpeg).map(Kind::Photo),
        Ok(_) => Err(Unfit::format("it is none of PNG, JPEG and SVG")),
        Err(_) => Ok(Kind::Drawing(drawn_picture::size(bytes)?)),
    }
}

#[cfg(test)]
mod tests;
