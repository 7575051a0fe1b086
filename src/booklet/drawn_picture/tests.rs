use super::*;

fn picture(inside: &str) -> Result<[f64; 2], Unfit> {
    size(format!("<svg xmlns='{SVG}' viewBox='0 0 60 40'>{inside}</svg>").as_bytes())
}

fn refusal(inside: &str) -> String {
    picture(inside).expect_err(inside).why
}

#[test]
fn what_drawing_programs_write_is_taken() {
    for inside in [
        "<rect width='9' height='9' style='fill:red;filter:none'/>",
        "<metadata><image xmlns='urn:other'/><filter/></metadata>",
        "<named xmlns='urn:editor' filter='x'/><title>漢</title>",
        "<style>.a{fill:red}/*filter:x*/ .b{color-interpolation-filters:linearRGB}</style>",
        "<defs><marker id='m'><path d='M0 0L1 1'/></marker></defs><path d='M0 0L9 9'/>",
        "<g id='a'><text>Heel ½</text></g><use href='#a'/><use href='#a'/>",
    ] {
        assert_eq!(picture(inside), Ok([60.0, 40.0]), "{inside}");
    }
    let typed = format!("<!DOCTYPE svg><svg xmlns='{SVG}' width='30mm' height='1e1mm'/>");
    assert_eq!(size(typed.as_bytes()), Ok([30.0, 10.0]));
}

#[test]
fn filters_masks_and_patterns_are_refused_wherever_they_stand() {
    for inside in [
        "<filter id='f'><feGaussianBlur stdDeviation='1e30'/></filter>",
        "<g filter='url(#f)'/>",
        "<g style='fill:red; FILTER : blur(9px)'/>",
        "<style>g { filter: blur(1e30px) }</style>",
        "<style>g{fill:red;fil/**/ter:blur(1px)}</style>",
        "<mask id='m'/>",
        "<g mask='url(#m)'/>",
        "<pattern id='p'/>",
        "<foreignObject/>",
        "<script/>",
    ] {
        assert!(refusal(inside).ends_with("is not set"), "{inside}");
    }
}

#[test]
fn other_pictures_and_letters_without_a_glyph_are_refused() {
    assert!(refusal("<image href='pic.png'/>").contains("another picture"));
    assert!(refusal("<text>Hi <tspan>漢</tspan></text>").contains("U+6F22"));
}

#[test]
fn what_is_drawn_too_often_or_too_deep_is_refused() {
    let doubled: String = (1..40)
        .map(|n| {
            format!(
                "<g id='g{n}'><use href='#g{0}'/><use href='#g{0}'/></g>",
                n - 1
            )
        })
        .collect();
    assert!(refusal(&format!("<g id='g0'/>{doubled}")).contains("so often"));
    assert!(refusal("<g id='a'><use href='#a'/></g>").contains("of themselves"));
    let deep = format!("{}{}", "<g>".repeat(120), "</g>".repeat(120));
    assert!(refusal(&deep).contains("nested"));
    let long = "M0 0L1 1".repeat(20_000);
    let marked = format!(
        "<marker id='m'>{}</marker><path d='{long}'/>",
        "<g/>".repeat(9)
    );
    assert!(refusal(&marked).contains("so often"));
}

#[test]
fn sizes_are_positive() {
    for attributes in [
        "width='-5mm' height='10mm'",
        "width='5mm' height='1e400mm'",
        "width='0' height='3'",
        "width='x' height='3'",
        "viewBox='0 0 0 4'",
        "viewBox='0 0 4'",
    ] {
        let text = format!("<svg xmlns='{SVG}' {attributes}/>");
        let why = size(text.as_bytes()).expect_err(attributes).why;
        assert!(why.ends_with("not a positive number"), "{why}");
    }
}
