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
    /// Gross area that this fill could have reached: what it counts, and what is asked for and counted by no
    /// fill. Of several fills each such surface stands with one: its own, else the first of its kind.
    pub asked_area_m2: f64,
    /// Kinds of the surfaces of that area.
    pub kinds: Vec<SurfaceKind>,
    /// Share of each storey, zone or day; empty where none of these is known.
    pub staging: Vec<StageTakeoff>,
    /// What is still reached when all of the allowance is lost; null where there is no order.
    pub reached: Option<ReachedTakeoff>,
    /// The order by pallets and bundles, where their bags are given.
    pub packs: Vec<PackTakeoff>,
    /// How sure the mass and the order are; null where nothing is filled, and for an estimate.
    pub range: Option<RangeTakeoff>,
    /// Price of the bags of the order; a basis, and not an offer. Null where none is given.
    pub price: Option<PriceTakeoff>,
}

/// How sure a mass and its order are: the range that holds the true value with a confidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RangeTakeoff {
    /// The confidence.
    pub confidence_share: f64,
    /// Lower end of the mass.
    pub least_kg: f64,
    /// Upper end of the mass.
    pub most_kg: f64,
    /// Order at the lower end; null without a bag.
    pub least_bags: Option<u64>,
    /// Order at the upper end.
    pub most_bags: Option<u64>,
    /// The inputs that matter most, the first ten.
    pub inputs: Vec<RangeInputTakeoff>,
}

/// An input that a range rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RangeInputTakeoff {
    /// What it is.
    pub what: String,
    /// What one standard deviation of it changes of the mass.
    pub change_kg: f64,
    /// Its share of the variance.
    pub variance_share: f64,
}

/// What is still reached when all of the allowance is lost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ReachedTakeoff {
    /// Mass that is left to the mass that the bays take.
    pub mass_ratio: f64,
    /// The lowest density of all surfaces, times that.
    pub least_density_kg_m3: f64,
}

/// Bags by the pallet or the bundle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PackTakeoff {
    /// `pallet` or `bundle`.
    pub pack: String,
    /// Bags in one.
    pub bags: u64,
    /// Whole ones.
    pub whole: u64,
    /// Bags beside them.
    pub loose: u64,
}

/// A price, in exact decimals.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PriceTakeoff {
    /// Of one bag, or of one hour.
    pub each: String,
    /// Of all.
    pub total: String,
    /// ISO 4217 code.
    pub currency: String,
}

/// Hours of the work, from the rates that the job gives; a basis, and not an offer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LabourTakeoff {
    /// Hours in which closed cavities are filled; null where no rate for them is given.
    pub closed_h: Option<f64>,
    /// The same of open-blown fill.
    pub open_h: Option<f64>,
    /// Their sum, as far as rates are given.
    pub machine_h: f64,
    /// People in the crew.
    pub crew: u32,
    /// Hours of all people.
    pub person_h: f64,
    /// Days in which fill is blown, not rounded; null where the hours of a day are not given.
    pub days_exact: Option<f64>,
    /// Price of the hours.
    pub price: Option<PriceTakeoff>,
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
    /// Day of the work, from 1, where bags are set down by the day.
    pub day: Option<u32>,
    /// Mass, allowance not included.
    pub mass_kg: f64,
    /// Whole bags to set down there; over all places they sum to the order.
    pub bags: Option<u64>,
}
