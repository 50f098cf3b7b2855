//! Fill: bays in, volume, density and mass out.
//!
//! Invariant: knows bays and the rules of a fill; nothing of bags, files or words in reports.

mod density;
mod filled;
mod holes;
mod method;

pub use density::{NearStep, density_kg_m3, near_step};
pub use filled::{Filled, FilledBay, fill_bays};
pub use holes::count_holes;
pub use method::{FillMethod, HoleRules};

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
}
