//! Tests from outside, in one binary: of the commands, against other hands, against bad input, and of the project's own order.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::float_cmp,
    clippy::manual_midpoint,
    clippy::cast_precision_loss,
    clippy::print_stderr,
    missing_docs,
    reason = "a test that cannot go on is a test that fails, and nobody reads its documentation"
)]

mod commands;
mod exchange;
mod house;
mod laws;
mod layers;
mod published;
mod reference;
mod refused;
mod saved;
mod schemas;
mod seeds;
mod support;
mod surfaces;
mod tidy;
