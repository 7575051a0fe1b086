//! How cut files are drawn, and how large the pictures for the shop are. Lengths in mm, pictures in
//! pixels.

/// Colours by which a cutter tells what to do with a line, sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CutColours {
    /// What is cut through.
    pub cut: [u8; 3],
    /// What is creased.
    pub score: [u8; 3],
    /// What is drawn.
    pub mark: [u8; 3],
    /// What is only to be seen on the screen.
    pub guide: [u8; 3],
}

impl Default for CutColours {
    /// Red is cut and blue is the second tool (common practice).
    fn default() -> Self {
        Self {
            cut: [0xff, 0, 0],
            score: [0, 0, 0xff],
            mark: [0, 0, 0],
            guide: [0, 0xa0, 0],
        }
    }
}

/// What a cutter makes of a notch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum NotchCut {
    /// A short cut into the allowance.
    #[default]
    Slit,
    /// A small triangle cut out of the allowance.
    Vee,
    /// A line that is drawn.
    Mark,
}

/// How cut files are drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Colours of the lines.
    pub colours: CutColours,
    /// Keys of pieces, and of cloths with all that is cut from them, whose allowance is left away.
    pub without_allowance: Vec<String>,
    /// What becomes of notches.
    pub notches: NotchCut,
    /// The same for single pieces, by key.
    pub notches_of: Vec<(String, NotchCut)>,
    /// Side of the square by which the scale is measured, mm, if there is one.
    pub reference_square: Option<f64>,
}

/// Side of the reference square unless the design says otherwise, mm: read to a tenth of a millimetre
/// on a rule, it tells a scale that is half a percent off.
const REFERENCE: f64 = 25.0;

impl Default for Cutting {
    fn default() -> Self {
        Self {
            colours: CutColours::default(),
            without_allowance: Vec::new(),
            notches: NotchCut::default(),
            notches_of: Vec::new(),
            reference_square: Some(REFERENCE),
        }
    }
}

impl Cutting {
    /// Whether the piece `piece` is cut from `cloth` without its allowance.
    pub fn is_without_allowance(&self, piece: &str, cloth: &str) -> bool {
        let named = self.without_allowance.iter();
        named.into_iter().any(|name| name == piece || name == cloth)
    }

    /// What becomes of the notches of `piece`.
    pub fn notches_of(&self, piece: &str) -> NotchCut {
        let own = self.notches_of.iter().find(|(key, _)| key == piece);
        own.map_or(self.notches, |(_, notches)| *notches)
    }
}

/// Width and height of the pictures for the shop unless the design says otherwise, pixels.
pub const PICTURE: [u32; 2] = [1600, 1200];

/// What goes out beside the booklets: cut files, and pictures with which the pattern is offered.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// How cut files are drawn.
    pub cutting: Cutting,
    /// Width and height of the pictures, pixels: every picture in each of these.
    pub pictures: Vec<[u32; 2]>,
}

impl Default for Shop {
    fn default() -> Self {
        Self {
            cutting: Cutting::default(),
            pictures: vec![PICTURE],
        }
    }
}
