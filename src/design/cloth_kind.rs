//! Kinds of cloth for an upper: how thick they are and how much fullness they take up when they are
//! eased. From memory of sewing practice, to be tried on the cloth itself.

/// A kind of cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClothKind {
    /// Felt of wool: shrinks and moulds under steam.
    WoolFelt,
    /// Felt of man-made fibre.
    CraftFelt,
    /// Woven cloth on the straight; on the bias it takes up more.
    Woven,
    /// Knitted cloth.
    Knit,
    /// Coated cloth that looks like leather.
    FauxLeather,
}

/// What is known of a kind of cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClothFacts {
    /// Usual thickness, mm (from memory of practice).
    pub thickness: f64,
    /// How much longer than the sole the toe piece may be between the ease notches, as a share
    /// (from memory of practice).
    pub ease_limit: f64,
    /// The range in which designers set that share (from memory of practice).
    pub usual: [f64; 2],
    /// Whether its cut edges fray (common practice). Knit rolls, but seldom runs.
    pub frays: bool,
}

impl ClothKind {
    /// All kinds.
    pub const ALL: [ClothKind; 5] = [
        ClothKind::WoolFelt,
        ClothKind::CraftFelt,
        ClothKind::Woven,
        ClothKind::Knit,
        ClothKind::FauxLeather,
    ];

    /// The kind that a designer calls by these words; words before the last are not needed for
    /// woven and knitted cloth (`woven cotton`, `cotton jersey knit`).
    #[must_use]
    pub fn named(words: &str) -> Option<Self> {
        let words = words.to_lowercase();
        let any = |names: &[&str]| names.iter().any(|name| words.contains(name));
        if any(&["craft felt", "acrylic felt"]) {
            Some(ClothKind::CraftFelt)
        } else if any(&["felt"]) {
            Some(ClothKind::WoolFelt)
        } else if any(&["leather", "vinyl"]) {
            Some(ClothKind::FauxLeather)
        } else if any(&["knit", "jersey"]) {
            Some(ClothKind::Knit)
        } else if any(&["woven", "cotton", "linen", "silk", "lawn"]) {
            Some(ClothKind::Woven)
        } else {
            None
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            ClothKind::WoolFelt => "wool felt",
            ClothKind::CraftFelt => "craft felt",
            ClothKind::Woven => "woven cloth",
            ClothKind::Knit => "knit",
            ClothKind::FauxLeather => "faux leather",
        }
    }

    /// What is known of it.
    #[must_use]
    pub fn facts(self) -> ClothFacts {
        let (thickness, ease_limit, usual) = match self {
            ClothKind::WoolFelt => (1.2, 0.10, [0.08, 0.12]),
            ClothKind::CraftFelt => (1.0, 0.07, [0.05, 0.08]),
            ClothKind::Woven => (0.3, 0.05, [0.03, 0.08]),
            ClothKind::Knit => (0.7, 0.10, [0.08, 0.12]),
            ClothKind::FauxLeather => (0.8, 0.03, [0.02, 0.04]),
        };
        ClothFacts {
            thickness,
            ease_limit,
            usual,
            frays: self == ClothKind::Woven,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_found_by_its_own_words_and_lies_in_its_range() {
        for kind in ClothKind::ALL {
            assert_eq!(ClothKind::named(kind.words()), Some(kind));
            let facts = kind.facts();
            assert!(facts.usual[0] <= facts.ease_limit && facts.ease_limit <= facts.usual[1]);
        }
        assert_eq!(ClothKind::named("woven cotton"), Some(ClothKind::Woven));
        assert_eq!(ClothKind::named("interfacing"), None);
    }
}
