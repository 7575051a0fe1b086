//! Ways in which a cloth is sold that need no layouts of their own.

use crate::design::Stock;
use crate::materials::Bought;

/// The ways whose layouts are drawn, each with the wider rolls for which they serve as well: as much has to be
/// bought of those in every size, so that the pieces may lie on them as they do on the narrower one.
pub(super) fn drawn_for<'c>(
    bought: &[&'c Bought],
    ways: Vec<&'c str>,
) -> Vec<(&'c str, Vec<&'c str>)> {
    let serves = |narrow: &str, wide: &str| {
        let of = |way: &str| -> Vec<&Bought> {
            let own = bought.iter().filter(|b| b.sold == way);
            own.copied().collect()
        };
        let (narrow, wide) = (of(narrow), of(wide));
        let pairs = narrow.iter().zip(&wide);
        narrow.len() == wide.len() && pairs.into_iter().all(|(n, w)| is_enough(n, w))
    };
    let narrower = |wide: &&str| {
        let mut others = ways.iter().filter(|narrow| *narrow != wide);
        others.any(|narrow| serves(narrow, wide))
    };
    let (also, drawn): (Vec<&str>, Vec<&str>) = ways.iter().partition(|way| narrower(way));
    let with_others = |way: &'c str| {
        let served = also.iter().filter(|wide| serves(way, wide));
        let first = |wide: &&&str| drawn.iter().find(|way| serves(way, wide)) == Some(&way);
        (way, served.filter(first).copied().collect())
    };
    drawn.iter().map(|way| with_others(way)).collect()
}

/// Whether a wider roll takes the layout of the narrower one, and no less of it is bought.
fn is_enough(narrow: &Bought, wide: &Bought) -> bool {
    let (Stock::Roll(a), Stock::Roll(b)) = (&narrow.layout.stock, &wide.layout.stock) else {
        return false;
    };
    let alike = narrow.size == wide.size && narrow.layout.double == wide.layout.double;
    alike && a < b && narrow.text == wide.text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Diagnostics;
    use crate::folder::DesignFolder;
    use crate::pipeline::{Options, compute};

    #[test]
    fn a_wider_roll_of_which_as_much_is_bought_needs_no_layout() {
        // by hand: two boards of 150 by 60 mm lie beside each other on 112 cm and more, one behind the other on 8
        let design = "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\n\
            sizes:\n  one: {title: One size}\n\
            cloth: {c: {name: lawn, kind: woven, width: [140 cm, 8 cm, 112 cm, 150 cm], selvedge: none}}\n\
            pieces:\n  sole: {title: Sole, rectangle: {width: 60 mm, height: 150 mm}, \
            allowance: none, grain: lengthwise, cut: {c: 1 pair}}\n";
        let folder = DesignFolder::from_memory("test", [("design.yaml", design.to_string())]);
        let mut diagnostics = Diagnostics::default();
        let made = compute(&folder, &Options::default(), &mut |_| {}, &mut diagnostics);
        let bought = made.expect("sound").materials.bought;
        let all: Vec<&Bought> = bought.iter().collect();
        let ways: Vec<&str> = all.iter().map(|b| b.sold.as_str()).collect();
        let drawn = drawn_for(&all, ways.clone());
        assert_eq!(
            drawn,
            [(ways[1], vec![]), (ways[2], vec![ways[0], ways[3]])]
        );
    }
}
