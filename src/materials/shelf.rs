//! Finished layouts kept from one run to the next, so that a design whose pieces have not changed is not
//! packed again. What is taken from the shelf is verified like a new layout.

use super::means::Means;
use crate::packing::{self, Cloth, Item, Layout, Placed, Refusal, Sheets, Stock, Strip};
use kurbo::Vec2;
use serde_json::{Value, json};

/// Raised whenever the search changes, so that nothing of an older one is taken.
const SEARCH: u32 = 1;

/// [`packing::strip`], or the layout found for the same items before; `lay` calls what is packed.
pub(super) fn strip(
    lay: &str,
    items: &[Item],
    strip: &Strip,
    means: &Means,
) -> Result<Layout, Vec<Refusal>> {
    let name = name(&format!("{SEARCH} {strip:?} {:?} {items:?}", means.effort));
    if let Some([kept]) = taken(&name, means).as_deref()
        && all_there(items, std::slice::from_ref(kept))
        && is_sound(items, kept, &Cloth::strip(strip.width), strip.spacing)
    {
        means.remember(lay, items, std::slice::from_ref(kept));
        return Ok(kept.clone());
    }
    if let Some([last]) = stand_in(lay, items, means).as_deref() {
        return Ok(last.clone());
    }
    let found = packing::strip(items, strip, &means.search())?;
    put(&name, std::slice::from_ref(&found), means);
    means.remember(lay, items, std::slice::from_ref(&found));
    Ok(found)
}

/// [`packing::sheets`], or the layouts found for the same items before; `lay` calls what is packed.
pub(super) fn sheets(
    lay: &str,
    items: &[Item],
    sheets: &Sheets,
    means: &Means,
) -> Result<Vec<Layout>, Vec<Refusal>> {
    let name = name(&format!("{SEARCH} {sheets:?} {:?} {items:?}", means.effort));
    let Stock::Equal(sheet) = &sheets.stock else {
        return packing::sheets(items, sheets, &means.search());
    };
    let ground = Cloth {
        outline: sheet.outline.clone(),
        holes: sheet.holes.clone(),
        fold: None,
    };
    if let Some(kept) = taken(&name, means)
        && kept
            .iter()
            .all(|sheet| is_sound(items, sheet, &ground, sheets.spacing))
        && all_there(items, &kept)
    {
        means.remember(lay, items, &kept);
        return Ok(kept);
    }
    if let Some(last) = stand_in(lay, items, means) {
        return Ok(last);
    }
    let found = packing::sheets(items, sheets, &means.search())?;
    put(&name, &found, means);
    means.remember(lay, items, &found);
    Ok(found)
}

/// What stands in for a layout that is only looked at.
fn stand_in(lay: &str, items: &[Item], means: &Means) -> Option<Vec<Layout>> {
    let last = means.last.filter(|_| means.rough)?.of(lay, items)?;
    all_there(items, &last).then(|| {
        means.shelf.do_without();
        last
    })
}

fn is_sound(items: &[Item], layout: &Layout, cloth: &Cloth, spacing: f64) -> bool {
    layout.placed.iter().all(|p| p.item < items.len())
        && packing::faults(items, &layout.placed, cloth, spacing).is_empty()
}

/// Whether every copy of every item lies somewhere, once.
fn all_there(items: &[Item], layouts: &[Layout]) -> bool {
    let mut found: Vec<(usize, usize)> = layouts
        .iter()
        .flat_map(|layout| &layout.placed)
        .map(|p| (p.item, p.copy))
        .collect();
    found.sort_unstable();
    let copies = |(index, item): (usize, &Item)| (0..item.count).map(move |copy| (index, copy));
    found
        .into_iter()
        .eq(items.iter().enumerate().flat_map(copies))
}

fn name(content: &str) -> String {
    format!("{}.json", blake3::hash(content.as_bytes()).to_hex())
}

fn taken(name: &str, means: &Means) -> Option<Vec<Layout>> {
    let value: Value = serde_json::from_slice(&means.shelf.get(name)?).ok()?;
    value.as_array()?.iter().map(read).collect()
}

fn put(name: &str, layouts: &[Layout], means: &Means) {
    let all: Vec<Value> = layouts.iter().map(written).collect();
    means
        .shelf
        .put(name, Value::Array(all).to_string().as_bytes());
}

fn written(layout: &Layout) -> Value {
    let placed = |p: &Placed| json!([p.item, p.copy, p.turn_deg, p.mirrored, p.by.x, p.by.y]);
    let placed: Vec<Value> = layout.placed.iter().map(placed).collect();
    json!({"length": layout.length, "density": layout.density, "placed": placed})
}

fn read(value: &Value) -> Option<Layout> {
    let placed = |row: &Value| {
        Some(Placed {
            item: usize::try_from(row.get(0)?.as_u64()?).ok()?,
            copy: usize::try_from(row.get(1)?.as_u64()?).ok()?,
            turn_deg: row.get(2)?.as_f64()?,
            mirrored: row.get(3)?.as_bool()?,
            by: Vec2::new(row.get(4)?.as_f64()?, row.get(5)?.as_f64()?),
        })
    };
    let rows = value.get("placed")?.as_array()?;
    Some(Layout {
        placed: rows.iter().map(placed).collect::<Option<_>>()?,
        length: value.get("length")?.as_f64()?,
        density: value.get("density")?.as_f64()?,
    })
}
