//! The program as it is run: status, standard output, standard error, files.

mod audit;
mod cautions;
mod closeout;
mod closeout_log;
mod closeout_places;
mod closeout_whole;
mod drawing;
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
mod table;
mod takeoff;
