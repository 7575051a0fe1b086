//! Putting the plates together: which piece is packed and which is spread, the plates' numbers,
//! their heads and words. Millimetres in the axes of the live area.

use super::label_words::LabelJob;
use super::large;
use super::page_plan;
use super::plan::{self, Item, PlateDraft};
use super::sheet::{Band, Paragraph, PlacedPiece, Sheet};
use super::spread::{self, MOST_SHEETS, Spread};

use super::variant::variants;
use super::words;
use super::{PlateJob, PlateSet};
use crate::design::printed;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::piece::{Piece, SizedPieces};
use kurbo::{Rect, Size, Vec2};
use std::collections::BTreeMap;

/// What stands beside the squares.
const MEASURE: &str = "Lay a rule along two sides of a square. If either is out by more than half \
     a millimetre (1\u{2044}64 in), do not cut: set the printer to 100 % and print again.";

/// Room for these words, and for those about other plates, set in 10.6 pt on this width, mm.
const PARAGRAPH: f64 = 66.0;
const MEASURE_ROOM: f64 = 20.0;
const ASIDE_ROOM: f64 = 16.0;
/// Characters that find room there: three lines of 66 mm, letters 0.43 em wide, each line half a word
/// short.
const ASIDE_LENGTH: usize = 110;

/// Plans and composes all plates; see [`super::plan()`].
pub fn compose(sizes: &[SizedPieces], job: &PlateJob) -> Result<PlateSet, Diagnostics> {
    let mut composer = Composer {
        sizes,
        job,
        live: job.paper.live().size(),
        sheets: Vec::new(),
        whereabouts: Vec::new(),
        files: BTreeMap::new(),
        errors: Diagnostics::default(),
        notes: Diagnostics::default(),
    };
    let (plates, spreads) = composer.planned();
    composer.whereabouts = composer.found_on(&plates, &spreads);
    for (i, plate) in plates.iter().enumerate() {
        let sheet = composer.plate_sheet(i + 1, plate);
        composer.sheets.push(sheet);
    }
    for (i, (size, piece, spread)) in spreads.iter().enumerate() {
        composer.spread_sheets(plates.len() + i + 1, *size, piece, spread);
    }
    if composer.errors.has_errors() {
        return Err(composer.errors);
    }
    Ok(PlateSet {
        paper: job.paper.clone(),
        plan: page_plan::plan(&composer.sheets, sizes, &job.cloth),
        sheets: composer.sheets,
        notes: composer.notes,
        edition: job.edition.clone(),
        files: composer.files,
    })
}

struct Composer<'a> {
    sizes: &'a [SizedPieces],
    job: &'a PlateJob,
    live: Size,
    sheets: Vec<Sheet>,
    /// Plate, index of the size, and number of every piece.
    whereabouts: Vec<(usize, usize, usize)>,
    files: BTreeMap<String, Vec<u8>>,
    errors: Diagnostics,
    notes: Diagnostics,
}

type Spreads<'a> = Vec<(usize, &'a Piece, Spread)>;

