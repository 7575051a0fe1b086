//! Tables for a terminal.

/// One row.
pub(super) fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.map(str::to_string).to_vec()
}

/// Columns padded to their widest cell, two spaces apart, under a ruled head.
pub(super) fn table(rows: &[Vec<String>]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|r| r.get(column))
            .map(|c| c.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let mut text = String::new();
    for (index, cells) in rows.iter().enumerate() {
        let padded = cells
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell:width$}"));
        text.push_str(padded.collect::<Vec<_>>().join("  ").trim_end());
        text.push('\n');
        if index == 0 {
            let rule: usize = widths.iter().sum::<usize>() + 2 * columns.saturating_sub(1);
            text.push_str(&"-".repeat(rule));
            text.push('\n');
        }
    }
    text
}
