//! The program as it is run: status, standard output, standard error, files.

mod audit;
mod closeout;
mod closeout_log;
mod explain;
mod fills;
mod job_surfaces;
mod order;
mod paper;
mod readme;
mod report;
mod rig;
mod schema;
mod sheet_columns;
mod start;
pub mod support;
mod survey;
mod takeoff;
