//! The takeoff at 80 columns, for people; surfaces take more where there is more.

mod attics;
mod audit;
mod beside;
mod closeout;
pub(super) mod columns;
mod heat;
mod labels;
mod sections;
mod staging;
mod summary;
mod surfaces;
mod types;

use crate::takeoff::Takeoff;
use crate::units::UnitSystem;

pub(super) use attics::attic_words;
pub use audit::render_audit;
pub use beside::{Beside, render_beside};
pub use closeout::render_closeout;
pub(super) use closeout::{coverage, fill_sentences, sentences};
pub(super) use heat::{GIVE_LAYERS, head_words, headings as heat_headings, rows as heat_rows};
pub(super) use labels::{LABELS_TITLE, label_words};
pub(super) use sections::{ESTIMATE, HAZARDS, how_much, signed};
pub use summary::order_lines;
pub(super) use summary::{OrderWords, kind_word, noun, order_words, title_words};
pub(super) use surfaces::percent;

/// Columns of the table.
const WIDTH: usize = 80;

/// The whole table. The list of surfaces takes up to `width` columns where a terminal has more than 80.
pub fn render_table(takeoff: &Takeoff, units: UnitSystem, width: usize) -> String {
    let parts = [
        summary::title(takeoff),
        order_lines(takeoff, units),
        staging::staging(takeoff, units),
        surfaces::surfaces(takeoff, units, width.max(WIDTH)),
        attics::attics(takeoff, units),
        labels::labels(takeoff, units),
        types::types(takeoff, units),
        sections::framing(takeoff, units),
        heat::heat(takeoff, units),
        sections::balance(takeoff, units),
        sections::not_counted(takeoff, units),
        sections::assumptions(takeoff),
        sections::cautions(takeoff),
        // A long table ends where the eye is when it has run through.
        summary::order_again(takeoff, units),
    ];
    let mut out = String::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        if !out.is_empty() {
            out.push('\n');
        }
        for line in part {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}
