//! What trims and thread cost.

use super::shop_lengths::ShopLength;
use crate::design::{Price, PriceUnit};
use serde::Serialize;

/// What something costs for what the design makes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Money {
    /// Currency as the design writes it.
    pub currency: String,
    /// For as much as is used up, in that currency.
    pub used: f64,
    /// For as much as is bought, in that currency.
    pub paid: f64,
}

/// Cost of `count` things: each has the price, or so much length is needed and bought; mm.
pub fn of_trim(price: &Price, count: u32, length: Option<(f64, ShopLength)>) -> Option<Money> {
    let (used, paid) = match (price.per, length) {
        (PriceUnit::Each, _) => (f64::from(count), f64::from(count)),
        (PriceUnit::Length(mm), Some((needed, bought))) => (needed / mm, bought.sold_by(mm) / mm),
        (PriceUnit::Length(_), None) => return None,
    };
    Some(money(price, used, paid))
}

/// Cost of thread: of spools, or of a length; mm.
pub fn of_thread(price: &Price, spool: f64, (needed, bought): (f64, ShopLength)) -> Money {
    match price.per {
        PriceUnit::Each => {
            let spools = needed / spool;
            money(price, spools, (spools - 1e-9).ceil().max(1.0))
        }
        PriceUnit::Length(mm) => money(price, needed / mm, bought.sold_by(mm) / mm),
    }
}

fn money(price: &Price, used: f64, paid: f64) -> Money {
    Money {
        currency: price.currency.clone(),
        used: used * price.amount,
        paid: paid * price.amount,
    }
}
