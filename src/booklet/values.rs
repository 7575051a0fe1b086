//! The names that a chapter may print in `{{ … }}`: those of formulas, with `_` for spaces, and the
//! words of the design. Built once for a design; every size's values side by side.

use super::figure_block::figure_names;
use super::printed::{Form, Printed};
use crate::design::{Design, Dimension, Quantity, formula::Scope};
use minijinja::value::{Enumerator, Object, ObjectRepr, Value};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::sync::Arc;

/// The values of one size by their names in formulas.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeValues {
    /// Key of the size.
    pub key: String,
    /// The size as printed.
    pub title: String,
    /// Values by dotted name, e.g. `foot.length`, `toe.sole edge`, `seam`.
    pub values: BTreeMap<String, Quantity>,
}

impl Scope for SizeValues {
    fn value(&self, name: &str) -> Option<Quantity> {
        self.values.get(name).copied()
    }
}

/// A name with its value, or with the names below it, or both.
#[derive(Debug, Clone, Default)]
pub struct Branch {
    printed: Option<Printed>,
    words: Option<String>,
    count: Option<u32>,
    /// Name of a figure that the text refers to.
    figure: Option<String>,
    /// Keys in the order they were added.
    order: Vec<String>,
    below: BTreeMap<String, Arc<Branch>>,
}

/// All names of a design.
#[derive(Debug, Clone)]
pub struct Names {
    root: Arc<Branch>,
    /// Tag of the language.
    language: String,
}

impl Names {
    /// The names of `design` with the values of `sizes`.
    pub fn new(design: &Design, sizes: &[SizeValues]) -> Self {
        let mut root = Branch::default();
        // what is below these may be asked for in every design, as shared texts do
        for group in ["shoe", "cloth", "trims", "pieces", "sizes", "measures"] {
            root.at(group);
        }
        for name in names_in(sizes) {
            root.set_printed(&name, printed(sizes, &name, design));
        }
        for name in measures(design) {
            root.set_printed(&format!("measures.{name}"), printed(sizes, name, design));
        }
        add_design(&mut root, design);
        add_trims(&mut root, design, sizes);
        add_sizes(&mut root, design, sizes);
        for name in design.chapters.iter().flat_map(figure_names) {
            let at = format!("figure.{name}");
            root.at(&text_name(&at)).figure = Some(text_name(&name));
        }
        Self {
            root: Arc::new(root),
            language: design.language.clone(),
        }
    }

    /// Tag of the language that the text is in.
    pub fn language(&self) -> &str {
        &self.language
    }

    /// Sets what `design.about` prints.
    pub fn set_about(&mut self, words: &str) {
        Arc::make_mut(&mut self.root).set_words("design.about", words);
    }

    /// Every name that has something to print, dotted, with `_`.
    pub fn all(&self) -> Vec<String> {
        let mut list = Vec::new();
        self.root.list("", &mut list);
        list
    }

    /// Names of lengths that are the same in all sizes, with what they print.
    pub fn single_lengths(&self) -> Vec<(String, Printed)> {
        let of = |name: String| {
            let printed = self.found(&name)?.printed.clone()?;
            let length = printed.single()?.dimension == Dimension::Length;
            length.then_some((name, printed))
        };
        self.all().into_iter().filter_map(of).collect()
    }

    /// Whether the dotted name exists, with something to print or with names below it.
    pub fn has(&self, name: &str) -> bool {
        self.found(name).is_some()
    }

    fn found(&self, name: &str) -> Option<&Arc<Branch>> {
        let mut keys = name.split('.');
        keys.try_fold(&self.root, |branch, key| branch.below.get(key))
    }

    /// The existing name most like `name`, if one is near.
    pub fn nearest(&self, name: &str) -> Option<String> {
        let far = |other: &String| strsim::damerau_levenshtein(name, other);
        let best = self.all().into_iter().min_by_key(far)?;
        (far(&best) <= 2.max(name.chars().count() / 3)).then_some(best)
    }

    /// The names as minijinja sees them.
    pub fn value(&self) -> Value {
        Value::from_dyn_object(self.root.clone())
    }
}

/// A name as it stands in text: letters, digits and `_`.
pub fn text_name(name: &str) -> String {
    let plain = |c: char| {
        if c.is_alphanumeric() || c == '.' {
            c
        } else {
            '_'
        }
    };
    name.chars().map(plain).collect()
}

