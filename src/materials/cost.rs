//! What everything costs and weighs, for designers who sell kits: by size, for one of what the design
//! makes and for each kit. The waste of the layouts is counted: what a piece of cloth costs is shared
//! by all that comes out of it.

use super::amounts::Amount;
use super::buying::Bought;
use super::money::Money;
use super::shop_lengths::in_inches;
use super::thread::ThreadRow;
use super::trims::TrimRow;
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
    /// What one of what the design makes uses up of cloth, the waste with it, trims and thread, in
    /// that currency.
    pub used: f64,
    /// What is paid in the shop for one, in that currency.
    pub bought: f64,
    /// What is paid for each kit.
    pub kits: Vec<KitCost>,
    /// Names of the cloths and trims that have no price and are not counted.
    pub without_price: Vec<String>,
}

/// What a kit costs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitCost {
    /// How many of what the design makes.
    pub times: u32,
    /// What is paid for all, in the currency of the cost.
    pub bought: f64,
    /// What is paid for each, in the same.
    pub each: f64,
}

/// Weight of the pieces of one size, as cut, and its trims.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Weight {
    /// Key of the size.
    pub size: String,
    /// Grams, of one of what the design makes.
    pub grams: f64,
    /// Names of the cloths and trims whose weight is not known.
    pub without_weight: Vec<String>,
}

/// What is used besides cloth.
#[derive(Debug, Clone, Copy)]
pub struct Notions<'a> {
    /// Trims.
    pub trims: &'a [TrimRow],
    /// Sewing thread.
    pub thread: Option<&'a ThreadRow>,
}

/// Costs of all sizes; none if nothing has a price. Prices in several currencies, and prices that do
/// not fit the way a cloth is sold, are reported.
pub fn costs(
    design: &Design,
    bought: &[Bought],
    notions: Notions<'_>,
    diagnostics: &mut Diagnostics,
) -> Vec<Cost> {
    let cloth = design.cloth.iter().filter_map(|c| c.price.as_ref());
    let trims = design.trims.iter().filter_map(|t| t.price.as_ref());
    let thread = design.thread.iter().filter_map(|t| t.price.as_ref());
    let mut priced = cloth.chain(trims).chain(thread);
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
        .map(|size| {
            let mut cost = cost(design, &first.currency, size, bought);
            cost.add(notions, title_of(bought, size));
            cost
        })
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
        let inch = priced_in_yards(cloth, design);
        cost.used += used(priced, rate);
        cost.bought += paid(priced.amount, rate, inch);
        for (kit, own) in cost.kits.iter_mut().zip(&priced.kits) {
            kit.bought += paid(own.amount, rate, inch);
        }
    }
    cost
}

impl Cost {
    /// Adds trims and thread: to kits as much as they use up.
    fn add(&mut self, notions: Notions<'_>, title: &str) {
        for (name, money) in notions.costs(title) {
            match money {
                Some(money) => {
                    self.used += money.used;
                    self.bought += money.paid;
                    for kit in &mut self.kits {
                        kit.bought += money.used * f64::from(kit.times);
                    }
                }
                None => self.without_price.push(name.to_string()),
            }
        }
        for kit in &mut self.kits {
            kit.each = kit.bought / f64::from(kit.times);
        }
    }
}

impl<'a> Notions<'a> {
    /// Names and costs of what a size takes, by the title of the size.
    fn costs(self, title: &str) -> Vec<(&'a str, Option<&'a Money>)> {
        let of = |size: &Option<String>| size.as_deref().is_none_or(|size| size == title);
        let mut costs: Vec<(&str, Option<&Money>)> = Vec::new();
        for trim in self.trims {
            let amount = trim.bought.iter().find(|amount| of(&amount.size));
            costs.push((&trim.name, amount.and_then(|amount| amount.cost.as_ref())));
        }
        if let Some(thread) = self.thread {
            let line = thread.lines.iter().find(|line| of(&line.size));
            costs.push((&thread.name, line.and_then(|line| line.cost.as_ref())));
        }
        costs
    }
}

fn title_of<'b>(bought: &'b [Bought], size: &str) -> &'b str {
    let found = bought.iter().find(|b| b.size == size);
    found.map_or("", |b| &b.title)
}

/// Whether the shop cuts yards: its price is for them.
fn priced_in_yards(cloth: &Cloth, design: &Design) -> bool {
    match cloth.price.as_ref().map(|price| price.per) {
        Some(PriceUnit::Length(mm)) => in_inches(mm),
        _ => design.lengths.inch_first,
    }
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
        (
            Amount::Length {
                metric_mm,
                yards_mm,
                ..
            },
            _,
        ) => bought.layout.taken_share() * metric_mm.min(yards_mm) * rate,
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

/// Weights of pieces and trims by size; none if nothing says what it weighs.
pub fn weights(design: &Design, bought: &[Bought], trims: &[TrimRow]) -> Vec<Weight> {
    let heavy = |trim: &TrimRow| trim.bought.iter().any(|amount| amount.weight_g.is_some());
    let weighed = design.cloth.iter().any(|cloth| cloth.weight.is_some());
    if !weighed && !trims.iter().any(heavy) {
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
            let square_metres = first.layout.lay.area() * 1e-6;
            weight.add(&cloth.name, cloth.weight.map(|grams| grams * square_metres));
        }
        let title = title_of(bought, size);
        for trim in trims {
            let own = |size: &Option<String>| size.as_deref().is_none_or(|size| size == title);
            let amount = trim.bought.iter().find(|amount| own(&amount.size));
            weight.add(&trim.name, amount.and_then(|amount| amount.weight_g));
        }
        weight
    };
    sizes(bought).into_iter().map(of).collect()
}

impl Weight {
    fn add(&mut self, name: &str, grams: Option<f64>) {
        match grams {
            Some(grams) => self.grams += grams,
            None => self.without_weight.push(name.to_string()),
        }
    }
}
