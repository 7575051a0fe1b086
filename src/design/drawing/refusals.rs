//! What a drawing may not do to a path that is read at true size: move or scale it in ways that are
//! not followed here. Each is refused at its place.

use super::Drawing;
use crate::diagnostic::Diagnostic;
use roxmltree::Node;

/// Properties of CSS that move, scale or replace what is drawn (CSS Transforms 1 and 2, SVG 2, CSS
/// Motion Path), without the prefixes of browsers.
const MOVING: [&str; 21] = [
    "all",
    "d",
    "height",
    "margin",
    "max-height",
    "max-width",
    "min-height",
    "min-width",
    "offset",
    "perspective",
    "perspective-origin",
    "rotate",
    "scale",
    "transform",
    "transform-box",
    "transform-origin",
    "translate",
    "width",
    "x",
    "y",
    "zoom",
];

/// Elements whose content is not drawn where it stands, or is moved by more than `transform`.
const OUTER: [&str; 3] = ["svg", "g", "a"];

/// Elements that move or reshape the one they stand in as time goes by.
const ANIMATED: [&str; 4] = ["animate", "animateMotion", "animateTransform", "set"];

impl Drawing<'_> {
    /// Refuses a drawing in which something other than the `transform` of the path and its groups
    /// decides where `path` is drawn, and how large.
    ///
    /// # Errors
    /// A diagnostic at the first such thing.
    pub(super) fn refuse_unseen(&self, path: &Node<'_, '_>) -> Result<(), Diagnostic> {
        let root = self.document.root_element();
        for node in path.ancestors().filter(Node::is_element) {
            self.refuse_place(&node, node == *path, node == root)?;
            self.refuse_moving(&node)?;
        }
        self.refuse_style_sheets()
    }

    fn refuse_place(
        &self,
        node: &Node<'_, '_>,
        is_path: bool,
        is_root: bool,
    ) -> Result<(), Diagnostic> {
        let name = node.tag_name().name();
        let inner_drawing = name == "svg" && !is_root;
        if inner_drawing || !is_path && !OUTER.contains(&name) || is_root && name != "svg" {
            let message = match inner_drawing {
                true => "the path stands in a drawing inside the drawing".to_string(),
                false => {
                    format!("the path stands in a ‘{name}’, which is not drawn where it stands")
                }
            };
            let remedy = "take the path out of it, into a plain group or none, and save again";
            return Err(self.fault(node, &message, remedy));
        }
        Ok(())
    }

    /// Whatever moves a path or a group besides its `transform`.
    fn refuse_moving(&self, node: &Node<'_, '_>) -> Result<(), Diagnostic> {
        let remedy = "apply the transform to the path in the drawing program and save again";
        if let Some(attribute) = node
            .attributes()
            .find(|a| matches!(a.name(), "transform-origin" | "transform-box"))
        {
            let message = format!("a ‘{}’ is not followed", attribute.name());
            return Err(self.fault(node, &message, remedy));
        }
        if let Some(property) = node.attribute("style").and_then(moving) {
            let message = format!("a style sets ‘{property}’, which is not followed");
            return Err(self.fault(node, &message, remedy));
        }
        let animated = |child: &Node<'_, '_>| ANIMATED.contains(&child.tag_name().name());
        match node.children().find(animated) {
            Some(child) => Err(self.fault(&child, "it moves", "take the animation out")),
            None => Ok(()),
        }
    }

    /// A style sheet that sets any of [`MOVING`], or comes from elsewhere, may move the path.
    fn refuse_style_sheets(&self) -> Result<(), Diagnostic> {
        for node in self.document.descendants() {
            let remedy = "apply the styles in the drawing program and save as plain SVG";
            if node.pi().is_some_and(|pi| pi.target == "xml-stylesheet") {
                return Err(self.fault(&node, "its style sheet is another file", remedy));
            }
            if node.tag_name().name() != "style" {
                continue;
            }
            let text: String = node.descendants().filter_map(text_of).collect();
            if let Some(property) = moving(&text) {
                let message = format!("its style sheet sets ‘{property}’, which is not followed");
                return Err(self.fault(&node, &message, remedy));
            }
        }
        Ok(())
    }
}

fn text_of<'d>(node: Node<'d, '_>) -> Option<&'d str> {
    node.is_text().then(|| node.text()).flatten()
}

/// The first property in `css` (declarations or a style sheet) that moves what is drawn; an import
/// and an escaped letter count as one, since what they bring is not seen.
fn moving(css: &str) -> Option<String> {
    let plain = without_comments(css).to_lowercase();
    if plain.contains('\\') {
        return Some("\\".to_string());
    }
    if plain.contains("@import") {
        return Some("@import".to_string());
    }
    let declared = plain.split(['{', '}', ';']).filter_map(|declaration| {
        let (property, _) = declaration.split_once(':')?;
        let property = property.trim();
        let unprefixed = ["-webkit-", "-moz-", "-ms-", "-o-"]
            .iter()
            .find_map(|prefix| property.strip_prefix(prefix));
        Some(unprefixed.unwrap_or(property).to_string())
    });
    declared.into_iter().find(|property| {
        let family = property.split('-').next().unwrap_or_default();
        MOVING.contains(&property.as_str()) || matches!(family, "margin" | "offset")
    })
}

fn without_comments(css: &str) -> String {
    let mut plain = String::with_capacity(css.len());
    let mut rest = css;
    while let Some((before, after)) = rest.split_once("/*") {
        plain.push_str(before);
        plain.push(' ');
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    plain
}
