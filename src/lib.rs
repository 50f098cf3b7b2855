//! Building geometry in, framed cavities out; cavities in, pounds and bags of blown-in insulation out.
//!
//! Data flows one way, each stage plain data that the next one reads:
//!
//! ```text
//! intake -> model -> framing -> bays -> fill -> heat -> order -> job -> takeoff -> explain, audit, closeout, crew, rig -> report -> cli
//! ```
//!
//! The job (the job file, the options and the defaults) stands behind the stages whose rules it sets.

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::indexing_slicing,
        clippy::float_cmp,
        clippy::float_cmp_const,
        reason = "a test that cannot go on is a test that fails"
    )
)]

pub mod audit;
pub mod bays;
mod cells;
pub mod cli;
pub mod closeout;
pub mod crew;
mod digest;
pub mod explain;
pub mod fill;
pub mod finding;
pub mod framing;
pub mod geometry;
pub mod heat;
pub mod intake;
pub mod job;
pub mod model;
pub mod order;
pub mod refusal;
pub mod report;
pub mod rig;
pub mod source;
pub mod takeoff;
pub mod tally;
pub mod units;
