//! The job: what the user says in the job file and in options, and the default for all else.
//!
//! Nothing in a job file is required. Every default stands in `defaults.rs` with its source.
//! Invariant: sets the rules of framing, fill and order; knows nothing of the takeoff or of reports.

mod assembly;
mod assembly_sources;
mod assign;
mod attic;
mod built_in;
mod coverage_sheet;
mod coverage_table;
mod crew_file;
mod defaults;
mod exposure;
mod file;
mod fill_file;
mod fill_resolve;
mod filling;
mod heat;
mod keys;
mod label;
mod layout;
mod layout_file;
mod layout_more;
mod layout_preset;
mod method;
mod opening_file;
mod order_file;
mod papers_file;
mod pattern_file;
mod reader;
mod resolve;
mod retrofit;
mod rig;
mod rig_circuits;
mod rig_file;
mod rig_read;
mod roof;
mod rules;
mod say;
mod say_opening;
mod say_survey;
mod setting;
mod surface_file;
mod surface_opening;
mod surface_rule;
mod survey;
mod thin;
mod tolerance_file;
mod type_words;

pub use crate::model::Glob;
pub use assign::{Assigned, Assignment, MASONRY, NOT_KNOWN, Rule, assign};
pub use coverage_sheet::COVERAGE_SCHEMA;
pub use coverage_table::Coverage;
pub use crew_file::{CrewChoice, SeenFrom};
pub use defaults::{ALLOWANCE, RETROFIT_ALLOWANCE, When};
pub use exposure::{ExposureAsked, ExposureRule};
pub use file::job_schema;
pub use filling::{Filling, SaidBy};
pub use heat::{AssemblyLayer, GivenHeat, HeatChoice, LayerHeatRule};
pub use label::{
    ENOUGH_ALREADY, Labelled, NO_OPEN_DENSITY, NO_TABLE, OpenFill, R_NOT_IN_TABLE, is_about_open_fill,
    reason_against_fill,
};
pub use layout::LayoutChoice;
pub use method::FillingChoice;
pub use order_file::{Labour, OrderChoice, StageBy};
pub use papers_file::{FillFacts, PaperFacts};
pub use resolve::read_job;
pub use retrofit::Retrofit;
pub use rig::{
    Circuit, CurvePoint, Gauge, GaugeAt, Generator, Hose, HoseSection, Leg, Load, Rig, Site, TrialBox, Truck,
};
pub use roof::{VENT_GAP_NOT_GIVEN, VENT_GAP_TAKES_ALL, reason_against_roof};
pub use rules::{Assembly, FillChoice, FrameRule, Job, OpenRange, parse_bag, parse_frame};
pub use say::say_of_surfaces;
pub use say_survey::{LIVE_WIRING, reason_against_wiring};
pub use setting::{SET, Setting, parse_settings, read_job_with};
pub use surface_rule::{Caution, OpeningSaid, Said, SaidIn, SurfaceRule, SurfaceValue, WhichOpening};
pub use survey::SurveyRead;
pub use thin::reason_against_thin_body;
pub use tolerance_file::Tolerances;
