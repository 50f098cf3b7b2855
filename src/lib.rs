//! Building geometry in, framed cavities out; cavities in, pounds and bags of blown-in insulation out.

pub mod bays;
pub mod finding;
pub mod framing;
pub mod geometry;
pub mod intake;
pub mod model;
pub mod refusal;
pub mod source;
pub mod takeoff;
pub mod tally;
pub mod units;
