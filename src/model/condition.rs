//! What is in a surface already, and what lies above it.

/// How far fill that is there already reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ExistingExtent {
    /// A share of the cavity, from 0 to 1, such as that of a thin batt.
    Share(f64),
    /// A thickness from the bottom of the cavity up, in metres.
    ThicknessM(f64),
}

/// Fill that is there already.
#[derive(Clone, Debug, PartialEq)]
pub struct ExistingFill {
    /// What it is, as the sheet words it (`glass fibre batt`).
    pub what: String,
    /// How far it reaches.
    pub extent: ExistingExtent,
    /// Whether it is taken out before the new fill goes in.
    pub is_removed: bool,
    /// Its thermal resistance, where somebody gave it.
    pub r_m2k_w: Option<f64>,
    /// Its density, where somebody gave it.
    pub density_kg_m3: Option<f64>,
}

/// Which edges of a ceiling lie under eaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EaveSides {
    /// All of them: a hipped roof.
    All,
    /// The two long sides: a gabled roof over its length.
    LongSides,
    /// The two short sides.
    ShortSides,
    /// Some, of a length in metres.
    LengthM(f64),
}

/// What bounds the fill of an attic floor along the eaves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Eaves {
    /// Which of the ceiling's edges lie under eaves.
    pub sides: Option<EaveSides>,
    /// Height from the top of the ceiling to the underside of the roof deck, above the outer edge of the ceiling, in metres.
    pub heel_height_m: Option<f64>,
    /// Slope of the roof above, in degrees.
    pub roof_pitch_deg: Option<f64>,
}
