//! Reports: a finished takeoff in, text out.
//!
//! Invariant: formats finished values; measures and orders nothing.

mod assumed;
mod bcf;
mod crew_csv;
mod csv;
mod drawing;
mod explain;
mod figure;
mod files;
mod findings;
mod html;
mod ifc;
mod json;
mod papers;
mod pdf;
mod record;
mod rig;
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
pub use papers::{Papers, closeout_papers, opinion};
pub use pdf::{papers_pdf, render_pdf};
pub use record::record_json;
pub use rig::{render_rig, render_rig_json};
pub use save::{SaveFormat, Saved, render};
pub use snippet::render_refusals;
pub use table::{Beside, order_lines, render_audit, render_beside, render_closeout, render_table};
pub use text::printable;
