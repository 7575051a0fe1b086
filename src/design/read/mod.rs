//! Reading a design folder into a [`Design`]: YAML to a tree of placed nodes ([`yaml`]), the tree
//! to the parts of a design (one file each), then what hangs together: edges, names in formulas,
//! dimensions, cycles ([`check`]). Every mistake is reported, all in one run.

mod chapters;
mod check;
mod cloth;
mod edges;
mod faults;
mod feet;
mod fields;
mod finish;
mod fit;
mod head;
mod letters;
mod look;
mod look_up;
mod marks;
pub(super) mod names;
pub(crate) mod node;
mod outlines;
mod picture;
mod pieces;
mod prices;
mod seams;
mod shapes;
mod shoe;
mod shop;
mod sizes;
pub(crate) mod spans;
mod supplies;
mod syntax;
#[cfg(test)]
mod tests;
mod thread;
mod translations;
mod units;
mod values;
pub(crate) mod weight;
mod words;
mod words_kept;
pub(crate) mod yaml;

use super::quantity::Dimension;
use super::{Design, Formula};
use crate::diagnostic::{Diagnostics, Place, SourceText};
use crate::folder::{DESIGN_FILE, DesignFolder};
use crate::language::Words;
use edges::Edges;
use fields::Fields;
use node::Kind;
pub use picture::read_picture_block;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A design that is being read: the folder, what was said so far, and what can be checked only
/// when all of it is read.
struct Reading<'a> {
    folder: &'a DesignFolder,
    diagnostics: &'a mut Diagnostics,
    /// Formulas whose names and dimensions are not yet checked.
    uses: Vec<Use>,
    /// Edges that are named somewhere and not yet looked up.
    edge_uses: Vec<EdgeUse>,
    /// The size whose own entries are being read.
    size: Option<usize>,
    /// Keys of the sizes, and whether each has a foot.
    sizes: Vec<SizeHead>,
    /// Keys of the cloths.
    cloths: Vec<String>,
    /// Edges of each piece, in order; also of pieces that could not be read.
    edges: Vec<(String, Edges)>,
    /// Pieces that are drawn from the foot's tracing, with the place that says so.
    traced: Vec<(String, Place)>,
    /// Pieces that say nothing of an allowance.
    without_allowance: Vec<String>,
    /// Where the shoe is described, if it is.
    shoe: Option<Place>,
    /// Measures whose formula could not be read: nothing is said against using them.
    failed_measures: Vec<String>,
    /// Words of the design's own language.
    words: Words,
}

/// A formula to be checked.
struct Use {
    formula: Formula,
    /// What it must come to; `None` for a measure.
    wanted: Option<Dimension>,
    /// The only size it holds for.
    size: Option<usize>,
}

/// An edge that is named somewhere.
struct EdgeUse {
    piece: String,
    edge: String,
    place: Place,
}

/// What other parts of a design must know of a size.
struct SizeHead {
    key: String,
    foot: FootHead,
    /// Names of its own measures, with their places.
    measures: Vec<(String, Place)>,
}

/// What formulas may ask of a size's foot.
enum FootHead {
    /// The size has none.
    None,
    /// It has one that could not be read.
    Unknown,
    /// Names that follow `foot.`, and the path of its file.
    Names(Vec<String>, String),
}

/// Reads the design in `folder`. Every mistake is added to `diagnostics`; a design comes back only
/// if there was none of error level.
pub fn read(folder: &DesignFolder, diagnostics: &mut Diagnostics) -> Option<Design> {
    read_in_part(folder, diagnostics).and_then(|(design, clean)| clean.then_some(design))
}

/// Reads the design in `folder` as far as it can be read, and says whether there was no mistake of
/// error level. What could not be read is left out or empty: such a design is good for looking
/// through its text, not for drafting.
pub fn read_in_part(
    folder: &DesignFolder,
    diagnostics: &mut Diagnostics,
) -> Option<(Design, bool)> {
    let before = diagnostics.count(crate::diagnostic::Level::Error);
    let source = match folder.source(DESIGN_FILE) {
        Ok(source) => source,
        Err(why) => {
            let message = format!("{DESIGN_FILE}: {why}");
            let diagnostic = crate::diagnostic::Diagnostic::error(why.code(), None, message);
            diagnostics.push(diagnostic.remedy(why.remedy()));
            return None;
        }
    };
    let tree = yaml::tree(&source, &source.text, 0, diagnostics)?;
    let mut reading = Reading::of(folder, diagnostics);
    let design = reading.design(&tree, &source);
    let clean = reading.diagnostics.count(crate::diagnostic::Level::Error) == before;
    design.map(|design| (design, clean))
}

