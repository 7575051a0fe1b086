//! JSON Schema (draft 2020-12, json-schema.org) of the files of a design folder, for editors that complete
//! and check while one writes. It is made from the table of keys and says what each key means; the reader
//! checks more: units, names, formulas.

use super::words::choice;
use super::{KeyEntry, all};
use serde_json::{Map, Value, json};

/// Groups in which the designer names keys besides those of the table.
const OPEN: [&str; 3] = [
    "cutting.notches",
    "pieces.PIECE.allowance",
    "pieces.PIECE.corners",
];

/// Groups in whose place a single value may stand; others show it by their example.
const EITHER: [&str; 7] = [
    "cutting.notches",
    "pieces.PIECE.allowance",
    "pieces.PIECE.corners",
    "picture.crop",
    "shoe.side height",
    "sizes.SIZE.foot",
    "thread.also.LINE",
];

/// Fenced blocks of the text, which stand in no file of YAML.
const OF_THE_TEXT: [&str; 2] = ["picture", "figure"];

/// Keys that a file of a further language has besides the texts of the design.
const OF_A_LANGUAGE: [&str; 2] = ["edges", "lengths"];

/// The schemas, each with the name of its file: `design`, `translation` (`design.TAG.yaml`), `foot`
/// (`feet/*.yaml`) and `chapter` (the head of a chapter).
pub fn schemas() -> Vec<(&'static str, Value)> {
    let mut root = Branch::default();
    let mut foot = Branch::default();
    let mut chapter = Branch::default();
    for entry in all() {
        match entry.path.split_once('.') {
            Some(("foot", below)) => foot.add(below, entry),
            Some(("booklet", below)) => chapter.add(below, entry),
            Some(("picture" | "figure", _)) => {}
            _ if OF_THE_TEXT.contains(&entry.path) => {}
            _ => root.add(entry.path, entry),
        }
    }
    let titled = |title: &str, branch: &Branch| {
        let mut schema = Map::new();
        let dialect = "https://json-schema.org/draft/2020-12/schema";
        schema.insert("$schema".into(), dialect.into());
        schema.insert("title".into(), title.into());
        schema.append(&mut branch.group(""));
        Value::Object(schema)
    };
    vec![
        ("design", titled("A design: design.yaml", &root)),
        ("translation", translation()),
        ("foot", titled("A foot: feet/NAME.yaml", &foot)),
        ("chapter", titled("The head of a chapter", &chapter)),
    ]
}

/// The words of which a key takes one, or which it takes besides values; `None` if it takes any.
pub fn words(path: &str) -> Option<Vec<&'static str>> {
    choice(path).map(|choice| choice.words)
}

/// Any group or text by the paths of the design; the reader knows which of them are texts.
fn translation() -> Value {
    let mut properties = Map::new();
    let firsts = all().filter(|entry| !entry.path.contains('.'));
    let files = ["foot", "booklet"];
    let elsewhere = |path: &str| files.contains(&path) || OF_THE_TEXT.contains(&path);
    for entry in firsts.filter(|entry| !elsewhere(entry.path)) {
        let words = format!("In this language: {}", entry.meaning);
        properties.insert(entry.path.into(), json!({"description": words}));
    }
    for key in OF_A_LANGUAGE {
        let entry = properties.entry(key);
        entry.or_insert_with(|| json!({"description": "Names of edges in this language."}));
    }
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "The texts of a design in a further language: design.TAG.yaml",
        "type": ["object", "null"],
        "properties": properties,
        "additionalProperties": false,
    })
}

/// A key and what stands below it.
#[derive(Default)]
struct Branch {
    entry: Option<&'static KeyEntry>,
    below: Vec<(&'static str, Branch)>,
}

impl Branch {
    fn add(&mut self, path: &'static str, entry: &'static KeyEntry) {
        let (key, rest) = match path.split_once('.') {
            Some((key, rest)) => (key, Some(rest)),
            None => (path, None),
        };
        let known = self.below.iter().position(|(name, _)| *name == key);
        let at = known.unwrap_or_else(|| {
            self.below.push((key, Self::default()));
            self.below.len() - 1
        });
        let branch = &mut self.below[at].1;
        match rest {
            Some(rest) => branch.add(rest, entry),
            None => branch.entry = Some(entry),
        }
    }

