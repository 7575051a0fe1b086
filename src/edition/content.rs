//! What is printed of a design, gathered from the stages that computed it: the content of an edition.
//! How pieces lie on the cloth is left out: it follows from the pieces, and another machine may pack
//! them otherwise.

mod hashes;

use super::record::{
    ChapterRecord, Content, EdgeRecord, FitRecord, GRAIN, LanguageText, Listed, MarkRecord,
    PaperRecord, PieceRecord, PlacedRecord, SeamRecord, SectionRecord, SizeRecord, Sold, hash,
};
use crate::booklet::Prose;
use crate::design::translated::each_text;
use crate::design::{Design, FitEntry, Form, LineKind};
use crate::folder::DesignFolder;
use crate::geometry::path_text::shortened;
use crate::materials::{Materials, TrimRow};
use crate::piece::{Mark, MarkKind, Notch, Piece, SizedPieces, WalkedSeam};
use crate::plates::PlateSet;
use kurbo::{PathEl, Point};
use std::collections::{BTreeMap, BTreeSet};

/// The stages of one design, in its own language.
#[derive(Debug, Clone, Copy)]
pub struct Made<'a> {
    /// Its folder.
    pub folder: &'a DesignFolder,
    /// The design.
    pub design: &'a Design,
    /// Its pieces in every size.
    pub sizes: &'a [SizedPieces],
    /// Lengths that formulas and text may name, by size and name, mm.
    pub values: &'a BTreeMap<String, BTreeMap<String, f64>>,
    /// What to buy and cut.
    pub materials: &'a Materials,
    /// The design and its text in every language, its own first.
    pub texts: &'a [(&'a Design, &'a Prose)],
}

/// All of it but the pages.
pub fn content(made: &Made<'_>) -> Content {
    let design = made.design;
    Content {
        design: made.folder.key().to_string(),
        title: design.title.clone(),
        sold: Sold {
            papers: design.papers.iter().map(|(p, _)| p.key.clone()).collect(),
            forms: design.forms.iter().map(|f: &Form| f.file_word()).collect(),
            languages: made.texts.iter().map(|(d, _)| d.language.clone()).collect(),
        },
        fit: design.fit.iter().map(fit).collect(),
        sizes: made.sizes.iter().map(|size| of_size(made, size)).collect(),
        materials: materials(made.materials, design),
        pages: Vec::new(),
        hashes: hashes::hashes(made),
        text: made.texts.iter().map(|(d, prose)| text(d, prose)).collect(),
    }
}

/// What stands on which page of `plates`, in a file of `pages` pages.
pub fn paper(name: &str, pages: usize, plates: &PlateSet) -> PaperRecord {
    let mut list: Vec<BTreeSet<PlacedRecord>> = vec![BTreeSet::new(); plates.plate_count()];
    for sheet in &plates.sheets {
        let Some(plate) = sheet.plate.checked_sub(1).and_then(|at| list.get_mut(at)) else {
            continue;
        };
        for placed in &sheet.pieces {
            plate.extend(placed.sizes.iter().map(|size| PlacedRecord {
                size: size.clone(),
                piece: placed.piece.clone(),
            }));
        }
    }
    PaperRecord {
        paper: name.to_string(),
        pages,
        plates: list.into_iter().map(|p| p.into_iter().collect()).collect(),
    }
}

/// Millimetres to a thousandth.
fn mm(value: f64) -> f64 {
    (value * 1e3).round() / 1e3 + 0.0
}

/// How an entry of `fit` is kept.
pub fn fit(entry: &FitEntry) -> FitRecord {
    FitRecord {
        on: entry.on.clone(),
        change: entry.words(),
        by: mm(entry.by),
        size: entry.size.clone(),
        why: entry.why.clone(),
    }
}

