//! Order: masses in, whole bags out, rounded up once per material.
//!
//! Invariant: knows masses and bags; nothing of surfaces or files. Money is in exact decimals, here alone.

mod bags;
mod days;
mod packs;
mod price;
mod range;
mod reached;
mod staging;
mod student;

pub use bags::{Bags, count_bags};
pub use days::split_by_days;
pub use packs::{Packs, packs_of};
pub use price::Price;
pub use range::{CONFIDENCES, Range, combined, range_of};
pub use reached::reached_ratio;
pub use staging::stage_bags;
pub use student::{MOST_SAMPLES, samples_needed, student_t};
