//! The one caller of all stages: from a design folder to proofed files, in memory.
//!
//! [`compute`] goes as far as finished pieces and materials; [`publish`] typesets and proofs. Both
//! say what they do through a `step` callback, so that the command line can show it.

use crate::booklet::{self, Moment, Prose, SizeValues};
use crate::design::{self, Design, Dimension, Quantity, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::{self, Draft};
use crate::edition::{self, PagesFact};
use crate::folder::{DesignFolder, Outputs};
use crate::foot::Foot;
use crate::materials::{self, Materials};
use crate::piece::{self, SizedPieces};
use crate::plates::{self, PlateJob, PlateSet};
use crate::proof::{self, Intended, IntendedLine, IntendedOutline, Report};
use crate::{export, figure};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// What a run is asked for.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Papers instead of those the design sells.
    pub papers: Vec<String>,
    /// Only these sizes.
    pub sizes: Vec<String>,
    /// The moment to print and to write into files.
    pub moment: Option<Moment>,
    /// Give the Typst sources of each booklet too.
    pub typst_sources: bool,
}

/// A design with every size computed.
#[derive(Debug)]
pub struct Computed {
    /// The design, reduced to the sizes asked for.
    pub design: Design,
    /// The foot of each size that has one.
    pub feet: Vec<Option<Foot>>,
    /// The draft of each size.
    pub drafts: Vec<Draft>,
    /// The finished pieces of each size.
    pub sizes: Vec<SizedPieces>,
    /// What to buy and cut.
    pub materials: Materials,
    /// Whether every piece of every size could be made.
    pub complete: bool,
}

/// What came of a design.
#[derive(Debug)]
pub struct Published {
    /// The files to write, and those of an older build to remove.
    pub outputs: Outputs,
    /// The report on the PDFs and on all that was said before.
    pub report: Report,
    /// Sources of the booklets by paper, if asked for.
    pub sources: BTreeMap<String, BTreeMap<String, Vec<u8>>>,
    /// What the proof of the PDFs found wrong.
    pub findings: Diagnostics,
    /// Whether the booklets may be sold.
    pub passed: bool,
}

/// Called as each stage begins, with its name.
pub type Step<'a> = &'a mut dyn FnMut(&str);

