//! YAML text becomes a tree of nodes: the values come from `serde_yaml`, their places from the
//! events of `saphyr-parser`. Besides it only `spans` knows either crate.

use super::node::{Entry, Kind, Node, Scalar, Value};
use super::syntax;
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use saphyr_parser::{Event, Parser, Span, StrInput};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// Lists and mappings may be nested this deep. A design needs eight.
const DEPTH: usize = 48;

/// A file may have this many values, counting what aliases repeat: ten times what the largest
/// design needs, or a tracing of six thousand points. It keeps a small file of aliases from growing
/// without end.
const VALUES: usize = 20_000;

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
    depth: usize,
    values: usize,
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
    values: usize,
}

impl<'p> Builder<'p> {
    fn new(place: &'p dyn Fn(usize, usize) -> Place) -> Self {
        Self {
            place,
            open: Vec::new(),
            anchors: BTreeMap::new(),
            root: None,
            values: 0,
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
            Event::Scalar(text, _, anchor, None) => self.add(
                anchor,
                leaf(place, PlacedKind::Scalar(text.into_owned())),
                1,
            ),
            Event::SequenceStart(anchor, None) => {
                self.open(anchor, leaf(place, PlacedKind::List(Vec::new())))
            }
            Event::MappingStart(anchor, None) => {
                self.open(anchor, leaf(place, PlacedKind::Mapping(Vec::new())))
            }
            Event::SequenceEnd | Event::MappingEnd => match self.open.pop() {
                Some((anchor, placed)) => self.add(anchor, placed, 1),
                None => Ok(()),
            },
            Event::Alias(anchor) => match self.anchors.get(&anchor).cloned() {
                Some(placed) => {
                    let values = placed.values;
                    self.add(0, placed, values)
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

    fn open(&mut self, anchor: usize, placed: Placed) -> Result<(), Stop> {
        if self.open.len() >= DEPTH {
            let message = format!("lists and keys are nested more than {DEPTH} deep here");
            return Err(refuse_as("too-large", &placed.place, &message).remedy("nest less deeply"));
        }
        self.open.push((anchor, placed));
        Ok(())
    }

    fn add(&mut self, anchor: usize, placed: Placed, new: usize) -> Result<(), Stop> {
        self.values += new;
        if self.values > VALUES || self.open.len() + placed.depth > DEPTH {
            let message = format!(
                "the file holds more than {VALUES} values, or values nested more than {DEPTH} deep"
            );
            return Err(refuse_as("too-large", &placed.place, &message)
                .remedy("take out what the design does not need; aliases count each time"));
        }
        if anchor > 0 {
            self.anchors.insert(anchor, placed.clone());
        }
        match self.open.last_mut() {
            None => self.root = Some(placed),
            Some((_, parent)) => {
                parent.depth = parent.depth.max(placed.depth + 1);
                parent.values += placed.values;
                match &mut parent.kind {
                    PlacedKind::List(items) | PlacedKind::Mapping(items) => items.push(placed),
                    PlacedKind::Scalar(_) => {}
                }
            }
        }
        Ok(())
    }
}

fn leaf(place: Place, kind: PlacedKind) -> Placed {
    Placed {
        place,
        kind,
        depth: 0,
        values: 1,
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

fn refuse_as(code: &'static str, place: &Place, message: &str) -> Refusal {
    Refusal(Diagnostic::error(code, Some(place), message))
}

/// Places and values put together; `None` where the two parsers understood different things.
fn join(placed: Placed, written: Written) -> Option<Node> {
    let Placed { place, kind, .. } = placed;
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