impl<'a> Reading<'a> {
    /// Nothing is read of `folder` yet.
    fn of(folder: &'a DesignFolder, diagnostics: &'a mut Diagnostics) -> Self {
        Self {
            folder,
            diagnostics,
            uses: Vec::new(),
            edge_uses: Vec::new(),
            size: None,
            sizes: Vec::new(),
            cloths: Vec::new(),
            edges: Vec::new(),
            traced: Vec::new(),
            without_allowance: Vec::new(),
            shoe: None,
            failed_measures: Vec::new(),
            words: Words::default(),
        }
    }
}

impl Reading<'_> {
    fn design(&mut self, tree: &node::Node, source: &Arc<SourceText>) -> Option<Design> {
        let mut fields = self.keys_of(tree)?;
        let head = head::read(&mut fields, self);
        let (cover, look) = look::with_cover(&mut fields, self);
        let measures = sizes::measures(&mut fields, self);
        let sizes = sizes::read(&mut fields, &measures, self);
        let cloth = cloth::cloth(&mut fields, self);
        let trims = supplies::trims(&mut fields, self);
        let thread = thread::read(&mut fields, self);
        let tools = supplies::tools(&mut fields, self);
        let kits = cloth::kits(&mut fields, self);
        let (shoe, fit) = (shoe::read(&mut fields, self), fit::read(&mut fields, self));
        let pieces = pieces::read(&mut fields, sizes.len(), self);
        let seams = seams::read(&mut fields, self);
        let shop = shop::read(&mut fields, self);
        let (finished, look_up) = look_up::read(&mut fields, self);
        fields.finish(self);
        let mut design = Design {
            key: self.folder.key().to_string(),
            title: head.title,
            edition: head.edition,
            draft: false,
            series: head.series,
            skill: head.skill,
            about: head.about,
            makes: head.makes,
            age: head.age,
            terms: head.terms,
            contact: head.contact,
            by: head.by,
            language: self.words.tag().to_string(),
            words: self.words.clone(),
            translations: Vec::new(),
            original: None,
            papers: head.papers,
            forms: head.forms,
            size_layout: head.size_layout,
            lengths: head.lengths,
            cover,
            look,
            measures,
            sizes,
            cloth,
            trims,
            thread: thread.or_else(|| thread::of_seams(&seams, &self.words)),
            tools,
            kits,
            shoe,
            fit,
            pieces,
            seams,
            shop,
            finished,
            look_up,
            chapters: chapters::read(self.folder.booklet(), self),
            shared: self.shared_texts(),
            source: source.clone(),
        };
        self.check(&design);
        design.translations = translations::read(tree, &design, &head.languages, self);
        Some(design)
    }

    /// The keys of the whole file.
    fn keys_of<'n>(&mut self, tree: &'n node::Node) -> Option<Fields<'n>> {
        if !matches!(tree.kind, Kind::Mapping(_)) && !tree.is_null() {
            let message = format!("{DESIGN_FILE} is {}, not keys with values", tree.words());
            let remedy = "begin with a line such as ‘title: Harvest bar shoe’";
            self.error("wrong-type", &tree.place, message, remedy);
            return None;
        }
        Fields::of(tree, "", "the design", self)
    }

    fn shared_texts(&self) -> Texts {
        let folder = self.folder;
        let paths = folder.shared_texts().into_iter();
        let read = paths.filter_map(|path| Some((path.to_string(), folder.text(path)?)));
        read.collect()
    }

    /// Reads a file that the design names at `place`; reports it if it cannot be had.
    fn named_file(&mut self, path: &str, place: &Place) -> Option<Arc<SourceText>> {
        match self.folder.source(path) {
            Ok(source) => Some(source),
            Err(why) => {
                let message = format!("‘{path}’: {why}");
                let remedy = match why {
                    crate::folder::Unreadable::Missing => self.near_file(path),
                    _ => why.remedy().to_string(),
                };
                self.error(why.code(), place, message, remedy);
                None
            }
        }
    }

    fn near_file(&self, path: &str) -> String {
        match names::nearest(path, self.folder.paths()) {
            Some(near) => format!("did you mean ‘{near}’?"),
            None => "check the spelling of the path, also capital letters".into(),
        }
    }

    /// Edges of the piece called `key`, if it is known.
    fn edges_of(&self, key: &str) -> Option<&Edges> {
        let found = self.edges.iter().find(|(piece, _)| piece == key);
        found.map(|(_, edges)| edges)
    }

    /// Names of all pieces.
    fn piece_keys(&self) -> Vec<&str> {
        self.edges.iter().map(|(key, _)| key.as_str()).collect()
    }
}

/// Texts of a drawing by the key of the size.
type Texts = BTreeMap<String, Arc<SourceText>>;