    /// A group of the keys below; nothing at all counts as a group without keys.
    fn group(&self, path: &str) -> Map<String, Value> {
        let mut properties = Map::new();
        let mut others = Value::Bool(OPEN.contains(&path) || self.below.is_empty());
        let mut required: Vec<&str> = Vec::new();
        for (key, branch) in &self.below {
            if key.chars().all(char::is_uppercase) {
                others = branch.schema();
                continue;
            }
            properties.insert((*key).into(), branch.schema());
            let meaning = branch.entry.map_or("", |entry| entry.meaning);
            if meaning.contains("Required.") {
                required.push(key);
            }
        }
        let mut group = Map::new();
        let nothing_is_enough = required.is_empty();
        let kinds = if nothing_is_enough {
            json!(["object", "null"])
        } else {
            json!("object")
        };
        group.insert("type".into(), kinds);
        group.insert("properties".into(), Value::Object(properties));
        group.insert("additionalProperties".into(), others);
        if !nothing_is_enough {
            group.insert("required".into(), json!(required));
        }
        group
    }

    /// What may stand after the key.
    fn schema(&self) -> Value {
        let Some(entry) = self.entry else {
            return Value::Object(self.group(""));
        };
        let example = example(entry);
        let group = Value::Object(self.group(entry.path));
        let scalar = scalar(entry);
        let listed = matches!(example, Some(Value::Array(_)));
        let of_groups = match &example {
            Some(Value::Array(items)) => items.first().is_some_and(Value::is_object),
            Some(value) => value.is_object(),
            None => false,
        };
        let is_group = of_groups || !self.below.is_empty();
        let may_be_plain = !of_groups || EITHER.contains(&entry.path) || has_nested_list(&example);
        let mut shapes: Vec<Value> = Vec::new();
        if is_group {
            shapes.push(group);
        }
        if may_be_plain {
            shapes.push(scalar);
        }
        // a point is a name, or how far across and down
        let is_point = entry.meaning.to_lowercase().contains("point");
        // a list of one may be written without its brackets
        let takes_lists = listed || entry.meaning.contains("or a list");
        if takes_lists {
            if has_nested_list(&example) || is_point {
                shapes.push(json!({"type": "array"}));
            }
            let items = any_of(shapes.clone());
            shapes.push(json!({"type": "array", "items": items}));
        }
        if is_point && !takes_lists {
            shapes.push(json!({"type": "array"}));
        }
        let mut schema = Map::new();
        schema.insert("description".into(), entry.meaning.into());
        if let Some(example) = example.filter(|_| !entry.example.contains('…')) {
            schema.insert("examples".into(), json!([example]));
        }
        match any_of(shapes) {
            Value::Object(mut shape) => schema.append(&mut shape),
            _ => return Value::Object(schema),
        }
        Value::Object(schema)
    }
}

fn any_of(mut shapes: Vec<Value>) -> Value {
    match shapes.len() {
        1 => shapes.remove(0),
        _ => json!({"anyOf": shapes}),
    }
}

/// Points are lists in a list.
fn has_nested_list(example: &Option<Value>) -> bool {
    match example {
        Some(Value::Array(items)) => items.iter().any(Value::is_array),
        _ => false,
    }
}

/// A value without keys of its own.
fn scalar(entry: &KeyEntry) -> Value {
    if let Some(choice) = choice(entry.path) {
        let words = json!({"enum": choice.words});
        return match choice.open {
            false => words,
            true => json!({"anyOf": [words, {"type": ["string", "number"]}]}),
        };
    }
    if [": yes", ": no"]
        .iter()
        .any(|end| entry.example.ends_with(end))
    {
        return json!({"enum": [true, false, "yes", "no"]});
    }
    json!({"type": ["string", "number"]})
}

/// The value in the line that shows a key; `None` where it leaves something out.
fn example(entry: &KeyEntry) -> Option<Value> {
    let line: Map<String, Value> = serde_yaml::from_str(entry.example).ok()?;
    let (_, value) = line.into_iter().next()?;
    Some(value)
}
