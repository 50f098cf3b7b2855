//! Bays: what is left of a surface when openings and members are taken out.
//!
//! Invariant: knows the model and the members; nothing of fill or files.

mod clearance;
mod cut;
mod displaced;
mod dividers;
mod do_not_fill;
mod eave_roof;
mod eaves;
mod kept_empty;
mod taken_up;

pub use cut::{Bay, BayCut, INSIDE_ROUGH_OPENING, LeftOut, TOO_NARROW, balance_residual_m2, cut_bays};
pub use eave_roof::EaveRoof;
pub use eaves::EAVE_WEDGE;
pub use kept_empty::EmptyVolume;
pub use taken_up::{Allowance, TakenUp, take_up};
