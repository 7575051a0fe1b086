//! Cloth as a design describes it: what it is, how it is sold and how pieces may lie on it.
//! Millimetres.

use super::cloth_kind::ClothKind;
use crate::diagnostic::Place;
use crate::language::Words;
use kurbo::Point;

/// A cloth, felt, leather or interfacing.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// Key, e.g. `outer`.
    pub key: String,
    /// As printed, e.g. `wool felt`.
    pub name: String,
    /// Kind, e.g. `wool felt`, `woven`, `interfacing`.
    pub kind: Option<String>,
    /// Thickness, mm.
    pub thickness: Option<f64>,
    /// How it is sold; empty if the design does not say.
    pub stock: Vec<Stock>,
    /// Strip along each selvedge that is not used, mm.
    pub selvedge: f64,
    /// Whether both sides are alike: a turned piece is then cut like any other.
    pub sides_alike: bool,
    /// Whether it has a grain that grain lines must follow.
    pub has_grain: bool,
    /// Whether all pieces must lie one way up (nap, one-way print).
    pub one_way: bool,
    /// Whether it is folded along its length and cut double.
    pub double: bool,
    /// Which way it stretches.
    pub stretch: Option<Stretch>,
    /// How much it shrinks when it is washed before cutting: along its length, and across; shares.
    pub shrinkage: [f64; 2],
    /// Space between pieces, mm.
    pub spacing: f64,
    /// What it costs.
    pub price: Option<Price>,
    /// Weight, g per m².
    pub weight: Option<f64>,
    /// Words for the materials list.
    pub note: Option<String>,
    /// Where it is declared.
    pub place: Place,
}

/// A form in which a cloth is sold.
#[derive(Debug, Clone, PartialEq)]
pub enum Stock {
    /// A sheet: across and down, mm.
    Sheet([f64; 2]),
    /// Off the roll, of this width, mm.
    Roll(f64),
    /// A piece of irregular outline, such as a hide: a closed ring, mm, its box from the origin.
    Hide(Vec<Point>),
}

/// Which way a cloth stretches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stretch {
    /// From selvedge to selvedge.
    Across,
    /// Along the selvedge.
    Along,
    /// Both.
    BothWays,
}

impl Stretch {
    /// As the tables of words call it.
    pub fn key(self) -> &'static str {
        match self {
            Stretch::Across => "across",
            Stretch::Along => "along",
            Stretch::BothWays => "both ways",
        }
    }
}

/// A price.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Amount of money.
    pub amount: f64,
    /// Currency as the designer writes it, e.g. `EUR`.
    pub currency: String,
    /// What is had for it.
    pub per: PriceUnit,
    /// Where it is written.
    pub place: Place,
}

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PriceUnit {
    /// One sheet, hide, button or pack.
    Each,
    /// A length, mm.
    Length(f64),
}

/// What is usual for a cloth of a kind, where the design does not say (common practice, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClothHabits {
    /// Both sides alike.
    pub sides_alike: bool,
    /// Has a grain.
    pub has_grain: bool,
    /// Strip along each selvedge that is not used, mm.
    pub selvedge: f64,
}

/// Usual space between pieces, mm: what scissors need (common practice, from memory).
pub const SPACING: f64 = 3.0;

/// A selvedge is woven more tightly than the cloth, and not used: 10 mm each side (common practice,
/// from memory).
const SELVEDGE: f64 = 10.0;

/// What is usual for a cloth that a designer calls by these words.
pub fn habits(kind: &str) -> ClothHabits {
    let words = kind.to_lowercase();
    if words.contains("interfacing") || words.contains("stiffener") {
        return ClothHabits {
            sides_alike: false,
            has_grain: words.contains("woven") && !words.contains("non"),
            selvedge: 0.0,
        };
    }
    match ClothKind::named(kind) {
        Some(ClothKind::WoolFelt | ClothKind::CraftFelt) => ClothHabits {
            sides_alike: true,
            has_grain: false,
            selvedge: 0.0,
        },
        Some(ClothKind::FauxLeather) => ClothHabits {
            sides_alike: false,
            has_grain: false,
            selvedge: 0.0,
        },
        Some(ClothKind::Woven | ClothKind::Knit) | None => ClothHabits {
            sides_alike: false,
            has_grain: true,
            selvedge: SELVEDGE,
        },
    }
}

impl Cloth {
    /// A cloth of which nothing is said but its name.
    pub fn named(key: &str, name: &str, place: Place) -> Self {
        let usual = habits(name);
        Self {
            key: key.to_string(),
            name: name.to_string(),
            kind: None,
            thickness: None,
            stock: Vec::new(),
            selvedge: 0.0,
            sides_alike: usual.sides_alike,
            has_grain: usual.has_grain,
            one_way: false,
            double: false,
            stretch: None,
            shrinkage: [0.0; 2],
            spacing: SPACING,
            price: None,
            weight: None,
            note: None,
            place,
        }
    }

    /// Whether it is stuck on with heat: it has an adhesive side, and no right one.
    pub fn is_fused(&self, words: &Words) -> bool {
        let kind = self.kind.as_deref().unwrap_or_default();
        words.knows("known.interfacing", &format!("{} {kind}", self.name))
    }

    /// The words by which its kind is known: those of the kind, else of the name.
    pub fn kind_words(&self) -> &str {
        self.kind.as_deref().unwrap_or(&self.name)
    }

    /// Widths off the roll, mm.
    pub fn widths(&self) -> impl Iterator<Item = f64> {
        self.stock.iter().filter_map(|stock| match stock {
            Stock::Roll(width) => Some(*width),
            _ => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn felt_has_two_like_sides_and_no_grain_and_woven_cloth_has_both() {
        for (kind, alike, grain) in [
            ("wool felt", true, false),
            ("craft felt", true, false),
            ("woven", false, true),
            ("cotton jersey knit", false, true),
            ("faux leather", false, false),
            ("fusible interfacing", false, false),
            ("woven interfacing", false, true),
            ("non-woven interfacing", false, false),
        ] {
            let found = habits(kind);
            assert_eq!(
                (found.sides_alike, found.has_grain),
                (alike, grain),
                "{kind}"
            );
        }
    }
}