fn of_size(made: &Made<'_>, sized: &SizedPieces) -> SizeRecord {
    let known = made.design.sizes.iter().find(|s| s.key == sized.size);
    let values = made.values.get(&sized.size).into_iter().flatten();
    SizeRecord {
        size: sized.size.clone(),
        title: sized.title.clone(),
        declared: known.map_or(&sized.size, |size| &size.declared).clone(),
        values: values
            .map(|(name, value)| (name.clone(), mm(*value)))
            .collect(),
        seams: sized.seams.iter().map(seam).collect(),
        pieces: sized.pieces.iter().map(piece).collect(),
    }
}

fn seam(seam: &WalkedSeam) -> SeamRecord {
    let side = |(piece, edge): &(String, String)| format!("{piece}.{edge}");
    SeamRecord {
        seam: seam.name.clone(),
        joins: [side(&seam.from), side(&seam.to)],
        lengths: [mm(seam.length_from), mm(seam.length_to)],
        easing: mm(seam.easing_percent),
    }
}

fn piece(piece: &Piece) -> PieceRecord {
    let edges = piece.outline.edges().iter().zip(&piece.allowances);
    let cut = piece.cuts.iter().map(|cut| {
        let mirrored = if cut.mirrored {
            ", half of them mirrored"
        } else {
            ""
        };
        format!("{} {}{mirrored}", cut.count, cut.material)
    });
    PieceRecord {
        piece: piece.key.clone(),
        number: piece.number,
        title: piece.title.clone(),
        note: piece.note.clone(),
        cut: cut.collect(),
        area: mm(piece.outline.area()),
        edges: edges
            .map(|(edge, allowance)| EdgeRecord {
                edge: edge.name.clone(),
                length: mm(edge.length()),
                allowance: mm(*allowance),
                path: shortened(&edge.curve),
            })
            .collect(),
        cut_line: shortened(&piece.cut_line),
        notches: piece.notches.iter().map(notch).collect(),
        marks: marks(piece),
    }
}

fn at(points: &[Point]) -> Vec<f64> {
    points.iter().flat_map(|p| [mm(p.x), mm(p.y)]).collect()
}

fn notch(notch: &Notch) -> MarkRecord {
    let centre = if notch.centre { ", centre" } else { "" };
    MarkRecord {
        mark: format!("{} on {}, {}{centre}", notch.name, notch.edge, notch.count),
        at: [vec![mm(notch.at)], at(&[notch.point])].concat(),
    }
}

fn marks(piece: &Piece) -> Vec<MarkRecord> {
    let mut all: Vec<MarkRecord> = piece.marks.iter().map(mark).collect();
    let named = |mark: String, points: &[Point]| MarkRecord {
        mark,
        at: at(points),
    };
    all.extend(piece.grain.map(|grain| named(GRAIN.into(), &grain)));
    all.extend(
        piece
            .common_point
            .map(|p| named("common point".into(), &[p])),
    );
    all.extend(
        piece
            .fold
            .as_ref()
            .map(|edge| named(format!("fold on {edge}"), &[])),
    );
    all
}

fn mark(mark: &Mark) -> MarkRecord {
    let round = |what: &str, centre: Point, diameter: f64| {
        (
            what.to_string(),
            [at(&[centre]), vec![mm(diameter)]].concat(),
        )
    };
    let (what, at) = match &mark.kind {
        MarkKind::Hole { at, diameter } => round("hole", *at, *diameter),
        MarkKind::Eyelet { at, diameter } => round("eyelet", *at, *diameter),
        MarkKind::Button { at, diameter } => round("button", *at, *diameter),
        MarkKind::Buttonhole { from, to } => ("buttonhole".to_string(), at(&[*from, *to])),
        MarkKind::Line { kind, path } => {
            let kind = match kind {
                LineKind::Placement => "placement line",
                LineKind::Stitching => "stitching line",
                LineKind::Fold => "fold line",
            };
            let points = path.elements().iter().flat_map(|element| match *element {
                PathEl::MoveTo(a) | PathEl::LineTo(a) => vec![a],
                PathEl::QuadTo(a, b) => vec![a, b],
                PathEl::CurveTo(a, b, c) => vec![a, b, c],
                PathEl::ClosePath => Vec::new(),
            });
            (kind.to_string(), at(&points.collect::<Vec<_>>()))
        }
    };
    let words = mark.words.as_ref().map(|words| format!(", {words}"));
    MarkRecord {
        mark: what + &words.unwrap_or_default(),
        at,
    }
}

