//! The takeoff: a building and a job in, the measured quantities out, as a contract.
//!
//! Invariant: runs the stages and adds up; holds no rule of framing, fill or order of its own.

mod assumptions;
mod balance;
mod build;
mod by_label;
mod chosen;
mod compared;
mod comparison;
mod contract;
mod contract_fill;
mod costs;
mod elements;
mod fill_findings;
mod fill_sources;
mod fills;
mod findings;
mod floors;
mod groups;
mod heat;
mod heat_contract;
mod heat_groups;
mod heat_layers;
mod holes;
mod labour;
mod measure;
mod misfits;
mod names;
mod plan;
mod published;
mod range;
mod retrofit;
mod roofs;
mod sight;
mod staging;
mod sum;
#[cfg(test)]
mod tests;
mod types;
mod words;

pub use build::build;
pub use by_label::closed_use;
pub use compared::{Confidence, FramingComparison, PublishedFraction};
pub use contract::{
    Balance, BayTakeoff, CautionTakeoff, FORMAT, HolesTakeoff, LeftOutTakeoff, MemberTakeoff, OpeningTakeoff,
    PartialMemberTakeoff, SurfaceTakeoff, Takeoff, TypeTakeoff, VERSION, takeoff_schema,
};
pub use contract_fill::{
    EstimateTakeoff, FillTakeoff, LabelTakeoff, LabourTakeoff, OpenBlownTakeoff, PackTakeoff, PriceTakeoff,
    RangeInputTakeoff, RangeTakeoff, ReachedTakeoff, StageTakeoff,
};
pub use costs::{CostedFinding, findings_by_cost};
pub use elements::{ElementTakeoff, add_up_by_element};
pub use groups::{GroupTakeoff, NotCounted, group_by_type_and_storey, not_counted_by_reason};
pub use heat_contract::{
    HEAT_BASIS, HEAT_MARK, HeatLayerTakeoff, HeatSliceTakeoff, HeatTakeoff, ResistanceTakeoff, UsualHeat,
};
pub use heat_groups::{HeatGroup, NoHeat, group_heat, no_heat_by_reason};
pub use names::Names;
pub use sight::{Sight, sight_of};
