//! The rig: can this blower, this hose and this circuit do the job, and how long will it take?
//!
//! Input: a takeoff, or none, and a rig of the job. Output: points that hold, fall short or are not shown, each with what to do
//! next, the figures behind them, and for each figure its formula, what goes into it and its source.
//! Invariant: plain data and arithmetic; reads no file and lays nothing out.

mod air;
mod check;
mod contract;
mod cord;
mod friction;
mod generator;
mod haul;
mod hazards;
mod hose;
mod load;
mod needs;
mod notes;
mod nozzle;
mod power;
mod pressure;
mod time;
mod trial_box;

pub use air::{air_density_kg_m3, air_viscosity_pa_s, standard_pressure_pa};
pub use check::check_rig;
pub use contract::{FORMAT, Hazard, Point, RigCheck, Status, Step, Topic, VERSION, rig_schema};
pub use cord::{
    ADVISED_DROP, MOST_DROP, cord_capacity_a, length_at_drop_m, resistance_ohm_per_m, thinnest_awg, voltage_drop_v,
};
pub use friction::{darcy_weisbach_pa, friction_factor, reynolds_number};
pub use generator::generator_power_w;
pub use hose::{HoseFigures, LENGTH_FACTORS, LossRange, SOLIDS_FACTORS, SectionFigures, hose_figures};
pub use load::{CONTINUOUS, breaker_load_a, is_carried, running_a, split_in_two, standard_breaker_a};
pub use nozzle::curve_pressure_pa;
pub use power::CordFigures;
pub use pressure::{CELLULOSE_PA, CELLULOSE_SOURCE, PressureFigures, PressureNeed};
pub use time::{DayBags, DayFigures, DayWork, StageFigures, TimeFigures};
pub use trial_box::{TrialBoxFigures, trial_density_kg_m3};
