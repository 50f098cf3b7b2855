//! The part of the contract that is about fill: what a label says, how open-blown fill lies, and what each material comes to.

use crate::model::SurfaceKind;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the label of the bag says of a surface's fill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LabelTakeoff {
    /// Where the coverage table comes from.
    pub source: String,
    /// What its coverage is the area of: `net`, or `with framing …`.
    pub basis: String,
    /// Thermal resistance of the new fill.
    pub r_m2k_w: f64,
    /// Minimum mass per area.
    pub mass_kg_m2: f64,
    /// Whether it is a printed row of the table; else it lies between two and is an estimate, not for papers.
    pub is_printed: bool,
}

/// How open-blown fill lies on a ceiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OpenBlownTakeoff {
    /// Minimum settled thickness of the new fill.
    pub settled_m: f64,
    /// Initial installed thickness, by the label, else by settling; null where neither is known.
    pub initial_m: Option<f64>,
    /// Settling as a fraction of the initial thickness, where that follows from it; null where the label prints it.
    pub settling_fraction: Option<f64>,
    /// Minimum mass per area of the new fill.
    pub mass_kg_m2: f64,
    /// Depth markers to set, one for each started 300 ft2.
    pub markers: u64,
    /// Thermal resistance that is asked for, of old and new fill together; null where a thickness is.
    pub target_m2k_w: Option<f64>,
    /// Thickness of the fill that is there already.
    pub existing_m: f64,
    /// Its thermal resistance; null where nobody gave it.
    pub existing_m2k_w: Option<f64>,
    /// Its mass per area; null where its density is not known.
    pub existing_kg_m2: Option<f64>,
    /// Board of the ceiling; null where nobody named it.
    pub board: Option<String>,
    /// Most fill that the board carries; null where that is not published for it.
    pub board_limit_kg_m2: Option<f64>,
}

impl OpenBlownTakeoff {
    /// Mass per area of old and new fill, as far as it is known.
    pub fn load_kg_m2(&self) -> f64 {
        self.mass_kg_m2 + self.existing_kg_m2.unwrap_or(0.0)
    }
}

/// What one fill material comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FillTakeoff {
    /// Name.
    pub name: String,
    /// Volume to fill.
    pub volume_m3: f64,
    /// Mass, allowance not included.
    pub mass_kg: f64,
    /// Why this is an estimate and no order, and its range: open-blown fill without a label's coverage table, which
    /// stands apart from the rest of its fill. Null for all else.
    pub estimate: Option<EstimateTakeoff>,
    /// Net mass of a bag, from its label; null where nobody gave it.
    pub bag_kg: Option<f64>,
    /// Mass divided by the bag.
    pub bags_exact: Option<f64>,
    /// Fraction added for spill, hopper and run-through.
    pub allowance: f64,
    /// Whole bags to load, allowance included, rounded once.
    pub bags_order: Option<u64>,
    /// Counted gross area that the order is for.
    pub counted_area_m2: f64,
    /// Gross area that this fill could have reached: what it counts, and what is asked for of the same
    /// kinds and counted by no fill.
    pub asked_area_m2: f64,
    /// Kinds of the surfaces that it counts.
    pub kinds: Vec<SurfaceKind>,
    /// Share of each storey and zone; empty where neither is known.
    pub staging: Vec<StageTakeoff>,
}

/// The range of a mass that is an estimate and no order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EstimateTakeoff {
    /// The least.
    pub least_kg: f64,
    /// The greatest.
    pub most_kg: f64,
    /// Densities that the range comes from, with their source.
    pub source: String,
}

/// What one storey or zone takes of a fill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StageTakeoff {
    /// Storey.
    pub storey: Option<String>,
    /// Zone.
    pub zone: Option<String>,
    /// Mass, allowance not included.
    pub mass_kg: f64,
    /// Whole bags to set down there; over all places they sum to the order.
    pub bags: Option<u64>,
}
