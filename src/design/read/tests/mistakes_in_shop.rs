//! Mistakes in what is said of cut files and of pictures for the shop.

use super::mistakes::{expect, expect_in};

#[test]
fn cutting() {
    expect("score: \"#0000E0\"", "score: ^blue", "look-colour");
    expect(
        "score: \"#0000E0\"",
        "score: ^\"#E00000\"",
        "cutting-colours",
    );
    // the usual colour of a score line
    expect(
        "cut: \"#E00000\", score: \"#0000E0\"",
        "cut: ^\"#0000FF\"",
        "cutting-colours",
    );
    expect(
        "colours: {cut: \"#E00000\"",
        "colours: {^cuts: \"#E00000\"",
        "unknown-key",
    );
    expect(
        "[stiff sole, lining]",
        "[stiff sole, ^linen]",
        "unknown-piece",
    );
    expect("[stiff sole, lining]", "[lining, ^lining]", "same-name");
    expect("sole: triangles", "sole: ^triangle", "unknown-word");
    expect("sole: triangles", "^soles: triangles", "unknown-piece");
    expect(
        "reference square: 30 mm",
        "reference square: ^5 mm",
        "out-of-range",
    );
    expect(
        "reference square: 30 mm",
        "^reference squares: 30 mm",
        "unknown-key",
    );
    let none = [("reference square: 30 mm", "reference square: none")];
    expect_in("design.yaml", &none, &[]);
}

#[test]
fn pictures() {
    for wrong in ["1600", "1600 x 100", "x 1200", "9999 x 9999"] {
        let change = format!("listing: {{pictures: ^{wrong}}}");
        expect(
            "listing: {pictures: [1600 x 1200, 800 x 800]}",
            &change,
            "out-of-range",
        );
    }
    expect("1200, 800 x 800]", "1200, ^1600 x 1200]", "same-name");
    let none = [("pictures: [1600 x 1200, 800 x 800]", "pictures: none")];
    expect_in("design.yaml", &none, &[]);
}
