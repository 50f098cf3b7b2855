//! The closeout: what was blown, set against the takeoff; densities reached, with how sure that is.
//!
//! A bag count gives an average and cannot show an empty bay: that every bay is filled follows from inspections alone.
//! Invariant: compares finished figures; measures nothing.

mod attic;
mod bays;
mod blown;
mod contract;
mod contract_seen;
mod cores;
mod depths;
mod fills;
mod finish;
mod finish_contract;
mod graded;
mod hoppers;
mod label_row;
mod outcome;
mod run;
mod running;
mod sure;
mod twins;
mod whole;
mod zone;

pub use contract::{
    AtticBlown, CLOSEOUT_FORMAT, CLOSEOUT_VERSION, Closeout, Doubt, FillCloseout, JudgedBy, Labelled, Reached,
    RowReached, RunningCheck, TakenOut, UncertaintyInput, UseCloseout, Zone, closeout_schema,
};
pub use contract_seen::{BaysSeen, CoreSample, CoresTaken, GradeSeen, GradedHeat, Readings};
pub use finish_contract::{CheckState, Finish, FinishCheck};
pub use graded::{Graded, grades_entered};
pub use run::closeout;
