//! The proof sheets of a design, one for each paper and language: what the designer measures on a test
//! print of her own. Lengths in mm.

use super::press::{Booklet, Press};
use super::text_sheets::TextSheet;
use crate::booklet::Setting;
use crate::booklet::text_sheet::TextSheetKind;
use crate::design::{Form, LengthStyle, printed};
use crate::diagnostic::Diagnostics;
use crate::geometry::units::INCH;
use crate::language::{Words, phrase};
use crate::piece::{Piece, SizedPieces};
use crate::plates::{PlateSet, SQUARE_SIDES};
use kurbo::Shape;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// A length measured with a rule may be off by this share: half a millimetre on 5 cm (common practice).
const SHARE: f64 = 0.01;

/// No rule is read more nearly than this, mm.
const LEAST: f64 = 0.5;

/// Tenths of this, mm, are what a rule is read to.
const READ_TO: f64 = 0.5;

impl Press<'_> {
    /// The sheets for all `booklets`; `large` are the plates on large sheets. None for a design with
    /// errors. `None` if one could not be set: then `diagnostics` says why.
    pub(super) fn proof_sheets(
        &self,
        booklets: &[Booklet],
        large: &[Booklet],
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<TextSheet>> {
        let mut sheets = Vec::new();
        if diagnostics.has_errors() {
            return Some(sheets);
        }
        let kind = TextSheetKind::Proof;
        for booklet in booklets {
            let parts = Map::from_iter([("proof_sheet".to_string(), self.told(booklet, large))]);
            let told = (parts, BTreeMap::new());
            let (paper, both) = (&booklet.paper, (&told.0, &told.1));
            let set = self.set_text_sheet(kind, paper, both, false, diagnostics)?;
            sheets.push(self.text_sheet(kind, paper, told, &set, diagnostics)?);
        }
        Some(sheets)
    }

    fn told(&self, booklet: &Booklet, large: &[Booklet]) -> Value {
        let sheet = Measures {
            press: self,
            words: &self.computed.design.words,
            plates: &booklet.plates,
            before: booklet.set.pages - booklet.plates.page_count().min(booklet.set.pages),
        };
        let mut rows = sheet.squares();
        rows.extend(sheet.pieces());
        rows.extend(large.iter().map(|large| sheet.large_squares(large)));
        json!({
            "file": booklet.file,
            "rows": rows,
            "looks": sheet.looks(booklet),
        })
    }
}

/// What is measured on the plates of one booklet.
struct Measures<'a, 'p> {
    press: &'a Press<'p>,
    words: &'a Words,
    plates: &'a PlateSet,
    /// Pages before the plates.
    before: usize,
}

impl Measures<'_, '_> {
    /// Pages of the file, from 1.
    fn pages(&self, sheets: &[usize]) -> String {
        let pages = sheets.iter().map(|index| self.before + index + 1);
        self.words.ranges(pages.collect())
    }

    fn row(&self, what: String, pages: &str, length: String, mm: f64) -> Value {
        let lengths = self.in_millimetres();
        let allowed = ((SHARE * mm).max(LEAST) / READ_TO).round() * READ_TO;
        let allowed = printed::metric_in(allowed, lengths);
        json!({"what": what, "pages": pages, "length": length, "allowed": allowed})
    }

    /// Both squares of the first plate, both ways.
    fn squares(&self) -> Vec<Value> {
        let pages = self.pages(&[0]);
        let of = |side: &f64| {
            ["across", "down"].map(|way| {
                let what = self.words.say(
                    &format!("proofed.square {way}"),
                    &[("side", &self.side(*side))],
                );
                self.row(what, &pages, self.square_length(*side), *side)
            })
        };
        SQUARE_SIDES.iter().flat_map(of).collect()
    }

    /// Lengths that are read from a rule, all in one unit.
    fn in_millimetres(&self) -> LengthStyle {
        self.press.computed.design.lengths.together([LEAST])
    }

    /// A square by its side, as it is called on the plates.
    fn side(&self, side: f64) -> &str {
        match side < INCH * 2.0 {
            true => self.words.get("booklet.5 cm"),
            false => self.words.get("booklet.2 in"),
        }
    }

    /// Its side as a metric rule shows it.
    fn square_length(&self, side: f64) -> String {
        printed::metric_in(side, self.in_millimetres())
    }

    /// The squares of a large sheet, in both corners.
    fn large_squares(&self, large: &Booklet) -> Value {
        let [side, _] = SQUARE_SIDES;
        let key = format!("papers.{}", large.paper.key);
        let paper = self.words.find(&key).unwrap_or(&large.paper.name);
        let places = [("side", &self.side(side) as &dyn std::fmt::Display)];
        let what = self.words.say("proofed.squares", &places);
        self.row(what, paper, self.square_length(side), side)
    }

