//! Surface films: the resistance between a face and the air before it.

use crate::model::SurfaceKind;
use crate::units::HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Slopes steeper than this, in degrees, count as upright: heat flows within 30 degrees of the horizontal.
///
/// # Source
/// ISO 6946:2017, 6.8 (2007: 5.2), from memory.
const STEEP_DEG: f64 = 60.0;

/// Whose films are taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Films {
    /// Those of the ASHRAE Handbook of Fundamentals: still air inside, a winter wind of 15 mph outside.
    #[default]
    #[serde(rename = "ASHRAE")]
    Ashrae,
    /// Those of ISO 6946.
    #[serde(rename = "ISO 6946")]
    Iso6946,
}

/// Which way heat flows through a surface in winter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeatFlow {
    /// Through a wall.
    Horizontal,
    /// Through a ceiling or a roof.
    Up,
    /// Through a floor.
    Down,
}

impl HeatFlow {
    /// The way through a surface; a roof steeper than 60 degrees counts as a wall.
    pub fn through(kind: SurfaceKind, pitch_deg: Option<f64>) -> Self {
        match kind {
            SurfaceKind::Wall => Self::Horizontal,
            SurfaceKind::Roof if pitch_deg.is_some_and(|pitch_deg| pitch_deg > STEEP_DEG) => Self::Horizontal,
            SurfaceKind::Roof | SurfaceKind::Ceiling => Self::Up,
            SurfaceKind::Floor => Self::Down,
        }
    }
}

/// A film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// Resistance, in square metres and kelvins per watt.
    pub resistance_m2k_w: f64,
    /// The value as its source gives it.
    pub value: &'static str,
    /// Unit of that value.
    pub unit: &'static str,
    /// Where it is published.
    pub source: &'static str,
}

impl Films {
    /// The words for them in a job file.
    pub const WORDS: [(&'static str, Self); 2] = [("ashrae", Self::Ashrae), ("iso 6946", Self::Iso6946)];

    /// The word that people read.
    pub fn word(self) -> &'static str {
        match self {
            Self::Ashrae => "ASHRAE",
            Self::Iso6946 => "ISO 6946",
        }
    }

    /// Film of a face towards a room, or towards an unheated one: the air there stands still too.
    ///
    /// # Source
    /// ASHRAE Handbook of Fundamentals, edition of 2005, chapter 25, table 1, as copied in an open simulation library; ISO
    /// 6946:2017, table 7 (2007: table 1), from memory but for the horizontal one, which is read in a worked example.
    pub fn inside(self, flow: HeatFlow) -> Film {
        match (self, flow) {
            (Self::Ashrae, HeatFlow::Horizontal) => ashrae(0.68, "0.68"),
            (Self::Ashrae, HeatFlow::Up) => ashrae(0.61, "0.61"),
            (Self::Ashrae, HeatFlow::Down) => ashrae(0.92, "0.92"),
            (Self::Iso6946, HeatFlow::Horizontal) => iso(0.13, "0.13"),
            (Self::Iso6946, HeatFlow::Up) => iso(0.10, "0.10"),
            (Self::Iso6946, HeatFlow::Down) => iso(0.17, "0.17"),
        }
    }

    /// Film of a face towards the outdoors.
    ///
    /// # Source
    /// As of `inside`.
    pub fn outside(self) -> Film {
        match self {
            Self::Ashrae => ashrae(0.17, "0.17"),
            Self::Iso6946 => iso(0.04, "0.04"),
        }
    }
}

fn ashrae(resistance: f64, value: &'static str) -> Film {
    Film {
        resistance_m2k_w: resistance * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W,
        value,
        unit: "h ft2 F/Btu",
        source: "ASHRAE Fundamentals 2005, ch. 25, table 1",
    }
}

fn iso(resistance_m2k_w: f64, value: &'static str) -> Film {
    Film { resistance_m2k_w, value, unit: "m2 K/W", source: "ISO 6946, table of surface resistances, from memory" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_steep_slope_is_a_wall_to_the_air() {
        assert_eq!(HeatFlow::through(SurfaceKind::Roof, Some(45.0)), HeatFlow::Up);
        assert_eq!(HeatFlow::through(SurfaceKind::Roof, Some(70.0)), HeatFlow::Horizontal);
        assert_eq!(HeatFlow::through(SurfaceKind::Roof, None), HeatFlow::Up);
        assert_eq!(HeatFlow::through(SurfaceKind::Floor, Some(0.0)), HeatFlow::Down);
    }

    // ASHRAE Fundamentals 2005, chapter 25, table 1: 0.68 is what ISO 6946 rounds to 0.13 (0.120 m2 K/W), not the same.
    #[test]
    fn the_two_sets_of_films_are_near_each_other() {
        for flow in [HeatFlow::Horizontal, HeatFlow::Up, HeatFlow::Down] {
            let (a, b) = (Films::Ashrae.inside(flow), Films::Iso6946.inside(flow));
            assert!((a.resistance_m2k_w - b.resistance_m2k_w).abs() < 0.015, "{flow:?}");
        }
        assert!((Films::Ashrae.outside().resistance_m2k_w - 0.03).abs() < 0.001);
    }
}
