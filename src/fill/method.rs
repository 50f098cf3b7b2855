//! How the fill gets into bays.

use crate::units::{FOOT_M, INCH_M};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How the fill gets into bays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FillMethod {
    /// Through a tube that is pushed into each closed bay from one hole.
    Tube,
    /// Through short nozzles in two holes a bay, one high and one low.
    #[serde(rename = "two holes")]
    TwoHoles,
    /// Through slits in netting over bays that stand open.
    Netting,
    /// Blown open from above.
    Open,
}

impl FillMethod {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Tube, Self::TwoHoles, Self::Netting, Self::Open];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Tube => "tube",
            Self::TwoHoles => "two holes",
            Self::Netting => "netting",
            Self::Open => "open",
        }
    }

    /// Whether its holes are drilled, and plugged afterwards.
    pub fn is_drilled(self) -> bool {
        matches!(self, Self::Tube | Self::TwoHoles)
    }
}

/// Where filling holes go.
///
/// # Source
/// One hole of 2 1/2 in., or two holes, a bay: US Department of Energy, Weatherization Assistance
/// Program standardized curriculum, 2012, dense-pack sidewalls. The reaches and the spacing: common
/// practice, no source.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleRules {
    /// Height of a bay that one hole serves with a tube, or one slit in netting, in metres.
    pub tube_reach_m: f64,
    /// Height of a bay that two holes serve, in metres.
    pub two_holes_reach_m: f64,
    /// Height from which a bay gets two holes, in metres; a lower one gets one.
    pub two_holes_from_m: f64,
    /// Width of a bay that one hole serves, in metres: a cavity that is open from side to side gets a hole for each.
    pub hole_spacing_m: f64,
    /// Diameter of a hole, in metres.
    pub hole_diameter_m: f64,
}

impl Default for HoleRules {
    fn default() -> Self {
        Self {
            tube_reach_m: 8.0 * FOOT_M,
            two_holes_reach_m: 8.0 * FOOT_M,
            two_holes_from_m: 2.0 * FOOT_M,
            hole_spacing_m: 24.0 * INCH_M,
            hole_diameter_m: 2.5 * INCH_M,
        }
    }
}
