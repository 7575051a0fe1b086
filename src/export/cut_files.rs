//! All drawings for a cutter: every piece of every size, and every length or sheet of cloth with the
//! pieces that lie on it.

use super::form::{Form, forms};
use super::layout_file::LayoutJob;
use super::piece_file::piece_file;
use crate::design::{Design, Stock};
use crate::materials::Bought;
use crate::piece::SizedPieces;
use rayon::prelude::*;
use std::collections::BTreeSet;

/// A drawing for a cutter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutFile {
    /// Its path below the folder of results, with forward slashes.
    pub name: String,
    /// The drawing, SVG.
    pub text: String,
}

/// What is to be drawn.
enum Job<'a> {
    Piece(Form<'a>, &'a SizedPieces),
    Layout(&'a Bought, usize),
}

/// The drawings of all `sizes` and of the layouts of `bought`, with their names.
///
/// `cut/<size>/<piece>.svg`; a piece that is cut from one cloth with its allowance and from another
/// without it has a second one, `<piece>.without-allowance.svg`. `cut/<size>/<cloth>-sheet-1.svg`, `-roll`
/// and `-hide-1`; where a cloth is sold in several ways its measures stand before that.
pub fn cut_files(design: &Design, sizes: &[SizedPieces], bought: &[Bought]) -> Vec<CutFile> {
    let cutting = &design.shop.cutting;
    let mut jobs: Vec<(String, Job<'_>)> = Vec::new();
    for sized in sizes {
        for piece in &sized.pieces {
            for form in forms(piece, cutting) {
                let second = form.without_allowance && form.is_one_of_two;
                let more = if second { ".without-allowance" } else { "" };
                let name = format!("cut/{}/{}{more}", sized.size, file_word(&piece.key));
                jobs.push((name, Job::Piece(form, sized)));
            }
        }
    }
    for lot in bought {
        let ways = bought
            .iter()
            .filter(|other| (&other.cloth, &other.size) == (&lot.cloth, &lot.size));
        let is_only = ways.count() == 1;
        for number in 0..lot.for_machine().laid.len() {
            let name = layout_name(lot, number, is_only);
            jobs.push((name, Job::Layout(lot, number)));
        }
    }
    let mut taken = BTreeSet::new();
    for (name, _) in &mut jobs {
        *name = free(name, &mut taken);
    }
    let layouts = LayoutJob {
        sizes,
        cutting,
        lengths: design.lengths,
    };
    let of_size = |size: &str| design.words.say("size.inside", &[("title", &size)]);
    let drawn = jobs.par_iter().map(|(name, job)| CutFile {
        name: format!("{name}.svg"),
        text: match job {
            Job::Piece(form, sized) => {
                piece_file(form, &of_size(&sized.size), cutting, design.lengths)
            }
            Job::Layout(lot, number) => layouts.file(
                lot.for_machine(),
                &lot.for_machine().laid[*number],
                &format!("{}, {}", lot.cloth, of_size(&lot.size)),
            ),
        },
    });
    drawn.collect()
}

/// The name of a layout's drawing, without its ending.
fn layout_name(lot: &Bought, number: usize, is_only: bool) -> String {
    let measures = |sides: &[f64]| {
        let sides: Vec<String> = sides.iter().map(|mm| format!("{mm:.0}")).collect();
        match is_only {
            true => String::new(),
            false => format!("-{}-mm", sides.join("-by-")),
        }
    };
    let number = number + 1;
    let (measures, kind) = match &lot.for_machine().stock {
        Stock::Sheet(sides) => (measures(sides), format!("sheet-{number}")),
        Stock::Roll(width) => (measures(&[*width]), "roll".to_string()),
        Stock::Hide(_) => (String::new(), format!("hide-{number}")),
    };
    format!(
        "cut/{}/{}{measures}-{kind}",
        lot.size,
        file_word(&lot.cloth)
    )
}

/// A name as a part of a file name.
fn file_word(name: &str) -> String {
    name.replace(' ', "-")
}

/// `name`, or if that is taken with a number behind it; taken from now on, whatever its capitals.
fn free(name: &str, taken: &mut BTreeSet<String>) -> String {
    let numbered = (2..).map(|number| format!("{name}-{number}"));
    let mut names = std::iter::once(name.to_string()).chain(numbered);
    let free = names.find(|name| taken.insert(name.to_lowercase()));
    free.unwrap_or_else(|| name.to_string())
}

#[cfg(test)]
mod tests;
