//! Names on the pieces that cannot be right: two pieces of one title, words of a crease beside another line.

use super::super::names::has;
use super::super::{Subject, warning};
use crate::design::{LineKind, MarkKindSpec, MarkSpec};
use crate::diagnostic::Diagnostics;

/// Two pieces that are called alike: nobody can tell which of them a step means.
pub(super) fn shared(subject: &Subject, said: &mut Diagnostics) {
    let pieces = &subject.design.pieces;
    for (number, piece) in pieces.iter().enumerate() {
        let title = piece.title.to_lowercase();
        let before = &pieces[..number];
        let Some(other) = before
            .iter()
            .find(|other| other.title.to_lowercase() == title)
        else {
            continue;
        };
        // once in the own language: a title that is only not translated was told there
        if let Some(own) = subject.design.original.as_deref() {
            let [mine, theirs] = [&piece.key, &other.key].map(|key| {
                let mut pieces = own.pieces.iter();
                pieces
                    .find(|piece| piece.key == *key)
                    .map(|piece| piece.title.to_lowercase())
            });
            if mine == theirs {
                continue;
            }
        }
        let message = format!(
            "two pieces are called ‘{}’: ‘{}’ and ‘{}’",
            piece.title, other.key, piece.key
        );
        let remedy = "give each piece a title of its own";
        said.push(warning("title-shared", &piece.place, message, remedy));
    }
}

/// Words of a crease beside a line that is none, where the crease of the same piece has other words.
pub(super) fn marks(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let says_fold = |mark: &&MarkSpec| {
        let text = mark.words.as_deref().unwrap_or_default();
        let words = super::super::text::words(text, lexicon, |at| at);
        has(lexicon.list("fold lines"), &words)
    };
    for piece in &subject.design.pieces {
        let lines = || {
            piece.marks.iter().filter_map(|mark| match &mark.kind {
                MarkKindSpec::Line { line, .. } if mark.words.is_some() => Some((*line, mark)),
                _ => None,
            })
        };
        let mut others = lines().filter(|(line, _)| *line != LineKind::Fold);
        let mut creases = lines().filter(|(line, _)| *line == LineKind::Fold);
        let wrong = others.find(|(_, mark)| says_fold(mark));
        let crease = creases.find(|(_, mark)| !says_fold(mark));
        if let (Some((_, wrong)), Some((_, crease))) = (wrong, crease) {
            let words = |mark: &MarkSpec| mark.words.clone().unwrap_or_default();
            let message = format!(
                "on ‘{}’ a line that is no crease says ‘{}’, and the crease says ‘{}’",
                piece.title,
                words(wrong),
                words(crease)
            );
            let remedy = "exchange the words of the two lines";
            said.push(warning("mark-words", &wrong.place, message, remedy));
        }
    }
}
