//! Where other parts of the building meet a surface.

use crate::source::Source;

/// What meets a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JunctionKind {
    /// Another wall, at an end of this one.
    Corner,
    /// A partition, somewhere along this wall.
    Partition,
}

/// Where another wall meets this one.
#[derive(Clone, Debug, PartialEq)]
pub struct Junction {
    /// What meets it.
    pub kind: JunctionKind,
    /// Middle of the other wall along this surface's x, in metres; for a corner the end it is at.
    pub at_m: f64,
    /// Stretch of this surface's height, along its y, that the other wall shares, in metres; `None` where it is not
    /// known, and then it is all of it.
    pub reach_m: Option<[f64; 2]>,
    /// Where it was read; `None` where the sheet of this surface, or the job file, gives it.
    pub source: Option<Source>,
}

impl Junction {
    /// A corner of a wall that its own sheet gives, at the end at a place in metres.
    pub fn corner(at_m: f64) -> Self {
        Self { kind: JunctionKind::Corner, at_m, reach_m: None, source: None }
    }

    /// A partition that meets a wall, as its own sheet gives it, at a place in metres from the left end.
    pub fn partition(at_m: f64) -> Self {
        Self { kind: JunctionKind::Partition, at_m, reach_m: None, source: None }
    }
}

/// A stretch of a wall's height that the structure of a floor runs into.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorBand {
    /// Underside of the floor structure, along this surface's y, in metres.
    pub from_m: f64,
    /// Its top (that of the subfloor), in metres.
    pub to_m: f64,
    /// Where it was read; `None` where the sheet of this surface, or the job file, gives it.
    pub source: Option<Source>,
}
