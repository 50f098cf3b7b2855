//! What the job file says of surfaces, by pattern, with everything resolved.

use crate::cells::{Corners, Partitions};
use crate::model::{
    DoNotFill, EaveSides, ExistingFill, FloorBand, FlueKind, Glob, OpeningKind, Pattern, SurfaceKey, Wiring,
};
use crate::source::{Place, Source};

/// What one table of the job file says of the surfaces that it fits.
#[derive(Clone, Debug, PartialEq)]
pub struct SurfaceRule {
    /// Which surfaces; one pattern must fit.
    pub patterns: Vec<Pattern>,
    /// Patterns on id or name; or one of these must.
    pub named: Vec<Glob>,
    /// Where the table, or the row of a survey, stands.
    pub place: Place,
    /// Where its values come from, as the assumptions print it.
    pub source: String,
    /// What says it.
    pub said_in: SaidIn,
    /// What is to be looked out for at these surfaces.
    pub cautions: Vec<Caution>,
    /// What it says, in the order of the file's keys as they are documented.
    pub said: Vec<Said>,
}

/// What a rule stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaidIn {
    /// A `[[surface]]` of the job file.
    JobFile,
    /// A row of a survey.
    Survey,
}

impl SaidIn {
    /// As people read it.
    pub fn words(self) -> &'static str {
        match self {
            Self::JobFile => "a `[[surface]]`",
            Self::Survey => "a row of the survey",
        }
    }
}

/// What is to be looked out for, whatever the figures are.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// Where it stands.
    pub place: Place,
    /// Whether work waits for it; else it is worth knowing.
    pub is_warning: bool,
    /// The sentence that follows the names of the surfaces.
    pub message: String,
}

/// One value of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// As it is written.
    pub text: String,
    /// Where it stands.
    pub place: Place,
    /// What it says.
    pub value: SurfaceValue,
}

/// What is said of a surface.
#[derive(Clone, Debug, PartialEq)]
pub enum SurfaceValue {
    /// Measured depth of its cavity, in metres.
    Depth(f64),
    /// Corners to frame in.
    Corners(Corners),
    /// Partitions that meet it.
    Partitions(Partitions),
    /// Floors that run into it.
    Floors(Vec<FloorBand>),
    /// Fill that is there already; `None` where there is none.
    Existing(Option<ExistingFill>),
    /// What must stay empty.
    DoNotFill(Vec<DoNotFill>),
    /// Whether somebody looked for what must stay empty.
    Surveyed(bool),
    /// Wiring in its cavity.
    Wiring(Wiring),
    /// The electrician who released that wiring.
    ReleasedBy(String),
    /// Edges under eaves.
    Eaves(EaveSides),
    /// Height of the roof above its outer edge, in metres.
    HeelHeight(f64),
    /// Slope of the roof above, in degrees.
    RoofPitch(f64),
    /// Platforms on it, each a part that must stay empty.
    Platforms(Vec<DoNotFill>),
    /// Openings that it lacks, or what is known of those that it has.
    Openings(Vec<OpeningSaid>),
}

impl SurfaceValue {
    /// The key that it is written under.
    pub fn key(&self) -> SurfaceKey {
        match self {
            Self::Depth(_) => SurfaceKey::Depth,
            Self::Corners(_) => SurfaceKey::Corners,
            Self::Partitions(_) => SurfaceKey::Partitions,
            Self::Floors(_) => SurfaceKey::Floors,
            Self::Existing(_) => SurfaceKey::Existing,
            Self::DoNotFill(_) => SurfaceKey::DoNotFill,
            Self::Surveyed(_) => SurfaceKey::Surveyed,
            Self::Wiring(_) => SurfaceKey::Wiring,
            Self::ReleasedBy(_) => SurfaceKey::ReleasedBy,
            Self::Eaves(_) => SurfaceKey::Eaves,
            Self::HeelHeight(_) => SurfaceKey::HeelHeight,
            Self::RoofPitch(_) => SurfaceKey::RoofPitch,
            Self::Platforms(_) => SurfaceKey::Platform,
            Self::Openings(_) => SurfaceKey::Opening,
        }
    }
}

/// What is said of an opening.
#[derive(Clone, Debug, PartialEq)]
pub struct OpeningSaid {
    /// Which one.
    pub which: WhichOpening,
    /// How a flue or chimney is built.
    pub flue: Option<FlueKind>,
    /// How far fill stays off it, in metres.
    pub clearance_m: Option<f64>,
    /// Where it is said.
    pub source: Source,
}

/// Which opening is meant.
#[derive(Clone, Debug, PartialEq)]
pub enum WhichOpening {
    /// Those that the surface has and whose name, or id in a sheet, fits.
    Own(Glob),
    /// One that the surface lacks.
    New {
        /// Its id.
        id: String,
        /// What fills it.
        kind: OpeningKind,
        /// Lower left corner, in metres along and up the surface.
        from_m: [f64; 2],
        /// Upper right corner.
        to_m: [f64; 2],
    },
}
