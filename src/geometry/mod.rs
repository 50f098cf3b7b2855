//! Plane geometry in metres: rings, polygons, booleans, tolerances.
//!
//! Invariant: knows nothing of buildings, formats or insulation. Raw f64, in metres.

mod overlay;
mod polygon;
pub mod tolerance;
mod weld;

pub use overlay::{difference, intersection, union, union_even_odd};
pub use polygon::{Bounds, Point, Polygon, Ring, clip_by_half_plane, total_area_m2};
pub use weld::welded;
