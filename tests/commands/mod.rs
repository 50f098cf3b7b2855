//! The program as it is run: status, standard output, standard error, files.

mod explain;
mod fills;
mod job_surfaces;
mod order;
mod readme;
mod report;
mod schema;
mod sheet_columns;
mod start;
pub mod support;
mod takeoff;
