//! Against published standards, handbook tables, facts of the trade and walls laid out by hand.

mod elevations;
mod fill;
mod framing;
mod layout_rules;