/// Reads a design and computes its pieces. `None` if it cannot be understood at all.
pub fn compute(
    folder: &DesignFolder,
    options: &Options,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Computed> {
    step("read");
    let mut design = design::read(folder, diagnostics)?;
    choose_sizes(&mut design, &options.sizes, diagnostics)?;
    step("draft");
    let (mut feet, mut drafts, mut sizes) = (Vec::new(), Vec::new(), Vec::new());
    for size in &design.sizes {
        let foot = size
            .foot
            .as_ref()
            .and_then(|spec| Foot::new(spec, diagnostics));
        let footless = size.foot.is_some() && foot.is_none();
        // Without its foot a size would only repeat, piece by piece, that the foot is missing.
        let draft = match footless {
            true => Draft::default(),
            false => draft::draft(&design, size, foot.as_ref(), diagnostics),
        };
        sizes.push(piece::finish(&design, size, &draft, diagnostics));
        feet.push(foot);
        drafts.push(draft);
    }
    let materials = materials::gather(&design, &sizes, &drafts, diagnostics);
    let complete = sizes
        .iter()
        .all(|sized| sized.pieces.len() == design.pieces.len());
    Some(Computed {
        design,
        feet,
        drafts,
        sizes,
        materials,
        complete,
    })
}

fn choose_sizes(
    design: &mut Design,
    wanted: &[String],
    diagnostics: &mut Diagnostics,
) -> Option<()> {
    if wanted.is_empty() {
        return Some(());
    }
    design.sizes.retain(|size| wanted.contains(&size.key));
    if !design.sizes.is_empty() {
        return Some(());
    }
    let message = format!(
        "{} has no size called {}",
        design.title,
        wanted.join(" or ")
    );
    diagnostics.push(Diagnostic::error("unknown-size", None, message));
    None
}

/// Typesets and proofs the booklets of a design, one for each paper. `None` if none could be set:
/// then `diagnostics` says why.
pub fn publish(
    folder: &DesignFolder,
    computed: &Computed,
    options: &Options,
    directory: &Path,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Published> {
    step("text");
    let values = size_values(computed);
    let files = text_files(folder);
    let prose = booklet::prose(&computed.design, &values, &files, diagnostics);
    let papers = papers(&computed.design, options, diagnostics);
    if !computed.complete || papers.is_empty() {
        return None;
    }
    let press = Press {
        computed,
        options,
        values,
        prose,
        folder,
    };
    let mut booklets = Vec::new();
    for paper in papers {
        booklets.push(press.booklet(paper, step, diagnostics)?);
    }
    press.finish(booklets, directory, step, diagnostics)
}

/// A booklet set for one paper.
struct Booklet {
    paper: &'static plates::Paper,
    plates: PlateSet,
    pdf: Vec<u8>,
    pages: usize,
    /// The file name under which it is sold.
    file: String,
    sources: BTreeMap<String, Vec<u8>>,
}

/// What typesetting needs for all papers of one design.
struct Press<'a> {
    computed: &'a Computed,
    options: &'a Options,
    values: Vec<SizeValues>,
    prose: Prose,
    folder: &'a DesignFolder,
}

impl Press<'_> {
    fn booklet(
        &self,
        paper: &'static plates::Paper,
        step: Step,
        diagnostics: &mut Diagnostics,
    ) -> Option<Booklet> {
        step("plates");
        let computed = self.computed;
        let design = &computed.design;
        let plates = match plates::plan(&computed.sizes, &plate_job(design, paper)) {
            Ok(plates) => plates,
            Err(said) => {
                diagnostics.append(said);
                return None;
            }
        };
        step("figures");
        let (parts, files) = self.parts(&plates);
        step("typeset");
        let stamp = diagnostics.has_errors();
        let (pdf, pages, sources) = self.typeset(paper, &parts, &files, stamp, diagnostics)?;
        let file = format!("{}-{}.pdf", design.key, paper.key);
        Some(Booklet {
            paper,
            plates,
            pdf,
            pages,
            file,
            sources,
        })
    }

    fn typeset(
        &self,
        paper: &plates::Paper,
        parts: &Map<String, Value>,
        files: &BTreeMap<String, Vec<u8>>,
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<(Vec<u8>, usize, BTreeMap<String, Vec<u8>>)> {
        let paper = booklet::Paper {
            key: paper.key.to_string(),
            name: paper.name.to_string(),
            width: paper.width,
            height: paper.height,
        };
        let request = booklet::Request {
            design: &self.computed.design,
            prose: &self.prose,
            paper: &paper,
            sizes: &self.values,
            parts,
            files,
            templates: &own_templates(self.folder),
            moment: self.options.moment,
            stamp: stamp.then_some("not proofed"),
        };
        let set = booklet::typeset(&request, diagnostics)?;
        let sources = match self.options.typst_sources {
            true => booklet::source_files(&request),
            false => BTreeMap::new(),
        };
        Some((set.pdf, set.pages, sources))
    }

    /// What the template is told besides the design itself, and the drawings it names.
    fn parts(&self, plates: &PlateSet) -> (Map<String, Value>, BTreeMap<String, Vec<u8>>) {
        let computed = self.computed;
        let relative =
            |(path, bytes): (String, Vec<u8>)| (path.trim_start_matches('/').into(), bytes);
        let mut files: BTreeMap<String, Vec<u8>> =
            plates.files().into_iter().map(relative).collect();
        let mut parts = Map::new();
        parts.insert("plates".into(), plates.data());
        parts.insert("cut_list".into(), json!(computed.materials.cut_list));
        parts.insert("trims".into(), json!(computed.materials.trims));
        let key = figure::listing(&computed.sizes, &cloth_names(&computed.design));
        parts.insert("key".into(), key.data);
        files.extend(key.files);
        for request in &self.prose.figures {
            files.extend(
                figure::requested(&computed.sizes, request.size.as_deref(), &request.pieces)
                    .map(|figure| (request.path(), figure.svg)),
            );
        }
        (parts, files)
    }

    /// Proofs all booklets and collects the files. What fails is stamped and named unproofed.
    fn finish(
        &self,
        booklets: Vec<Booklet>,
        directory: &Path,
        step: Step,
        diagnostics: &mut Diagnostics,
    ) -> Option<Published> {
        step("proof");
        let design = &self.computed.design;
        let mut report = Report::new(&design.key, &design.title, &design.edition);
        report.add_diagnostics(diagnostics);
        let mut findings = Diagnostics::default();
        for booklet in &booklets {
            let intended = intended(self.computed, booklet.paper);
            let proof = proof::prove(&booklet.pdf, &booklet.file, &intended);
            findings.append(proof.diagnostics());
            report.add_proof(proof);
        }
        let passed = report.passed();
        let mut outputs = Outputs::new(directory);
        let mut sources = BTreeMap::new();
        let mut pages = BTreeMap::new();
        for booklet in booklets {
            let unproofed = booklet.file.replace(".pdf", ".unproofed.pdf");
            pages.insert(booklet.paper.key.to_string(), pages_fact(&booklet));
            sources.insert(booklet.paper.key.to_string(), booklet.sources.clone());
            if passed {
                outputs.add(&booklet.file, booklet.pdf);
                outputs.remove(unproofed);
            } else {
                step("typeset");
                outputs.add(unproofed, self.stamped(&booklet)?);
            }
        }
        if passed {
            self.add_numbers(&mut outputs, &pages);
        }
        outputs.add("proof.json", report.to_json());
        outputs.add("proof.html", report.to_html());
        Some(Published {
            outputs,
            report,
            sources,
            findings,
            passed,
        })
    }

    /// The booklet once more, with a stamp across each page.
    fn stamped(&self, booklet: &Booklet) -> Option<Vec<u8>> {
        let (parts, files) = self.parts(&booklet.plates);
        let mut said = Diagnostics::default();
        self.typeset(booklet.paper, &parts, &files, true, &mut said)
            .map(|(pdf, ..)| pdf)
    }

    fn add_numbers(&self, outputs: &mut Outputs, pages: &BTreeMap<String, PagesFact>) {
        let computed = self.computed;
        let feet = computed
            .design
            .sizes
            .iter()
            .zip(&computed.feet)
            .filter_map(|(size, foot)| {
                let figures = draft::foot_figures(foot.as_ref()?);
                Some((size.key.clone(), figures.into_iter().collect()))
            });
        let numbers = edition::Numbers {
            design: &computed.design,
            sizes: &computed.sizes,
            feet: &feet.collect(),
            materials: &json!(computed.materials),
            pages,
        };
        outputs.add("numbers.json", numbers.to_json());
        for sized in &computed.sizes {
            for piece in &sized.pieces {
                let name = format!("cut/{}/{}.svg", sized.size, piece.key.replace(' ', "-"));
                outputs.add(name, export::cut_file(piece, &sized.size));
            }
        }
    }
}

fn plate_job(design: &Design, paper: &plates::Paper) -> PlateJob {
    PlateJob {
        paper: paper.clone(),
        title: design.title.clone(),
        edition: design.edition.clone(),
        lengths: design.lengths,
        cloth: cloth_names(design),
    }
}

fn cloth_names(design: &Design) -> Vec<(String, String)> {
    design
        .cloth
        .iter()
        .map(|cloth| (cloth.key.clone(), cloth.name.clone()))
        .collect()
}

/// The papers asked for, or those the design sells; an unknown one is reported.
fn papers(
    design: &Design,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> Vec<&'static plates::Paper> {
    let known = |key: &str| plates::PAPERS.iter().find(|paper| paper.key == key);
    if options.papers.is_empty() {
        return design
            .papers
            .iter()
            .filter_map(|(key, _)| known(key))
            .collect();
    }
    let mut list = Vec::new();
    for key in &options.papers {
        match known(key) {
            Some(paper) => list.push(paper),
            None => {
                let keys: Vec<&str> = plates::PAPERS.iter().map(|paper| paper.key).collect();
                let message = format!("There is no paper called {key}");
                let remedy = format!("Known are {}.", keys.join(", "));
                diagnostics.push(Diagnostic::error("unknown-paper", None, message).remedy(remedy));
            }
        }
    }
    list
}

/// What the text may name, by size: the values of the formulas and the cut lengths of the trims.
fn size_values(computed: &Computed) -> Vec<SizeValues> {
    let sizes = computed.design.sizes.iter().zip(&computed.drafts);
    let mut list: Vec<SizeValues> = sizes
        .map(|(size, draft)| SizeValues {
            key: size.key.clone(),
            title: size.title.clone(),
            values: draft.values.map().clone(),
        })
        .collect();
    for trim in &computed.materials.trims {
        for line in &trim.lines {
            let quantity = Quantity {
                value: line.length_mm,
                dimension: Dimension::Length,
            };
            let all = line.size.is_none();
            for size in &mut list {
                if all || line.size.as_ref() == Some(&size.title) {
                    size.values
                        .insert(format!("trims.{}.length", trim.key), quantity);
                }
            }
        }
    }
    for (sized, size) in computed.sizes.iter().zip(&mut list) {
        for piece in &sized.pieces {
            let bounds = kurbo::Shape::bounding_box(&piece.cut_line);
            for (name, value) in [
                ("cut width", bounds.width()),
                ("cut height", bounds.height()),
            ] {
                let quantity = Quantity {
                    value,
                    dimension: Dimension::Length,
                };
                size.values
                    .insert(format!("{}.{name}", piece.key), quantity);
            }
        }
    }
    list
}

/// The pictures of the design folder by path.
fn text_files(folder: &DesignFolder) -> BTreeMap<String, Vec<u8>> {
    let bytes = |path: &str| folder.bytes(path).map(|b| (path.to_string(), b.to_vec()));
    folder.pictures().into_iter().filter_map(bytes).collect()
}

/// The design's own templates by file name.
fn own_templates(
    folder: &DesignFolder,
) -> BTreeMap<String, std::sync::Arc<crate::diagnostic::SourceText>> {
    let paths = folder.listing("template", |name| name.ends_with(".typ"));
    let named = |path: &str| {
        let name = path.rsplit('/').next()?.to_string();
        Some((name, folder.text(path)?))
    };
    paths.into_iter().filter_map(named).collect()
}

fn pages_fact(booklet: &Booklet) -> PagesFact {
    let [sheets_across, sheets_down] = booklet.plates.most_sheets();
    PagesFact {
        pages: booklet.pages,
        plates: booklet.plates.page_count(),
        sheets_across,
        sheets_down,
    }
}

/// Nothing on a plate may stand nearer to the edge of the paper, mm (common practice: home
/// printers leave up to 6.7 mm unprinted; 10 mm is comfortable).
const PLATE_MARGIN: f64 = 10.0;

/// How far an outline or a side of a test square may be off on paper, mm.
const PAPER_TOLERANCE: f64 = 0.01;

/// What the PDF for `paper` should hold.
fn intended(computed: &Computed, paper: &plates::Paper) -> Intended {
    let mut outlines = Vec::new();
    for sized in &computed.sizes {
        for piece in &sized.pieces {
            let outline = |line, path| IntendedOutline {
                piece: piece.key.clone(),
                title: piece.title.clone(),
                size: sized.size.clone(),
                line,
                path,
            };
            outlines.push(outline(IntendedLine::Cut, piece.cut_line.clone()));
            if piece.allowances.iter().any(|allowance| *allowance > 1e-9) {
                outlines.push(outline(IntendedLine::Seam, piece.outline.path()));
            }
        }
    }
    Intended {
        page: [paper.width, paper.height],
        outlines,
        squares: vec![50.0, 2.0 * printed::INCH],
        margin: PLATE_MARGIN,
        tolerance: PAPER_TOLERANCE,
    }
}
