//! A comparison of two editions as tables for the terminal.

use super::table::{row, table};
use crate::design::Dimension;
use crate::edition::Comparison;
use crate::edition::compare::{HashChange, Kind, PieceChange};
use crate::edition::record::{FitRecord, GRAIN};
use std::fmt::Write;

/// Everything `compare` tells of one design.
pub fn tables(design: &str, [old, new]: &[String; 2], comparison: &Comparison) -> String {
    let c = comparison;
    let mut text = format!("{design}: {old} against {new}\n");
    if c.is_same() && c.pages.is_empty() {
        text.push_str("\nNothing differs.\n");
        return text;
    }
    let sizes = c.sizes_added.iter().map(|s| format!("size {s}: added"));
    let gone = c.sizes_removed.iter().map(|s| format!("size {s}: removed"));
    list("sizes", sizes.chain(gone), &mut text);
    if !c.pieces.is_empty() {
        let _ = write!(text, "\n{}", table(&pieces(&c.pieces)));
    }
    if !c.seams.is_empty() {
        let _ = write!(text, "\n{}", table(&seams(c)));
    }
    let fit = c.fit.iter().map(|fit| {
        let size = fit
            .size
            .as_ref()
            .map_or(String::new(), |size| format!(", {size}"));
        format!("{} {}{size}: {} ({})", fit.on, fit.change, by(fit), fit.why)
    });
    list("fit corrections", fit, &mut text);
    let materials = c.materials.iter().map(|listed| {
        let words = |words: &[String]| match words.is_empty() {
            true => "–".to_string(),
            false => words.join(", "),
        };
        format!(
            "{}: {} → {}",
            listed.what,
            words(&listed.old),
            words(&listed.new)
        )
    });
    list("materials", materials, &mut text);
    list("text", texts(c), &mut text);
    list("pictures", hashes(&c.pictures), &mut text);
    list("look", hashes(&c.look), &mut text);
    list("keys of the design", hashes(&c.keys), &mut text);
    all_printed(c, &mut text);
    text
}

/// By how much a correction changes what it does.
fn by(fit: &FitRecord) -> String {
    let unit = match fit.dimension() {
        Dimension::Angle => "°",
        _ => " mm",
    };
    format!("{:+}{unit}", fit.by)
}

/// What is sold, its pages, and the plates.
fn all_printed(c: &Comparison, text: &mut String) {
    let sold = c.sold.iter();
    let sold =
        sold.map(|(what, old, new)| format!("{what}: {} → {}", old.join(", "), new.join(", ")));
    list("sold", sold, text);
    let pages = c
        .pages
        .iter()
        .map(|(paper, old, new)| format!("{paper}: {old} → {new} pages"));
    list("pages", pages, text);
    let plates = c.plates.iter().filter(|(_, plates)| !plates.is_empty());
    let plates = plates.map(|(paper, plates)| {
        let all: Vec<String> = plates.iter().map(ToString::to_string).collect();
        format!("{paper}: plates {}", all.join(", "))
    });
    list("plates to print again", plates, text);
    let renumbered = c.plates_renumbered.iter().flat_map(|(paper, plates)| {
        let of =
            move |(old, new): &(usize, usize)| format!("{paper}: plate {old} is now plate {new}");
        plates.iter().map(of)
    });
    list("plates with another number", renumbered, text);
}

fn list(head: &str, lines: impl Iterator<Item = String>, text: &mut String) {
    for (at, line) in lines.enumerate() {
        if at == 0 {
            let _ = write!(text, "\n{head}\n");
        }
        let _ = writeln!(text, "  {line}");
    }
}

fn hashes(list: &[HashChange]) -> impl Iterator<Item = String> {
    list.iter()
        .map(|change| format!("{}: {}", change.name, change.kind.word()))
}

fn pieces(list: &[PieceChange]) -> Vec<Vec<String>> {
    let mut rows = vec![row([
        "",
        "piece, edge",
        "size",
        "old",
        "new",
        "moved at most",
        "where",
    ])];
    for piece in list {
        let extent = |at: usize| {
            let [width, height] = piece.extent[at];
            format!("{width:.1} by {height:.1} mm, {:.0} mm²", piece.area[at])
        };
        let (old, new) = match piece.kind {
            Kind::Added => (String::new(), extent(1)),
            Kind::Removed => (extent(0), String::new()),
            Kind::Changed => (extent(0), extent(1)),
        };
        let (moved, at) = match (&piece.moved, piece.kind) {
            (Some(moved), Kind::Changed) => {
                let share = (moved.share * 100.0).round();
                let also = what_else(piece);
                let also = if also.is_empty() {
                    also
                } else {
                    format!("; {also}")
                };
                (
                    format!("{:.3} mm", moved.mm),
                    format!("{}, {share} %{also}", moved.edge),
                )
            }
            (_, Kind::Changed) => (what_else(piece), String::new()),
            (_, kind) => (kind.word().to_string(), String::new()),
        };
        rows.push(vec![
            piece.number.to_string(),
            piece.title.clone(),
            piece.size_title.clone(),
            old,
            new,
            moved,
            at,
        ]);
        rows.extend(piece.edges.iter().map(|edge| {
            let text = |of: Option<[f64; 2]>| match of {
                Some([length, allowance]) => format!("{length:.2} mm, allowance {allowance:.2} mm"),
                None => String::new(),
            };
            let mut cells = row(["", "", "", "", "", "", ""]);
            cells[1] = format!("  {}", edge.edge);
            cells[3] = text(edge.old);
            cells[4] = text(edge.new);
            cells
        }));
    }
    rows
}

/// What differs in a piece besides its seam line.
fn what_else(piece: &PieceChange) -> String {
    let mut told = Vec::new();
    let mut add = |differs: bool, words: String| told.extend(differs.then_some(words));
    add(piece.cut_line > 0.0, "cut line".into());
    if let Some(degrees) = piece.turned {
        add(true, format!("grain turned by {degrees:+}°"));
    }
    let others = piece.marks.iter().any(|mark| mark != GRAIN);
    add(
        others || piece.turned.is_none() && !piece.marks.is_empty(),
        "marks".into(),
    );
    let before = &piece.before;
    let (old, new) = (before.number, piece.number);
    add(old != new, format!("number {old} is now {new}"));
    let (old, new) = (&before.title, &piece.title);
    add(old != new, format!("‘{old}’ is now ‘{new}’"));
    add(piece.recut, "what is cut".into());
    if told.is_empty() && piece.words {
        told.push("words".into());
    }
    told.join(", ")
}

fn seams(comparison: &Comparison) -> Vec<Vec<String>> {
    let mut rows = vec![row(["seam", "size", "old", "new"])];
    let text = |of: Option<[f64; 2]>| match of {
        Some([from, to]) => format!("{from:.2} to {to:.2} mm"),
        None => String::new(),
    };
    rows.extend(comparison.seams.iter().map(|seam| {
        let (old, new) = (text(seam.old), text(seam.new));
        vec![seam.seam.clone(), seam.size_title.clone(), old, new]
    }));
    rows
}

fn texts(comparison: &Comparison) -> impl Iterator<Item = String> {
    comparison.text.iter().map(|text| {
        let step = text
            .step
            .map_or(String::new(), |step| format!("step {step}, "));
        let chapter = text
            .chapter
            .as_ref()
            .map_or(String::new(), |c| format!("{c}: "));
        let head = if text.head.is_empty() {
            "before the first head"
        } else {
            &text.head
        };
        format!(
            "{} {chapter}{step}{head}: {}",
            text.language,
            text.kind.word()
        )
    })
}
