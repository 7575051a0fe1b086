//! Putting the plates together: which piece is packed and which is spread, the plates' numbers,
//! their heads and words. Millimetres in the axes of the live area.

use super::columns;
use super::composer::Composer;
use super::drawing::Drawing;
use super::label_words::LabelJob;
use super::large;
use super::nested::Nest;
use super::nested_groups::{self, Group};
use super::page_plan;
use super::placing::{layers, on_layer};
use super::plan::{self, BandDraft, PlateDraft};
use super::share;
use super::sheet::{Band, Sheet};
use super::spread::{self, MOST_SHEETS, Spread};
use super::variant::{Item, variants};
use super::words;
use super::{PlateJob, PlateSet};
use crate::design::printed;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::language::Places;
use crate::piece::SizedPieces;
use std::collections::BTreeMap;

/// Plans and composes all plates. Errors: those of [`super::plan()`].
pub fn compose(sizes: &[SizedPieces], job: &PlateJob) -> Result<PlateSet, Diagnostics> {
    let mut notes = Diagnostics::default();
    let groups = nested_groups::groups(sizes, job, &mut notes);
    let mut composer = Composer {
        sizes,
        groups: &groups,
        layers: layers(sizes, &job.words),
        job,
        live: job.paper.live().size(),
        sheets: Vec::new(),
        whereabouts: Vec::new(),
        files: BTreeMap::new(),
        errors: Diagnostics::default(),
        notes,
    };
    let (plates, spreads) = composer.planned();
    composer.whereabouts = composer.found_on(&plates, &spreads);
    for (i, plate) in plates.iter().enumerate() {
        let sheet = composer.plate_sheet(i + 1, plate);
        composer.sheets.push(sheet);
    }
    for (i, (group, nest, spread)) in spreads.iter().enumerate() {
        composer.spread_sheets(plates.len() + i + 1, *group, nest, spread);
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
        words: job.words.clone(),
        files: composer.files,
        layers: composer.layers,
        looks: nested_groups::looks(&groups, sizes),
    })
}

type Spreads<'a> = Vec<(usize, &'a Nest<'a>, Spread)>;

