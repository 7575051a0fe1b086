//! What an SVG picture may hold: shapes, letters, gradients, clips, symbols and markers, in an amount
//! that is set in reasonable time. Everything else (filters, masks, patterns, other pictures) is
//! refused with a reason, for it costs without bound, or draws on files that are not there.
//! Nothing is drawn here.

use super::fonts;
use roxmltree::{Document, Node, NodeId, ParsingOptions};
use std::collections::HashMap;

/// Longest file, bytes.
const LONGEST: usize = 8 << 20;
/// Elements within each other; the renderer goes down by recursion.
const DEEPEST: usize = 100;
/// Elements drawn, symbols and markers counted as often as they are used. A detailed drawing has some
/// thousand.
const MOST_DRAWN: u64 = 300_000;
const SVG: &str = "http://www.w3.org/2000/svg";
/// Elements that may stand in a picture, besides those that draw nothing (`QUIET`).
const KNOWN: [&str; 24] = [
    "a",
    "circle",
    "clipPath",
    "defs",
    "ellipse",
    "g",
    "line",
    "linearGradient",
    "marker",
    "path",
    "polygon",
    "polyline",
    "radialGradient",
    "rect",
    "stop",
    "style",
    "svg",
    "symbol",
    "text",
    "textPath",
    "tref",
    "tspan",
    "use",
    "view",
];
/// Elements that draw nothing; what is in them is not looked at.
const QUIET: [&str; 3] = ["desc", "metadata", "title"];

/// Why a picture cannot be used, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unfit {
    /// The end of a sentence that begins with the picture's name.
    pub why: String,
    /// A sentence.
    pub remedy: &'static str,
}

const FORMATS: &str = "Save it as PNG, JPEG or SVG.";
const FLATTEN: &str =
    "Take it away or flatten it in the drawing program and save again, or save the picture as PNG.";
const SIMPLIFY: &str = "Make the drawing simpler, or save the picture as PNG.";

impl Unfit {
    /// No file of a known format.
    pub fn format(why: impl Into<String>) -> Self {
        Self::new(why, FORMATS)
    }

    /// Anything else.
    pub fn new(why: impl Into<String>, remedy: &'static str) -> Self {
        let why = why.into();
        Self { why, remedy }
    }
}

/// Width and height of the SVG picture `bytes`, in its own units.
///
/// # Errors
/// Why it cannot be used.
pub fn size(bytes: &[u8]) -> Result<[f64; 2], Unfit> {
    if bytes.len() > LONGEST {
        return Err(Unfit::new("the drawing is longer than 8 MB", SIMPLIFY));
    }
    let none = || Unfit::format("it is none of PNG, JPEG and SVG");
    let text = std::str::from_utf8(bytes).map_err(|_| none())?;
    if text.contains("<!ENTITY") {
        let why = "it declares entities (<!ENTITY …>), which are not read";
        return Err(Unfit::new(why, "Save it as plain SVG, or as PNG."));
    }
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options)
        .map_err(|error| Unfit::format(format!("it is no drawing that can be read ({error})")))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(none());
    }
    if root.tag_name().namespace() != Some(SVG) {
        let why = "its first element does not say xmlns=\"http://www.w3.org/2000/svg\"";
        return Err(Unfit::format(why));
    }
    check(root)?;
    measure(root)
}

fn measure(root: Node<'_, '_>) -> Result<[f64; 2], Unfit> {
    let wrong = |what: &str| {
        Unfit::new(
            format!("its {what} is not a positive number"),
            "Set the size of the page in the drawing program, and save it again.",
        )
    };
    let side = |name: &str| match root.attribute(name).map(str::trim) {
        None | Some("auto") => Ok(None),
        Some(share) if share.ends_with('%') && root.has_attribute("viewBox") => Ok(None),
        Some(words) => match leading_number(words) {
            Some(side) if side.is_finite() && side > 0.0 => Ok(Some(side)),
            _ => Err(wrong(&format!("{name} ‘{}’", shown(words)))),
        },
    };
    let (width, height) = (side("width")?, side("height")?);
    let view: Option<Vec<f64>> = root.attribute("viewBox").map(|view| {
        let parts = view.split([' ', ',', '\n', '\t']);
        parts.filter_map(|part| part.parse().ok()).collect()
    });
    match (view.as_deref(), width, height) {
        (Some([_, _, width, height]), _, _) => {
            let sound = [width, height]
                .iter()
                .all(|side| side.is_finite() && **side > 0.0);
            sound
                .then_some([*width, *height])
                .ok_or_else(|| wrong("width or height in viewBox"))
        }
        (Some(_), _, _) => Err(wrong("viewBox")),
        (None, Some(width), Some(height)) => Ok([width, height]),
        _ => Ok([100.0, 100.0]),
    }
}

fn leading_number(text: &str) -> Option<f64> {
    let unit = text.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == '%');
    unit.trim().parse().ok()
}

fn shown(words: &str) -> String {
    words.chars().take(20).collect()
}

/// Looks at every element once.
fn check(root: Node<'_, '_>) -> Result<(), Unfit> {
    // a walk of its own, because what stands in quiet and foreign elements is left out
    let mut open = vec![(root, 1)];
    while let Some((node, depth)) = open.pop() {
        let name = node.tag_name().name();
        if node.tag_name().namespace() != Some(SVG) || QUIET.contains(&name) {
            continue;
        }
        if depth > DEEPEST {
            let why = format!("its elements are nested more than {DEEPEST} deep");
            return Err(Unfit::new(why, SIMPLIFY));
        }
        element(node, name)?;
        attributes(node)?;
        open.extend(
            node.children()
                .filter(Node::is_element)
                .map(|child| (child, depth + 1)),
        );
    }
    let mut count = Count::of(root);
    let drawn = count.drawn(root, 0)?;
    if drawn > MOST_DRAWN {
        let why = "it draws its symbols or markers so often that it cannot be set";
        return Err(Unfit::new(why, SIMPLIFY));
    }
    Ok(())
}

