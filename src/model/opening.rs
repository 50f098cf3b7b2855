//! Openings through a surface.

use crate::geometry::Polygon;
use crate::source::Source;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What fills an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum OpeningKind {
    /// A window.
    Window,
    /// A door, down to the floor.
    Door,
    /// An access hatch.
    Hatch,
    /// A skylight.
    Skylight,
    /// A masonry chimney.
    Chimney,
    /// A flue or vent pipe.
    Flue,
    /// A recessed light.
    Light,
    /// Anything else, or not said.
    Other,
}

impl OpeningKind {
    /// The word that people read.
    pub fn word(self) -> &'static str {
        match self {
            Self::Window => "window",
            Self::Door => "door",
            Self::Hatch => "hatch",
            Self::Skylight => "skylight",
            Self::Chimney => "chimney",
            Self::Flue => "flue",
            Self::Light => "light",
            Self::Other => "opening",
        }
    }
}

/// How a flue or chimney is built, which decides how far fill stays off it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FlueKind {
    /// A double-wall gas vent of type B.
    TypeB,
    /// A single-wall pipe.
    SingleWall,
    /// A masonry chimney inside the house.
    Masonry,
}

/// A hole through a surface.
///
/// Within one surface no two openings overlap: a later one keeps only what an earlier one left.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// GlobalId, or the sheet's own id.
    pub id: String,
    /// Its name in a model, where it has one.
    pub name: Option<String>,
    /// What fills it.
    pub kind: OpeningKind,
    /// Where it was read; `None` for a hole that the body itself has.
    pub source: Option<Source>,
    /// What it takes from the surface, in square metres.
    pub area_m2: f64,
    /// How a flue or chimney is built, where the input says so.
    pub flue: Option<FlueKind>,
    /// How far fill stays off it, in metres, where the input says so: none around a light rated for contact.
    pub clearance_m: Option<f64>,
    /// Its shape in the surface's plane, in one or several pieces; empty where only an area is known.
    pub outline: Vec<Polygon>,
}
