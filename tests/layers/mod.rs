//! Where the cavity is and what lies on the other side, read from small models that are written here.
//!
//! Expected values are those of the houses as they are described in each test: common practice, no source.

mod cavity;
mod exposure;
pub mod model;
mod models;
