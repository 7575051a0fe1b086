//! The tables that a booklet must have, row by row: measures of the sizes, what is bought and cut, pages to
//! print. Taken from what is handed to the template and from the plan of the plates, never from what was set.

use super::press::Booklet;
use super::template_data::{joined, list, said, text};
use crate::language::Words;
use crate::proof::{IntendedBook, IntendedPart, IntendedTable};
use serde_json::Value;
use std::collections::BTreeSet;

/// So many sizes stand beside each other in the measures of the foot.
const TOGETHER: usize = 3;

/// The tables of measures, of feet and of what is finished; each entry holds the ways in which one may be set.
pub(super) fn of_sizes(data: &Value, words: &Words) -> Vec<Vec<IntendedTable>> {
    let fitting = &data["fitting"];
    let mut all = Vec::new();
    if list(&fitting["figures"]).is_empty() {
        all.extend(measures("foot", data, words));
    } else {
        all.extend(of_feet(fitting, words).into_iter().map(|table| vec![table]));
    }
    all.extend(measures("finished", data, words));
    all
}

/// The measures of feet as they are taken, a few sizes at a time.
fn of_feet(fitting: &Value, words: &Words) -> Vec<IntendedTable> {
    let titles: Vec<&str> = list(&fitting["sizes"]).iter().map(text).collect();
    let rows = list(&fitting["rows"]);
    let group = |first: usize| {
        let sizes = first..titles.len().min(first + TOGETHER);
        let heads = match titles.len() {
            1 => vec![words.get("booklet.fit used").to_string()],
            _ => titles[sizes.clone()]
                .iter()
                .map(ToString::to_string)
                .collect(),
        };
        let lead = ["booklet.fit number", "booklet.measure"].map(|key| words.get(key).to_string());
        let row = |row: &Value| {
            let name = format!("{} {}", text(&row["name"]), text(&row["how"]));
            let number = row["number"].as_u64().map(|n| n.to_string());
            let values = list(&row["values"]);
            let values = sizes.clone().map(|at| values.get(at).map_or("", text));
            let mut cells = vec![number.unwrap_or_default(), name];
            cells.extend(values.map(str::to_string));
            cells
        };
        IntendedTable {
            head: lead.into_iter().chain(heads).collect(),
            lead: 2,
            rows: rows.iter().map(row).collect(),
            goes_on: false,
        }
    };
    (0..titles.len()).step_by(TOGETHER).map(group).collect()
}