    /// The longest piece that lies whole on a sheet, and the longest that is spread over several; of
    /// the last size, which is mostly the largest.
    fn pieces(&self) -> Vec<Value> {
        let Some(sized) = self.press.computed.sizes.last() else {
            return Vec::new();
        };
        let longest = |spread: bool| {
            let all = sized
                .pieces
                .iter()
                .map(|piece| (piece, self.sheets_of(sized, piece)));
            let of_kind = all.filter(|(_, sheets)| match spread {
                true => sheets.len() > 1,
                false => sheets.len() == 1,
            });
            of_kind.max_by(|(a, _), (b, _)| sides(a)[0].total_cmp(&sides(b)[0]))
        };
        let mut rows = Vec::new();
        for spread in [true, false] {
            if let Some((piece, sheets)) = longest(spread) {
                rows.extend(self.piece(sized, piece, &sheets, spread));
            }
        }
        rows
    }

    /// Length and width of a piece over its cut line; of one that is spread over sheets once they are
    /// joined.
    fn piece(
        &self,
        sized: &SizedPieces,
        piece: &Piece,
        sheets: &[usize],
        spread: bool,
    ) -> Vec<Value> {
        let lengths = self.in_millimetres();
        let name = match self.press.computed.sizes.len() {
            1 => piece.title.clone(),
            _ => format!("{}, {}", piece.title, self.words.size_inside(&sized.title)),
        };
        let pages = self.pages(sheets);
        let ways = ["long", "wide"].into_iter().zip(sides(piece));
        ways.map(|(way, mm)| {
            let joined = if spread { "joined " } else { "" };
            let what = self
                .words
                .say(&format!("proofed.{joined}{way}"), &[("piece", &name)]);
            self.row(what, &pages, printed::both(mm, lengths), mm)
        })
        .collect()
    }

    /// The sheets on which a piece lies, by their index.
    fn sheets_of(&self, sized: &SizedPieces, piece: &Piece) -> Vec<usize> {
        let sheets = self.plates.sheets.iter().enumerate();
        let holds = sheets.filter(|(_, sheet)| {
            let own = |p: &&crate::plates::PlacedPiece| {
                p.piece == piece.key && p.sizes.contains(&sized.size)
            };
            sheet.pieces.iter().any(|p| own(&p))
        });
        holds.map(|(index, _)| index).collect()
    }

    /// What to look at, and where.
    fn looks(&self, booklet: &Booklet) -> Vec<Value> {
        let words = self.words;
        let mut looks = Vec::new();
        let mut look = |key: &str, sheets: &[usize]| {
            let where_ = self.where_is(sheets);
            looks.push(json!({"where": where_, "what": words.get(&format!("proofed.look {key}"))}));
        };
        for plate in self.plates.sheets.chunk_by(|a, b| a.plate == b.plate) {
            let first = self
                .plates
                .sheets
                .iter()
                .position(|s| s.plate == plate[0].plate);
            if let (Some(first), true) = (first, plate.len() > 1) {
                look("joined", &(first..first + plate.len()).collect::<Vec<_>>());
            }
        }
        look("plates", &(0..self.plates.page_count()).collect::<Vec<_>>());
        if self.plates.is_nested() {
            look("nested", &(0..self.plates.page_count()).collect::<Vec<_>>());
        }
        let text: Vec<usize> = (1..=self.before).collect();
        let pages = words.count(
            "booklet.pages counted",
            text.len(),
            &[("pages", &words.ranges(text.clone()))],
        );
        looks.push(
            json!({"where": phrase::capital(&pages), "what": words.get("proofed.look text")}),
        );
        let design = &self.press.computed.design;
        let forms = self.press.options.forms.as_ref().unwrap_or(&design.forms);
        if forms.contains(&Form::Stapled) && Setting::has_forms(&booklet.paper.key) {
            let file = Setting::from(Form::Stapled).file(&design.file_stem(), &booklet.paper.key);
            looks.push(json!({"where": file, "what": words.get("proofed.look stapled")}));
        }
        looks
    }

    /// `Pages 14 to 17` of sheets by their index.
    fn where_is(&self, sheets: &[usize]) -> String {
        let places = [("pages", &self.pages(sheets) as &dyn std::fmt::Display)];
        phrase::capital(
            &self
                .words
                .count("booklet.pages counted", sheets.len(), &places),
        )
    }
}

/// Length and width of a piece over its cut line, the longer first, mm.
fn sides(piece: &Piece) -> [f64; 2] {
    let bounds = piece.cut_line.bounding_box();
    let (one, other) = (bounds.width(), bounds.height());
    [one.max(other), one.min(other)]
}
