//! The program as it is run: status, standard output, standard error, files.

mod schema;
mod start;
pub mod support;
mod takeoff;
