//! The building as plain data: surfaces in their own plane, openings, layers. SI, f64.
//!
//! Every intake fills this model and every later stage reads it.
//! Invariant: knows nothing of formats, framing or fill; no arithmetic beyond area.

mod building;
mod condition;
mod framing_in_part;
mod glob;
mod junction;
mod layer_material;
mod layer_rule;
mod materials;
mod opening;
mod opening_use;
mod said;
mod space_use;
mod standing;
mod surface;
mod wiring;
mod words;

pub use building::{Assumption, Building, FileRead, Input, InputKind};
pub use condition::{EaveSides, Eaves, ExistingExtent, ExistingFill};
pub use framing_in_part::FramingInPart;
pub use glob::Glob;
pub use junction::{FloorBand, Junction, JunctionKind};
pub use layer_material::{LayerMaterial, layer_material};
pub use layer_rule::{LayerRule, LayerUse, Pattern, Subject};
pub use materials::{LayerCategory, LayerKind, is_insulation, is_masonry, is_steel, is_stud, layer_kind};
pub use opening::{FlueKind, Opening, OpeningKind};
pub use opening_use::opening_use;
pub use said::SurfaceKey;
pub use space_use::{SpaceUse, space_use};
pub use standing::Standing;
pub use surface::{DoNotFill, DoNotFillExtent, Exposure, Extent, GivenMember, Layer, Surface, SurfaceKind};
pub use wiring::Wiring;
