//! Fill: bays in, volume, density and mass out.
//!
//! Invariant: knows bays and the rules of a fill; nothing of bags, files or words in reports.

mod board;
mod coverage;
mod density;
mod filled;
mod holes;
mod material;
mod method;
mod settling;
mod thickness;

pub use board::{CeilingBoard, board_limit_kg_m2, least_board_limit_kg_m2};
pub use coverage::{CoverageBasis, CoverageRow, CoverageTable, LabelFigure, RowFault};
pub use density::{NearStep, density_kg_m3, near_step};
pub use filled::{Filled, FilledBay, fill_bays};
pub use holes::place_holes;
pub use material::{Figure, MATERIALS, Material, material_named};
pub use method::{FillMethod, HoleRules};
pub use settling::{Humidity, TESTED_M, least_density_kg_m3};
pub use thickness::{depth_markers, initial_thickness_m, settled_thickness_m};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a material is blown in.
#[derive(Clone, Debug, PartialEq)]
pub struct FillRules {
    /// Name of the material.
    pub name: String,
    /// Installed density, in kilograms per cubic metre.
    pub density_kg_m3: f64,
    /// Installed densities from a depth on, by rising depth.
    pub steps: Vec<DepthStep>,
    /// Installed density behind netting, whatever the depth; `None` where it is that of the depth.
    pub netted_kg_m3: Option<f64>,
    /// Installed density in roof slopes, whatever the depth; `None` where it is that of the depth.
    pub sloped_kg_m3: Option<f64>,
    /// Settled density of fill that lies open on a ceiling; `None` where nobody gives it.
    pub open_density_kg_m3: Option<f64>,
}

impl FillRules {
    fn of_use_kg_m3(&self, closed_use: ClosedUse) -> Option<f64> {
        match closed_use {
            ClosedUse::Plain => None,
            ClosedUse::Netted => self.netted_kg_m3,
            ClosedUse::Sloped => self.sloped_kg_m3,
        }
    }
}

/// An installed density from a depth on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthStep {
    /// Depth, in metres.
    pub from_m: f64,
    /// Density, in kilograms per cubic metre.
    pub density_kg_m3: f64,
}

/// What kind of closed cavity is filled, as far as the density may follow from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClosedUse {
    /// Between sheathing and board.
    Plain,
    /// Behind netting.
    Netted,
    /// In a roof slope.
    Sloped,
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
