//! Keys of `pieces`.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const PIECES: &[KeyEntry] = &[
    key(
        "pieces",
        "The pieces, in the order of their numbers. Required.",
        "pieces: {mat: {rectangle: {width: 12 cm, height: 9 cm}, cut: {outer: 2}}}",
    ),
    key(
        "pieces.PIECE",
        "A piece, by its short name.",
        "strap: {rectangle: {…}, cut: {outer: 2}}",
    ),
    key(
        "pieces.PIECE.title",
        "As printed. Default: its short name with a capital.",
        "title: Toe piece",
    ),
    key(
        "pieces.PIECE.note",
        "Words for the label on the piece.",
        "note: the felt goes outside",
    ),
    key(
        "pieces.PIECE.from",
        "A piece of the shoe: shoe.sole, shoe.lining sole, shoe.stiffener, shoe.toe, shoe.heel, shoe.toe lining, shoe.heel lining.",
        "from: shoe.toe",
    ),
    key(
        "pieces.PIECE.tracing",
        "The foot's tracing, moved outward: edges toe edge and heel edge.",
        "tracing: {ease: 1/8 in}",
    ),
    key(
        "pieces.PIECE.tracing.ease",
        "Ease all round: a length or a formula. Default: 1/8 in.",
        "ease: 1/8 in",
    ),
    key(
        "pieces.PIECE.tracing.inner mark",
        "Where the edges part on the inner side, from the heel. Default: 0.45 * foot.length.",
        "inner mark: 0.45 * foot.length",
    ),
    key(
        "pieces.PIECE.tracing.outer mark",
        "Where the edges part on the outer side, from the heel. Default: 0.45 * foot.length.",
        "outer mark: 0.43 * foot.length",
    ),
    key(
        "pieces.PIECE.points",
        "Named points: [across, down], two lengths or formulas each.",
        "points: {a: [0 mm, 0 mm], b: [60 mm, 0 mm]}",
    ),
    key(
        "pieces.PIECE.outline",
        "Edges drawn from point to point.",
        "outline: {start: a, edges: [{name: top, to: b}, …]}",
    ),
    key("pieces.PIECE.outline.start", "The first point.", "start: a"),
    key(
        "pieces.PIECE.outline.edges",
        "The edges in order; the last leads back to the start.",
        "edges: [{name: top, to: b}, {name: side, to: a, handles: [p, q]}]",
    ),
    key(
        "pieces.PIECE.outline.edges.name",
        "Name of the edge; the same name again goes on with it.",
        "name: sole edge",
    ),
    key(
        "pieces.PIECE.outline.edges.to",
        "Where it ends: a point.",
        "to: b",
    ),
    key(
        "pieces.PIECE.outline.edges.handles",
        "One or two points that bend it. Default: a straight line.",
        "handles: [p, q]",
    ),
    key(
        "pieces.PIECE.rectangle",
        "A rectangle: edges top, right, bottom, left.",
        "rectangle: {width: 60 mm, height: 12 mm}",
    ),
    key(
        "pieces.PIECE.rectangle.width",
        "Across: a length or a formula.",
        "width: 60 mm",
    ),
    key(
        "pieces.PIECE.rectangle.height",
        "Down: a length or a formula.",
        "height: 12 mm",
    ),
    key(
        "pieces.PIECE.rectangle.radius",
        "Rounds the corners, which become edges corner 1 to corner 4.",
        "radius: 3 mm",
    ),
    key(
        "pieces.PIECE.ellipse",
        "An ellipse or a circle: one edge, the rim.",
        "ellipse: {width: 60 mm, height: 60 mm}",
    ),
    key(
        "pieces.PIECE.ellipse.width",
        "Whole width: a length or a formula.",
        "width: 60 mm",
    ),
    key(
        "pieces.PIECE.ellipse.height",
        "Whole height: a length or a formula.",
        "height: 40 mm",
    ),
    key(
        "pieces.PIECE.drawing",
        "A path of an SVG drawing in true size.",
        "drawing: {file: drawings/toe.svg, path: outline, edges: [sole edge, topline]}",
    ),
    key(
        "pieces.PIECE.drawing.file",
        "Path of the drawing; {size} stands for the size's short name.",
        "file: \"drawings/toe-{size}.svg\"",
    ),
    key(
        "pieces.PIECE.drawing.path",
        "The id of the path in the drawing.",
        "path: outline",
    ),
    key(
        "pieces.PIECE.drawing.edges",
        "Names for the stretches between corners, in the order of the path.",
        "edges: [sole edge, outer side, topline, inner side]",
    ),
    key(
        "pieces.PIECE.inset",
        "Another piece made smaller all round.",
        "inset: {of: sole, by: 0.7 mm}",
    ),
    key("pieces.PIECE.inset.of", "The other piece.", "of: sole"),
    key(
        "pieces.PIECE.inset.by",
        "How much: a length or a formula.",
        "by: 0.7 mm",
    ),
    key(
        "pieces.PIECE.outset",
        "Another piece made larger all round.",
        "outset: {of: sole, by: 1/16 in}",
    ),
    key("pieces.PIECE.outset.of", "The other piece.", "of: sole"),
    key(
        "pieces.PIECE.outset.by",
        "How much: a length or a formula.",
        "by: 1/16 in",
    ),
    key(
        "pieces.PIECE.on fold",
        "The straight edge that lies on the fold of the cloth; the piece is drawn as a half.",
        "on fold: left",
    ),
    key(
        "pieces.PIECE.mirror on",
        "The straight edge on which a half is mirrored to give the whole piece.",
        "mirror on: left",
    ),
    key(
        "pieces.PIECE.allowance",
        "Seam allowance: a length, a formula, none, or a group by edge. Default: none.",
        "allowance: {all: 3/16 in, topline: none}",
    ),
    key(
        "pieces.PIECE.allowance.all",
        "The allowance of every edge that is not named.",
        "all: 3/16 in",
    ),
    key(
        "pieces.PIECE.corners",
        "What the allowance does at corners: mitre, mitre up to 3, round, chamfer, square, folded. \
         Default: mitre.",
        "corners: {all: mitre, top and side: folded}",
    ),
    key(
        "pieces.PIECE.corners.all",
        "Every corner that is not named.",
        "all: mitre",
    ),
    key(
        "pieces.PIECE.grain",
        "Direction of the grain: none, lengthwise, crosswise, bias, or an angle. Default: none.",
        "grain: lengthwise",
    ),
    key(
        "pieces.PIECE.grain within",
        "How far the piece may lie off the grain when it is cut: an angle. Default: 0 deg.",
        "grain within: 5 deg",
    ),
    key(
        "pieces.PIECE.notches",
        "A list of notches.",
        "notches: [{edge: toe edge, at: 50 %}]",
    ),
    key(
        "pieces.PIECE.notches.edge",
        "The edge it stands on.",
        "edge: toe edge",
    ),
    key(
        "pieces.PIECE.notches.at",
        "Where: a share of the edge, or a length from its start.",
        "at: 50 %",
    ),
    key(
        "pieces.PIECE.notches.from end",
        "Where: a length back from its end.",
        "from end: 12 mm",
    ),
    key(
        "pieces.PIECE.notches.name",
        "Its name. Default: the edge with a number.",
        "name: centre toe",
    ),
    key(
        "pieces.PIECE.notches.centre",
        "Whether it marks a centre. Default: no.",
        "centre: yes",
    ),
    key(
        "pieces.PIECE.notches.count",
        "Triangles side by side, 1 to 3. Default: 1.",
        "count: 2",
    ),
    key(
        "pieces.PIECE.notches.carry",
        "Whether the partner edge of the seam gets it too. Default: no.",
        "carry: yes",
    ),
    key(
        "pieces.PIECE.holes",
        "Holes to punch.",
        "holes: [{at: a, diameter: 2 mm}]",
    ),
    key(
        "pieces.PIECE.holes.at",
        "The middle: a point.",
        "at: [12 mm, 6 mm]",
    ),
    key(
        "pieces.PIECE.holes.diameter",
        "A length or a formula.",
        "diameter: 2 mm",
    ),
    key(
        "pieces.PIECE.holes.words",
        "Words printed beside it.",
        "words: for the cord",
    ),
    key(
        "pieces.PIECE.eyelets",
        "Eyelets.",
        "eyelets: [{at: a, diameter: 4 mm}]",
    ),
    key("pieces.PIECE.eyelets.at", "The middle: a point.", "at: a"),
    key(
        "pieces.PIECE.eyelets.diameter",
        "Of the hole: a length or a formula.",
        "diameter: 4 mm",
    ),
    key(
        "pieces.PIECE.eyelets.words",
        "Words printed beside it.",
        "words: eyelet",
    ),
    key(
        "pieces.PIECE.buttons",
        "Where buttons are sewn on.",
        "buttons: [{at: a, diameter: 14 L}]",
    ),
    key("pieces.PIECE.buttons.at", "The middle: a point.", "at: a"),
    key(
        "pieces.PIECE.buttons.diameter",
        "A length or a formula.",
        "diameter: 14 L",
    ),
    key(
        "pieces.PIECE.buttons.words",
        "Words printed beside it.",
        "words: button",
    ),
    key(
        "pieces.PIECE.buttonholes",
        "Buttonholes.",
        "buttonholes: [{at: a, length: 16 mm, angle: 90 deg}]",
    ),
    key(
        "pieces.PIECE.buttonholes.at",
        "The middle of the slit: a point.",
        "at: a",
    ),
    key(
        "pieces.PIECE.buttonholes.length",
        "Of the slit: a length or a formula.",
        "length: 16 mm",
    ),
    key(
        "pieces.PIECE.buttonholes.angle",
        "From upright, clockwise. Default: 0 deg, upright.",
        "angle: 90 deg",
    ),
    key(
        "pieces.PIECE.buttonholes.words",
        "Words printed beside it.",
        "words: buttonhole",
    ),
    key(
        "pieces.PIECE.lines",
        "Lines printed on the piece.",
        "lines: [{kind: placement, through: [a, b]}]",
    ),
    key(
        "pieces.PIECE.lines.kind",
        "placement, stitching or fold.",
        "kind: fold",
    ),
    key(
        "pieces.PIECE.lines.through",
        "Points it goes through.",
        "through: [a, b]",
    ),
    key(
        "pieces.PIECE.lines.through.edge",
        "A point of a mark on an edge: the edge.",
        "through: [{edge: topline, at: 4 mm}, {edge: topline, at: 4 mm, inward: 6 mm}]",
    ),
    key(
        "pieces.PIECE.lines.through.at",
        "Where on it: a share, or a length from its start.",
        "at: 50 %",
    ),
    key(
        "pieces.PIECE.lines.through.from end",
        "Or a length back from its end.",
        "from end: 4 mm",
    ),
    key(
        "pieces.PIECE.lines.through.inward",
        "How far inside the piece. Default: on the edge.",
        "inward: 6 mm",
    ),
    key(
        "pieces.PIECE.lines.handles",
        "One or two points that bend a line between two points.",
        "handles: [p]",
    ),
    key(
        "pieces.PIECE.lines.words",
        "Words printed beside it.",
        "words: strap here",
    ),
    key(
        "pieces.PIECE.common point",
        "Where its sizes are laid on each other when they are nested: a point like those of marks. \
         Default: the middle of the seam line's box; on the fold, the middle of the folded edge.",
        "common point: [0 mm, 0 mm]",
    ),
    key(
        "pieces.PIECE.cut",
        "How many are cut from each cloth: 2, 1 pair, 2 mirrored.",
        "cut: {outer: 1 pair, lining: 2}",
    ),
];
