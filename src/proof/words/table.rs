//! Tables of the text: rows of cells that must stand beside each other, so that no value is exchanged with
//! that of another column.

use crate::proof::intended_words::IntendedTable;
use crate::proof::letter::streamed;

impl IntendedTable {
    /// What is not printed as it should be, told by `says`: a row, or the heads of the columns. A template
    /// of the design's own may set its columns as rows.
    pub(super) fn missing(&self, says: impl Fn(&str) -> bool) -> Option<String> {
        let missing = self.missing_upright(&says)?;
        let turned = self
            .turned()
            .filter(|table| table.missing_upright(&says).is_none());
        turned.is_none().then_some(missing)
    }

    /// The same with its columns as rows; nothing if it is not known whole.
    fn turned(&self) -> Option<Self> {
        if self.lead != 1 || self.goes_on {
            return None;
        }
        let cell = |row: &Vec<String>, column: usize| row.get(column).cloned().unwrap_or_default();
        let names = |column: usize| self.rows.iter().map(move |row| cell(row, column));
        let rows = (1..self.head.len()).map(|column| {
            let lead = std::iter::once(cell(&self.head, column));
            lead.chain(names(column)).collect()
        });
        Some(Self {
            // what heads the leading cells need not be what headed the columns
            head: names(0).collect(),
            rows: rows.collect(),
            ..self.clone()
        })
    }

    fn missing_upright(&self, says: &impl Fn(&str) -> bool) -> Option<String> {
        let as_list = |row: &Vec<String>| says(&self.as_list(row));
        if self.rows.iter().all(as_list) {
            return None;
        }
        // another table may have the same heads
        let first = self.rows.first().filter(|_| !self.goes_on);
        let top = [
            self.head.concat(),
            first.map_or_else(String::new, |row| row.concat()),
        ];
        let missing = match self.rows.iter().find(|row| !says(&row.concat())) {
            Some(row) => row,
            None if !says(&top.concat()) => &self.head,
            None => return None,
        };
        let cells = missing.iter().filter(|cell| !cell.is_empty());
        Some(cells.map(String::as_str).collect::<Vec<_>>().join(" | "))
    }

    fn as_list(&self, row: &[String]) -> String {
        let cells = row.iter().enumerate();
        let told = cells.filter(|(_, cell)| !streamed(cell).is_empty());
        let told = told.map(|(at, cell)| match self.head.get(at) {
            Some(head) if at >= self.lead => format!("{head}{cell}"),
            _ => cell.clone(),
        });
        told.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> IntendedTable {
        let row = |cells: [&str; 3]| cells.map(str::to_string).to_vec();
        IntendedTable {
            head: row(["Measure", "Small", "Large"]),
            lead: 1,
            rows: vec![
                row(["Height", "60 mm", "90 mm"]),
                row(["Handle", "", "200 mm"]),
            ],
            goes_on: false,
        }
    }

    fn missing(printed: &str) -> Option<String> {
        table().missing(|words| streamed(printed).contains(&streamed(words)))
    }

    #[test]
    fn rows_stand_in_a_table_or_in_a_list() {
        let table = "Measure Small Large; Height 60 mm 90 mm; Handle 200 mm";
        assert_eq!(missing(table), None);
        let list = "Height. Small: 60 mm. Large: 90 mm. Handle. Large: 200 mm.";
        assert_eq!(missing(list), None);
    }

    #[test]
    fn columns_may_be_set_as_rows() {
        let turned = "Size Height Handle; Small 60 mm; Large 90 mm 200 mm";
        assert_eq!(missing(turned), None);
        assert!(missing("Size Height Handle; Small 90 mm; Large 60 mm 200 mm").is_some());
    }

    #[test]
    fn exchanged_values_and_heads_are_told() {
        let values = "Measure Small Large; Height 90 mm 60 mm; Handle 200 mm";
        assert_eq!(missing(values).as_deref(), Some("Height | 60 mm | 90 mm"));
        let heads = "Measure Large Small; Height 60 mm 90 mm; Handle 200 mm";
        assert_eq!(missing(heads).as_deref(), Some("Measure | Small | Large"));
        let list = "Height. Small: 90 mm. Large: 60 mm. Handle. Large: 200 mm.";
        assert!(missing(list).is_some());
    }
}
