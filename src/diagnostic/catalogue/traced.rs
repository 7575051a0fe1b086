//! What is wrong with a picture of a tracing.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const TRACED: &[Entry] = &[
    entry_of(
        "trace-card-cut",
        "A card of known size tells how large a photograph is. Its four sides must be seen whole: from a part of it \
         the size could only be guessed.",
    ),
    entry_of(
        "trace-coarse",
        "A pencil line is about half a millimetre thick. With fewer than three pixels to the millimetre its middle \
         cannot be found closely enough for a shoe to fit.",
    ),
    entry_of(
        "trace-cut",
        "A tracing whose line runs off the picture has no whole outline. White paper must be seen all round it, a \
         finger's width at least.",
    ),
    entry_of(
        "trace-drawing",
        "An outline is taken from a drawing only if the drawing says how large it is and can be followed to the last \
         transform: nothing about a size is guessed.",
    ),
    entry_of(
        "trace-gap",
        "A short gap in the line was bridged by going on in the direction in which the line ends on either side. The \
         picture that is written beside the foot shows the place with a ring; look whether it is right.",
    ),
    entry_of(
        "trace-heel",
        "The heel is taken to be in the narrower half of a tracing. Where both halves are equally broad, or the foot lies \
         another way than was said, a guess could turn the shoe round.",
    ),
    entry_of(
        "trace-light",
        "Lines are told from paper by being darker. Deep shadows, glare or a picture taken in the dark hide them, and \
         what would be found is the shadow.",
    ),
    entry_of(
        "trace-names",
        "There are several shapes in the picture and nothing says which foot is which, so no file can be named. With one \
         name both feet are kept in one file; two names make two files.",
    ),
    entry_of(
        "trace-no-scale",
        "A picture alone does not tell how large a thing is. A scan does if its resolution is known; a photograph does \
         if something of known size lies beside the tracing. Nothing is guessed, because a wrong size spoils every shoe.",
    ),
    entry_of(
        "trace-no-shape",
        "An outline must go all round: a closed line, or the edge of a shape that is dark all over. Letters and small \
         marks are passed over.",
    ),
    entry_of(
        "trace-open",
        "The line is broken for longer than can be bridged without guessing how the foot goes on.",
    ),
    entry_of(
        "trace-pixels",
        "A pixel in a drawing is a 96th of an inch by the rules of the web, but drawing programs have written 72 and 90 of \
         them to the inch. Only a length in mm, cm or in is certain.",
    ),
    entry_of(
        "trace-resolution",
        "Programs write a resolution into pictures that were never scanned. Where a card or the tracing sheet is seen in \
         the picture and says otherwise, it is believed, and not the file. What is said with --dpi is believed before \
         all, so a wrong figure there makes the foot too large or too small.",
    ),
    entry_of(
        "trace-ruled",
        "Lines printed on the paper join the line that was drawn, and the outline runs along them. Plain \
         paper has none.",
    ),
    entry_of(
        "trace-sheet",
        "The four rings in the corners of the tracing sheet tell its size and how it lies. One that is covered, cut off or \
         blurred leaves the size of the foot to guessing.",
    ),
    entry_of(
        "trace-stretched",
        "A page that is fitted to another paper, or a picture whose shape was changed, is stretched one way more than the \
         other. No camera sees a flat sheet like that, so a foot drawn on it would be too long or too broad.",
    ),
    entry_of(
        "trace-tilt",
        "A photograph from the side can be straightened only so far: the far end of the foot is seen small, and the \
         thickness of pencil, card and paper begins to count.",
    ),
    entry_of(
        "trace-uncertain",
        "The size of a photograph is known only as well as the card in it is seen. What is believed of the length is \
         worse than one part in seventy, which is felt in a shoe.",
    ),
    entry_of(
        "trace-unreadable",
        "Pictures are read as PNG or JPEG, and drawings as SVG, of a size that a scan of one sheet has.",
    ),
];
