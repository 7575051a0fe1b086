//! Facts about a whole PDF that matter to readers of it: title, language, tags, fonts. Read from
//! its catalogue, its XMP packet and its font dictionaries.

use super::check::Check;
use super::intended::IntendedLayer;
use super::objects::{name_is, words};
use super::viewing::{self, Viewing};
use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Name, Object, Stream, String as Text};
use std::collections::BTreeMap;

/// Namespace of the PDF/UA identifier (ISO 14289-1, clause 5).
const PDF_UA: &str = "http://www.aiim.org/pdfua/ns/id/";

/// Namespace of the XMP title (ISO 16684-1, Dublin Core).
const DUBLIN_CORE: &str = "http://purl.org/dc/elements/1.1/";

/// Facts about a whole PDF.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Document {
    /// Title in the XMP packet.
    pub title: Option<String>,
    /// Whether viewers are asked to show the title instead of the file's name.
    pub shows_title: bool,
    /// Language of the text, a BCP 47 tag.
    pub language: Option<String>,
    /// Whether the content is marked and has a structure tree.
    pub tagged: bool,
    /// The part of PDF/UA that the file declares, e.g. `1`.
    pub pdf_ua: Option<String>,
    /// Fonts by name, with whether all of that name are embedded.
    pub fonts: BTreeMap<String, bool>,
    /// Whether viewers are asked not to scale when they print (ISO 32000-1, table 150).
    pub prints_unscaled: bool,
    /// Names of the layers.
    pub layers: Vec<String>,
    /// Whether the way layers are shown has a name and no automatic states, and all are shown at first
    /// (PDF/UA-1, Matterhorn Protocol 20-001 to 20-003).
    pub layers_sound: bool,
    /// What viewers show beside the pages, and the boxes of the pages.
    pub viewing: Viewing,
}

/// Reads the facts; what cannot be read counts as missing.
pub fn read(pdf: &Pdf) -> Document {
    let xref = pdf.xref();
    let catalogue = xref.get::<Dict<'_>>(xref.root_id()).unwrap_or_default();
    let flag = |dict: &str, key: &str| {
        catalogue
            .get::<Dict<'_>>(dict)
            .and_then(|d| d.get::<bool>(key))
            .unwrap_or(false)
    };
    let language = catalogue.get::<Text<'_>>("Lang");
    let packet = catalogue
        .get::<Stream<'_>>("Metadata")
        .and_then(|s| s.decoded().ok())
        .and_then(|bytes| String::from_utf8(bytes.into_owned()).ok());
    let xmp = packet
        .as_deref()
        .and_then(|text| roxmltree::Document::parse(text).ok());
    let from_xmp = |namespace, name| xmp.as_ref().and_then(|tree| value(tree, namespace, name));
    Document {
        title: from_xmp(DUBLIN_CORE, "title"),
        shows_title: flag("ViewerPreferences", "DisplayDocTitle"),
        language: language
            .map(|text| String::from_utf8_lossy(text.as_bytes()).trim().to_string())
            .filter(|text| !text.is_empty()),
        tagged: flag("MarkInfo", "Marked") && catalogue.contains_key("StructTreeRoot"),
        pdf_ua: from_xmp(PDF_UA, "part"),
        fonts: fonts(pdf),
        prints_unscaled: catalogue
            .get::<Dict<'_>>("ViewerPreferences")
            .is_some_and(|wishes| name_is(&wishes, "PrintScaling", b"None")),
        layers: layers(&catalogue),
        layers_sound: layers_are_sound(&catalogue),
        viewing: viewing::read(pdf, &catalogue),
    }
}

fn layers(catalogue: &Dict<'_>) -> Vec<String> {
    let groups = catalogue
        .get::<Dict<'_>>("OCProperties")
        .and_then(|p| p.get::<Array<'_>>("OCGs"));
    let name = |group: Dict<'_>| {
        group
            .get::<Text<'_>>("Name")
            .map(|text| words(text.as_bytes()))
    };
    let all = groups.iter().flat_map(|g| g.iter::<Dict<'_>>());
    all.filter_map(name).collect()
}

fn layers_are_sound(catalogue: &Dict<'_>) -> bool {
    let Some(properties) = catalogue.get::<Dict<'_>>("OCProperties") else {
        return true;
    };
    properties.get::<Dict<'_>>("D").is_some_and(|shown| {
        let named = shown
            .get::<Text<'_>>("Name")
            .is_some_and(|n| !n.as_bytes().is_empty());
        let off = shown.get::<Array<'_>>("OFF");
        let none_off = off.is_none_or(|off| off.iter::<Object<'_>>().next().is_none());
        named && !shown.contains_key("AS") && none_off && !name_is(&shown, "BaseState", b"OFF")
    })
}

