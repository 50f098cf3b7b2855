//! The closeout: what was blown, set against the takeoff; densities reached, with how sure that is.
//!
//! A bag count gives an average and cannot show an empty bay: that every bay is filled follows from inspections alone.
//! Invariant: compares finished figures; measures nothing.

mod attic;
mod bays;
mod blown;
mod contract;
mod cores;
mod fills;
mod finish;
mod finish_contract;
mod graded;
mod run;
mod running;
mod sure;
mod zone;

pub use contract::{
    BaysSeen, CLOSEOUT_FORMAT, CLOSEOUT_VERSION, Closeout, CoreSample, CoresTaken, FillCloseout, GradeSeen, GradedHeat,
    JudgedBy, Labelled, Reached, Readings, RunningCheck, TakenOut, UncertaintyInput, Zone, closeout_schema,
};
pub use finish_contract::{CheckState, Finish, FinishCheck};
pub use run::closeout;
