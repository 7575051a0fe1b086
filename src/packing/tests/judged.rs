//! Instances of the ESICUP working group on cutting and packing (CC0), as kept in JSON form with
//! `tests/bench/packing`.

use super::super::{Cloth, Item, Turns, faults, greedy_strip, strip};
use super::{cloth, effort};
use kurbo::Point;
use serde_json::Value;

fn instance(name: &str) -> (Vec<Item>, f64) {
    let folder = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/bench/packing/instances/"
    );
    let text = std::fs::read_to_string(format!("{folder}{name}.json")).unwrap();
    let data: Value = serde_json::from_str(&text).unwrap();
    let number = |value: &Value| value.as_f64().unwrap();
    let item = |item: &Value| {
        let points = item["shape"]["data"].as_array().unwrap().iter();
        let turns = item["allowed_orientations"]
            .as_array()
            .unwrap()
            .iter()
            .map(number);
        Item {
            count: item["demand"].as_u64().unwrap() as usize,
            turns: Turns::Only(turns.collect()),
            ..Item::new(
                points
                    .map(|p| Point::new(number(&p[0]), number(&p[1])))
                    .collect(),
            )
        }
    };
    (
        data["items"].as_array().unwrap().iter().map(item).collect(),
        number(&data["strip_height"]),
    )
}

/// The densities that the best published layouts reach, from Gardeyn, Vanden Berghe and Wauters
/// 2025, arXiv:2509.13329, table 2, in percent: no layout may claim to be denser.
const BEST: [(&str, f64); 7] = [
    ("albano", 89.82),
    ("dagli", 90.17),
    ("fu", 92.41),
    ("jakobs1", 89.26),
    ("shapes0", 69.98),
    ("shirts", 90.92),
    ("swim", 79.83),
];

#[test]
fn known_instances_are_packed_soundly_and_denser_than_greedily() {
    for (name, best) in BEST {
        let (items, width) = instance(name);
        let layout = strip(&items, &cloth(width), &effort(40_000)).unwrap();
        let greedy = greedy_strip(&items, &cloth(width)).unwrap();
        assert_eq!(
            faults(&items, &layout.placed, &Cloth::strip(width), 0.0),
            [],
            "{name}"
        );
        assert_eq!(
            faults(&items, &greedy.placed, &Cloth::strip(width), 0.0),
            [],
            "{name}"
        );
        let (found, start) = (100.0 * layout.density, 100.0 * greedy.density);
        assert!(
            found > start && start > 0.6 * best,
            "{name}: {found} against {start}"
        );
        assert!(
            found < best + 0.5,
            "{name}: {found} is more than is known to be possible"
        );
    }
}