impl<'a> Composer<'a> {
    fn label_job(&self) -> LabelJob<'a> {
        LabelJob {
            design: &self.job.title,
            edition: &self.job.edition,
            lengths: self.job.lengths,
            cloth: &self.job.cloth,
        }
    }

    /// Packs what fits and spreads the rest.
    fn planned(&mut self) -> (Vec<PlateDraft>, Spreads<'a>) {
        let mut plates: Vec<PlateDraft> = Vec::new();
        let mut spreads = Vec::new();
        let mut open = false;
        let mut sorted: Vec<_> = Vec::new();
        for (index, group) in self.groups.iter().enumerate() {
            let (items, large, mut spread) = self.sorted(index, group);
            spreads.append(&mut spread);
            sorted.push((index, items, large));
        }
        if let Some(sheet) = self.on_one_sheet(&sorted) {
            return (vec![sheet], spreads);
        }
        for (index, items, large) in sorted {
            if items.is_empty() && large.is_empty() {
                continue;
            }
            let last = plates.last_mut().filter(|_| open && large.is_empty());
            if let Some(last) = last
                && let Some(shared) = share::share(last, &items, index, self.live)
            {
                *last = shared;
                continue;
            }
            let mut own = plan::pack(&items, index, self.live, &large);
            // whoever prints one foot prints the other: it begins where the first leaves room
            let last = plates.last().filter(|_| large.is_empty());
            if let Some(last) = last.filter(|last| self.are_a_pair(last, index))
                && let Some((shared, rest)) =
                    share::share_some(last, &items, (index, self.live), own.len())
            {
                plates.pop();
                plates.push(shared);
                plates.extend(rest);
                open = false;
                continue;
            }
            open = own.len() == 1;
            plates.append(&mut own);
        }
        (plates, spreads)
    }

    /// Whether a plate ends with the other foot of the pair to which the group at `index` belongs.
    fn are_a_pair(&self, plate: &PlateDraft, index: usize) -> bool {
        let Some(band) = plate.bands.last() else {
            return false;
        };
        let has = |group: usize, pair: &[usize]| {
            let mut sizes = self.groups[group].sizes.iter();
            sizes.any(|size| pair.contains(size))
        };
        let mut pairs = self.job.pairs.iter();
        pairs.any(|pair| has(band.size, pair) && has(index, pair))
    }

    /// All pieces of a large sheet in columns, if they fit one.
    fn on_one_sheet(&self, sorted: &[(usize, Vec<Item>, Vec<PlateDraft>)]) -> Option<PlateDraft> {
        let all_packed = sorted.iter().all(|(_, _, large)| large.is_empty());
        if !self.job.paper.is_large() || !all_packed {
            return None;
        }
        let with_items = sorted.iter().filter(|(_, items, _)| !items.is_empty());
        let groups: Vec<_> = with_items
            .map(|(i, items, _)| (*i, items.clone()))
            .collect();
        columns::in_columns(&groups, self.live)
    }

    /// Parts the pieces of a group into those to be packed, plates of large ones, and spread ones.
    fn sorted(
        &mut self,
        index: usize,
        group: &'a Group<'a>,
    ) -> (Vec<Item>, Vec<PlateDraft>, Spreads<'a>) {
        let job = self.label_job();
        let (mut items, mut large, mut spreads) = (Vec::new(), Vec::new(), Vec::new());
        let pieces: Vec<_> = group.nests.iter().map(Nest::piece).collect();
        for (i, nest) in group.nests.iter().enumerate() {
            let variants = variants(nest, &job, self.live);
            let item = Item {
                piece: i,
                variants,
                group: page_plan::group(nest.piece(), &pieces),
            };
            if plan::fits_strip(&item, self.live) {
                items.push(item);
            } else if let Some(plate) = large::large_plate(&item, index, self.live) {
                large.push(plate);
            } else {
                match spread::spread(nest, &job, self.live) {
                    Ok(spread) => spreads.push((index, nest, spread)),
                    Err(fault) => self.too_large(nest, fault.sheets),
                }
            }
        }
        (items, large, spreads)
    }

    fn too_large(&mut self, nest: &Nest<'_>, sheets: usize) {
        let piece = nest.piece();
        let bounds = Drawing::of(nest, 0).bounds();
        self.errors.push(
            Diagnostic::error(
                "piece-too-large",
                Some(&piece.place),
                format!(
                    "{} in {} measures {} by {} and would need {sheets} sheets of {}; \
                     at most {MOST_SHEETS} are printed",
                    piece.title,
                    nest.words(),
                    printed::metric(bounds.width()),
                    printed::metric(bounds.height()),
                    self.job.paper.name,
                ),
            )
            .remedy("Check the units of its measures, or divide the piece by a seam."),
        );
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
            squares: self.squares(plate.squares),
            paragraphs: Vec::new(),
            furniture: None,
        };
        for band in &plate.bands {
            let group = &self.groups[band.size];
            sheet
                .bands
                .extend(band.top.map(|y| self.band(y, band, group)));
            for laid in &band.laid {
                let nest = &group.nests[laid.piece];
                let (variant, layer) = (&laid.variant, self.layer(nest));
                let placed = self.placed(nest, &variant.drawing, &variant.names, laid.by);
                sheet.pieces.push(placed);
                if variant.label.is_none() {
                    self.unlabelled(nest.piece());
                }
                self.check_names(nest, &variant.names);
                let label = variant.label.clone().map(|l| l.moved(laid.by));
                sheet.labels.extend(label.map(|l| on_layer(l, layer)));
                for mut caption in variant.captions.iter().cloned() {
                    caption.at += laid.by;
                    caption.size = caption.size.or(layer);
                    sheet.captions.push(caption);
                }
            }
        }
        sheet.paragraphs = self.beside_squares(number, plate);
        sheet
    }

    /// `Harvest bar shoe, sizes Small and Large`.
    fn about(&self, plate: &PlateDraft) -> String {
        let mut sizes: Vec<usize> = Vec::new();
        for size in plate.bands.iter().flat_map(|b| &self.groups[b.size].sizes) {
            if !sizes.contains(size) {
                sizes.push(*size);
            }
        }
        let titles = sizes.iter().map(|i| self.sizes[*i].title.as_str());
        let titles: Vec<&str> = titles.collect();
        let sizes = self.job.words.sizes_inside(&titles);
        let places: Places<'_> = &[("design", &self.job.title), ("sizes", &sizes)];
        self.job.words.say("plates.about", places)
    }

    fn band(&self, y: f64, draft: &BandDraft, group: &Group<'_>) -> Band {
        let said = &self.job.words;
        let pieces = || group.nests.iter().flat_map(|n| &n.members).map(|m| m.piece);
        let allowances: Vec<Option<f64>> = pieces().map(words::main_allowance).collect();
        let mut parts: Vec<String> = match group.sizes.as_slice() {
            [only] => self.sizes[*only].words.iter().cloned().collect(),
            _ => vec![said.get("plates.over each other").to_string()],
        };
        if let Some(Some(first)) = allowances.first()
            && allowances
                .iter()
                .flatten()
                .all(|a| (a - first).abs() < 0.01)
        {
            let both = printed::both(*first, self.job.lengths);
            parts.push(said.say("plates.band allowance", &[("length", &both)]));
        }
        Band {
            x: draft.left,
            y,
            width: draft.width,
            title: said.sizes(&group.titles(self.sizes)),
            words: parts.join("; "),
        }
    }

    fn found_on(&self, plates: &[PlateDraft], spreads: &Spreads<'a>) -> Vec<(usize, usize, usize)> {
        let mut found = Vec::new();
        for (i, plate) in plates.iter().enumerate() {
            for band in &plate.bands {
                let number = |piece: usize| self.groups[band.size].nests[piece].piece().number;
                let laid = band.laid.iter();
                found.extend(laid.map(|l| (i + 1, band.size, number(l.piece))));
            }
        }
        let first = plates.len() + 1;
        let spread = spreads.iter().enumerate();
        found.extend(spread.map(|(i, (group, nest, _))| (first + i, *group, nest.piece().number)));
        found
    }
}
