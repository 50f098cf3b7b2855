//! Order: masses in, whole bags out, rounded up once per material.
//!
//! Invariant: knows masses and bags; nothing of surfaces or files.

mod bags;
mod staging;

pub use bags::{Bags, count_bags};
pub use staging::stage_bags;
