//! Where the cavity is, what lies on the other side and what meets a wall, read from small models that are written here.
//!
//! Expected values are those of the houses as they are described in each test: common practice, no source.

mod bodies;
mod cavity;
mod depth;
mod exposure;
mod floors;
mod kinds;
mod meetings;
mod members;
pub mod model;
mod models;
mod openings;
mod shapes;
mod twice;