/// Value of a property of the XMP packet, as an attribute or as an element's text.
fn value(tree: &roxmltree::Document<'_>, namespace: &str, name: &str) -> Option<String> {
    tree.descendants().find_map(|node| {
        if let Some(attribute) = node.attribute((namespace, name)) {
            return Some(attribute.trim().to_string()).filter(|t| !t.is_empty());
        }
        let named = node.is_element() && node.tag_name().namespace() == Some(namespace);
        if !named || node.tag_name().name() != name {
            return None;
        }
        let texts = node.descendants().filter(roxmltree::Node::is_text);
        let text: String = texts.filter_map(|n| n.text()).collect();
        Some(text.trim().to_string()).filter(|t| !t.is_empty())
    })
}

fn fonts(pdf: &Pdf) -> BTreeMap<String, bool> {
    let mut found = BTreeMap::new();
    for object in pdf.objects() {
        if let Object::Dict(dict) = object
            && name_is(&dict, "Type", b"Font")
        {
            note_font(&dict, &mut found);
        }
    }
    // Fonts written into a page's resources are no objects of their own.
    for page in pdf.pages().iter() {
        let fonts = &page.resources().fonts;
        for key in fonts.keys() {
            if let Some(dict) = fonts.get::<Dict<'_>>(&*key) {
                note_font(&dict, &mut found);
            }
        }
    }
    found
}

fn note_font(font: &Dict<'_>, found: &mut BTreeMap<String, bool>) {
    if name_is(font, "Subtype", b"Type3") {
        return; // Its glyphs are drawn by the file itself.
    }
    let descendant = font
        .get::<Array<'_>>("DescendantFonts")
        .and_then(|fonts| fonts.iter::<Dict<'_>>().next());
    let bearer = descendant.as_ref().unwrap_or(font);
    let embedded = bearer
        .get::<Dict<'_>>("FontDescriptor")
        .is_some_and(|descriptor| {
            ["FontFile", "FontFile2", "FontFile3"]
                .iter()
                .any(|key| descriptor.contains_key(key))
        });
    let name = bearer
        .get::<Name<'_>>("BaseFont")
        .map_or_else(|| "without a name".to_string(), |n| n.as_str().to_string());
    let all = found.entry(name).or_insert(true);
    *all &= embedded;
}

impl Document {
    /// Checks what the PDF asks of viewers, and that its layers are these.
    pub fn check_viewing(&self, file: &str, layers: &[IntendedLayer], checks: &mut Vec<Check>) {
        let message = match self.prints_unscaled {
            true => "viewers are asked to print without scaling",
            false => "viewers are not asked to print without scaling",
        };
        checks.push(Check::new(
            "print-scaling",
            file,
            self.prints_unscaled,
            message,
        ));
        let layers: Vec<String> = layers.iter().map(|layer| layer.name.clone()).collect();
        let right = self.layers == layers && self.layers_sound;
        let message = if self.layers != layers {
            format!(
                "the layers are {}, not {}",
                list(&self.layers),
                list(&layers)
            )
        } else if !self.layers_sound {
            "the layers have no named setting in which all are shown".to_string()
        } else {
            format!("the layers are {}", list(&layers))
        };
        checks.push(Check::new("layers", file, right, message));
    }

    /// Checks the facts of the PDF called `file`.
    pub fn check(&self, file: &str, checks: &mut Vec<Check>) {
        let tags = [
            match &self.title {
                Some(title) if self.shows_title => (true, format!("the title is “{title}”")),
                Some(_) => (false, "viewers are not asked to show the title".to_string()),
                None => (false, "the PDF has no title".to_string()),
            },
            match &self.language {
                Some(language) => (true, format!("the language is “{language}”")),
                None => (false, "the PDF does not say its language".to_string()),
            },
            match self.tagged {
                true => (true, "the content is tagged".to_string()),
                false => (false, "the content is not tagged".to_string()),
            },
            match &self.pdf_ua {
                Some(part) => (true, format!("the PDF declares PDF/UA-{part}")),
                None => (false, "the PDF does not declare PDF/UA".to_string()),
            },
        ];
        for (passed, message) in tags {
            checks.push(Check::new("pdf-tags", file, passed, message));
        }
        for (font, embedded) in &self.fonts {
            let state = if *embedded { "is" } else { "is not" };
            let message = format!("the font {font} {state} embedded");
            checks.push(Check::new("font-embedded", file, *embedded, message));
        }
    }
}

fn list(names: &[String]) -> String {
    match names {
        [] => "none".to_string(),
        names => names.join(", "),
    }
}
