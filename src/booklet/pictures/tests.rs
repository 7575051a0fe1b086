use super::*;
use crate::booklet::fixture;

fn asked(name: &str, width: f64) -> Asked<'_> {
    Asked {
        name,
        crop: Crop::default(),
        width: None,
        room: [width, 1e6],
    }
}

fn look(name: &str, bytes: Vec<u8>, asked: &Asked<'_>) -> (Option<Picture>, Vec<Diagnostic>) {
    let files = BTreeMap::from([(name.to_string(), bytes)]);
    let mut diagnostics = Diagnostics::default();
    let picture = ready(asked, &files, &fixture::place(), &mut diagnostics);
    (picture, diagnostics.iter().cloned().collect())
}

#[test]
fn pictures_are_known_by_their_content() {
    let (picture, said) = look("a.png", fixture::png(300, 200), &asked("a.png", 30.0));
    let picture = picture.unwrap();
    assert!(said.is_empty());
    assert_eq!(
        (picture.format, picture.width, picture.height),
        ("png", 30.0, 20.0)
    );
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 40 10'/>".to_vec();
    let (drawing, said) = look("a.png", svg, &asked("./a.png", 80.0));
    let drawing = drawing.unwrap();
    assert_eq!((drawing.format, drawing.height), ("svg", 20.0));
    assert_eq!(said[0].code, "picture-ending");
}

#[test]
fn what_is_no_picture_or_too_large_is_refused_undecoded() {
    for bytes in [
        &b""[..],
        b"GIF89a....",
        b"<html/>",
        b"\x89PNG\r\n\x1a\n",
        b"\xff\xd8\xff",
        b"<svg viewBox='0 0 0 10'/>",
        b"<svg viewBox='0 0 1e999 10'/>",
    ] {
        assert!(measure(bytes).is_err(), "{bytes:?}");
    }
    // A PNG header that claims 20,000 by 20,000 pixels (PNG specification, section 11.2.2), with the
    // check sum over it (section 5.5, CRC-32 of ISO 3309).
    let mut bytes = fixture::png(1, 1);
    bytes[16..24].copy_from_slice(&[0, 0, 0x4e, 0x20, 0, 0, 0x4e, 0x20]);
    let mut sum = u32::MAX;
    for byte in &bytes[12..29] {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg());
        }
    }
    bytes[29..33].copy_from_slice(&(!sum).to_be_bytes());
    let told = measure(&bytes).err().unwrap();
    assert!(told.why.contains("20000 × 20000 pixels"), "{}", told.why);
}

#[test]
fn a_missing_picture_is_named_with_its_nearest() {
    let asked = asked("pictures/starp.png", 20.0);
    let (none, said) = look("pictures/strap.png", fixture::png(2, 2), &asked);
    assert!(none.is_none());
    assert_eq!(said[0].code, "picture-missing");
    assert_eq!(said[0].remedy, "Did you mean ‘pictures/strap.png’?");
}

#[test]
fn coarse_pictures_are_warned_of_and_very_coarse_ones_refused() {
    // 400 pixels on 50.8 mm, two inches, are 200 to the inch; 200 pixels 100 (an inch is 25.4 mm)
    let told = |pixels, width| {
        let (picture, said) = look("a.png", fixture::png(pixels, 300), &asked("a.png", width));
        assert!(picture.is_some());
        said.first().map(|d| (d.level, d.code))
    };
    use crate::diagnostic::Level;
    assert_eq!(told(400, 50.8), None);
    assert_eq!(
        told(400, 50.9),
        Some((Level::Warning, "picture-resolution"))
    );
    assert_eq!(
        told(200, 50.8),
        Some((Level::Warning, "picture-resolution"))
    );
    assert_eq!(told(200, 50.9), Some((Level::Error, "picture-resolution")));
}

#[test]
fn a_drawing_is_not_cropped() {
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 40 10'/>".to_vec();
    let mut asked = asked("a.svg", 80.0);
    asked.crop.shape = Some(1.0);
    let (none, said) = look("a.svg", svg, &asked);
    assert!(none.is_none() && said[0].code == "picture-format");
}
