use crate::booklet::template;
use std::collections::BTreeMap;

/// Contrast of two colours after WCAG 2.2, "relative luminance" and "contrast ratio".
fn contrast(a: [u8; 3], b: [u8; 3]) -> f64 {
    let luminance = |colour: [u8; 3]| {
        let [r, g, b] = colour.map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 {
                part / 12.92
            } else {
                ((part + 0.055) / 1.055).powf(2.4)
            }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn hex(text: &str) -> [u8; 3] {
    [0, 2, 4].map(|at| u8::from_str_radix(&text[at..at + 2], 16).unwrap())
}

#[test]
fn the_colours_of_the_template_can_be_read() {
    let white = [255; 3];
    // Known values of the formula, to four places.
    for (grey, ratio) in [
        ("767676", 4.5422),
        ("777777", 4.4781),
        ("949494", 3.0335),
        ("959595", 2.9953),
    ] {
        assert!((contrast(hex(grey), white) - ratio).abs() < 5e-5, "{grey}");
    }
    let (_, text) = template::FILES
        .iter()
        .find(|(name, _)| *name == "colours.typ")
        .unwrap();
    for setting in ["house", "black-only"] {
        let colours = colours(text, setting);
        for name in ["ink", "accent", "soft"] {
            assert!(contrast(colours[name], white) >= 7.0, "{setting} {name}");
        }
        assert!(
            contrast(colours["ink"], colours["tint"]) >= 4.5,
            "{setting}"
        );
    }
    let black = colours(text, "black-only");
    for name in ["ink", "accent", "soft"] {
        assert_eq!(black[name], [0; 3], "{name}");
    }
}

/// The colours that `text` lists under `setting`.
fn colours<'a>(text: &'a str, setting: &str) -> BTreeMap<&'a str, [u8; 3]> {
    let from = text.find(&format!("#let {setting} = (")).unwrap();
    let to = from + text[from..].find("\n)").unwrap();
    let colour = |line: &'a str| {
        let (name, rest) = line.trim().split_once(": rgb(\"#")?;
        Some((name, hex(rest)))
    };
    text[from..to].lines().filter_map(colour).collect()
}

#[test]
fn no_template_has_a_colour_of_its_own() {
    let (_, house) = template::FILES
        .iter()
        .find(|(name, _)| *name == "colours.typ")
        .unwrap();
    let house = house.to_lowercase();
    for (name, text) in template::FILES {
        for colour in text.to_lowercase().split("rgb(").skip(1) {
            let colour = colour.split(')').next().unwrap();
            assert!(house.contains(colour), "{colour} in {name}");
        }
        assert!(!text.contains("luma("), "{name}");
    }
}
