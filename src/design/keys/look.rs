//! Keys of the cover's picture, of the look, and of the fenced blocks `picture` of the text.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const LOOK: &[KeyEntry] = &[
    key(
        "cover",
        "A picture on the cover in place of the drawing.",
        "cover: {picture: pictures/finished.jpg, alt: The finished shoes on a shelf.}",
    ),
    key(
        "cover.picture",
        "The file. Required.",
        "picture: pictures/finished.jpg",
    ),
    key(
        "cover.alt",
        "What the picture shows, for those who cannot see it. Required.",
        "alt: The finished shoes on a shelf.",
    ),
    key(
        "cover.crop",
        "What is cropped off it: a shape, or sides and a shape.",
        "crop: 4 x 3",
    ),
    key(
        "cover.crop.left",
        "Share of the width taken off at the left. Default: 0 %.",
        "left: 10 %",
    ),
    key(
        "cover.crop.right",
        "Share of the width taken off at the right. Default: 0 %.",
        "right: 10 %",
    ),
    key(
        "cover.crop.top",
        "Share of the height taken off at the top. Default: 0 %.",
        "top: 10 %",
    ),
    key(
        "cover.crop.bottom",
        "Share of the height taken off at the bottom. Default: 0 %.",
        "bottom: 10 %",
    ),
    key(
        "cover.crop.shape",
        "Width and height of what is left, in proportion.",
        "shape: 4 x 3",
    ),
    key(
        "cover.crop.focus",
        "What should be in the middle of that shape: shares of the whole picture, from the left and \
         from the top. Default: the middle.",
        "focus: [30 %, 40 %]",
    ),
    key("look", "A look of your own.", "look: {accent: \"#1F4E6B\"}"),
    key(
        "look.accent",
        "Colour of heads and numerals; its contrast to white paper is at least 4.5:1. Default: \
         \"#8E2A1E\".",
        "accent: \"#1F4E6B\"",
    ),
    key(
        "look.page",
        "Tint of the booklet's pages of text; plates stay white. Default: white.",
        "page: \"#FBF8F1\"",
    ),
    key(
        "look.text face",
        "Files of the typeface of the text, TTF or OTF: upright, italic, semibold, bold.",
        "text face: [fonts/own.ttf, fonts/own-italic.ttf]",
    ),
    key(
        "look.label face",
        "Files of the typeface of labels in the text; the plates keep the house's.",
        "label face: fonts/label.ttf",
    ),
    key(
        "look.logo",
        "Your sign, on the cover and beside the edition.",
        "logo: {picture: pictures/logo.svg, alt: A thimble}",
    ),
    key(
        "look.logo.picture",
        "The file: SVG or PNG. Required.",
        "picture: pictures/logo.svg",
    ),
    key(
        "look.logo.alt",
        "What it shows, for those who cannot see it. Required.",
        "alt: A thimble",
    ),
    key(
        "picture",
        "A fenced block of the text: a picture with more than Markdown can say of it.",
        "picture: pictures/strap.jpg",
    ),
    key(
        "picture.picture",
        "The file. Required.",
        "picture: pictures/strap.jpg",
    ),
    key(
        "picture.alt",
        "What the picture shows, for those who cannot see it. Required.",
        "alt: The strap, folded.",
    ),
    key(
        "picture.caption",
        "Words under it.",
        "caption: Fold the strap.",
    ),
    key(
        "picture.name",
        "A name by which the text refers to it, as in ‘{{ figure.strap }}’.",
        "name: strap",
    ),
    key(
        "picture.width",
        "How wide it is printed, at most: a length. Default: as there is room.",
        "width: 60 mm",
    ),
    key(
        "picture.crop",
        "What is cropped off it: a shape, or sides and a shape.",
        "crop: {left: 10 %, shape: 4 x 3}",
    ),
    key(
        "picture.crop.left",
        "Share of the width taken off at the left. Default: 0 %.",
        "left: 10 %",
    ),
    key(
        "picture.crop.right",
        "Share of the width taken off at the right. Default: 0 %.",
        "right: 10 %",
    ),
    key(
        "picture.crop.top",
        "Share of the height taken off at the top. Default: 0 %.",
        "top: 10 %",
    ),
    key(
        "picture.crop.bottom",
        "Share of the height taken off at the bottom. Default: 0 %.",
        "bottom: 10 %",
    ),
    key(
        "picture.crop.shape",
        "Width and height of what is left, in proportion.",
        "shape: 4 x 3",
    ),
    key(
        "picture.crop.focus",
        "What should be in the middle of that shape: shares of the whole picture, from the left and \
         from the top. Default: the middle.",
        "focus: [30 %, 40 %]",
    ),
];
