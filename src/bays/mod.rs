//! Bays: what is left of a surface when openings and members are taken out.
//!
//! Invariant: knows the model and the members; nothing of fill or files.

mod cut;

pub use cut::{Bay, BayCut, LeftOut};
