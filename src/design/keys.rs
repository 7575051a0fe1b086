//! Every key a design folder may hold: what it means, its unit and default, and an example. Used
//! to suggest keys, by `pressfoot explain KEY`, and by the test that the guide for designers names
//! them all.

/// One key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyEntry {
    /// Where it stands: keys joined by dots, words in capitals for names the designer gives.
    /// Keys of `feet/*.yaml` begin with `foot`, those of a chapter's head with `booklet`.
    pub path: &'static str,
    /// What it means, with its unit and its default.
    pub meaning: &'static str,
    /// One line that shows it.
    pub example: &'static str,
}

impl KeyEntry {
    /// The key itself: the last part of the path.
    pub fn key(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, key)| key)
    }
}

const fn key(path: &'static str, meaning: &'static str, example: &'static str) -> KeyEntry {
    KeyEntry {
        path,
        meaning,
        example,
    }
}

/// The entry at `path`, e.g. `cloth.CLOTH.width`.
pub fn entry(path: &str) -> Option<&'static KeyEntry> {
    KEYS.iter().find(|entry| entry.path == path)
}

/// All entries for `key`, given as a bare key or as a path; in the order of the table.
pub fn explain(key: &str) -> Vec<&'static KeyEntry> {
    let key = key.trim().trim_end_matches(':');
    let wanted = |entry: &&KeyEntry| entry.path == key || entry.key() == key;
    KEYS.iter().filter(wanted).collect()
}

