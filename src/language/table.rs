//! A table of words as its file has it: groups of keys, each with a text, a text for each plural form,
//! or a list of texts.

use super::plural::Plural;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// What stands under a key.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// One text.
    Text(String),
    /// A text for each form; that of [`Plural::Other`] is always there.
    Forms(BTreeMap<Plural, String>),
    /// Several texts, by their number.
    List(Vec<String>),
}

/// Entries by `group.key`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// The entries.
    pub entries: BTreeMap<String, Entry>,
}

impl Entry {
    /// The text; that of the last form if there are several.
    pub fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            Self::Forms(forms) => forms.values().last().map(String::as_str),
            Self::List(_) => None,
        }
    }

    /// The text for a form.
    pub fn form(&self, form: Plural) -> &str {
        match self {
            Self::Forms(forms) => forms
                .get(&form)
                .or_else(|| forms.values().last())
                .map_or("", String::as_str),
            other => other.text().unwrap_or_default(),
        }
    }

    /// The texts of a list.
    pub fn list(&self) -> &[String] {
        match self {
            Self::List(list) => list,
            _ => &[],
        }
    }

    /// All texts of the entry.
    pub fn texts(&self) -> Vec<&str> {
        match self {
            Self::Text(text) => vec![text],
            Self::Forms(forms) => forms.values().map(String::as_str).collect(),
            Self::List(list) => list.iter().map(String::as_str).collect(),
        }
    }
}

/// The file of a table that is part of the program, by its language.
pub fn file(language: &str) -> Option<&'static str> {
    match language {
        "en" => Some(include_str!("../../templates/words/en.yaml")),
        "de" => Some(include_str!("../../templates/words/de.yaml")),
        _ => None,
    }
}

impl Table {
    /// The program's table for a language, if there is one.
    pub fn embedded(language: &str) -> Option<Self> {
        Self::parse(file(language)?).ok()
    }

    /// Reads a table.
    ///
    /// # Errors
    /// What is no table, in words.
    pub fn parse(text: &str) -> Result<Self, String> {
        let groups: BTreeMap<String, BTreeMap<String, serde_yaml::Value>> =
            serde_yaml::from_str(text).map_err(|error| error.to_string())?;
        let mut entries = BTreeMap::new();
        for (group, keys) in groups {
            for (key, value) in keys {
                let key = format!("{group}.{key}");
                let entry = entry(&value).ok_or_else(|| format!("no words under {key}"))?;
                entries.insert(key, entry);
            }
        }
        Ok(Self { entries })
    }

    /// See [`super::Words::group`].
    pub(super) fn group(&self, group: &str) -> Value {
        let mut words = Map::new();
        for (key, entry) in &self.entries {
            let Some(key) = key.strip_prefix(group).and_then(|k| k.strip_prefix('.')) else {
                continue;
            };
            let value = match entry {
                Entry::Text(text) => json!(text),
                Entry::List(list) => json!(list),
                Entry::Forms(forms) => {
                    let named = forms
                        .iter()
                        .map(|(form, text)| (form.name().to_string(), json!(text)));
                    Value::Object(named.collect())
                }
            };
            words.insert(key.to_string(), value);
        }
        Value::Object(words)
    }
}

fn entry(value: &serde_yaml::Value) -> Option<Entry> {
    use serde_yaml::Value as Yaml;
    let text = |value: &Yaml| value.as_str().map(str::to_string);
    match value {
        Yaml::String(words) => Some(Entry::Text(words.clone())),
        Yaml::Sequence(list) => Some(Entry::List(list.iter().map(text).collect::<Option<_>>()?)),
        Yaml::Mapping(forms) => {
            let form = |(name, words): (&Yaml, &Yaml)| {
                let name = name.as_str()?;
                let form = Plural::ALL.into_iter().find(|form| form.name() == name)?;
                Some((form, text(words)?))
            };
            let forms: BTreeMap<Plural, String> = forms.iter().map(form).collect::<Option<_>>()?;
            forms
                .contains_key(&Plural::Other)
                .then_some(Entry::Forms(forms))
        }
        _ => None,
    }
}
