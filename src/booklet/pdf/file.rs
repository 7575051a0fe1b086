//! Reading and writing a PDF's objects, and the few forms of object that are written anew.

use crate::geometry::units::INCH;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, ObjectId, SaveOptions, Stream, StringFormat};
use std::io::Write;

/// Points to the millimetre.
pub const POINTS: f64 = 72.0 / INCH;

/// How hard is packed: the middle way of the packer (RFC 1950, FLEVEL 2: its default).
const LEVEL: Compression = Compression::new(6);

/// Reads all objects.
///
/// # Errors
/// A sentence, if the bytes are no PDF.
pub fn load(pdf: &[u8]) -> Result<Document, String> {
    Document::load_mem(pdf).map_err(|fault| format!("the PDF cannot be read again: {fault}"))
}

/// Writes all objects, the small ones packed in streams.
///
/// # Errors
/// A sentence, if an object cannot be written.
pub fn save(document: &mut Document) -> Result<Vec<u8>, String> {
    let options = SaveOptions::builder()
        .use_object_streams(true)
        .use_xref_streams(true)
        .compression_level(LEVEL.level())
        .build();
    let mut bytes = Vec::new();
    document
        .save_with_options(&mut bytes, options)
        .map_err(|fault| format!("the PDF cannot be written: {fault}"))?;
    Ok(bytes)
}

/// A stream with this content, packed (ISO 32000-1, 7.4.4).
///
/// # Errors
/// A sentence, if it cannot be packed.
pub fn packed(content: &[u8]) -> Result<Stream, String> {
    let mut encoder = ZlibEncoder::new(Vec::new(), LEVEL);
    let written = encoder.write_all(content);
    let packed = written
        .and_then(|()| encoder.finish())
        .map_err(|fault| format!("a page cannot be packed: {fault}"))?;
    let mut stream = Stream::new(Dictionary::new(), packed);
    stream
        .dict
        .set("Filter", Object::Name(b"FlateDecode".to_vec()));
    Ok(stream)
}

/// The catalogue.
///
/// # Errors
/// A sentence, if there is none.
pub fn catalogue(document: &mut Document) -> Result<&mut Dictionary, String> {
    document
        .catalog_mut()
        .map_err(|_| "the PDF has no catalogue".to_string())
}

/// The pages in order.
pub fn pages(document: &Document) -> Vec<ObjectId> {
    document.get_pages().into_values().collect()
}

/// The dictionary of an object.
///
/// # Errors
/// A sentence, if it has none.
pub fn dictionary(document: &mut Document, id: ObjectId) -> Result<&mut Dictionary, String> {
    document
        .get_dictionary_mut(id)
        .map_err(|_| format!("object {} of the PDF is no dictionary", id.0))
}

/// What a page has under `key`, or inherits, with references followed.
pub fn inherited(document: &Document, page: ObjectId, key: &[u8]) -> Option<Object> {
    let mut dictionary = document.get_dictionary(page).ok()?;
    // a tree of pages is a few levels deep; a circle must not hold us up
    for _ in 0..32 {
        if let Ok(found) = dictionary.get(key) {
            let (_, object) = document.dereference(found).ok()?;
            return Some(object.clone());
        }
        let parent = dictionary.get(b"Parent").ok()?.as_reference().ok()?;
        dictionary = document.get_dictionary(parent).ok()?;
    }
    None
}

/// A text string: plain where ASCII suffices, else UTF-16 with its mark (ISO 32000-1, 7.9.2.2).
pub fn text(words: &str) -> Object {
    if words.is_ascii() {
        return Object::String(words.as_bytes().to_vec(), StringFormat::Literal);
    }
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}

/// A number of PDF from points.
pub fn number(points: f64) -> Object {
    // 0 is added so that no zero has a minus
    Object::Real((points + 0.0) as f32)
}
