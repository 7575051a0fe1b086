//! YAML text becomes a tree of nodes: the values come from `serde_yaml`, their places from the
//! events of `saphyr-parser`.

use super::node::{Entry, Kind, Node, Scalar, Value};
use super::syntax;
use super::weight::{self, Limit};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use saphyr_parser::{Event, Parser, Span, StrInput};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// The tree of `text`, which begins after `lines_before` lines of `source`. An empty text is
/// `Null`.
///
/// What cannot be read as YAML is reported once, at its place.
pub(crate) fn tree(
    source: &Arc<SourceText>,
    text: &str,
    lines_before: usize,
    diagnostics: &mut Diagnostics,
) -> Option<Node> {
    let place = |line: usize, column: usize| Place {
        source: source.clone(),
        line: line.max(1) + lines_before,
        column: column.max(1),
    };
    if let Some(diagnostic) = syntax::unprintable(text, &place) {
        diagnostics.push(diagnostic);
        return None;
    }
    if let Err(fault) = weight::weigh(text, Limit::WRITTEN)
        && fault.code == "too-large"
    {
        let at = place(fault.line, fault.column);
        let told = Diagnostic::error(fault.code, Some(&at), fault.words);
        diagnostics.push(told.remedy(weight::REMEDY));
        return None;
    }
    let mut builder = Builder::new(&place);
    let placed = match builder.build(text) {
        Ok(Some(placed)) => placed,
        Ok(None) => return Some(nothing(place(1, 1))),
        Err(Stop::Refused(diagnostic)) => {
            diagnostics.push(*diagnostic);
            return None;
        }
        Err(Stop::Syntax(line, column)) => {
            diagnostics.push(syntax::explain(text, line, column, &place));
            return None;
        }
    };
    match serde_yaml::from_str::<Written>(text) {
        Ok(written) => {
            let joined = join(placed, written);
            if joined.is_none() {
                diagnostics.push(syntax::explain(text, 1, 1, &place));
            }
            joined
        }
        Err(error) => {
            let at = error
                .location()
                .map_or((1, 1), |at| (at.line(), at.column()));
            diagnostics.push(syntax::explain(text, at.0, at.1, &place));
            None
        }
    }
}

fn nothing(place: Place) -> Node {
    let (text, value) = (String::new(), Value::Null);
    let kind = Kind::Scalar(Scalar { text, value });
    Node { place, kind }
}

/// The values of a file, without places. Unlike serde_yaml's own value it keeps duplicate keys, so
/// that each can be reported.
enum Written {
    Scalar(Value),
    List(Vec<Written>),
    Mapping(Vec<(Written, Written)>),
}

impl<'de> Deserialize<'de> for Written {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(WrittenVisitor)
    }
}

struct WrittenVisitor;

impl<'de> Visitor<'de> for WrittenVisitor {
    type Value = Written;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Truth(value)))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Number(value as f64)))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Number(value as f64)))
    }

    fn visit_i128<E>(self, value: i128) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Number(value as f64)))
    }

    fn visit_u128<E>(self, value: u128) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Number(value as f64)))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Number(value)))
    }

    fn visit_str<E>(self, _: &str) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Text))
    }

    fn visit_unit<E>(self) -> Result<Written, E> {
        Ok(Written::Scalar(Value::Null))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Written, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = access.next_element()? {
            list.push(item);
        }
        Ok(Written::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Written, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = access.next_entry()? {
            entries.push(entry);
        }
        Ok(Written::Mapping(entries))
    }
}

/// The places of a file's values.
#[derive(Clone)]
struct Placed {
    place: Place,
    kind: PlacedKind,
}

#[derive(Clone)]
enum PlacedKind {
    Scalar(String),
    List(Vec<Placed>),
    /// Keys and values in turn.
    Mapping(Vec<Placed>),
}

/// Why no tree was built.
enum Stop {
    /// The text is no YAML from this line and column on.
    Syntax(usize, usize),
    /// It is, but pressfoot refuses it.
    Refused(Box<Diagnostic>),
}

struct Builder<'p> {
    place: &'p dyn Fn(usize, usize) -> Place,
    open: Vec<(usize, Placed)>,
    anchors: BTreeMap<usize, Placed>,
    root: Option<Placed>,
}

impl<'p> Builder<'p> {
    fn new(place: &'p dyn Fn(usize, usize) -> Place) -> Self {
        Self {
            place,
            open: Vec::new(),
            anchors: BTreeMap::new(),
            root: None,
        }
    }

