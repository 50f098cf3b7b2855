//! The job: what the user says in the job file and in options, and the default for all else.
//!
//! Nothing in a job file is required. Every default stands in `defaults.rs` with its source.
//! Invariant: sets the rules of framing, fill and order; knows nothing of the takeoff or of reports.

mod assembly;
mod assign;
mod attic;
mod built_in;
mod defaults;
mod exposure;
mod file;
mod fill_file;
mod filling;
mod heat;
mod layout;
mod layout_file;
mod layout_more;
mod layout_preset;
mod method;
mod opening_file;
mod pattern_file;
mod reader;
mod resolve;
mod retrofit;
mod roof;
mod rules;

pub use crate::model::Glob;
pub use assign::{Assigned, Assignment, MASONRY, NOT_KNOWN, Rule, assign};
pub use defaults::{ALLOWANCE, RETROFIT_ALLOWANCE, When};
pub use exposure::{ExposureAsked, ExposureRule};
pub use file::job_schema;
pub use filling::{Filling, SaidBy};
pub use heat::{AssemblyLayer, GivenHeat, HeatChoice, LayerHeatRule};
pub use layout::LayoutChoice;
pub use method::FillingChoice;
pub use resolve::read_job;
pub use retrofit::Retrofit;
pub use roof::{VENT_GAP_NOT_GIVEN, VENT_GAP_TAKES_ALL, reason_against_roof};
pub use rules::{Assembly, FillChoice, FrameRule, Job, parse_bag, parse_frame};
