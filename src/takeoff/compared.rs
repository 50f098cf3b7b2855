//! The part of the contract that sets laid-out framing beside published fractions.

use crate::model::SurfaceKind;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The laid-out framing beside published fractions, over the surfaces of one kind and spacing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FramingComparison {
    /// Kind of the surfaces.
    pub kind: SurfaceKind,
    /// Spacing of their members; null where the model gives each of them.
    pub spacing_m: Option<f64>,
    /// Gross area less openings.
    pub net_area_m2: f64,
    /// Members as a fraction of it, as laid out.
    pub laid_out_fraction: f64,
    /// Mass of the fill as laid out.
    pub mass_kg: f64,
    /// Published fractions, and the bags they would have given; those for this spacing first.
    pub published: Vec<PublishedFraction>,
}

/// A published framing fraction of wood framing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PublishedFraction {
    /// The fraction.
    pub fraction: f64,
    /// Spacing that it is published for; null where it is for any.
    pub spacing_m: Option<f64>,
    /// Whether it is published for the spacing of these surfaces.
    pub applies: bool,
    /// Where it is published.
    pub source: String,
    /// How it is known.
    pub confidence: Confidence,
    /// Mass that it would have given.
    pub mass_kg: f64,
    /// Bags that it would have given less those of the takeoff, before rounding and allowance; null without a bag.
    pub bags_difference: Option<f64>,
}

/// How a published value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Confidence {
    /// Read where it is published, or in a copy.
    #[serde(rename = "read")]
    Read,
    /// Recalled, and not checked against the document.
    #[serde(rename = "from memory")]
    FromMemory,
}