fn materials(materials: &Materials, design: &Design) -> Vec<Listed> {
    let mut list = Vec::new();
    for cloth in &materials.cloth {
        let mut words = vec![cloth.name.clone()];
        words.extend(cloth.kind.clone());
        words.extend(cloth.facts.clone());
        words.extend(cloth.note.clone());
        let bought = materials.bought.iter().filter(|b| b.cloth == cloth.key);
        words.extend(bought.map(|b| format!("{}: {} ({})", b.title, b.text, b.sold)));
        let what = format!("cloth {}", cloth.key);
        list.push(Listed { what, words });
    }
    list.extend(materials.trims.iter().map(trim));
    if let Some(thread) = &materials.thread {
        let lines = thread.lines.iter();
        let lines = lines.map(|l| of_a_size(l.size.as_deref(), &l.text));
        let words = [thread.name.clone(), thread.spool.clone()].into_iter();
        let words = words.chain(thread.stitches.clone()).chain(lines);
        list.push(Listed {
            what: "thread".into(),
            words: words.chain(thread.note.clone()).collect(),
        });
    }
    list.push(Listed {
        what: "tools".into(),
        words: materials.tools.clone(),
    });
    list.push(Listed {
        what: "makes".into(),
        words: vec![design.makes.clone()],
    });
    list
}

/// `Small: 12 cm`, or `12 cm` for all sizes.
fn of_a_size(size: Option<&str>, text: &str) -> String {
    size.map_or(text.to_string(), |size| format!("{size}: {text}"))
}

fn trim(trim: &TrimRow) -> Listed {
    let mut words = vec![trim.name.clone(), trim.count.to_string()];
    words.extend(trim.width.clone());
    let lines = trim.lines.iter();
    words.extend(lines.map(|l| of_a_size(l.size.as_deref(), &l.text)));
    words.extend(trim.tolerance.clone());
    let bought = trim.bought.iter();
    words.extend(bought.map(|b| of_a_size(b.size.as_deref(), &b.text)));
    words.extend(trim.note.clone());
    Listed {
        what: format!("trim {}", trim.key),
        words,
    }
}

fn text(design: &Design, prose: &Prose) -> LanguageText {
    let mut words = BTreeMap::new();
    each_text(&mut design.clone(), &mut |path, text| {
        words.insert(path.to_string(), text.clone());
    });
    words.insert("about".into(), prose.about.clone());
    for (word, meaning) in &design.look_up.glossary {
        words.insert(format!("glossary.{word}"), meaning.clone());
    }
    let chapters = prose.chapters.iter().zip(&prose.filled);
    LanguageText {
        language: design.language.clone(),
        words,
        chapters: chapters
            .map(|(head, filled)| ChapterRecord {
                chapter: head.title.clone(),
                steps: head.steps.is_some(),
                sections: sections(head.standfirst.as_deref(), &filled.text),
            })
            .collect(),
    }
}

/// The sections of a chapter, each from its `##` to the next.
fn sections(standfirst: Option<&str>, text: &str) -> Vec<SectionRecord> {
    let mut list: Vec<(String, String)> = vec![(String::new(), String::new())];
    if let Some(words) = standfirst {
        list[0].1 = format!("{words}\n");
    }
    let mut fenced = false;
    for line in text.lines() {
        fenced ^= line.trim_start().starts_with("```");
        match line.strip_prefix("## ").filter(|_| !fenced) {
            Some(head) => list.push((head.trim().to_string(), String::new())),
            None => {
                if let Some((_, body)) = list.last_mut() {
                    body.push_str(line.trim_end());
                    body.push('\n');
                }
            }
        }
    }
    let made = list.into_iter().map(|(head, text)| {
        let text = text.trim().to_string();
        SectionRecord {
            hash: hash(text.as_bytes()),
            head,
            text,
        }
    });
    made.filter(|s| !s.head.is_empty() || !s.text.is_empty())
        .collect()
}
