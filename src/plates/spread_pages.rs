//! The pages of a piece spread over sheets. Millimetres in the axes of each sheet's frame.

use super::caption;
use super::compose::Composer;
use super::nested::Nest;
use super::nested_groups::Group;
use super::placing::on_layer;
use super::sheet::Sheet;
use super::spread::Spread;
use super::{Label, TextLine, square, words};
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
            let (furniture, paragraphs) =
                spread.furniture(*index, self.live, (&outline, &piece.title));
            let onto = -spread.grid.region(*index).origin().to_vec2();
            let squares = spread.squares[*index].unwrap_or(square::usual(self.live.height));
            let labels = shown_labels(spread, *index, onto).into_iter();
            let captions = shown_captions(spread, *index, onto).into_iter();
            self.sheets.push(Sheet {
                plate: number,
                letter: Some(words::letter(spread.grid.ordinal(*index))),
                about: self.spread_about(nest, &self.groups[group], sheets.len()),
                bands: Vec::new(),
                pieces: vec![spread.placed(*index, &whole)],
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
        let size = if self.sizes.len() > 1 {
            format!(", {}:", words::sizes_inside(&group.titles(self.sizes)))
        } else {
            ",".to_string()
        };
        let many = words::number(sheets);
        let noun = if sheets == 1 { "sheet" } else { "sheets" };
        let title = &nest.piece().title;
        format!("{}{size} {title} on {many} {noun}", self.job.title)
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
