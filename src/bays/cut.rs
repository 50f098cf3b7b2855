//! Cutting a surface into bays.

use crate::finding::Finding;
use crate::geometry::Polygon;

/// One closed cavity between members.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    /// Number within the surface, from the left, then from below; counted from 1.
    pub number: u32,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline; empty (no rings) where only an area is known.
    pub outline: Polygon,
}

/// A piece that stays empty.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Why.
    pub reason: String,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline; empty (no rings) where only an area is known.
    pub outline: Polygon,
}

/// A surface cut into bays and pieces that stay empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayCut {
    /// What is filled.
    pub bays: Vec<Bay>,
    /// What is not.
    pub left_out: Vec<LeftOut>,
    /// What a person must know.
    pub findings: Vec<Finding>,
}
