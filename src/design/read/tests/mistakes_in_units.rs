//! A measure without its unit is told once, where it stands; a number that is meant as one is not.

use super::*;

/// What is said of a design with these measures, whose one piece has these values, as `CODE LINE: MESSAGE`.
fn said(measures: &str, sizes: &str, width: &str, height: &str, allowance: &str) -> Vec<String> {
    let design = format!(
        "title: Mat\nedition: 1.0.0\nabout: A mat.\npaper: [a4]\nmeasures:\n{measures}sizes:\n{sizes}cloth:\n  \
         felt: {{thickness: 1 mm}}\npieces:\n  mat:\n    rectangle: {{width: {width}, height: {height}}}\n    \
         allowance: {allowance}\n    cut: {{felt: 1}}\n"
    );
    let chapter = "---\ntitle: Making\n---\nSew it.\n".to_string();
    let files = [("design.yaml", design), ("booklet/10-making.md", chapter)];
    let folder = DesignFolder::from_memory("mat", files);
    let mut diagnostics = Diagnostics::default();
    read(&folder, &mut diagnostics);
    let errors = diagnostics.sorted().into_iter();
    let errors = errors.filter(|d| d.level == crate::diagnostic::Level::Error);
    errors
        .map(|d| {
            let line = d.place.as_ref().map_or(0, |place| place.line);
            format!("{} {line}: {}", d.code, d.message)
        })
        .collect()
}

const ONE: &str = "  one: {title: One}\n";

#[test]
fn a_unit_that_was_forgotten_is_told_at_the_measure_alone() {
    let measures = "  seam: 5\n  hem: 2 * seam\n";
    let told = said(measures, ONE, "20 mm + seam", "30 mm + hem", "seam");
    assert_eq!(
        told,
        ["no-unit 6: ‘seam: 5’ has no unit, but a length is wanted of it in lines 14, 15."]
    );
    let told = said("  a: 5\n  b: 3/16\n", ONE, "20 mm + a + b", "30 mm", "none");
    assert_eq!(
        told,
        [
            "no-unit 6: ‘a: 5’ has no unit, but a length is wanted of it in line 14.",
            "no-unit 7: ‘b: 3/16’ has no unit, but a length is wanted of it in line 14."
        ]
    );
}

#[test]
fn one_that_a_size_alone_forgets_is_told_there() {
    let sizes = "  one: {title: One}\n  two: {title: Two, measures: {seam: 6}}\n";
    let told = said("  seam: 5\n", sizes, "20 mm + seam", "30 mm", "none");
    assert_eq!(
        told,
        [
            "no-unit 6: ‘seam: 5’ has no unit, but a length is wanted of it in line 14.",
            "no-unit 9: ‘seam: 6’ has no unit, but a length is wanted of it in line 14."
        ]
    );
}

#[test]
fn a_number_that_is_counted_with_stays_one() {
    let told = said("  rows: 3\n", ONE, "rows * 20 mm", "30 mm + rows", "none");
    assert!(
        told.len() == 1 && told[0].starts_with("wrong-dimension 13:"),
        "{told:?}"
    );
    assert_eq!(
        said("  rows: 3\n", ONE, "rows * 20 mm", "30 mm", "none"),
        [""; 0]
    );
}
