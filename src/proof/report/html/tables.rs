//! Tables of seams, test squares and pieces.

use super::write::{departure, escaped, push};
use super::{Report, distinct, head};
use crate::proof::MeasuredSquare;
use crate::proof::report::ProofedFile;

/// Longer tables stand under a line that opens them.
const LONG: usize = 16;

/// All tables that have a row.
pub fn all(page: &mut String, report: &Report) {
    seams(page, report);
    squares(page, report);
    pieces(page, report);
}

/// A column's head, and whether it holds figures.
type Column<'a> = (&'a str, bool);

/// A table; of each row the first cell is its head. Cells are marked up.
fn table(page: &mut String, caption: &str, columns: &[Column<'_>], rows: &[Vec<String>]) {
    let class = |figures: bool| if figures { " class=\"n\"" } else { "" };
    push(
        page,
        format_args!(
            "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"{caption}\"><table>\n\
             <caption>{caption}</caption>\n<thead><tr>"
        ),
    );
    for (name, figures) in columns {
        let name = escaped(name);
        push(
            page,
            format_args!("<th scope=\"col\"{}>{name}</th>", class(*figures)),
        );
    }
    page.push_str("</tr></thead>\n<tbody>\n");
    for row in rows {
        page.push_str("<tr>");
        for (index, (cell, (_, figures))) in row.iter().zip(columns).enumerate() {
            match index {
                0 => push(
                    page,
                    format_args!("<th scope=\"row\"{}>{cell}</th>", class(*figures)),
                ),
                _ => push(page, format_args!("<td{}>{cell}</td>", class(*figures))),
            }
        }
        page.push_str("</tr>\n");
    }
    page.push_str("</tbody>\n</table></div>\n");
}

fn long_table(page: &mut String, caption: &str, columns: &[Column<'_>], rows: &[Vec<String>]) {
    if rows.len() <= LONG {
        table(page, caption, columns, rows);
        return;
    }
    push(
        page,
        format_args!(
            "<details><summary>{caption}: {} rows</summary>\n",
            rows.len()
        ),
    );
    table(page, caption, columns, rows);
    page.push_str("</details>\n");
}

fn seams(page: &mut String, report: &Report) {
    if report.seams.is_empty() {
        return;
    }
    head(page, "seams", "Seams");
    page.push_str(
        "<p>Both edges as they are sewn, along the seam line. The first may be longer by what the design \
         lets it be eased.</p>\n",
    );
    let mut rows = Vec::new();
    for seam in &report.seams {
        let [one, other] = seam.lengths;
        let [least, most] = seam.allowed;
        let excess = one - other;
        let right = excess >= least - 1e-9 && excess <= most + 1e-9;
        let difference = match right {
            true => signed(excess, 3),
            false => format!("<strong class=\"bad\">{} wrong</strong>", signed(excess, 3)),
        };
        rows.push(vec![
            escaped(&seam.name),
            escaped(&seam.size),
            escaped(&seam.edges[0]),
            format!("{one:.3}"),
            escaped(&seam.edges[1]),
            format!("{other:.3}"),
            difference,
            format!("{} to {}", signed(least, 2), signed(most, 2)),
        ]);
    }
    let columns = [
        ("Seam", false),
        ("Size", false),
        ("Edge", false),
        ("mm", true),
        ("Sewn to", false),
        ("mm", true),
        ("Difference", true),
        ("Allowed", true),
    ];
    table(page, "Seams, in mm", &columns, &rows);
}

/// With its sign, to so many decimals.
fn signed(mm: f64, decimals: usize) -> String {
    let shown = format!("{mm:.decimals$}");
    let is_nothing = shown.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
    match shown.strip_prefix('-') {
        Some(figures) if is_nothing => figures.to_string(),
        Some(figures) => format!("\u{2212}{figures}"),
        None if is_nothing => shown,
        None => format!("+{shown}"),
    }
}

/// Whether a test square was measured.
pub fn any_squares(report: &Report) -> bool {
    report.measured.values().any(|m| !m.squares.is_empty())
}

fn squares(page: &mut String, report: &Report) {
    if !any_squares(report) {
        return;
    }
    head(page, "squares", "Test squares");
    let mut rows = Vec::new();
    let mut worst: f64 = 0.0;
    for file in &report.files {
        let Some(measured) = report.measured.get(&file.file) else {
            continue;
        };
        for square in &measured.squares {
            worst = worst.max(off(square));
            rows.push(square_row(file, square));
        }
    }
    push(
        page,
        format_args!(
            "<p>{} measured to the middle of their lines; the worst side is off by {} mm.</p>\n",
            super::counted(rows.len(), "square"),
            departure(worst)
        ),
    );
    let columns = [
        ("Paper", false),
        ("File", false),
        ("Page", true),
        ("Intended", true),
        ("Width", true),
        ("Height", true),
    ];
    long_table(page, "Test squares, in mm", &columns, &rows);
}

fn off(square: &MeasuredSquare) -> f64 {
    let side = |drawn: f64| (drawn - square.side).abs();
    side(square.width).max(side(square.height))
}

fn square_row(file: &ProofedFile, square: &MeasuredSquare) -> Vec<String> {
    vec![
        escaped(&file.about.paper),
        escaped(&file.file),
        square.page.to_string(),
        format!("{:.2}", square.side),
        format!("{:.4}", square.width),
        format!("{:.4}", square.height),
    ]
}

/// Whether an outline was looked for.
pub fn any_pieces(report: &Report) -> bool {
    report.measured.values().any(|m| !m.outlines.is_empty())
}

/// What was found of one piece in one size on one paper.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Found {
    Off(f64),
    Missing,
}

fn pieces(page: &mut String, report: &Report) {
    if !any_pieces(report) {
        return;
    }
    head(page, "pieces", "Pieces");
    page.push_str(
        "<p>Every piece in every size on every paper: how far its outlines, cut line and seam line, are off \
         at most in all files for that paper.</p>\n",
    );
    let plates = report.files.iter().filter(|file| {
        let measured = report.measured.get(&file.file);
        measured.is_some_and(|m| !m.outlines.is_empty())
    });
    let papers = distinct(plates.map(|file| &file.about.paper));
    let mut keys: Vec<(&str, &str)> = Vec::new();
    for outline in report.measured.values().flat_map(|m| &m.outlines) {
        let key = (outline.size.as_str(), outline.piece.as_str());
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    let mut columns = vec![("Piece", false), ("Size", false)];
    columns.extend(papers.iter().map(|paper| (paper.as_str(), true)));
    let row = |(size, piece): &(&str, &str)| {
        let mut cells = vec![escaped(piece), escaped(size)];
        let cell = |paper: &String| match worst(report, paper, (size, piece)) {
            None => "none".to_string(),
            Some(Found::Off(off)) => departure(off),
            Some(Found::Missing) => "<strong class=\"bad\">missing</strong>".to_string(),
        };
        cells.extend(papers.iter().map(cell));
        cells
    };
    let rows: Vec<Vec<String>> = keys.iter().map(row).collect();
    table(
        page,
        "Largest departure of outlines, in mm",
        &columns,
        &rows,
    );
}

/// The worst that was found in all files of a paper; `None` if the piece is not looked for there.
fn worst(report: &Report, paper: &str, (size, piece): (&str, &str)) -> Option<Found> {
    let files = report.files.iter().filter(|f| f.about.paper == paper);
    let outlines = files
        .filter_map(|file| report.measured.get(&file.file))
        .flat_map(|measured| &measured.outlines)
        .filter(|o| o.size == size && o.piece == piece);
    let mut worst = None;
    for outline in outlines {
        worst = match (worst, outline.deviation) {
            (Some(Found::Missing), _) | (_, None) => Some(Found::Missing),
            (Some(Found::Off(before)), Some(off)) => Some(Found::Off(before.max(off))),
            (None, Some(off)) => Some(Found::Off(off)),
        };
    }
    worst
}

/// The table of all checks by their code.
pub fn checks(page: &mut String, report: &Report) {
    let mut codes: Vec<&str> = report.checks.iter().map(|check| check.code).collect();
    codes.sort_unstable();
    codes.dedup();
    let rows: Vec<Vec<String>> = codes
        .iter()
        .map(|code| {
            let of_code = || report.checks.iter().filter(|check| check.code == *code);
            let failed = of_code().filter(|check| !check.passed).count();
            let passed = of_code().count() - failed;
            let failed = match failed {
                0 => "0".to_string(),
                some => format!("<strong class=\"bad\">{some}</strong>"),
            };
            vec![format!("<code>{code}</code>"), passed.to_string(), failed]
        })
        .collect();
    let columns = [("Check", false), ("Right", true), ("Wrong", true)];
    long_table(page, "Checks by their code", &columns, &rows);
}