/// Names of the measures of the design and of its sizes.
fn measures(design: &Design) -> BTreeSet<&str> {
    let of_sizes = design.sizes.iter().flat_map(|size| &size.measures);
    design
        .measures
        .iter()
        .chain(of_sizes)
        .map(|(name, _)| name.as_str())
        .collect()
}

fn names_in(sizes: &[SizeValues]) -> BTreeSet<String> {
    sizes
        .iter()
        .flat_map(|size| size.values.keys().cloned())
        .collect()
}

fn printed(sizes: &[SizeValues], name: &str, design: &Design) -> Printed {
    let by_size = sizes
        .iter()
        .filter_map(|size| Some((size.title.clone(), *size.values.get(name)?)))
        .collect();
    of_design(by_size, design)
}

fn of_design(by_size: Vec<(String, Quantity)>, design: &Design) -> Printed {
    Printed {
        by_size,
        style: design.lengths,
        words: design.words.clone(),
    }
}

fn add_design(root: &mut Branch, design: &Design) {
    let edition = design.edition_number();
    let words = [
        ("title", Some(&design.title)),
        ("edition", Some(&edition)),
        ("series", design.series.as_ref()),
        ("by", design.by.as_ref()),
        ("skill", design.skill.as_ref()),
        ("about", Some(&design.about)),
        ("makes", Some(&design.makes)),
        ("age", design.age.as_ref()),
        ("terms", design.terms.as_ref()),
        ("contact", design.contact.as_ref()),
    ];
    for (name, value) in words {
        if let Some(value) = value {
            root.set_words(&format!("design.{name}"), value);
        }
    }
    root.set_words("design.language", &design.language);
    if let Some(sizes) = design.left_and_right() {
        root.set_words("design.left_and_right", &sizes);
    }
    if let Some(shoe) = &design.shoe {
        root.set_words("shoe.closure", shoe.closure.words());
        root.set_words("shoe.cloth", &shoe.cloth);
        if let Some(lining) = &shoe.lining {
            root.set_words("shoe.lining", lining);
        }
    }
    for piece in &design.pieces {
        root.set_words(&format!("pieces.{}.title", piece.key), &piece.title);
        let cut = piece.cuts.iter().map(|cut| cut.count).sum();
        root.at(&text_name(&format!("pieces.{}.count", piece.key)))
            .count = Some(cut);
        if let Some(note) = &piece.note {
            root.set_words(&format!("pieces.{}.note", piece.key), note);
        }
    }
    for cloth in &design.cloth {
        let length = |mm: f64| Quantity {
            value: mm,
            dimension: Dimension::Length,
        };
        root.set_words(&format!("cloth.{}.name", cloth.key), &cloth.name);
        for (name, mm) in [
            ("thickness", cloth.thickness),
            ("width", cloth.widths().next()),
        ] {
            if let Some(mm) = mm {
                let by_size = vec![(String::new(), length(mm))];
                let value = of_design(by_size, design);
                root.set_printed(&format!("cloth.{}.{name}", cloth.key), value);
            }
        }
    }
}

fn add_trims(root: &mut Branch, design: &Design, sizes: &[SizeValues]) {
    for trim in &design.trims {
        let below = format!("trims.{}", trim.key);
        root.set_words(&format!("{below}.name"), &trim.name);
        root.at(&text_name(&format!("{below}.count"))).count = Some(trim.count);
        if let Some(mm) = trim.width {
            let value = Quantity {
                value: mm,
                dimension: Dimension::Length,
            };
            let by_size = vec![(String::new(), value)];
            root.set_printed(&format!("{below}.width"), of_design(by_size, design));
        }
        let given = format!("{below}.length");
        if let Some(formula) = &trim.length
            && !sizes.iter().any(|size| size.values.contains_key(&given))
        {
            let by_size = sizes
                .iter()
                .filter_map(|size| {
                    let value = formula.evaluate(size, Dimension::Length).ok()?;
                    Some((
                        size.title.clone(),
                        Quantity {
                            value,
                            dimension: Dimension::Length,
                        },
                    ))
                })
                .collect();
            root.set_printed(&given, of_design(by_size, design));
        }
    }
}

