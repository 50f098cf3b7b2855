//! Reports: a finished takeoff in, text out.
//!
//! Invariant: formats finished values; measures and orders nothing.

mod bcf;
mod csv;
mod explain;
mod findings;
mod ifc;
mod json;
mod save;
mod snippet;
mod table;
mod text;
mod xlsx;

pub use csv::{bays_csv, surfaces_csv};
pub use explain::render_explanations;
pub use findings::render_findings;
pub use json::render_json;
pub use save::{SaveFormat, Saved, render};
pub use snippet::render_refusals;
pub use table::{Beside, order_lines, render_beside, render_table};
pub use text::printable;
