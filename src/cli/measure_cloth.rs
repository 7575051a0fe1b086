//! Tables of cloth for the terminal: what to buy, what it costs and weighs.

use super::table::{row, table};
use crate::design::{Design, printed};
use crate::materials::Materials;

/// What to buy of each cloth, and costs and weights where they are known; empty without cloth.
pub(super) fn cloth(design: &Design, materials: &Materials) -> String {
    let mut text = String::new();
    let blocks = [
        amounts(design, materials),
        costs(design, materials),
        weights(design, materials),
    ];
    for rows in blocks.into_iter().filter(|rows| rows.len() > 1) {
        text.push('\n');
        text.push_str(&table(&rows));
    }
    text
}

fn title<'d>(design: &'d Design, key: &'d str) -> String {
    let size = design.sizes.iter().find(|size| size.declared == key);
    size.map_or_else(|| key.to_string(), |size| size.declared_title())
}

fn amounts(design: &Design, materials: &Materials) -> Vec<Vec<String>> {
    let mut head = row([
        "cloth",
        "size",
        "sold",
        "to buy",
        "in the pieces",
        "of a sheet",
    ]);
    head.extend(design.kits.iter().map(|times| format!("for {times}")));
    let mut rows = vec![head];
    for bought in &materials.bought {
        let per_sheet = bought.per_sheet.map_or(String::new(), |n| n.to_string());
        let mut cells = vec![
            bought.cloth.clone(),
            bought.title.clone(),
            printed::plain(&bought.sold),
            printed::plain(&bought.text),
            format!("{:.0} %", bought.used_percent),
            per_sheet,
        ];
        cells.extend(bought.kits.iter().map(|kit| printed::plain(&kit.text)));
        rows.push(cells);
    }
    rows
}

fn costs(design: &Design, materials: &Materials) -> Vec<Vec<String>> {
    let mut head = row(["cost", "used up by one", "paid for one"]);
    head.extend(design.kits.iter().map(|times| format!("each of {times}")));
    head.push("without a price".to_string());
    let mut rows = vec![head];
    for cost in &materials.costs {
        let money = |amount: f64| format!("{amount:.2} {}", cost.currency);
        let mut cells = vec![
            title(design, &cost.size),
            money(cost.used),
            money(cost.bought),
        ];
        cells.extend(cost.kits.iter().map(|kit| money(kit.each)));
        cells.push(cost.without_price.join(", "));
        rows.push(cells);
    }
    rows
}

fn weights(design: &Design, materials: &Materials) -> Vec<Vec<String>> {
    let mut rows = vec![row(["weight", "", "without a weight"])];
    for weight in &materials.weights {
        rows.push(vec![
            title(design, &weight.size),
            format!("{:.1} g", weight.grams),
            weight.without_weight.join(", "),
        ]);
    }
    rows
}
