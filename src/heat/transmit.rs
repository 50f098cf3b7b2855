//! From the layers of a surface to its resistance.

use super::cavity::{Cavity, Way};
use super::layers::CavityLayer;
use super::limits::{Combined, Section, combined};
use crate::units::HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Resistance of the air in a void, in square metres and kelvins per watt: R-1.
///
/// # Source
/// A closed air space in an open simulation library's table of materials.
pub const AIR_IN_VOID_M2K_W: f64 = HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;

/// How well the fill is installed: the share of the cavity's area, members not included, that is void.
///
/// # Source
/// ANSI/RESNET/ICC 301, grades of installation: none, up to 2 % and up to 5 % missing (from memory). That the share is one
/// of the cavity's area, and not of the wall's, is our reading; the void is through the whole depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Grade {
    /// No void.
    I,
    /// 2 %.
    #[serde(rename = "II")]
    Ii,
    /// 5 %.
    #[serde(rename = "III")]
    Iii,
}

impl Grade {
    /// The words for them in a job file.
    pub const WORDS: [(&'static str, Self); 3] = [("i", Self::I), ("ii", Self::Ii), ("iii", Self::Iii)];

    /// The word that people read.
    pub fn word(self) -> &'static str {
        match self {
            Self::I => "I",
            Self::Ii => "II",
            Self::Iii => "III",
        }
    }

    /// Void as a share of the cavity's area.
    pub fn void_share(self) -> f64 {
        match self {
            Self::I => 0.0,
            Self::Ii => 0.02,
            Self::Iii => 0.05,
        }
    }
}

/// What a surface comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Transmitted {
    /// Both limits and their mean.
    pub combined: Combined,
    /// Framing as a fraction of the volume.
    pub framing_fraction: f64,
    /// Framing in each slice of the cavity, as a fraction of the area.
    pub slice_fraction: Vec<f64>,
}

/// Resistance of a cavity between layers that are the same all over, films among them, whose resistances are
/// `series_m2k_w`. `void_share` of the area between members is air. `None` where there is no resistance.
pub fn transmit(cavity: &Cavity, layer: CavityLayer, void_share: f64, series_m2k_w: &[f64]) -> Option<Transmitted> {
    let mut sections = Vec::new();
    for way in cavity.ways.iter().filter(|way| way.fraction > 0.0) {
        for solid in split(way) {
            sections.extend(with_voids(&solid, cavity, layer, void_share));
        }
    }
    for section in &mut sections {
        section.layers_m2k_w.extend_from_slice(series_m2k_w);
    }
    Some(Transmitted {
        combined: combined(&sections)?,
        framing_fraction: cavity.framing_fraction(),
        slice_fraction: cavity.fractions(),
    })
}

/// A way in which each slice is either framing or fill.
struct SolidWay {
    fraction: f64,
    is_solid: Vec<bool>,
}

/// Parts a way where members are not solid: diagonals of one web are taken one behind the other.
fn split(way: &Way) -> Vec<SolidWay> {
    let mut shares: Vec<f64> = way.solid_share.iter().map(|share| share.clamp(0.0, 1.0)).collect();
    shares.push(1.0);
    shares.sort_by(f64::total_cmp);
    let mut ways = Vec::new();
    let mut from = 0.0;
    for to in shares {
        if to > from {
            let is_solid = way.solid_share.iter().map(|share| *share >= to).collect();
            ways.push(SolidWay { fraction: way.fraction * (to - from), is_solid });
            from = to;
        }
    }
    ways
}

/// The section of a way, and the one of its voids.
fn with_voids(way: &SolidWay, cavity: &Cavity, layer: CavityLayer, void_share: f64) -> Vec<Section> {
    let depth_m = cavity.depth_m();
    let section = |share: f64, of_fill: &dyn Fn(f64) -> f64| Section {
        fraction: way.fraction * share,
        layers_m2k_w: way
            .is_solid
            .iter()
            .zip(&cavity.slices_m)
            .map(|(is_solid, slice_m)| if *is_solid { slice_m / layer.framing_w_mk } else { of_fill(*slice_m) })
            .collect(),
    };
    let filled = |slice_m: f64| slice_m / layer.fill_w_mk;
    let void = |slice_m: f64| AIR_IN_VOID_M2K_W * slice_m / depth_m;
    if void_share <= 0.0 || way.is_solid.iter().all(|is_solid| *is_solid) {
        return vec![section(1.0, &filled)];
    }
    vec![section(1.0 - void_share, &filled), section(void_share, &void)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const WALL: CavityLayer = CavityLayer { framing_w_mk: 0.12, fill_w_mk: 0.04 };

    // By hand: 0.14 / 0.04 = 3.5 and films of 0.17.
    #[test]
    fn without_framing_all_methods_agree() {
        let of = transmit(&Cavity::of_fraction(0.0, 0.14), WALL, 0.0, &[0.17]).unwrap();
        assert!((of.combined.upper_m2k_w - 3.67).abs() < 1e-12 && (of.combined.lower_m2k_w - 3.67).abs() < 1e-12);
        assert_eq!(of.framing_fraction, 0.0);
    }

    // By hand: a quarter of the web is solid, so that 0.1 x 0.25 goes through 0.3 m of wood and 0.1 x 0.75 through a chord
    // of 0.05 m alone.
    #[test]
    fn an_open_web_is_parted_into_wood_and_fill() {
        let ways = vec![
            Way { fraction: 0.1, solid_share: vec![1.0, 0.25] },
            Way { fraction: 0.9, solid_share: vec![0.0, 0.0] },
        ];
        let cavity = Cavity { slices_m: vec![0.05, 0.25], ways };
        let of = transmit(&cavity, WALL, 0.0, &[0.2]).unwrap();
        let (wood, chord, clear) = (0.3 / 0.12 + 0.2, 0.05 / 0.12 + 0.25 / 0.04 + 0.2, 0.3 / 0.04 + 0.2);
        let upper = 1.0 / (0.025 / wood + 0.075 / chord + 0.9 / clear);
        assert!((of.combined.upper_m2k_w - upper).abs() < 1e-12);
        let lower = 1.0 / (0.1 / (0.05 / 0.12) + 0.9 / (0.05 / 0.04))
            + 1.0 / (0.025 / (0.25 / 0.12) + 0.975 / (0.25 / 0.04))
            + 0.2;
        assert!((of.combined.lower_m2k_w - lower).abs() < 1e-12);
    }

    proptest! {
        // More wood or more voids never insulate better; the limits enclose the mean.
        #[test]
        fn bridges_and_voids_only_cost(fraction in 0.0..0.5_f64, more in 0.0..0.4_f64, void in 0.0..0.1_f64) {
            let of = |fraction: f64, void: f64| {
                transmit(&Cavity::of_fraction(fraction, 0.14), WALL, void, &[0.17, 0.09]).unwrap().combined
            };
            let (plain, framed, voided) = (of(fraction, 0.0), of(fraction + more, 0.0), of(fraction, void));
            for worse in [framed, voided] {
                prop_assert!(worse.upper_m2k_w <= plain.upper_m2k_w + 1e-9);
                prop_assert!(worse.lower_m2k_w <= plain.lower_m2k_w + 1e-9);
                prop_assert!(worse.lower_m2k_w <= worse.upper_m2k_w + 1e-9);
            }
        }
    }
}
