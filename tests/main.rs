//! All integration tests, in one binary.

mod commands;
mod published;
mod refused;
mod schemas;
