//! The crew's work: the surfaces in walking order, their bays as the crew sees them, and where it should be at each mark.
//!
//! Invariant: reads a finished takeoff and changes none of its figures; knows nothing of how it is shown.

mod marks;
mod runs;
mod sheet;
mod view;
mod walk;

pub use marks::{FillMarks, FirstMark, Mark};
pub use runs::{BayRun, bay_runs};
pub use sheet::{BayStep, CrewSheet, KeepEmpty, Stop, crew_sheet};
pub use view::View;
