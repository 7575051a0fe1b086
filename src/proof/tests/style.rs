//! The colours of `proof.html`, read from its style.

use crate::proof::Report;
use crate::proof::contrast::ratio;

/// The colours of one scheme, by name, from the text of the style.
fn scheme(style: &str) -> Vec<(String, [f64; 3])> {
    let colour = |text: &str| {
        let digits = text.trim().strip_prefix('#')?;
        let digit = |at: usize, width: usize| {
            let part = u8::from_str_radix(digits.get(at * width..(at + 1) * width)?, 16).ok()?;
            let all = if width == 1 { part * 17 } else { part };
            Some(f64::from(all) / 255.0)
        };
        let width = digits.len() / 3;
        Some([digit(0, width)?, digit(1, width)?, digit(2, width)?])
    };
    let parts = style
        .split(';')
        .filter_map(|part| part.trim().strip_prefix("--"));
    let pairs = parts.filter_map(|part| part.split_once(':'));
    pairs
        .filter_map(|(name, value)| Some((name.to_string(), colour(value)?)))
        .collect()
}

/// WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (lines that tell something, 3:1); the ratio is
/// that of its definitions.
#[test]
fn words_and_lines_stand_out_in_light_and_dark() {
    let html = Report::new("test", "Test", "1.0.0").to_html();
    let roots: Vec<&str> = html.split(":root {").skip(1).collect();
    assert_eq!(roots.len(), 3, "light, dark and print");
    for root in roots {
        let (block, _) = root.split_once('}').unwrap();
        let colours = scheme(block);
        let of = |name: &str| colours.iter().find(|(n, _)| n == name).unwrap().1;
        for words in ["ink", "quiet", "good", "bad", "warn", "link"] {
            for ground in ["ground", "soft"] {
                let found = ratio(of(words), of(ground));
                assert!(found >= 4.5, "{words} on {ground}: {found:.2}");
            }
        }
    }
    // drawings are on white paper in every scheme
    for (class, least) in [("in", 3.0), ("fo", 4.5), ("mark", 4.5), ("edge", 4.5)] {
        let (_, rest) = html
            .split_once(&format!("\n.{class} {{"))
            .or(html.split_once(&format!("}} .{class} {{")))
            .unwrap();
        let value = rest
            .split_once("stroke: ")
            .unwrap()
            .1
            .split_once(';')
            .unwrap()
            .0;
        let colour = scheme(&format!("--x:{value}"))[0].1;
        let opacity = rest.split_once('}').unwrap().0.split_once("opacity: ");
        let opacity: f64 =
            opacity.map_or(1.0, |(_, o)| o.split_once(';').unwrap().0.parse().unwrap());
        let seen = colour.map(|c| c * opacity + 1.0 - opacity);
        let found = ratio(seen, [1.0; 3]);
        assert!(found >= least, "{class}: {found:.2}");
    }
}
