//! Mistakes in what is said of cut files.

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
