//! In which colours the letters of a page are painted, read from its operators: a print shop needs to
//! know the colour space, which is lost once a colour is converted for a screen.

use hayro_syntax::Pdf;
use hayro_syntax::content::TypedIter;
use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::{Dict, Name, Stream};
use hayro_syntax::page::Resources;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Forms nested deeper than this are not followed.
const MAX_DEPTH: usize = 40;

/// Letters from this darkness on, without a tint to speak of, count as black ones.
const DARK: f64 = 0.3;

/// Colours that differ by less than this have no tint to speak of.
const TINT: f64 = 0.15;

/// Less of an ink than this is none.
const NONE: f64 = 0.005;

/// A colour that letters are painted in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Colour {
    /// Black only, 0 to 1.
    Black(f64),
    /// Cyan, magenta, yellow and black, 0 to 1.
    Process([f64; 4]),
    /// A colour for screens, or of a profile.
    Other,
}

impl Colour {
    /// What is wrong with it for a print shop, if anything.
    pub fn fault(self) -> Option<&'static str> {
        match self {
            Self::Black(_) => None,
            Self::Other => Some("in a colour for screens, which a print shop has to convert"),
            Self::Process([cyan, magenta, yellow, black]) => {
                let most = cyan.max(magenta).max(yellow);
                let least = cyan.min(magenta).min(yellow);
                let grey = most - least < TINT && least + black >= DARK;
                (grey && most > NONE).then_some("in a black of several inks, which blurs letters")
            }
        }
    }
}

/// For each page what is wrong with the colours of its letters, if anything. `None` if the file cannot
/// be read, which [`super::reading::read`] told before: it also bounds what is read here.
pub fn letter_faults(bytes: &[u8]) -> Option<Vec<Option<&'static str>>> {
    // a young library: see `reading::read`
    let reading = AssertUnwindSafe(|| {
        let pdf = Pdf::new(bytes.to_vec()).ok()?;
        let pages = pdf.pages().iter();
        let fault = |page: &hayro_syntax::page::Page<'_>| {
            let mut colours = Vec::new();
            let mut walk = Walk {
                colours: &mut colours,
                state: State::default(),
                kept: Vec::new(),
            };
            walk.content(page.typed_operations(), page.resources(), MAX_DEPTH);
            colours.into_iter().find_map(Colour::fault)
        };
        Some(pages.map(fault).collect())
    });
    catch_unwind(reading).ok().flatten()
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Space {
    Gray,
    Process,
    Other,
}

#[derive(Debug, Clone, Copy)]
struct State {
    space: Space,
    fill: Colour,
    /// Whether letters leave ink.
    seen: bool,
}

impl Default for State {
    fn default() -> Self {
        Self {
            space: Space::Gray,
            fill: Colour::Black(1.0),
            seen: true,
        }
    }
}

struct Walk<'c> {
    colours: &'c mut Vec<Colour>,
    state: State,
    kept: Vec<State>,
}

impl Walk<'_> {
    fn content(&mut self, mut operations: TypedIter<'_>, resources: &Resources<'_>, depth: usize) {
        while let Some(operation) = operations.next() {
            match operation {
                TypedInstruction::SaveState(_) => self.kept.push(self.state),
                TypedInstruction::RestoreState(_) => {
                    self.state = self.kept.pop().unwrap_or(self.state);
                }
                TypedInstruction::TextRenderingMode(mode) => {
                    // 3: invisible; 7: clips only (ISO 32000-1, table 106)
                    self.state.seen = ![3, 7].contains(&mode.0.as_i64());
                }
                TypedInstruction::ShowText(_)
                | TypedInstruction::ShowTexts(_)
                | TypedInstruction::NextLineAndShowText(_)
                | TypedInstruction::ShowTextWithParameters(_)
                    if self.state.seen =>
                {
                    if self.colours.last() != Some(&self.state.fill) {
                        self.colours.push(self.state.fill);
                    }
                }
                TypedInstruction::XObject(drawn) => {
                    if let Some(form) = resources.get_x_object(drawn.0) {
                        self.form(&form, resources, depth);
                    }
                }
                other => self.colour(&other),
            }
        }
    }

    fn colour(&mut self, operation: &TypedInstruction<'_, '_>) {
        let gray = |white: f64| Colour::Black(1.0 - white.clamp(0.0, 1.0));
        match operation {
            TypedInstruction::NonStrokeColorDeviceGray(colour) => {
                self.set(Space::Gray, gray(colour.0.as_f64()));
            }
            TypedInstruction::NonStrokeColorCmyk(colour) => {
                let inks = [&colour.0, &colour.1, &colour.2, &colour.3].map(|ink| ink.as_f64());
                self.set(Space::Process, Colour::Process(inks));
            }
            TypedInstruction::NonStrokeColorDeviceRgb(_) => self.set(Space::Other, Colour::Other),
            TypedInstruction::ColorSpaceNonStroke(space) => match space.0.as_ref() {
                b"DeviceGray" => self.set(Space::Gray, Colour::Black(1.0)),
                b"DeviceCMYK" => self.set(Space::Process, Colour::Process([0.0, 0.0, 0.0, 1.0])),
                _ => self.set(Space::Other, Colour::Other),
            },
            TypedInstruction::NonStrokeColor(colour) => {
                let inks: Vec<f64> = colour.0.iter().map(|n| n.as_f64()).collect();
                self.inks(&inks);
            }
            TypedInstruction::NonStrokeColorNamed(colour) => {
                let inks: Vec<f64> = colour.0.iter().map(|n| n.as_f64()).collect();
                self.inks(&inks);
            }
            _ => {}
        }
    }

    fn set(&mut self, space: Space, fill: Colour) {
        self.state.space = space;
        self.state.fill = fill;
    }

    fn inks(&mut self, inks: &[f64]) {
        self.state.fill = match (self.state.space, inks) {
            (Space::Gray, [white]) => Colour::Black(1.0 - white.clamp(0.0, 1.0)),
            (Space::Process, [c, m, y, k]) => Colour::Process([*c, *m, *y, *k]),
            _ => Colour::Other,
        };
    }

    fn form<'a>(&mut self, form: &Stream<'a>, outer: &Resources<'a>, depth: usize) {
        let dict = form.dict();
        let is_form = dict
            .get::<Name<'_>>("Subtype")
            .is_some_and(|name| name.as_ref() == b"Form");
        let (true, Some(depth), Ok(content)) = (is_form, depth.checked_sub(1), form.decoded())
        else {
            return;
        };
        let own = dict.get::<Dict<'_>>("Resources").unwrap_or_default();
        let resources = Resources::from_parent(own, outer.clone());
        let (state, kept) = (self.state, std::mem::take(&mut self.kept));
        self.content(TypedIter::new(content.as_ref()), &resources, depth);
        self.state = state;
        self.kept = kept;
    }
}
