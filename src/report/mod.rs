//! Reports: a finished takeoff in, text out.
//!
//! Invariant: formats finished values; measures and orders nothing.

mod csv;
mod figure;
mod findings;
mod json;
mod papers;
mod record;
mod save;
mod snippet;
mod table;
mod text;

pub use csv::{bays_csv, surfaces_csv};
pub use findings::render_findings;
pub use json::render_json;
pub use papers::{closeout_html, opinion_html};
pub use record::record_json;
pub use save::{SaveFormat, render};
pub use snippet::render_refusals;
pub use table::{Beside, order_lines, render_audit, render_beside, render_closeout, render_table};
pub use text::printable;
