//! All integration tests, in one binary.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::float_cmp,
    clippy::manual_midpoint,
    missing_docs,
    reason = "a test that cannot go on is a test that fails, and nobody reads its documentation"
)]

mod commands;
mod laws;
mod published;
mod refused;
mod schemas;
mod surfaces;
