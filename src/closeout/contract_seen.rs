//! What was measured, cut out and looked into, as a contract.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A grade of the installation, by ANSI/RESNET/ICC 301, as a rater entered it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GradeSeen {
    /// `I`, `II` or `III`.
    pub grade: String,
    /// How it was seen.
    pub method: String,
    /// Who entered it; null where the log does not say.
    pub by: Option<String>,
    /// Void as a share of the cavity's area that the grade allows.
    pub void_share: f64,
    /// Heat through each surface at that share.
    pub heat: Vec<GradedHeat>,
}

/// Heat through a surface at the share of void of its grade.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GradedHeat {
    /// The surface.
    pub surface: String,
    /// Thermal resistance of the whole assembly, combined by ISO 6946; null where it is not computed.
    pub r_m2k_w: Option<f64>,
    /// Thermal transmittance, its reciprocal.
    pub u_w_m2k: Option<f64>,
    /// Why not.
    pub reason: Option<String>,
}

/// Cores of a zone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoresTaken {
    /// Each of them.
    pub samples: Vec<CoreSample>,
    /// Mean density.
    pub mean_kg_m3: f64,
    /// Standard deviation; null of a single one.
    pub spread_kg_m3: Option<f64>,
    /// One standard deviation of a core that is reckoned with, as a share: their spread, or that of scale, depth and sampling
    /// where it is more.
    pub each_share: f64,
    /// One standard deviation by which the cutter's diameter makes all of them alike wrong, as a share.
    pub cutter_share: f64,
    /// Lower end of the mean's range, by Student's t; null of a single one.
    pub least_kg_m3: Option<f64>,
    /// Upper end.
    pub most_kg_m3: Option<f64>,
    /// Places of those below what was promised: of open-blown fill the mass that was over the initial thickness, since it has not
    /// settled yet.
    pub below: Vec<String>,
}

/// A core.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoreSample {
    /// Where it stands in the log.
    pub r#where: String,
    /// Its density.
    pub density_kg_m3: f64,
}

/// Depth readings of a zone: of open-blown fill, or of closed cavities.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Readings {
    /// How many.
    pub count: u32,
    /// Their mean.
    pub mean_m: f64,
    /// The least.
    pub least_m: f64,
    /// Standard deviation; null of a single one.
    pub spread_m: Option<f64>,
    /// What was promised: initial thickness, or the depth of the takeoff; null where it is not known, and where
    /// surfaces of several depths were measured.
    pub promised_m: Option<f64>,
    /// Places of those below it, of open-blown fill.
    pub below: Vec<String>,
}

/// What inspections saw of the bays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BaysSeen {
    /// Bays of the zone.
    pub bays: u64,
    /// Bays that were seen to be filled.
    pub filled: u64,
    /// Bays that were seen to have a void.
    pub voids: Vec<String>,
    /// Ways in which they were seen.
    pub methods: Vec<String>,
    /// Whether every bay was seen, and seen to be filled.
    pub every_bay_filled: bool,
}
