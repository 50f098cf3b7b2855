//! Somebody's plan: what it claims of surfaces, groups of them, or the whole job.
//!
//! Invariant: reads figures with their place and the words they are written in; judges none of them.

mod sheet;

use super::selection::Selection;
use crate::finding::Finding;
use crate::model::Input;
use crate::source::Place;
use crate::units::Written;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use sheet::{CLAIMS_SCHEMA, read_claims_sheet};

/// What a figure is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Quantity {
    /// Area with the openings filled.
    GrossArea,
    /// Gross area less openings.
    NetArea,
    /// Area of the bays: gross less openings, framing and what stays empty.
    BayArea,
    /// Framing as a fraction of gross less openings.
    FramingFraction,
    /// Depth that is filled.
    Depth,
    /// Settled thickness of open-blown fill.
    SettledThickness,
    /// Initial installed thickness of open-blown fill.
    InitialThickness,
    /// Installed density.
    Density,
    /// Mass of the fill.
    Mass,
    /// Bags.
    Bags,
    /// Net mass of a bag.
    BagMass,
    /// Thermal resistance.
    RValue,
    /// Thermal transmittance.
    UValue,
}

/// What a resistance or transmittance is of. Unlike ones are not compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// The fill alone, as the label of the bag has it; HPXML's `NominalRValue`.
    Label,
    /// Framing, layers and films together; HPXML's `AssemblyEffectiveRValue`.
    WholeAssembly,
}

/// A figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// Where it stands.
    pub place: Place,
    /// What it is of.
    pub quantity: Quantity,
    /// The figure in SI, with its words.
    pub value: Written,
    /// What it is of, for resistances and transmittances.
    pub basis: Option<Basis>,
}

/// What is claimed of the same surfaces together.
#[derive(Clone, Debug, PartialEq)]
pub struct ClaimGroup {
    /// Where it stands.
    pub place: Place,
    /// Which surfaces.
    pub selection: Selection,
    /// R per inch that the plan multiplied by, where it says so, in square metres and kelvins per watt.
    pub r_per_inch_m2k_w: Option<f64>,
    /// Its figures.
    pub claims: Vec<Claim>,
}

impl ClaimGroup {
    /// Net mass of the bag that its bags are counted in, where it gives one.
    pub fn bag_kg(&self) -> Option<f64> {
        let of_bag = self.claims.iter().find(|claim| claim.quantity == Quantity::BagMass);
        of_bag.map(|claim| claim.value.si).filter(|mass_kg| *mass_kg > 0.0)
    }
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The file.
    pub input: Input,
    /// What is claimed, in its order.
    pub groups: Vec<ClaimGroup>,
    /// What was odd, and what is not used.
    pub findings: Vec<Finding>,
}
