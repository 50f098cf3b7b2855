//! Intake: files in, a building out.
//!
//! The kind of a file is told from its content, not from its ending.
//! Invariant: knows formats and nothing of framing or fill.

pub mod claims;
pub mod csv;
mod dispatch;
pub mod finish;
pub mod hpxml;
pub mod ifc;
mod load;
pub mod log;
mod progress;
mod selection;
pub mod survey;
mod written;

pub use dispatch::{IntakeOptions, read, read_finish, read_log, read_plan, read_survey};
pub use progress::Progress;
pub use selection::{Chosen, Selection};
pub use written::{Reading, WrittenCell, as_written};
