//! Page labels: what a viewer shows instead of a page's position (ISO 32000-1, 12.4.2).

use super::file;
use lopdf::{Dictionary, Document, Object};

/// Labels the pages; nothing is written without labels.
///
/// # Errors
/// A sentence, if the file has no catalogue.
pub fn give(document: &mut Document, labels: &[String]) -> Result<(), String> {
    if labels.is_empty() {
        return Ok(());
    }
    let mut numbers = Vec::new();
    let mut next: Option<usize> = None;
    for (index, label) in labels.iter().enumerate() {
        let number = label
            .parse::<usize>()
            .ok()
            .filter(|n| n.to_string() == *label);
        let runs_on = number.is_some() && number == next;
        next = number.map(|n| n + 1);
        if runs_on {
            continue;
        }
        let mut range = Dictionary::new();
        match number {
            Some(first) => {
                range.set("S", Object::Name(b"D".to_vec()));
                range.set("St", Object::Integer(first as i64));
            }
            None => range.set("P", file::text(label)),
        }
        numbers.push(Object::Integer(index as i64));
        numbers.push(Object::Dictionary(range));
    }
    let mut tree = Dictionary::new();
    tree.set("Nums", Object::Array(numbers));
    file::catalogue(document)?.set("PageLabels", Object::Dictionary(tree));
    Ok(())
}
