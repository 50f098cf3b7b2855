//! The job: what the user says in the job file and in options, and the default for all else.
//!
//! Nothing in a job file is required. Every default stands in `defaults.rs` with its source.
//! Invariant: sets the rules of framing, fill and order; knows nothing of the takeoff or of reports.

mod assign;
mod defaults;
mod exposure;
mod file;
mod layout;
mod layout_more;
mod layout_preset;
mod opening_file;
mod pattern_file;
mod reader;
mod resolve;
mod rules;

pub use crate::model::Glob;
pub use assign::{Assigned, Assignment, MASONRY, NOT_KNOWN, Rule, assign};
pub use defaults::{ALLOWANCE, RETROFIT_ALLOWANCE, When};
pub use exposure::{ExposureAsked, ExposureRule};
pub use file::job_schema;
pub use layout::LayoutChoice;
pub use resolve::read_job;
pub use rules::{Assembly, FillChoice, FrameRule, Job, parse_bag, parse_frame};
