//! All integration tests, in one binary.

mod commands;
mod exchange;
mod laws;
mod published;
mod refused;
mod schemas;
mod surfaces;
