use super::*;
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::pipeline::{Options, compute};

#[test]
fn names_tell_sizes_cloths_and_forms_and_none_is_given_twice() {
    let text = "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\nsizes:\n  one: {title: One}\n  \
        two: {title: Two}\ncloth:\n  wool felt: {name: felt, sheet: [9 in x 12 in, 20 cm x 30 cm]}\n  \
        lining: {name: lawn, width: 44 in}\npieces:\n  \
        long strap: {rectangle: {width: 50 mm, height: 9 mm}, allowance: 4 mm, cut: {wool felt: 1, lining: 1}}\n  \
        lining-roll: {rectangle: {width: 50 mm, height: 9 mm}, allowance: 4 mm, cut: {lining: 1}}\n\
        cutting: {without allowance: wool felt}\n";
    let folder = DesignFolder::from_memory("test", [("design.yaml", text)]);
    let mut said = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut said).expect("sound");
    let files = cut_files(&made.design, &made.sizes, &made.materials.bought);
    let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
    let one: Vec<&str> = names
        .iter()
        .filter_map(|name| name.strip_prefix("cut/one/"))
        .collect();
    let wanted = [
        "long-strap.svg",
        "long-strap.without-allowance.svg",
        "lining-roll.svg",
        "wool-felt-229-by-305-mm-sheet-1.svg",
        "wool-felt-200-by-300-mm-sheet-1.svg",
        "lining-roll-2.svg",
    ];
    assert_eq!(one, wanted);
    let two = names.iter().filter(|name| name.starts_with("cut/two/"));
    assert_eq!(two.count(), wanted.len());
    assert_eq!(names.len(), 2 * wanted.len());
}
