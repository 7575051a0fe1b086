use super::*;

fn paper(key: &str) -> Paper {
    Paper::named(key).unwrap()
}

fn sides(key: &str) -> [f64; 2] {
    let paper = paper(key);
    [paper.width, paper.height]
}

/// Computed apart from this program from the sizes of ISO 216 and ANSI/ASME Y14.1, in percent, for
/// margins of 0, 3, 4.23 and 6.35 mm; a page that is fitted to its own paper without margin is right.
const PRINTED: [(&str, &str, [f64; 4]); 4] = [
    ("letter", "a4", [97.27, 94.49, 93.35, 91.38]),
    ("a4", "letter", [94.07, 92.05, 91.22, 89.80]),
    ("a4", "a4", [100.0, 97.14, 95.97, 93.95]),
    ("letter", "letter", [100.0, 97.22, 96.08, 94.12]),
];

#[test]
fn fitted_pages_have_the_known_ratios() {
    for (page, onto, percents) in PRINTED {
        for (margin, percent) in MARGINS.into_iter().zip(percents) {
            let ratio = 100.0 * fitted(sides(page), sides(onto), margin);
            // Two decimals, the last one rounded.
            assert!(
                (ratio - percent).abs() < 0.006,
                "{page} onto {onto}, {margin}: {ratio}"
            );
        }
    }
}

#[test]
fn mistaken_units_have_the_known_ratios() {
    // 96, 90 and 72 units to the inch, 25.4 mm to the inch; four decimals.
    let known = [1.3333, 0.75, 0.9375, 1.0667, 25.4, 0.3937];
    for (ratio, known) in MISTAKEN.into_iter().zip(known) {
        assert!((ratio - known).abs() < 5e-5, "{ratio}");
    }
}

#[test]
fn every_known_ratio_is_a_cause_on_its_paper_and_explained_by_it() {
    for key in ["a4", "letter"] {
        let causes = causes(&paper(key));
        for (page, onto, percents) in PRINTED {
            let fault = match page == onto {
                true if page == key => Fault::Fitted,
                true => continue,
                false => Fault::OtherPaper,
            };
            for percent in percents.into_iter().filter(|percent| *percent < 100.0) {
                let told = explained(percent / 100.0, &causes);
                assert!(told.contains(&fault), "{key}: {percent} {told:?}");
            }
        }
        for ratio in [1.3333, 0.75, 0.9375, 1.0667, 25.4, 0.3937] {
            assert!(explained(ratio, &causes).contains(&Fault::Units), "{ratio}");
        }
        assert_eq!(explained(1.0, &causes), []);
    }
}

#[test]
fn one_reading_may_have_several_causes() {
    // 93.95 and 94.07 and 93.75 are all within 0.5 % of 94.
    let all = [Fault::Fitted, Fault::OtherPaper, Fault::Units];
    assert_eq!(explained(0.94, &causes(&paper("a4"))), all);
    // 95.97: only the own paper's.
    assert_eq!(explained(0.96, &causes(&paper("a4"))), [Fault::Fitted]);
}

#[test]
fn the_table_is_short_and_sorted_and_has_one_right_answer() {
    for key in [
        "a4", "letter", "either", "a3", "legal", "tabloid", "a0", "roll24",
    ] {
        let rows = table(&paper(key));
        assert!(rows.len() <= 9, "{key}: {rows:#?}");
        assert_eq!(rows.iter().filter(|row| row.is_right()).count(), 1, "{key}");
        let ratios: Vec<f64> = rows.iter().flat_map(|row| row.ratios.clone()).collect();
        assert!(ratios.is_sorted(), "{key}: {ratios:?}");
        for row in &rows {
            let told = usize::from(row.is_right())
                + usize::from(row.percent.is_some())
                + usize::from(!row.faults.is_empty());
            assert_eq!(told, 1, "{key}: {row:?}");
        }
    }
}

#[test]
fn every_reading_of_a_cause_stands_in_the_table() {
    for key in ["a4", "letter", "a3"] {
        let paper = paper(key);
        let rows = table(&paper);
        for cause in causes(&paper)
            .into_iter()
            .filter(|cause| cause.ratio < 20.0)
        {
            let reading = (cause.ratio * 100.0).round() / 100.0;
            let holds = |row: &&Row| {
                let [first, last] = [row.ratios.first(), row.ratios.last()].map(|r| *r.unwrap());
                match row.range {
                    true => first <= reading && reading <= last,
                    false => row
                        .ratios
                        .iter()
                        .any(|ratio| (ratio - reading).abs() < 1e-9),
                }
            };
            let row = rows.iter().find(holds).unwrap();
            assert!(
                row.faults.contains(&cause.fault),
                "{key}: {cause:?} {row:?}"
            );
        }
    }
}

#[test]
fn a_scale_that_nothing_explains_is_set_right_by_its_inverse() {
    let rows = table(&paper("a4"));
    let percents: Vec<f64> = rows.iter().filter_map(|row| row.percent).collect();
    // 100 / 0.98 and 100 / 1.02.
    assert_eq!(percents, [102.0, 98.0]);
}
