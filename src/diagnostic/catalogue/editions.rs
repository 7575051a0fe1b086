//! What is wrong with the editions of a design.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const EDITIONS: &[Entry] = &[
    entry_of(
        "change-sheet-too-long",
        "The change sheet is one page, so that it is read. What the edition says of itself is too long for it, \
         even with the shortest lists and without drawings.",
    ),
    entry_of(
        "edition-damaged",
        "The file of a released edition cannot be read, or was changed after it was released. It says what buyers \
         have, so it is only trusted as it was written; its seal tells.",
    ),
    entry_of(
        "edition-day",
        "The file of an edition says on which day it was released. A day that is none, or that is before the day of an \
         earlier number, was not written by a release.",
    ),
    entry_of(
        "edition-ignored",
        "Once an edition was released, its number is printed, and not that of the design's file: a build that differs \
         from it is marked as a draft. A later number in the file is the one that the next release suggests.",
    ),
    entry_of(
        "edition-meanwhile",
        "While this release was made, another one of the same design was finished. What differs, which plates are to be \
         printed again and the next number are counted from the last edition, so this one has to be made again.",
    ),
    entry_of(
        "edition-misnamed",
        "Only files named by three numbers and .yaml are read as editions. One of another name would be passed over, and \
         its buyers with it.",
    ),
    entry_of(
        "edition-not-later",
        "A new edition needs a number later than that of the last one, so that buyers can tell which is the newest. \
         What was released stays as it is.",
    ),
    entry_of(
        "edition-number-low",
        "The first figure of an edition's number is raised where sizes or pieces are gone, the middle one for pieces, \
         seams and materials, the last for words and pictures, so that buyers see whether to print plates again. A number that promises \
         less is not released.",
    ),
    entry_of(
        "edition-of-another",
        "The edition was released by a design with another folder and another title, so it says nothing of what buyers \
         of this one have. A design that was renamed says under formerly what it was called.",
    ),
    entry_of(
        "edition-plate",
        "A fault is told of a plate that the edition does not have. Its buyers would look for it in vain, and print the \
         faulty one again not at all.",
    ),
    entry_of(
        "edition-same",
        "Nothing that is printed differs from the last edition, so a new one would tell buyers to look for a change \
         that is not there.",
    ),
    entry_of(
        "edition-unknown",
        "A fault is told of an edition that was never released. A misspelt number would leave its buyers without the \
         notice.",
    ),
];
