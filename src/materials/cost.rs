//! What the cloth costs and weighs, for designers who sell kits: by size, for one of what the design makes
//! and for each kit. The waste of the layouts is counted: what a piece of cloth costs is shared by all
//! that comes out of it.

use super::amounts::Amount;
use super::buying::Bought;
use crate::design::{Cloth, Design, PriceUnit, Stock};
use crate::diagnostic::{Diagnostic, Diagnostics};
use serde::Serialize;

/// Cost and weight in one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cost {
    /// Key of the size.
    pub size: String,
    /// Currency as the design writes it.
    pub currency: String,
    /// Share of the cloth that one of what the design makes uses up, its waste with it.
    pub used: f64,
    /// What is paid in the shop for one.
    pub bought: f64,
    /// What is paid for each kit.
    pub kits: Vec<KitCost>,
    /// Names of the cloths that have no price and are not counted.
    pub without_price: Vec<String>,
}

/// What a kit costs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitCost {
    /// How many of what the design makes.
    pub times: u32,
    /// What is paid for all.
    pub bought: f64,
    /// What is paid for each.
    pub each: f64,
}

/// Weight of the pieces of one size, as cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Weight {
    /// Key of the size.
    pub size: String,
    /// Grams, of one of what the design makes.
    pub grams: f64,
    /// Names of the cloths whose weight is not known.
    pub without_weight: Vec<String>,
}

/// Costs of all sizes; none if no cloth has a price. Prices in several currencies, and prices that do not
/// fit the way a cloth is sold, are reported.
pub fn costs(design: &Design, bought: &[Bought], diagnostics: &mut Diagnostics) -> Vec<Cost> {
    let mut priced = design.cloth.iter().filter_map(|c| c.price.as_ref());
    let Some(first) = priced.next() else {
        return Vec::new();
    };
    if let Some(other) = priced.find(|price| price.currency != first.currency) {
        let message = format!(
            "a price in {} stands beside one in {}, and they cannot be added",
            other.currency, first.currency
        );
        let remedy = "Give all prices in one currency.";
        let said = Diagnostic::error("several-currencies", Some(&other.place), message);
        diagnostics.push(said.remedy(remedy));
        return Vec::new();
    }
    tell_of_units(design, diagnostics);
    let sizes = sizes(bought);
    sizes
        .into_iter()
        .map(|size| cost(design, &first.currency, size, bought))
        .collect()
}

fn sizes(bought: &[Bought]) -> Vec<&str> {
    let mut sizes: Vec<&str> = Vec::new();
    for one in bought {
        if !sizes.contains(&one.size.as_str()) {
            sizes.push(&one.size);
        }
    }
    sizes
}

fn cost(design: &Design, currency: &str, size: &str, bought: &[Bought]) -> Cost {
    let mut cost = Cost {
        size: size.to_string(),
        currency: currency.to_string(),
        used: 0.0,
        bought: 0.0,
        kits: design
            .kits
            .iter()
            .map(|times| KitCost {
                times: *times,
                bought: 0.0,
                each: 0.0,
            })
            .collect(),
        without_price: Vec::new(),
    };
    for cloth in &design.cloth {
        let mut own = bought
            .iter()
            .filter(|b| b.size == size && b.cloth == cloth.key);
        let priced = own.clone().find(|b| rate(cloth, &b.layout.stock).is_some());
        let Some(priced) = priced else {
            if own.next().is_some() {
                cost.without_price.push(cloth.name.clone());
            }
            continue;
        };
        let Some(rate) = rate(cloth, &priced.layout.stock) else {
            continue;
        };
        let inch = design.lengths.inch_first;
        cost.used += used(priced, rate);
        cost.bought += paid(priced.amount, rate, inch);
        for (kit, own) in cost.kits.iter_mut().zip(&priced.kits) {
            kit.bought += paid(own.amount, rate, inch);
        }
    }
    for kit in &mut cost.kits {
        kit.each = kit.bought / f64::from(kit.times);
    }
    cost
}

/// Price of one sheet, or of one mm off the roll.
fn rate(cloth: &Cloth, stock: &Stock) -> Option<f64> {
    let price = cloth.price.as_ref()?;
    match (price.per, stock) {
        (PriceUnit::Length(mm), Stock::Roll(_)) => Some(price.amount / mm),
        (PriceUnit::Each, Stock::Sheet(_) | Stock::Hide(_)) => Some(price.amount),
        (PriceUnit::Each, Stock::Roll(_)) | (PriceUnit::Length(_), _) => None,
    }
}

fn used(bought: &Bought, rate: f64) -> f64 {
    match (bought.amount, bought.per_sheet) {
        (Amount::Length { needed_mm, .. }, _) => needed_mm * rate,
        (Amount::Sheets { .. }, Some(per_sheet)) => rate / f64::from(per_sheet.max(1)),
        (Amount::Sheets { count }, None) => f64::from(count) * rate,
    }
}

fn paid(amount: Amount, rate: f64, by_the_yard: bool) -> f64 {
    match amount {
        Amount::Length { yards_mm, .. } if by_the_yard => yards_mm * rate,
        Amount::Length { metric_mm, .. } => metric_mm * rate,
        Amount::Sheets { count } => f64::from(count) * rate,
    }
}

/// A price for a metre of what is sold in sheets counts for nothing.
fn tell_of_units(design: &Design, diagnostics: &mut Diagnostics) {
    for cloth in &design.cloth {
        let Some(price) = &cloth.price else { continue };
        if cloth.stock.iter().any(|stock| rate(cloth, stock).is_some()) {
            continue;
        }
        let (message, remedy) = match price.per {
            PriceUnit::Each => (
                format!(
                    "the price of {} is for a sheet, but it says no sheet",
                    cloth.name
                ),
                "Give the price of a length (14.50 EUR per m), or add ‘sheet:’.",
            ),
            PriceUnit::Length(_) => (
                format!(
                    "the price of {} is for a length, but it says no width",
                    cloth.name
                ),
                "Give the price of a sheet (1.20 EUR per sheet), or add ‘width:’.",
            ),
        };
        let said = Diagnostic::error("price-unit", Some(&price.place), message);
        diagnostics.push(said.remedy(remedy));
    }
}

/// Weights of the pieces by size; none if no cloth says what it weighs.
pub fn weights(design: &Design, bought: &[Bought]) -> Vec<Weight> {
    if design.cloth.iter().all(|cloth| cloth.weight.is_none()) {
        return Vec::new();
    }
    let of = |size: &str| {
        let mut weight = Weight {
            size: size.to_string(),
            grams: 0.0,
            without_weight: Vec::new(),
        };
        for cloth in &design.cloth {
            let mut own = bought
                .iter()
                .filter(|b| b.size == size && b.cloth == cloth.key);
            let Some(first) = own.next() else { continue };
            match cloth.weight {
                Some(per_square_metre) => {
                    weight.grams += first.layout.lay.area() * 1e-6 * per_square_metre;
                }
                None => weight.without_weight.push(cloth.name.clone()),
            }
        }
        weight
    };
    sizes(bought).into_iter().map(of).collect()
}