impl<'a> Composer<'a> {
    fn label_job(&self, size: &'a SizedPieces) -> LabelJob<'a> {
        LabelJob {
            design: &self.job.title,
            edition: &self.job.edition,
            size: &size.title,
            lengths: self.job.lengths,
            cloth: &self.job.cloth,
        }
    }

    /// Packs what fits and spreads the rest.
    fn planned(&mut self) -> (Vec<PlateDraft>, Spreads<'a>) {
        let mut plates: Vec<PlateDraft> = Vec::new();
        let mut spreads = Vec::new();
        let mut open = false;
        for (index, size) in self.sizes.iter().enumerate() {
            let (items, large, mut spread) = self.sorted(index, size);
            spreads.append(&mut spread);
            if items.is_empty() && large.is_empty() {
                continue;
            }
            let last = plates.last_mut().filter(|_| open && large.is_empty());
            if let Some(last) = last
                && let Some(shared) = plan::share(last, &items, index, self.live)
            {
                *last = shared;
                continue;
            }
            let mut own = plan::pack(&items, index, self.live, &large);
            open = own.len() == 1;
            plates.append(&mut own);
        }
        (plates, spreads)
    }

    /// Parts the pieces of a size into those to be packed, plates of large ones, and spread ones.
    fn sorted(
        &mut self,
        index: usize,
        size: &'a SizedPieces,
    ) -> (Vec<Item>, Vec<PlateDraft>, Spreads<'a>) {
        let job = self.label_job(size);
        let (mut items, mut large, mut spreads) = (Vec::new(), Vec::new(), Vec::new());
        for (i, piece) in size.pieces.iter().enumerate() {
            let variants = variants(piece, &job, self.live);
            let group = page_plan::group(piece, &size.pieces);
            let item = Item {
                piece: i,
                variants,
                group,
            };
            if plan::fits_strip(&item, self.live) {
                items.push(item);
            } else if let Some(plate) = large::large_plate(&item, index, self.live) {
                large.push(plate);
            } else {
                match spread::spread(piece, &job, self.live) {
                    Ok(spread) => spreads.push((index, piece, spread)),
                    Err(fault) => self.too_large(piece, &size.title, fault.sheets),
                }
            }
        }
        (items, large, spreads)
    }

    fn too_large(&mut self, piece: &Piece, size: &str, sheets: usize) {
        let bounds = kurbo::Shape::bounding_box(&piece.cut_line);
        self.errors.push(
            Diagnostic::error(
                "piece-too-large",
                Some(&piece.place),
                format!(
                    "{} in {} measures {} by {} and would need {sheets} sheets of {}; \
                     at most {MOST_SHEETS} are printed",
                    piece.title,
                    words::size_inside(size),
                    printed::metric(bounds.width()),
                    printed::metric(bounds.height()),
                    self.job.paper.name,
                ),
            )
            .remedy("Check the units of its measures, or divide the piece by a seam."),
        );
    }

    /// Path of a piece's drawing among the files.
    fn file(&self, size: usize, piece: &Piece, what: &str) -> String {
        let key = words::file_name(&self.sizes[size].size);
        // two keys may become one name; the number keeps them apart
        let twin = self.sizes[..size]
            .iter()
            .any(|s| words::file_name(&s.size) == key);
        let key = if twin {
            format!("{key}-{}", size + 1)
        } else {
            key
        };
        let name = words::file_name(&piece.key);
        format!("/plates/{key}/{:02}-{name}{what}.svg", piece.number)
    }

    fn plate_sheet(&mut self, number: usize, plate: &PlateDraft) -> Sheet {
        let mut sheet = Sheet {
            plate: number,
            letter: None,
            about: self.about(plate),
            bands: Vec::new(),
            pieces: Vec::new(),
            labels: Vec::new(),
            captions: Vec::new(),
            squares: plate.squares,
            paragraphs: Vec::new(),
            furniture: None,
        };
        for band in &plate.bands {
            let size = &self.sizes[band.size];
            sheet.bands.extend(band.top.map(|y| self.band(y, size)));
            for laid in &band.laid {
                let piece = &size.pieces[laid.piece];
                let file = self.file(band.size, piece, "");
                let drawing = &laid.variant.drawing;
                self.files.insert(file.clone(), drawing.svg());
                sheet.pieces.push(PlacedPiece {
                    size: size.size.clone(),
                    piece: piece.key.clone(),
                    file,
                    alt: drawing.alt.clone(),
                    place: drawing.bounds() + laid.by,
                });
                let label = laid.variant.label.clone();
                if label.is_none() {
                    self.unlabelled(piece);
                }
                sheet.labels.extend(label.map(|l| l.moved(laid.by)));
                for mut caption in laid.variant.captions.iter().cloned() {
                    caption.at += laid.by;
                    sheet.captions.push(caption);
                }
            }
        }
        sheet.paragraphs = self.beside_squares(number, plate);
        sheet
    }

    fn unlabelled(&mut self, piece: &Piece) {
        self.notes.push(
            Diagnostic::warning(
                "label-without-room",
                Some(&piece.place),
                format!(
                    "the label of {} found no room clear of all lines",
                    piece.title
                ),
            )
            .remedy("Shorten the piece's title and note."),
        );
    }

    /// `Harvest bar shoe, sizes Small and Large`.
    fn about(&self, plate: &PlateDraft) -> String {
        let titles: Vec<&str> = plate
            .bands
            .iter()
            .map(|b| self.sizes[b.size].title.as_str())
            .collect();
        let sizes = match titles.as_slice() {
            [one] => words::size_inside(one),
            several => format!("sizes {}", words::list(several)),
        };
        format!("{}, {sizes}", self.job.title)
    }

    fn band(&self, y: f64, size: &SizedPieces) -> Band {
        let allowances: Vec<Option<f64>> = size.pieces.iter().map(words::main_allowance).collect();
        let mut parts: Vec<String> = size.words.iter().cloned().collect();
        if let Some(Some(first)) = allowances.first()
            && allowances
                .iter()
                .flatten()
                .all(|a| (a - first).abs() < 0.01)
        {
            let both = printed::both(*first, self.job.lengths);
            parts.push(format!("seam allowance {both}"));
        }
        Band {
            y,
            title: words::size(&size.title),
            words: parts.join("; "),
        }
    }

    fn found_on(&self, plates: &[PlateDraft], spreads: &Spreads<'a>) -> Vec<(usize, usize, usize)> {
        let mut found = Vec::new();
        for (i, plate) in plates.iter().enumerate() {
            for band in &plate.bands {
                let pieces = &self.sizes[band.size].pieces;
                found.extend(
                    band.laid
                        .iter()
                        .map(|l| (i + 1, band.size, pieces[l.piece].number)),
                );
            }
        }
        let first = plates.len() + 1;
        let spread = spreads.iter().enumerate();
        found.extend(spread.map(|(i, (size, piece, _))| (first + i, *size, piece.number)));
        found
    }

    /// How to measure the squares, and on which other plates the rest of a size is found: beside
    /// the squares where they stand in their usual place, else where there is room.
    fn beside_squares(&self, number: usize, plate: &PlateDraft) -> Vec<Paragraph> {
        let aside = self.elsewhere(number, plate);
        let height = if aside.is_empty() {
            MEASURE_ROOM
        } else {
            MEASURE_ROOM + ASIDE_ROOM
        };
        let Some(room) = large::words_room(plate, (PARAGRAPH, height), self.live) else {
            return Vec::new();
        };
        let paragraph = |y0: f64, y1: f64, text: String, aside: bool| Paragraph {
            room: Rect::new(room.x0, y0, room.x1, y1),
            text,
            points: 10.6,
            aside,
        };
        let middle = room.y0 + MEASURE_ROOM;
        let mut paragraphs = vec![paragraph(room.y0, middle, MEASURE.to_string(), false)];
        if !aside.is_empty() {
            paragraphs.push(paragraph(middle + 2.0, room.y1, aside, true));
        }
        paragraphs
    }

    /// `Pieces 3 and 5 are on plate 2.`, for every size of this plate.
    fn elsewhere(&self, number: usize, plate: &PlateDraft) -> String {
        let mut plates: Vec<(usize, Vec<usize>)> = Vec::new();
        for (other, size, piece) in &self.whereabouts {
            if *other == number || plate.bands.iter().all(|b| b.size != *size) {
                continue;
            }
            match plates.iter_mut().find(|p| p.0 == *other) {
                Some(known) => known.1.push(*piece),
                None => plates.push((*other, vec![*piece])),
            }
        }
        words::elsewhere(plates, ASIDE_LENGTH)
    }

    fn spread_sheets(&mut self, number: usize, size: usize, piece: &Piece, spread: &Spread) {
        let file = self.file(size, piece, "");
        let outline = self.file(size, piece, "-map");
        self.files.insert(file.clone(), spread.drawing.svg());
        self.files.insert(outline.clone(), spread.outline_file());
        if spread.label.is_none() {
            self.unlabelled(piece);
        }
        let sized = &self.sizes[size];
        let sheets = spread.sheets();
        for index in &sheets {
            let (furniture, paragraphs) =
                spread.furniture(*index, self.live, (&outline, &piece.title));
            let onto = -spread.grid.region(*index).origin().to_vec2();
            let placed = spread.placed(*index, (&sized.size, &piece.key, &file));
            let squares = spread.squares[*index].unwrap_or(super::square::usual(self.live.height));
            self.sheets.push(Sheet {
                plate: number,
                letter: Some(words::letter(spread.grid.ordinal(*index))),
                about: self.spread_about(piece, &sized.title, sheets.len()),
                bands: Vec::new(),
                pieces: vec![placed],
                labels: shown_labels(spread, *index, onto),
                captions: shown_captions(spread, *index, onto),
                squares,
                paragraphs,
                furniture: Some(furniture),
            });
        }
    }

    /// `Seed pouch, panel on four sheets`.
    fn spread_about(&self, piece: &Piece, size: &str, sheets: usize) -> String {
        let size = if self.sizes.len() > 1 {
            format!(", {}:", words::size_inside(size))
        } else {
            ",".to_string()
        };
        let many = words::number(sheets);
        let noun = if sheets == 1 { "sheet" } else { "sheets" };
        format!("{}{size} {} on {many} {noun}", self.job.title, piece.title)
    }
}

fn shown_labels(spread: &Spread, index: usize, onto: Vec2) -> Vec<super::Label> {
    let label = spread
        .label
        .iter()
        .filter(|l| spread.shows(index, l.bounds()));
    label.map(|l| l.clone().moved(onto)).collect()
}

fn shown_captions(spread: &Spread, index: usize, onto: Vec2) -> Vec<super::TextLine> {
    let shown = spread.captions.lines.iter();
    let shown = shown.filter(|c| spread.shows(index, super::caption::bounds(c)));
    shown
        .map(|c| {
            let mut caption = c.clone();
            caption.at += onto;
            caption
        })
        .collect()
}
