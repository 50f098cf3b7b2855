//! The audit: somebody's plan set against the takeoff, figure by figure.
//!
//! Invariant: compares finished figures; measures nothing. Areas and resistances of different parts are never added up to a
//! figure of ours that people would read as one part's.

mod cause;
mod contract;
mod figures;
mod judge;
mod predict;
mod run;
mod tolerance;

pub use cause::{CAUSES, Cause};
pub use contract::{
    AUDIT_FORMAT, AUDIT_VERSION, Audit, CauseFound, CauseMeaning, JudgedClaim, Step, Verdict, audit_schema,
};
pub use run::audit;
