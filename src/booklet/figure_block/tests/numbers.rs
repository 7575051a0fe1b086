//! Which numbers stand in a drawing: large print says in words what they mean.

use super::figure;

#[test]
fn pieces_beside_each_other_have_numbers_and_pieces_on_each_other_none() {
    let numbers = |text: &str| figure(text).numbers;
    // by their place among the pieces of the design
    assert_eq!(numbers("pieces: [band, left half]"), [1, 4]);
    assert_eq!(numbers("seam: middle"), [1, 2]);
    assert_eq!(numbers("seam: middle\nlaid: together"), [0; 0]);
}
