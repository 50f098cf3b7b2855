//! The building as plain data: surfaces in their own plane, openings, layers. SI, f64.
//!
//! Every intake fills this model and every later stage reads it.
//! Invariant: knows nothing of formats, framing or fill; no arithmetic beyond area.

mod building;
mod materials;
mod opening;
mod surface;

pub use building::{Assumption, Building, Input, InputKind};
pub use materials::{is_insulation, is_masonry, is_steel, is_stud};
pub use opening::{Opening, OpeningKind};
pub use surface::{DoNotFill, DoNotFillExtent, Exposure, Extent, GivenMember, Layer, Surface, SurfaceKind};
