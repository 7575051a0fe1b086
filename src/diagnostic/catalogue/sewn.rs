//! What is wrong with pieces that could be cut, but not sewn well.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const SEWN: &[Entry] = &[
    entry_of(
        "allowance-seam",
        "Edges are laid cut edge to cut edge. If one allowance is deeper than the other, the seam \
         lines do not meet, and the piece comes out smaller or the ends of the seam do not agree.",
    ),
    entry_of(
        "button-too-wide",
        "A button wider than the strap or the edge it sits on hangs over, catches, and shows its \
         underside.",
    ),
    entry_of(
        "buttonhole-too-small",
        "A button passes its hole edgewise: the hole is as long as the button is wide and thick \
         together. A shorter one is torn open by the first buyer who dresses her doll.",
    ),
    entry_of(
        "casing-too-narrow",
        "What is drawn through a casing must pass between its rows. A round cord needs half of \
         its girth, for two layers of cloth go round it; a flat elastic its width and a little \
         room.",
    ),
    entry_of(
        "cloth-thickness",
        "A thickness far from that of its kind was typed in another unit, or measured of many \
         layers. Ease, amounts of fullness and needles go by it.",
    ),
    entry_of(
        "curve-clipped",
        "The cut edge of a curved allowance is longer or shorter than the seam it is turned over. \
         Beyond what cloth gives, a hollow allowance is clipped, and notches are cut into a \
         bulging one, or it puckers.",
    ),
    entry_of(
        "edge-in-seams",
        "An edge that is in more seams than there are pieces of it was named in place of another: \
         one seam is sewn twice, and another edge is never sewn.",
    ),
    entry_of(
        "elastic-too-short",
        "The draft of a shoe says how long the elastic is between its ends. The ends are sewn \
         down, so they come on top. Without them it is too tight, and the foot does not get in.",
    ),
    entry_of(
        "eyelet-size",
        "An eyelet that is much larger than the hole marked for it does not go through the cloth, \
         and a smaller one falls out.",
    ),
    entry_of(
        "gap-too-small",
        "The whole work is drawn through the gap that is left for turning. Bunched together it \
         needs room: half of that room is air. Through a smaller gap it does not go, or the \
         stitches beside it tear.",
    ),
    entry_of(
        "grain-differs",
        "Front and back of one cloth hang, stretch and shrink together only if their threads run \
         the same way. Otherwise the seam between them puckers in the wash.",
    ),
    entry_of(
        "grain-missing",
        "Woven and knitted cloth stretches and hangs differently along its threads and across. \
         Without a grain line the buyer lays the piece as it comes, and what she sews twists.",
    ),
    entry_of(
        "hem-corner",
        "A hem is turned up onto the piece above it. Where the sides slant, an allowance that \
         runs straight on is longer or shorter than what it lies on, so it gathers or pulls. A \
         folded corner is drawn as it will lie.",
    ),
    entry_of(
        "joined-edge-kink",
        "An edge that runs on over a seam, as a neckline over the shoulder, should be smooth when \
         the seam is sewn. Both pieces may look right alone and still meet in a point.",
    ),
    entry_of(
        "lining-not-smaller",
        "A lining lies inside what it lines. If it is larger it creases there, or peeps out at \
         the edge.",
    ),
    entry_of(
        "mark-near-edge",
        "A hole, eyelet or buttonhole needs cloth round it. Too near the edge it tears out at the \
         first pull.",
    ),
    entry_of(
        "notches-near",
        "Notches that stand side by side are cut as one, and the buyer cannot tell which is \
         meant. Two triangles of one notch are written ‘count: 2’.",
    ),
    entry_of(
        "pair-not-mirrored",
        "Left and right are each other's mirror image. Cut all alike, they are for one side only, \
         and the buyer finds out when the cloth is used up.",
    ),
    entry_of(
        "pieces-mirror-twins",
        "Two pieces that are mirror images need one pattern only: cut one as a pair. It saves \
         paper, and a correction reaches both.",
    ),
    entry_of(
        "radius-too-small",
        "Between two holes of the needle the thread lies straight. A curve tighter than the \
         stitches can follow becomes a corner, at another place for each buyer.",
    ),
    entry_of(
        "size-order",
        "Sizes are looked up in order. One that is smaller than the size before it has a wrong \
         measure, or stands in the wrong place.",
    ),
    entry_of(
        "sizes-alike",
        "Two sizes of which all pieces are the same are one, or the measures of one were copied \
         and not changed. Buyers of the second get a thing that does not fit.",
    ),
    entry_of(
        "stitch-outside-allowance",
        "A row along a turned edge is there to hold the allowance. Farther from the edge than the \
         allowance is deep, it holds nothing, and the raw edge frays inside.",
    ),
    entry_of(
        "strap-too-short",
        "The draft of a shoe says how long the strap is over the foot. The end that goes into the \
         seam comes on top. Without it the strap does not reach the other side.",
    ),
    entry_of(
        "tracing-point-astray",
        "A single point far off the line of its neighbours is rarely a foot: mostly a figure was \
         misread or its sign was lost. The tracing is smoothed over it, and the sole is drawn \
         beside the foot.",
    ),
    entry_of(
        "trim-order",
        "A trim that is shorter in the larger of two sizes, while it grows otherwise, was \
         mistyped in one of them.",
    ),
];
