//! What may be said of a surface besides how far it reaches.

/// What may be said of a surface: by the row of its sheet, or by the job file of a model's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurfaceKey {
    /// Measured depth of its cavity.
    Depth,
    /// Corners to frame in.
    Corners,
    /// Partitions that meet it.
    Partitions,
    /// Floors that run into it.
    Floors,
    /// Fill that is there already.
    Existing,
    /// What must stay empty.
    DoNotFill,
    /// Whether somebody looked for what must stay empty.
    Surveyed,
    /// Wiring in its cavity.
    Wiring,
    /// Who released that wiring.
    ReleasedBy,
    /// Edges under eaves.
    Eaves,
    /// Height of the roof above its outer edge.
    HeelHeight,
    /// Slope of the roof above.
    RoofPitch,
    /// Platforms on it.
    Platform,
    /// Openings, or what is known of them.
    Opening,
}

impl SurfaceKey {
    /// How it is written as a key of the job file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Depth => "depth",
            Self::Corners => "corners",
            Self::Partitions => "partitions",
            Self::Floors => "floors",
            Self::Existing => "existing",
            Self::DoNotFill => "do_not_fill",
            Self::Surveyed => "surveyed",
            Self::Wiring => "wiring",
            Self::ReleasedBy => "released_by",
            Self::Eaves => "eaves",
            Self::HeelHeight => "heel_height",
            Self::RoofPitch => "roof_pitch",
            Self::Platform => "platform",
            Self::Opening => "opening",
        }
    }
}