    fn build(&mut self, text: &str) -> Result<Option<Placed>, Stop> {
        for event in Parser::new(StrInput::new(text)) {
            let (event, span) = event
                .map_err(|error| Stop::Syntax(error.marker().line(), error.marker().col() + 1))?;
            self.event(event, span)?;
        }
        Ok(self.root.take())
    }

    fn event(&mut self, event: Event<'_>, span: Span) -> Result<(), Stop> {
        let place = (self.place)(span.start.line(), span.start.col() + 1);
        match event {
            Event::DocumentStart(_) if self.root.is_some() => Err(refuse(
                &place,
                "a line of three dashes begins a second document here",
            )
            .remedy("take the line away")),
            Event::Scalar(.., Some(_))
            | Event::SequenceStart(_, Some(_))
            | Event::MappingStart(_, Some(_)) => {
                Err(refuse(&place, "a value begins with an exclamation mark")
                    .remedy("put the value in quotation marks"))
            }
            Event::Scalar(text, _, anchor, None) => {
                let kind = PlacedKind::Scalar(text.into_owned());
                self.add(anchor, Placed { place, kind });
                Ok(())
            }
            Event::SequenceStart(anchor, None) => {
                let kind = PlacedKind::List(Vec::new());
                self.open.push((anchor, Placed { place, kind }));
                Ok(())
            }
            Event::MappingStart(anchor, None) => {
                let kind = PlacedKind::Mapping(Vec::new());
                self.open.push((anchor, Placed { place, kind }));
                Ok(())
            }
            Event::SequenceEnd | Event::MappingEnd => {
                if let Some((anchor, placed)) = self.open.pop() {
                    self.add(anchor, placed);
                }
                Ok(())
            }
            Event::Alias(anchor) => match self.anchors.get(&anchor).cloned() {
                Some(placed) => {
                    self.add(0, placed);
                    Ok(())
                }
                None => Err(refuse(
                    &place,
                    "this alias stands for something that is not complete",
                )
                .remedy("write the value out")),
            },
            _ => Ok(()),
        }
    }

    fn add(&mut self, anchor: usize, placed: Placed) {
        if anchor > 0 {
            self.anchors.insert(anchor, placed.clone());
        }
        match self.open.last_mut().map(|(_, parent)| &mut parent.kind) {
            None => self.root = Some(placed),
            Some(PlacedKind::List(items) | PlacedKind::Mapping(items)) => items.push(placed),
            Some(PlacedKind::Scalar(_)) => {}
        }
    }
}

/// A refusal that still lacks its remedy.
struct Refusal(Diagnostic);

impl Refusal {
    fn remedy(self, remedy: &str) -> Stop {
        Stop::Refused(Box::new(self.0.remedy(remedy)))
    }
}

fn refuse(place: &Place, message: &str) -> Refusal {
    Refusal(Diagnostic::error("yaml", Some(place), message))
}

/// Places and values put together; `None` where the two parsers understood different things.
fn join(placed: Placed, written: Written) -> Option<Node> {
    let Placed { place, kind } = placed;
    let kind = match (kind, written) {
        (PlacedKind::Scalar(text), Written::Scalar(value)) => Kind::Scalar(Scalar { text, value }),
        (PlacedKind::List(places), Written::List(values)) if places.len() == values.len() => {
            let items = places.into_iter().zip(values);
            Kind::List(items.map(|(p, w)| join(p, w)).collect::<Option<_>>()?)
        }
        (PlacedKind::Mapping(places), Written::Mapping(values))
            if places.len() == 2 * values.len() =>
        {
            Kind::Mapping(entries(places, values)?)
        }
        _ => return None,
    };
    Some(Node { place, kind })
}

fn entries(places: Vec<Placed>, values: Vec<(Written, Written)>) -> Option<Vec<Entry>> {
    let mut places = places.into_iter();
    let mut entries = Vec::with_capacity(values.len());
    for (_, value) in values {
        let (key, placed) = (places.next()?, places.next()?);
        let place = key.place;
        let key = match key.kind {
            PlacedKind::Scalar(text) => text,
            // a key that is no word cannot be known, and is reported as such
            PlacedKind::List(_) => "[…]".into(),
            PlacedKind::Mapping(_) => "{…}".into(),
        };
        let mut value = join(placed, value)?;
        if value.is_null() {
            value.place = place.clone();
        }
        entries.push(Entry { key, place, value });
    }
    Some(entries)
}
