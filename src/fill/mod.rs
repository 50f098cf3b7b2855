//! Fill: bays in, volume, density and mass out.
//!
//! Invariant: knows bays and the rules of a fill; nothing of bags, files or words in reports.

mod density;
mod filled;
mod holes;
mod method;

pub use density::{NearStep, density_kg_m3, near_step};
pub use filled::{Filled, FilledBay, fill_bays, fill_open};
pub use holes::count_holes;
pub use method::{FillMethod, HoleRules};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a material is blown in.
#[derive(Clone, Debug, PartialEq)]
pub struct FillRules {
    /// Name of the material.
    pub name: String,
    /// Installed density, in kilograms per cubic metre.
    pub density_kg_m3: f64,
    /// Installed density in deep bays.
    pub deep_density_kg_m3: f64,
    /// Depth from which a bay is deep, in metres.
    pub deep_from_m: f64,
    /// Settled density of fill that lies open on a ceiling.
    pub open_density_kg_m3: f64,
}

/// Whether fill is held on all sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum FillUse {
    /// Blown into a closed cavity, at its installed density.
    #[serde(rename = "closed cavity")]
    ClosedCavity,
    /// Laid open on a ceiling, at its settled thickness and density.
    #[serde(rename = "open-blown")]
    OpenBlown,
}
