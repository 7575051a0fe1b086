//! Tables of pieces, edges and seams for the terminal.

use super::table::{row, table};
use super::{measure_cloth, measure_shoe};
use crate::design::{LengthStyle, printed};
use crate::materials::{Materials, Money, ThreadRow};
use crate::piece::{Piece, SizedPieces, WalkedSeam};
use crate::pipeline::Computed;
use std::fmt::Write;

/// Everything `measure` tells of one design.
pub fn tables(computed: &Computed) -> String {
    let Computed {
        design,
        sizes,
        materials,
        drafts,
        ..
    } = computed;
    let mut text = format!("{} {}", design.title, design.edition);
    text.truncate(text.trim_end().len());
    text.push('\n');
    for ((size, sized), draft) in design.sizes.iter().zip(sizes).zip(drafts) {
        let words = sized
            .words
            .as_deref()
            .map_or(String::new(), |w| format!(", {w}"));
        let _ = write!(text, "\n{}{words}\n\n", sized.title);
        text.push_str(&table(&pieces(sized, design.lengths)));
        if !sized.seams.is_empty() {
            text.push('\n');
            text.push_str(&table(&seams(sized)));
        }
        if let Some(shoe) = &draft.shoe {
            text.push_str(&measure_shoe::shoe(design, size, shoe));
        }
    }
    text.push_str(&measure_cloth::cloth(design, materials));
    if !materials.trims.is_empty() {
        text.push('\n');
        text.push_str(&table(&trims(materials)));
    }
    if let Some(row) = &materials.thread {
        text.push('\n');
        text.push_str(&table(&thread(row)));
    }
    text
}

fn pieces(sized: &SizedPieces, style: LengthStyle) -> Vec<Vec<String>> {
    let mut rows = vec![row([
        "",
        "piece, edge",
        "seam line",
        "",
        "allowance",
        "notches",
    ])];
    for piece in &sized.pieces {
        let bounds = piece.outline.bounds();
        rows.push(vec![
            piece.number.to_string(),
            piece.title.clone(),
            format!("{:.1} by {:.1} mm", bounds.width(), bounds.height()),
            format!("{:.2} mm round", piece.outline.perimeter()),
            String::new(),
            String::new(),
        ]);
        rows.extend(edges(piece, style));
    }
    rows
}

fn edges(piece: &Piece, style: LengthStyle) -> impl Iterator<Item = Vec<String>> {
    piece
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .map(move |(edge, allowance)| {
            let notches: Vec<String> = piece
                .notches
                .iter()
                .filter(|n| n.edge == edge.name)
                .map(|n| format!("{} {:.1}", n.name, n.at))
                .collect();
            let length = edge.length();
            let fold = piece.fold.as_deref() == Some(edge.name.as_str());
            let allowance = match *allowance {
                _ if fold => "fold".to_string(),
                a if a < 1e-9 => "none".to_string(),
                a => printed::plain(&printed::both(a, style)),
            };
            let inch = printed::inch(length, style.denominator).unwrap_or_default();
            vec![
                String::new(),
                format!("  {}", edge.name),
                format!("{length:.2} mm"),
                printed::plain(&inch),
                allowance,
                notches.join(", "),
            ]
        })
}

fn seams(sized: &SizedPieces) -> Vec<Vec<String>> {
    let mut rows = vec![row(["seam", "joins", "to", "easing", "gap", "corners"])];
    rows.extend(sized.seams.iter().map(seam));
    rows
}

fn seam(seam: &WalkedSeam) -> Vec<String> {
    let end = |(piece, edge): &(String, String), length: f64| format!("{piece}.{edge} {length:.2}");
    vec![
        seam.name.clone(),
        end(&seam.from, seam.length_from),
        end(&seam.to, seam.length_to),
        // a rounding error below nothing prints no minus
        format!(
            "{:+.1} %",
            (10.0 * seam.easing_percent).round() / 10.0 + 0.0
        ),
        format!("{:.2} mm", seam.gap),
        format!(
            "{:.0}\u{b0} {:.0}\u{b0}",
            seam.end_angles[0], seam.end_angles[1]
        ),
    ]
}

fn trims(materials: &Materials) -> Vec<Vec<String>> {
    let mut rows = vec![row([
        "trim",
        "count",
        "width",
        "cut length",
        "to buy",
        "cost",
    ])];
    for trim in &materials.trims {
        let lengths = trim
            .lines
            .iter()
            .map(|line| of_size(&line.size, &line.text));
        let lengths: Vec<String> = lengths.collect();
        let bought = trim
            .bought
            .iter()
            .filter(|amount| amount.needed_mm.is_some());
        let bought: Vec<String> = bought.map(|b| of_size(&b.size, &b.text)).collect();
        rows.push(vec![
            trim.name.clone(),
            trim.count.to_string(),
            printed::plain(trim.width.as_deref().unwrap_or_default()),
            printed::plain(&lengths.join(", ")),
            printed::plain(&bought.join(", ")),
            costs(trim.bought.iter().map(|b| (&b.size, &b.cost))),
        ]);
    }
    rows
}

/// A text with the size it is for, unless it holds for all.
fn of_size(size: &Option<String>, text: &str) -> String {
    match size {
        Some(size) => format!("{size} {text}"),
        None => text.to_string(),
    }
}

/// What is used up, by size; empty where nothing has a price.
fn costs<'c>(costs: impl Iterator<Item = (&'c Option<String>, &'c Option<Money>)>) -> String {
    let words = costs.filter_map(|(size, cost)| {
        let cost = cost.as_ref()?;
        let money = format!("{:.2} {}", cost.used, cost.currency);
        Some(of_size(size, &money))
    });
    words.collect::<Vec<_>>().join(", ")
}

fn thread(thread: &ThreadRow) -> Vec<Vec<String>> {
    let mut rows = vec![row(["thread", "sewn", "thread for it", "to buy", "cost"])];
    rows.extend(thread.lines.iter().map(|line| {
        vec![
            line.size.clone().unwrap_or_else(|| thread.name.clone()),
            format!("{:.2} m", line.sewn_mm / 1000.0),
            format!("{:.2} m", line.needed_mm / 1000.0),
            printed::plain(&line.text),
            costs(std::iter::once((&None, &line.cost))),
        ]
    }));
    // what a maker of kits asks
    let one = match thread.per_spool {
        0 => format!("{} for one", thread.spools),
        1 => "enough for one".to_string(),
        many => format!("enough for {many} of the largest"),
    };
    let kits = thread.kits.iter();
    let kits = kits.map(|kit| format!("{} for {}", kit.spools, kit.times));
    let spools: Vec<String> = std::iter::once(one).chain(kits).collect();
    let spool = format!("spool of {}", printed::plain(&thread.spool));
    rows.push(row([&spool, "", "", &spools.join(", ")]));
    rows
}
