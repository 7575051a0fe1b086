//! The look of the design's own: the picture of its cover, its logo, its colours and its typefaces.
//! Made once for all papers. Lengths in mm.

use super::faces::Faces;
use super::markdown::Book;
use super::pictures::{self, Asked};
use super::{Request, Setting};
use crate::design::look::{ACCENT, written};
use crate::design::{Design, PictureSpec};
use crate::diagnostic::Diagnostics;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Room for a picture on the cover: the width of the text, and what the title leaves.
const COVER: [f64; 2] = [162.0, 118.0];

/// Room for a logo.
const LOGO: [f64; 2] = [36.0, 14.0];

/// A picture besides those of the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Path among the booklet's files.
    path: String,
    alt: String,
    width: f64,
    height: f64,
}

/// What the design has of its own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OwnLook {
    cover: Option<Shown>,
    logo: Option<Shown>,
    /// Its typefaces.
    pub faces: Faces,
}

/// Reads what the design's look names among its `files`; its pictures join those of `book`.
pub fn read(
    design: &Design,
    files: &BTreeMap<String, Vec<u8>>,
    book: &mut Book,
    diagnostics: &mut Diagnostics,
) -> OwnLook {
    let cover = design.cover.as_ref();
    let logo = design.look.logo.as_ref();
    OwnLook {
        cover: cover.and_then(|spec| shown(spec, "cover", COVER, files, book, diagnostics)),
        logo: logo.and_then(|spec| shown(spec, "logo", LOGO, files, book, diagnostics)),
        faces: Faces::read(design, files, diagnostics),
    }
}

fn shown(
    spec: &PictureSpec,
    name: &str,
    room: [f64; 2],
    files: &BTreeMap<String, Vec<u8>>,
    book: &mut Book,
    diagnostics: &mut Diagnostics,
) -> Option<Shown> {
    let asked = Asked {
        name: &spec.picture,
        crop: spec.crop,
        width: spec.width,
        room,
    };
    let picture = pictures::ready(&asked, files, &spec.place, diagnostics)?;
    let path = format!("pictures/{name}.{}", picture.format);
    book.pictures.insert(path.clone(), picture.bytes);
    let named = (spec.picture.clone(), spec.place.clone());
    book.picture_places.insert(path.clone(), named);
    Some(Shown {
        path: format!("/{path}"),
        alt: spec.alt.clone(),
        width: picture.width,
        height: picture.height,
    })
}

impl Shown {
    fn data(&self) -> Value {
        json!({
            "svg": self.path,
            "alt": self.alt,
            "width": self.width,
            "height": self.height,
        })
    }
}

/// What the template is told of the cover, if it shows a picture.
pub fn cover(request: &Request<'_>) -> Option<Value> {
    let mut data = request.prose.look.cover.as_ref()?.data();
    data["picture"] = json!(true);
    Some(data)
}

/// What the template is told of the look. Pages have a tint in the whole booklet only: the other forms
/// are printed, and ink on all of a page helps nobody.
pub fn data(request: &Request<'_>) -> Value {
    let look = &request.design.look;
    let own = &request.prose.look;
    let page = look.page.filter(|_| request.setting == Setting::Whole);
    json!({
        "accent": written(look.accent.unwrap_or(ACCENT)),
        "page": page.map(written),
        "text_face": own.faces.text(),
        "label_face": own.faces.labels(),
        "logo": own.logo.as_ref().map(Shown::data),
    })
}
