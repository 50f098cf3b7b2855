//! Reports: a finished takeoff in, text out.
//!
//! Invariant: formats finished values; measures and orders nothing.

mod bcf;
mod crew_csv;
mod csv;
mod drawing;
mod explain;
mod findings;
mod html;
mod ifc;
mod json;
mod save;
mod snippet;
mod table;
mod text;
mod xlsx;

pub use crew_csv::crew_csv;
pub use csv::{bays_csv, surfaces_csv};
pub use drawing::{Defs, Elevation, PlanSurface, elevation, key_plan, legend, patterns};
pub use explain::render_explanations;
pub use findings::render_findings;
pub use html::render_html;
pub use json::render_json;
pub use save::{SaveFormat, Saved, render};
pub use snippet::render_refusals;
pub use table::{Beside, order_lines, render_beside, render_table};
pub use text::printable;