fn add_sizes(root: &mut Branch, design: &Design, sizes: &[SizeValues]) {
    let measures = measures(design);
    for size in sizes {
        let below = format!("sizes.{}", size.key);
        root.set_words(&format!("{below}.title"), &size.title);
        if let Some(words) = design
            .sizes
            .iter()
            .find(|s| s.key == size.key)
            .and_then(|s| s.words.as_ref())
        {
            root.set_words(&format!("{below}.words"), words);
        }
        for name in size.values.keys() {
            let value = printed(std::slice::from_ref(size), name, design);
            root.set_printed(&format!("{below}.{name}"), value.clone());
            if measures.contains(name.as_str()) {
                root.set_printed(&format!("{below}.measures.{name}"), value);
            }
        }
    }
}

impl Branch {
    fn at(&mut self, path: &str) -> &mut Branch {
        let mut branch = self;
        for key in path.split('.') {
            if !branch.below.contains_key(key) {
                branch.order.push(key.to_string());
            }
            let below = branch.below.entry(key.to_string()).or_default();
            branch = Arc::make_mut(below);
        }
        branch
    }

    fn set_printed(&mut self, name: &str, printed: Printed) {
        if !printed.by_size.is_empty() {
            self.at(&text_name(name)).printed = Some(printed);
        }
    }

    fn set_words(&mut self, name: &str, words: &str) {
        self.at(&text_name(name)).words = Some(words.to_string());
    }

    fn list(&self, path: &str, list: &mut Vec<String>) {
        let is_told = self.printed.is_some() || self.words.is_some() || self.count.is_some();
        if is_told || self.figure.is_some() {
            list.push(path.to_string());
        }
        for key in &self.order {
            let dot = if path.is_empty() { "" } else { "." };
            if let Some(below) = self.below.get(key) {
                below.list(&format!("{path}{dot}{key}"), list);
            }
        }
    }

    /// The value as minijinja takes it: words and counts as they are, else a branch.
    fn as_value(self: &Arc<Self>) -> Value {
        match (&self.words, self.count) {
            (Some(words), _) if self.below.is_empty() => Value::from(words.as_str()),
            (None, Some(count)) if self.below.is_empty() => Value::from(count),
            _ => Value::from_dyn_object(Arc::clone(self)),
        }
    }

    /// A value without a name.
    pub fn of(printed: Printed) -> Self {
        Self {
            printed: Some(printed),
            ..Self::default()
        }
    }

    /// The printed value, if this name has one.
    pub fn printed(&self) -> Option<&Printed> {
        self.printed.as_ref()
    }

    /// Whether it is only a group of names, with nothing to print itself.
    pub fn is_group(&self) -> bool {
        let nothing = (&self.printed, &self.words, self.count, &self.figure);
        matches!(nothing, (None, None, None, None))
    }
}

impl Object for Branch {
    fn repr(self: &Arc<Self>) -> ObjectRepr {
        ObjectRepr::Map
    }

    fn get_value(self: &Arc<Self>, key: &Value) -> Option<Value> {
        let key = key.as_str()?;
        match self.below.get(key) {
            Some(branch) => Some(branch.as_value()),
            // A bare number for comparisons, where there is one value only.
            None if key == "mm" => {
                let single = self.printed.as_ref()?.single()?;
                (single.dimension == Dimension::Length).then(|| Value::from(single.value))
            }
            None => None,
        }
    }

    fn enumerate(self: &Arc<Self>) -> Enumerator {
        Enumerator::Values(
            self.order
                .iter()
                .map(|key| Value::from(key.as_str()))
                .collect(),
        )
    }

    fn is_true(self: &Arc<Self>) -> bool {
        match &self.printed {
            Some(printed) => printed.by_size.iter().any(|(_, q)| q.value != 0.0),
            None => true,
        }
    }

    fn render(self: &Arc<Self>, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(name) = &self.figure {
            // a link without words, of which the text makes the figure's number
            return write!(f, "[](figure:{name})");
        }
        match (&self.printed, &self.words, self.count) {
            (Some(printed), _, _) => f.write_str(&printed.text(Form::Both)),
            (None, Some(words), _) => f.write_str(words),
            (None, None, Some(count)) => write!(f, "{count}"),
            (None, None, None) => Ok(()),
        }
    }
}
