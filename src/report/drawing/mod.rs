//! Drawings as SVG: one surface to scale, and the key plan of a storey.
//!
//! A drawing is legible by itself: its colours are presentation attributes, which the style sheet of a page may override
//! by class. Lengths on paper are in CSS pixels, 96 to the inch; text is 12 px, which is 9 pt.

mod callouts;
mod dimensions;
mod elevation;
mod labels;
mod members;
mod path;
mod plan;
mod scale;

pub use elevation::{Elevation, elevation};
pub use members::{Defs, legend, patterns};
pub use plan::{PlanSurface, key_plan};

/// Width of a drawing: what A4 and Letter leave between margins of 15 mm.
pub(super) const WIDTH_PX: f64 = 680.0;
/// Size of all text.
const TEXT_PX: f64 = 12.0;
/// What most characters take at that size, in a wide face.
const CHARACTER_PX: f64 = 7.6;
/// What thin ones take.
const THIN_PX: f64 = 4.0;

/// What a text takes at that size.
fn text_px(text: &str) -> f64 {
    let is_thin = |c: char| matches!(c, ' ' | ':' | '.' | ',' | '\'' | '/' | '-' | 'i' | 'j' | 'l' | 't' | 'f' | 'r');
    text.chars().map(|c| if is_thin(c) { THIN_PX } else { CHARACTER_PX }).sum()
}
