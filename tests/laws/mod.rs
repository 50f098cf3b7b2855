//! Laws that hold for any input.

mod ifc_bodies;
mod ifc_text;