fn element(node: Node<'_, '_>, name: &str) -> Result<(), Unfit> {
    if name == "image" || name == "feImage" {
        return Err(Unfit::new(
            "it holds another picture (<image>), which is not read",
            "Save the whole picture as PNG, or name the inner picture itself in the text.",
        ));
    }
    if !KNOWN.contains(&name) {
        let why = format!("it holds <{}>, which is not set", shown(name));
        return Err(Unfit::new(why, FLATTEN));
    }
    let letters = node.children().filter(Node::is_text);
    let mut letters = letters.filter_map(|text| text.text());
    if name == "style" {
        return letters.try_for_each(|css| style(css, ['{', '}', ';']));
    }
    if !matches!(name, "text" | "tspan" | "textPath" | "a") {
        return Ok(());
    }
    for letter in letters.flat_map(str::chars) {
        if !fonts::covers(letter) && !letter.is_whitespace() {
            let code = u32::from(letter);
            let why = format!("its letter ‘{letter}’ (U+{code:04X}) is in none of the typefaces");
            return Err(Unfit::new(
                why,
                "Turn the letters into paths in the drawing program, or write them otherwise.",
            ));
        }
    }
    Ok(())
}

fn attributes(node: Node<'_, '_>) -> Result<(), Unfit> {
    for attribute in node.attributes() {
        match attribute.name() {
            "filter" | "mask" => declared(attribute.name(), attribute.value())?,
            "style" => style(attribute.value(), [';'; 3])?,
            _ => {}
        }
    }
    Ok(())
}

/// Looks at the declarations of a style sheet, parted by `ends`.
fn style(css: &str, ends: [char; 3]) -> Result<(), Unfit> {
    let mut plain = String::with_capacity(css.len());
    let mut rest = css;
    while let Some(start) = rest.find("/*") {
        plain.push_str(&rest[..start]);
        let after = &rest[start + 2..];
        rest = after.find("*/").map_or("", |end| &after[end + 2..]);
    }
    plain.push_str(rest);
    for declaration in plain.split(ends) {
        if let Some((name, value)) = declaration.split_once(':') {
            declared(name.trim(), value)?;
        }
    }
    Ok(())
}

fn declared(name: &str, value: &str) -> Result<(), Unfit> {
    let costly = matches!(name.to_ascii_lowercase().as_str(), "filter" | "mask");
    if !costly || value.trim() == "none" {
        return Ok(());
    }
    Err(Unfit::new(
        format!("it uses a {name}, which is not set"),
        FLATTEN,
    ))
}

/// Counts what is drawn, each element once.
struct Count<'a, 'i> {
    named: HashMap<&'a str, Node<'a, 'i>>,
    known: HashMap<NodeId, u64>,
    /// Elements whose count is going on: one that comes to itself again never ends.
    open: Vec<NodeId>,
    /// The dearest marker: a style sheet may put it on any path.
    marker: u64,
}

impl<'a, 'i> Count<'a, 'i> {
    fn of(root: Node<'a, 'i>) -> Self {
        let named = root
            .descendants()
            .filter_map(|node| Some((node.attribute("id")?, node)))
            .collect();
        let mut count = Self {
            named,
            known: HashMap::new(),
            open: Vec::new(),
            marker: 0,
        };
        let markers = root
            .descendants()
            .filter(|n| n.has_tag_name((SVG, "marker")));
        count.marker = markers
            .map(|n| n.descendants().count() as u64)
            .max()
            .unwrap_or(0);
        count
    }

    fn drawn(&mut self, node: Node<'a, 'i>, depth: usize) -> Result<u64, Unfit> {
        if let Some(known) = self.known.get(&node.id()) {
            return Ok(*known);
        }
        if self.open.contains(&node.id()) || depth > 4 * DEEPEST {
            return Err(Unfit::new("its symbols are made of themselves", SIMPLIFY));
        }
        self.open.push(node.id());
        let mut sum = 1 + self.marker * corners(node);
        for child in node.children().filter(Node::is_element) {
            sum += self.drawn(child, depth + 1)?;
        }
        for target in self.used(node) {
            sum += self.drawn(target, depth + 1)?;
        }
        self.open.pop();
        let sum = sum.min(MOST_DRAWN + 1);
        self.known.insert(node.id(), sum);
        Ok(sum)
    }

    /// The elements that `node` draws besides those inside it.
    fn used(&self, node: Node<'a, 'i>) -> Vec<Node<'a, 'i>> {
        let is_use = matches!(node.tag_name().name(), "use" | "textPath" | "tref");
        let mut found = Vec::new();
        for attribute in node.attributes() {
            let value = attribute.value();
            let names = match attribute.name() {
                "href" if is_use => vec![value.trim().trim_start_matches('#')],
                "clip-path" | "style" => value
                    .split("url(")
                    .skip(1)
                    .filter_map(|rest| rest.split(')').next())
                    .map(|name| name.trim_matches(['#', '"', '\'', ' ']))
                    .collect(),
                _ => Vec::new(),
            };
            found.extend(names.into_iter().filter_map(|name| self.named.get(name)));
        }
        found
    }
}

/// At least as many as the corners of a path, which is where markers stand.
fn corners(node: Node<'_, '_>) -> u64 {
    match node.tag_name().name() {
        "line" => 2,
        "path" | "polyline" | "polygon" => {
            let data = node.attribute("d").or_else(|| node.attribute("points"));
            data.map_or(0, |data| data.len() as u64 / 2 + 1)
        }
        _ => 0,
    }
}

#[cfg(test)]
mod tests;
