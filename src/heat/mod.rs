//! Heat: layers and the framing that was laid out in, thermal resistance of the whole assembly out.
//!
//! Three methods stand side by side: parallel path, isothermal planes, and their mean as ISO 6946 combines them. What
//! comes out is an estimate from conductivities: the R of a fill is what its label says, not thickness times R per inch.
//!
//! Invariant: knows layers, members and bays; nothing of bags, files or words in reports. Resistances of different
//! parts of a building are never added up or averaged.

mod cavity;
mod films;
mod layers;
mod limits;
mod materials;
mod transmit;

pub use cavity::{Cavity, Way};
pub use films::{Film, Films, HeatFlow};
pub use layers::{CavityLayer, HeatLayer, LayerHeat};
pub use limits::{Combined, MOST_RATIO, Part, Section, by_product, combined, isothermal_planes, parallel_path};
pub use materials::{MaterialEntry, material_entry};
pub use transmit::{AIR_IN_VOID_M2K_W, Grade, Transmitted, transmit};
