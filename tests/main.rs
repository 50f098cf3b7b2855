//! Tests from outside, in one binary.

mod laws;
mod published;
mod surfaces;
