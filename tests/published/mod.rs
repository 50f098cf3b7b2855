//! Against published standards, handbook tables, facts of the trade and walls laid out by hand.

mod assemblies;
mod attic;
mod audit;
mod closeout;
mod elevations;
mod fill;
mod framing;
mod heat;
mod how_sure;
mod labels;
mod layout_rules;
mod retrofit;
mod rig;
mod roof;
mod standard_practice;
