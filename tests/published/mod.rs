//! Against published standards, handbook tables, facts of the trade and walls laid out by hand.

mod attic;
mod fill;
mod framing;
mod retrofit;
mod roof;
