//! The part of the contract that says how heat goes through a surface.

use super::Confidence;
use crate::heat::{Films, Grade};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the figures are of.
pub const HEAT_BASIS: &str = "whole assembly";
/// What the figures are.
pub const HEAT_MARK: &str = "estimate from conductivities, not for the receipt";

/// Heat through one surface: its members and bays with the layers before and behind them. Resistances of different
/// surfaces are never added up or averaged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HeatTakeoff {
    /// What the figures are of: always `whole assembly`, which the R on a bag's label is not.
    pub basis: String,
    /// What they are: always `estimate from conductivities, not for the receipt`.
    pub mark: String,
    /// By parallel path, which is the upper limit of ISO 6946.
    pub parallel_path: ResistanceTakeoff,
    /// By isothermal planes, which is its lower limit.
    pub isothermal_planes: ResistanceTakeoff,
    /// The mean of both, by the combined method of ISO 6946.
    pub combined: ResistanceTakeoff,
    /// Most that the mean may be off, as a share of it: the limits' difference by twice the mean.
    pub error_share: f64,
    /// Members as a fraction of members and bays, by volume.
    pub framing_fraction: f64,
    /// The cavity through its depth, from its outer face; of a ceiling, roof or floor from its underside. What netting bulges
    /// beyond it is not in it, and what stays empty within bays, such as pipes, is taken as filled.
    pub cavity: Vec<HeatSliceTakeoff>,
    /// Conductivity of the framing.
    pub framing_w_mk: f64,
    /// Conductivity of the fill at its installed density.
    pub fill_w_mk: f64,
    /// The films and all layers but the cavity.
    pub layers: Vec<HeatLayerTakeoff>,
    /// Whose films were taken.
    pub films: Films,
    /// Grade of the installation, where one was asked for.
    pub grade: Option<Grade>,
    /// Void as a share of the bays' area, by that grade, through the whole depth and at R-1.
    pub void_share: f64,
    /// Share of gross less openings that stays empty and is no part of these figures.
    pub left_out_share: f64,
    /// What the usual default for the framing would have given; null where none is published.
    pub usual: Option<UsualHeat>,
}

/// A resistance, and the transmittance that is one by it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ResistanceTakeoff {
    /// Thermal resistance, films included.
    pub r_m2k_w: f64,
    /// Thermal transmittance.
    pub u_w_m2k: f64,
}

/// A slice of the cavity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HeatSliceTakeoff {
    /// Thickness.
    pub thickness_m: f64,
    /// Members in it as a fraction of the area of members and bays.
    pub framing_fraction: f64,
}

/// A film, or a layer that is the same all over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HeatLayerTakeoff {
    /// Name.
    pub name: String,
    /// Thickness; null of a film, and where only a resistance is known.
    pub thickness_m: Option<f64>,
    /// Conductivity; null where only a resistance is known.
    pub conductivity_w_mk: Option<f64>,
    /// Resistance.
    pub resistance_m2k_w: f64,
    /// Where its conductivity or resistance comes from.
    pub source: String,
}

/// What a published default for the framing would have given in the same layers, with members through the whole depth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct UsualHeat {
    /// The fraction.
    pub framing_fraction: f64,
    /// Where it is published.
    pub source: String,
    /// How it is known.
    pub confidence: Confidence,
    /// By parallel path.
    pub parallel_path: ResistanceTakeoff,
    /// By isothermal planes.
    pub isothermal_planes: ResistanceTakeoff,
    /// The mean of both.
    pub combined: ResistanceTakeoff,
}
