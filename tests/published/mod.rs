//! Against published standards, handbook tables and walls laid out by hand.

mod framing;
