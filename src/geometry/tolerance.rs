//! The tolerances, in one place.

/// Two points closer than this coincide, in metres.
pub const COINCIDENT_M: f64 = 1e-6;
/// A balance closes when its residual is within this fraction of its gross.
pub const BALANCE_RELATIVE: f64 = 1e-9;
/// A ring or piece of less area than this is rounding, not geometry, in square metres.
pub const NEGLIGIBLE_AREA_M2: f64 = 1e-10;
/// Points and edges closer than this are the same but for rounding, in metres.
pub const SAME_M: f64 = 1e-10;
