//! The pages of a piece spread over sheets. Millimetres in the axes of each sheet's frame.

use super::caption;
use super::composer::Composer;
use super::nested::Nest;
use super::nested_groups::Group;
use super::placing::on_layer;
use super::sheet::Sheet;
use super::spread::Spread;
use super::{Label, TextLine, square, words};
use crate::language::Places;
use kurbo::Vec2;

impl Composer<'_> {
    /// Adds all sheets of a piece as plate `number`.
    pub(super) fn spread_sheets(
        &mut self,
        number: usize,
        group: usize,
        nest: &Nest<'_>,
        spread: &Spread,
    ) {
        let piece = nest.piece();
        let whole = self.placed(nest, &spread.drawing, &[], Vec2::ZERO);
        let outline = format!("{}-map.svg", self.file(nest));
        self.files.insert(outline.clone(), spread.outline_file());
        if spread.label.is_none() {
            self.unlabelled(piece);
        }
        self.check_names(nest, &spread.names);
        let layer = self.layer(nest);
        let sheets = spread.sheets();
        for index in &sheets {
            let (furniture, paragraphs) = spread.furniture(*index, self.live, (&outline, nest));
            let onto = -spread.grid.region(*index).origin().to_vec2();
            let squares = spread.squares[*index].unwrap_or(square::usual(self.live.height));
            let labels = shown_labels(spread, *index, onto).into_iter();
            let captions = shown_captions(spread, *index, onto).into_iter();
            self.sheets.push(Sheet {
                plate: number,
                letter: Some(words::letter(spread.grid.ordinal(*index))),
                about: self.spread_about(nest, &self.groups[group], sheets.len()),
                bands: Vec::new(),
                pieces: vec![spread.placed(*index, &whole, &nest.words)],
                labels: labels.map(|l| on_layer(l, layer)).collect(),
                captions: captions
                    .map(|c| TextLine {
                        size: c.size.or(layer),
                        ..c
                    })
                    .collect(),
                squares: self.squares(squares),
                paragraphs,
                furniture: Some(furniture),
            });
        }
    }

    /// `Seed pouch, panel on four sheets`.
    fn spread_about(&self, nest: &Nest<'_>, group: &Group<'_>, sheets: usize) -> String {
        let (words, design) = (&self.job.words, &self.job.title);
        let title = &nest.piece().title;
        let spread = words.count("plates.spread", sheets, &[("piece", title)]);
        if self.sizes.len() == 1 {
            return words.say(
                "plates.spread about",
                &[("design", design), ("spread", &spread)],
            );
        }
        let sizes = words.sizes_inside(&group.titles(self.sizes));
        let places: Places<'_> = &[("design", design), ("sizes", &sizes), ("spread", &spread)];
        words.say("plates.spread sizes", places)
    }
}

fn shown_labels(spread: &Spread, index: usize, onto: Vec2) -> Vec<Label> {
    let label = spread
        .label
        .iter()
        .filter(|l| spread.shows(index, l.bounds()));
    label.map(|l| l.clone().moved(onto)).collect()
}

fn shown_captions(spread: &Spread, index: usize, onto: Vec2) -> Vec<TextLine> {
    let shown = spread.captions.lines.iter();
    let shown = shown.filter(|c| spread.shows(index, caption::bounds(c)));
    shown
        .map(|c| {
            let mut caption = c.clone();
            caption.at += onto;
            caption
        })
        .collect()
}
