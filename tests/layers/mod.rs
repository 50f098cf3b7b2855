//! Where the cavity is, what lies on the other side and what meets a wall, read from small models that are written here.
//!
//! Expected values are those of the houses as they are described in each test: common practice, no source.

mod cavity;
mod exposure;
mod floors;
mod meetings;
pub mod model;
mod models;
mod openings;
mod shapes;
