//! Kinds of lines in a line drawing: how they rank, how wide they are printed, and below which
//! length they are left out. Millimetres on paper.

/// What a line stands for. Where two lines run side by side the one named first here stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineKind {
    /// The contour of the whole figure against the paper.
    Outer,
    /// A button.
    Button,
    /// A strap.
    Strap,
    /// An edge, or where a surface turns away.
    Edge,
    /// The second line of a thickness.
    Inner,
    /// A seam.
    Seam,
    /// A small thing on a surface.
    Detail,
    /// Stitching that shows.
    Stitch,
    /// Folds of gathered cloth.
    Gathers,
    /// Lines of shade along the sections of a form.
    Hatching,
}

impl LineKind {
    /// From the strongest, 0, to the weakest. Strap and edge are equals.
    #[must_use]
    pub fn rank(self) -> u8 {
        match self {
            LineKind::Outer => 0,
            LineKind::Button => 1,
            LineKind::Strap | LineKind::Edge => 2,
            LineKind::Inner => 3,
            LineKind::Seam => 4,
            LineKind::Detail => 5,
            LineKind::Stitch => 6,
            LineKind::Gathers => 7,
            LineKind::Hatching => 8,
        }
    }

    /// Printed width in a figure 120 mm wide, mm; see [`width_factor`].
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            LineKind::Outer => 0.70,
            LineKind::Button | LineKind::Strap | LineKind::Edge => 0.45,
            LineKind::Inner | LineKind::Seam => 0.35,
            LineKind::Detail => 0.30,
            LineKind::Stitch => 0.25,
            LineKind::Gathers => 0.22,
            LineKind::Hatching => 0.11,
        }
    }

    /// Dash and gap in a figure 120 mm wide, mm.
    #[must_use]
    pub fn dash(self) -> Option<[f64; 2]> {
        (self == LineKind::Stitch).then_some([1.1, 0.8])
    }

    /// The shortest piece that is drawn, mm: shorter ones look like dirt.
    #[must_use]
    pub fn shortest(self) -> f64 {
        match self {
            LineKind::Outer | LineKind::Button | LineKind::Strap | LineKind::Edge => 0.9,
            LineKind::Inner => 1.6,
            LineKind::Seam => 2.4,
            LineKind::Detail => 1.0,
            LineKind::Stitch => 2.0,
            LineKind::Gathers | LineKind::Hatching => 0.6,
        }
    }

    /// Whether it lies on a surface without ending at other lines.
    #[must_use]
    pub fn floats(self) -> bool {
        self >= LineKind::Detail
    }

    /// Whether it lies on a surface, so that it shows only where that surface faces the viewer.
    #[must_use]
    pub fn on_surface(self) -> bool {
        self >= LineKind::Seam
    }

    /// Its name in the file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            LineKind::Outer => "outer",
            LineKind::Button => "button",
            LineKind::Strap => "strap",
            LineKind::Edge => "edge",
            LineKind::Inner => "inner",
            LineKind::Seam => "seam",
            LineKind::Detail => "detail",
            LineKind::Stitch => "stitch",
            LineKind::Gathers => "gathers",
            LineKind::Hatching => "hatching",
        }
    }
}

/// By how much lines are thinner in a figure `width` mm wide: small figures would clog at the full
/// width, yet below 0.62 an inkjet loses the thinnest line.
#[must_use]
pub fn width_factor(width: f64) -> f64 {
    (width / 120.0).powf(0.45).clamp(0.62, 1.0)
}
