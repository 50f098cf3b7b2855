//! Geometry in metres: rings and polygons, their booleans, solids in space and their exact plane sections.
//!
//! Invariant: knows nothing of buildings, formats or insulation. Raw f64, in metres.

mod boundary;
mod clip;
mod face;
mod face_section;
mod outset;
mod overlay;
mod plane;
mod polygon;
mod section;
mod solid;
mod space;
pub mod tolerance;
mod upright;
mod weld;

pub use boundary::boundary;
pub use clip::clip_by_half_plane;
pub use face::{Face, FacesSeen};
pub use outset::outset;
pub use overlay::{Rings, difference, intersection, union, union_even_odd};
pub use plane::Plane;
pub use polygon::{Bounds, Point, Polygon, Ring, total_area_m2};
pub use section::{SectionError, section};
pub use solid::{AreaVector, Extrusion, FaceBody, HalfSpace, Operation, Solid, rectangle_ring};
pub use space::{Frame, Vector};
pub use weld::{welded, welded_within};