/// One measure a row, one size a column: both units in one, or inches below.
fn measures(which: &str, data: &Value, words: &Words) -> Option<Vec<IntendedTable>> {
    let sizes = list(&data["sizes"]);
    let mut names: Vec<&str> = Vec::new();
    for measure in sizes.iter().flat_map(|size| list(&size[which])) {
        let name = text(&measure["name"]);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let table = |cell: fn(&Value) -> String| {
        let row = |name: &&str| {
            let of = |size: &Value| {
                let mut all = list(&size[which]).iter();
                all.find(|it| it["name"] == *name)
                    .map_or_else(String::new, cell)
            };
            let cells = std::iter::once((*name).to_string());
            cells.chain(sizes.iter().map(of)).collect()
        };
        let first = std::iter::once(words.get("booklet.measure").to_string());
        let titles = sizes.iter().filter_map(|size| said(&size["title"]));
        IntendedTable {
            head: first.chain(titles).collect(),
            lead: 1,
            rows: names.iter().map(row).collect(),
            goes_on: false,
        }
    };
    let ways = [
        table(|it| text(&it["text"]).to_string()),
        table(|it| format!("{} {}", text(&it["metric"]), text(&it["inch"]))),
    ];
    (!names.is_empty()).then(|| ways.to_vec())
}

/// Heads and rows of the table of needles; columns in which no cloth has anything are left out.
fn of_needles(data: &Value) -> (Vec<&'static str>, Vec<Vec<String>>) {
    let needles = list(&data["needles"]);
    let columns = [
        ("hand", "by hand"),
        ("machine", "by machine"),
        ("stitch", "stitch"),
    ];
    let filled = columns
        .into_iter()
        .filter(|(key, _)| needles.iter().any(|it| !it[*key].is_null()));
    let filled: Vec<(&str, &str)> = filled.collect();
    let row = |it: &Value| {
        let cloths: Vec<&str> = list(&it["cloth"]).iter().map(text).collect();
        let cells = filled.iter().map(|(key, _)| text(&it[*key]).to_string());
        std::iter::once(cloths.join(", ")).chain(cells).collect()
    };
    let heads = std::iter::once("cloth").chain(filled.iter().map(|(_, head)| *head));
    (heads.collect(), needles.iter().map(row).collect())
}

/// The tables of cloth to buy, trims, needles and what is cut.
pub(super) fn of_materials(data: &Value, words: &Words) -> Vec<Vec<IntendedTable>> {
    let heads = |keys: &[&str]| -> Vec<String> {
        let head = |key: &&str| words.get(&format!("booklet.{key}")).to_string();
        keys.iter().map(head).collect()
    };
    let amounts = &data["amounts"];
    let sizes = list(&amounts["sizes"]).iter().filter_map(said);
    let mut columns = heads(&["cloth", "amount"]);
    if sizes.clone().count() > 1 {
        columns.truncate(1);
        columns.extend(sizes);
    }
    let rows = list(&amounts["rows"]);
    let row = |row: &Value| {
        let mut ways = rows.iter().filter(|other| other["cloth"] == row["cloth"]);
        let again = ways
            .next()
            .is_some_and(|first| first["sold"] != row["sold"]);
        let or = if again { words.get("booklet.or") } else { "" };
        let cloth = format!("{or} {} {}", text(&row["cloth"]), text(&row["sold"]));
        let cells = list(&row["amounts"])
            .iter()
            .map(|cell| text(cell).to_string());
        std::iter::once(cloth).chain(cells).collect()
    };
    let mut all = vec![(columns, 1, rows.iter().map(row).collect())];
    let trims: Vec<Vec<String>> = list(&data["trims"]).iter().flat_map(trim).collect();
    let with_length = list(&data["trims"])
        .iter()
        .any(|it| !list(&it["lines"]).is_empty());
    let columns: &[&str] = match with_length {
        true => &["what", "number", "each cut"],
        false => &["what", "number"],
    };
    all.push((heads(columns), 1, trims));
    let (columns, needles) = of_needles(data);
    all.push((heads(&columns), 1, needles));
    for cut in list(&data["cut_list"]) {
        let mut keys = vec!["number", "title", "count"];
        let mut columns = heads(&["no", "cloth", "cut", "how"]);
        let all_rows = list(&cut["rows"]).iter();
        match all_rows.clone().any(is_told_how) {
            true => keys.push("how"),
            false => columns.truncate(3),
        }
        let row = |row: &Value| keys.iter().map(|key| joined(row, &[key])).collect();
        columns[1] = text(&cut["cloth"]).to_string();
        all.push((columns, 2, all_rows.map(row).collect()));
    }
    let filled = all.into_iter().filter(|(.., rows)| !rows.is_empty());
    let what = words.get("booklet.what");
    let table = |(head, lead, rows): (Vec<String>, usize, Vec<Vec<String>>)| {
        // what is bought of a trim stands behind
        let goes_on = head.first().is_some_and(|first| first == what);
        vec![IntendedTable {
            head,
            lead,
            rows,
            goes_on,
        }]
    };
    filled.map(table).collect()
}

/// Whether a row of the cutting list says more than how many pieces.
fn is_told_how(row: &Value) -> bool {
    !text(&row["how"]).is_empty() || !list(&row["sizes"]).is_empty()
}

/// A trim with its count, unless something is said between them; what is cut for each size in rows below.
fn trim(trim: &Value) -> Vec<Vec<String>> {
    let bought = list(&trim["bought"]).iter();
    let is_told = trim["note"].is_string() || bought.into_iter().any(|b| b["square"].is_string());
    let lines = list(&trim["lines"]);
    let mut rows = vec![match is_told {
        true => vec![text(&trim["name"]).to_string()],
        false => vec![joined(trim, &["name", "width"]), joined(trim, &["count"])],
    }];
    if let (false, [line]) = (is_told, lines) {
        rows[0].push(text(&line["text"]).to_string());
    }
    if lines.len() > 1 {
        let row = |of: &Value, cut: &str| {
            let size = text(&of["size"]).to_string();
            vec![size, String::new(), cut.to_string()]
        };
        let mut both = of_both_feet(trim);
        for line in lines {
            // what is bought for both feet stands in a row of its own above them
            let size = text(&line["size"]);
            let (here, later) = both.into_iter().partition(|b| is_foot_of(size, b));
            let here: Vec<&Value> = here;
            rows.extend(here.into_iter().map(|b| row(b, text(&b["text"]))));
            both = later;
            rows.push(row(line, text(&line["text"])));
        }
    }
    rows
}

/// What is bought of a trim for two feet that differ, where sizes need more than others.
fn of_both_feet(trim: &Value) -> Vec<&Value> {
    let bought = list(&trim["bought"]);
    let lines = list(&trim["lines"]);
    let of_feet =
        |b: &&Value| lines.iter().all(|line| line["size"] != b["size"]) && b["square"].is_null();
    match bought.len() {
        0 | 1 => Vec::new(),
        _ => bought.iter().filter(of_feet).collect(),
    }
}

/// Whether `size` is one foot of what is bought, such as `Large right` of `Large`.
fn is_foot_of(size: &str, bought: &Value) -> bool {
    let rest = size.strip_prefix(text(&bought["size"]));
    rest.is_some_and(|foot| foot.starts_with(' '))
}

/// The book with the numbers of the pages that its plates have in the file of `booklet`.
pub(super) fn with_pages(book: &IntendedBook, booklet: &Booklet, words: &Words) -> IntendedBook {
    let titles = ["booklet.print", "booklet.print plates"].map(|key| words.get(key));
    let mut parts = book.parts.iter();
    let print = parts.find(|part| titles.contains(&part.title.as_str()));
    let mut to_print = IntendedPart {
        title: print.map_or_else(String::new, |part| part.title.clone()),
        ..IntendedPart::default()
    };
    let count = booklet.plates.page_count();
    let first = booklet.set.pages.saturating_sub(count) + 1;
    let plan = booklet.plates.plan();
    let different: BTreeSet<&Vec<usize>> = plan.iter().map(|size| &size.sheets).collect();
    if different.len() < 2 {
        let pages = words.ranges((first..first + count).collect());
        to_print.words = vec![words.count("booklet.plates are on", count, &[("pages", &pages)])];
    } else {
        let heads = ["for size", "print pages", "plates"];
        let row = |size: &crate::plates::SizePages| {
            let pages = size.sheets.iter().map(|sheet| first + sheet).collect();
            vec![
                size.title.clone(),
                words.ranges(pages),
                words.ranges(size.plates.clone()),
            ]
        };
        let table = IntendedTable {
            head: heads
                .map(|key| words.get(&format!("booklet.{key}")).to_string())
                .to_vec(),
            lead: 1,
            rows: plan.iter().map(row).collect(),
            goes_on: true,
        };
        to_print.tables = vec![vec![table]];
    }
    IntendedBook {
        to_print,
        ..book.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_bought_for_both_feet_has_a_row_above_them() {
        let elastic = json!({
            "name": "elastic", "width": "3 mm", "count": 2, "note": null,
            "lines": [
                {"size": "Small", "text": "39 mm"},
                {"size": "Large right", "text": "1 × 52 mm"},
                {"size": "Large left", "text": "1 × 51 mm"},
            ],
            "bought": [
                {"size": "Small", "text": "10 cm", "square": null},
                {"size": "Large", "text": "15 cm", "square": null},
            ],
        });
        let rows: Vec<String> = trim(&elastic).iter().map(|row| row.join("|")).collect();
        assert_eq!(
            rows[1..],
            [
                "Small||39 mm",
                "Large||15 cm",
                "Large right||1 × 52 mm",
                "Large left||1 × 51 mm"
            ]
        );
    }
}