/// All keys, in the order in which a design is usually written.
pub const KEYS: &[KeyEntry] = &[
    key(
        "title",
        "Name of the design, as printed. Required.",
        "title: Harvest bar shoe",
    ),
    key(
        "edition",
        "Number of this edition: three numbers. Required.",
        "edition: 1.0.0",
    ),
    key(
        "series",
        "The collection the design belongs to.",
        "series: Patterns from the harvest fair",
    ),
    key(
        "by",
        "Who made it, as printed.",
        "by: The doll stall at the harvest fair",
    ),
    key(
        "skill",
        "What the buyer should be able to do, in words.",
        "skill: confident beginner",
    ),
    key(
        "about",
        "One or two sentences for the cover. Required.",
        "about: A round-toed felt shoe with a strap and one button.",
    ),
    key(
        "makes",
        "What the numbers of cut pieces are for. Default: one.",
        "makes: one pair",
    ),
    key(
        "age",
        "Whom the finished thing is for.",
        "age: for display, or for children over 8",
    ),
    key(
        "terms",
        "What the buyer may do with the pattern.",
        "terms: Sew as many as you like.",
    ),
    key(
        "contact",
        "Where corrections can be sent.",
        "contact: the doll stall",
    ),
    key(
        "language",
        "Language of the texts, as a tag. Default: en.",
        "language: en",
    ),
    key(
        "paper",
        "Papers the booklet is made for: a4, letter, a3, legal, tabloid. Required.",
        "paper: [a4, letter]",
    ),
    key(
        "lengths",
        "How lengths are printed.",
        "lengths: {first: metric, nearest: 1/16 in}",
    ),
    key(
        "lengths.first",
        "Which unit stands first, metric or inch; the other follows in brackets. Default: metric.",
        "first: inch",
    ),
    key(
        "lengths.nearest",
        "The finest inch in print: 1 in, 1/2 in … 1/64 in. Default: 1/16 in.",
        "nearest: 1/16 in",
    ),
    key(
        "measures",
        "Values with a name, for use in formulas: lengths, numbers, areas.",
        "measures: {seam: 3/16 in, felt: 1.2 mm}",
    ),
    key(
        "sizes",
        "The sizes of the design, at least one. Required.",
        "sizes: {one: {}}",
    ),
    key(
        "sizes.SIZE",
        "A size, by its short name.",
        "small: {title: Small, foot: feet/small.yaml}",
    ),
    key(
        "sizes.SIZE.title",
        "The size as printed. Default: its short name.",
        "title: Small",
    ),
    key(
        "sizes.SIZE.words",
        "Words after the title.",
        "words: for a foot of 45 mm",
    ),
    key(
        "sizes.SIZE.foot",
        "The file of the foot it is drafted for.",
        "foot: feet/small.yaml",
    ),
    key(
        "sizes.SIZE.measures",
        "Measures that have another value in this size.",
        "measures: {seam: 1/8 in}",
    ),
    key(
        "cloth",
        "The materials that pieces are cut from.",
        "cloth: {outer: {name: wool felt}}",
    ),
    key(
        "cloth.CLOTH",
        "A cloth, by its short name.",
        "outer: {name: wool felt}",
    ),
    key(
        "cloth.CLOTH.name",
        "As printed. Default: its short name.",
        "name: wool felt",
    ),
    key(
        "cloth.CLOTH.kind",
        "What kind of material it is.",
        "kind: woven",
    ),
    key(
        "cloth.CLOTH.thickness",
        "Thickness: a length.",
        "thickness: 1.2 mm",
    ),
    key(
        "cloth.CLOTH.sheet",
        "Size of a sheet: two lengths.",
        "sheet: 9 in x 12 in",
    ),
    key(
        "cloth.CLOTH.width",
        "Width off the roll: a length.",
        "width: 44 in",
    ),
    key(
        "cloth.CLOTH.note",
        "Words for the list of materials.",
        "note: firm, not craft felt",
    ),
    key(
        "trims",
        "Elastic, ribbon, buttons and the like.",
        "trims: {button: {width: 14 L}}",
    ),
    key(
        "trims.TRIM",
        "A trim, by its short name.",
        "elastic: {width: 6 mm, length: 60 mm}",
    ),
    key(
        "trims.TRIM.name",
        "As printed. Default: its short name.",
        "name: flat elastic",
    ),
    key(
        "trims.TRIM.width",
        "Width or diameter: a length; buttons in lignes.",
        "width: 14 L",
    ),
    key(
        "trims.TRIM.length",
        "Length to cut for each: a length or a formula.",
        "length: 0.2 * foot.length + 1/2 in",
    ),
    key("trims.TRIM.count", "How many. Default: 1.", "count: 2"),
    key(
        "trims.TRIM.small part",
        "Whether it is small and hard, and must be named in the caution. Default: no.",
        "small part: yes",
    ),
    key(
        "trims.TRIM.note",
        "Words for the list of materials.",
        "note: with a shank",
    ),
    key(
        "tools",
        "A list of tools, in words.",
        "tools: [small sharp scissors, pins]",
    ),
    key(
        "pieces",
        "The pieces, in the order of their numbers. Required.",
        "pieces: {…}",
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
        "Direction of the grain: none, upright, across, bias, or an angle. Default: none.",
        "grain: upright",
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
        "pieces.PIECE.cut",
        "How many are cut from each cloth: 2, 1 pair, 2 mirrored.",
        "cut: {outer: 1 pair, lining: 2}",
    ),
    key(
        "seams",
        "Which edge is sewn to which.",
        "seams: {side: {join: toe.side, to: heel.side}}",
    ),
    key(
        "seams.SEAM",
        "A seam, by its name.",
        "side: {join: toe.side, to: heel.side}",
    ),
    key(
        "seams.SEAM.join",
        "The edge that is joined (and eased, if any is).",
        "join: toe.sole edge",
    ),
    key(
        "seams.SEAM.to",
        "The edge it is joined to.",
        "to: sole.toe edge",
    ),
    key(
        "seams.SEAM.easing",
        "How much longer the joined edge is: none, a share, a range, a length. Default: none.",
        "easing: 4 % to 8 %",
    ),
    key(
        "seams.SEAM.direction",
        "opposite if the start of one edge meets the end of the other, or same. Default: opposite.",
        "direction: same",
    ),
    key("foot.name", "Words for the foot.", "name: the small doll"),
    key(
        "foot.tracing",
        "The traced outline. Required.",
        "tracing: {unit: mm, points: [[0, 3], …]}",
    ),
    key(
        "foot.tracing.unit",
        "Unit of the bare numbers: mm, cm or in.",
        "unit: mm",
    ),
    key(
        "foot.tracing.points",
        "Points in order round the foot.",
        "points: [[0, 3], [1, 5], …]",
    ),
    key(
        "foot.tracing.path",
        "Path data of a drawing.",
        "path: \"M 0 3 C …\"",
    ),
    key(
        "foot.tracing.drawing",
        "A path of an SVG drawing in true size.",
        "drawing: {file: feet/small.svg, path: foot}",
    ),
    key(
        "foot.tracing.drawing.file",
        "Path of the drawing.",
        "file: feet/small.svg",
    ),
    key(
        "foot.tracing.drawing.path",
        "The id of the path in the drawing.",
        "path: foot",
    ),
    key(
        "foot.tracing.heel",
        "Centre of the heel, on the tracing.",
        "heel: [12, 0]",
    ),
    key(
        "foot.tracing.toe",
        "Centre of the toe, on the tracing.",
        "toe: [14, 45]",
    ),
    key(
        "foot.tracing.inner side",
        "Which side is the inner one when the toe points up: left or right. Default: left.",
        "inner side: left",
    ),
    key(
        "foot.tracing.pencil",
        "Half the width of the pencil line, taken off all round: a length. Default: nothing.",
        "pencil: 0.25 mm",
    ),
    key(
        "foot.measures",
        "Measures of the foot by name: lengths.",
        "measures: {ball girth: 48 mm}",
    ),
    key(
        "booklet.title",
        "Title of the chapter. Required.",
        "title: Making the shoe",
    ),
    key(
        "booklet.kind",
        "text, or steps if each ## is a numbered step. Default: text.",
        "kind: steps",
    ),
    key(
        "booklet.part",
        "Where the chapter stands: make ready, make, look up. Default: make.",
        "part: make ready",
    ),
    key(
        "booklet.standfirst",
        "One sentence below the title.",
        "standfirst: Make both shoes together.",
    ),
];
