//! Laws that hold for any input.

mod attics;
mod framing;
mod framing_by_points;
mod ifc_bodies;
mod ifc_text;
mod ifc_walls;
mod layout_rules;
mod rig;
mod sheets;
