//! Hose: friction of its sections, reducers and bends, with air alone and with fill in it.

use super::air::{GRAVITY_M_S2, air_density_kg_m3, air_viscosity_pa_s, standard_pressure_pa};
use super::friction::{darcy_weisbach_pa, friction_factor, reynolds_number, velocity_pressure_pa};
use crate::job::{Hose, HoseSection, Site};
use crate::units::FOOT_M;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Temperature of the air where nobody says, in kelvins: 20 °C.
pub(super) const AIR_K: f64 = 293.15;
/// Factor of a hose's length where nobody gives it: smooth bore, and ribbed hose.
///
/// # Source
/// Rubber and vinyl hose: five times its length of smooth pipe, a guide to pneumatic conveying, as copied by others.
pub const LENGTH_FACTORS: (f64, f64) = (1.0, 5.0);
/// What fill adds to the friction, for each part of its mass to the air's: rough, since none was found for cellulose.
///
/// # Source
/// Friction of air x (1 + K x solids ratio), a guide to pneumatic conveying; the range of K is common practice, no source.
pub const SOLIDS_FACTORS: (f64, f64) = (0.5, 1.0);
/// Length of hose that a bend of a long radius is worth: 40 diameters, or 20 ft.
///
/// # Source
/// A guide to pneumatic conveying, as copied by others.
const BEND_DIAMETERS: f64 = 40.0;
const BEND_M: f64 = 20.0 * FOOT_M;
/// Loss of a sudden contraction by the velocity pressure behind it, for each part of the area that goes.
///
/// # Source
/// Crane, Technical Paper 410, from memory; a tapered reducer loses less.
const CONTRACTION: f64 = 0.5;
/// How slowly fill rises, by the speed of the air: as fast, or half as fast (common practice, no source).
const SLIPS: (f64, f64) = (1.0, 2.0);

/// A loss of pressure that is known within a range.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LossRange {
    /// The least.
    pub least_pa: f64,
    /// The most.
    pub most_pa: f64,
}

/// The hose, with air flowing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HoseFigures {
    /// Air that flows.
    pub air_flow_m3_s: f64,
    /// Density of the air, at the outdoor pressure of the place.
    pub air_density_kg_m3: f64,
    /// Dynamic viscosity of the air.
    pub viscosity_pa_s: f64,
    /// Lengths of the hose, from the blower on.
    pub sections: Vec<SectionFigures>,
    /// Loss in the reducers.
    pub reducers_pa: f64,
    /// Loss in the bends.
    pub bends: LossRange,
    /// Mass of fill to mass of air; nought where no fill is given.
    pub solids_ratio: f64,
    /// What lifting the fill takes.
    pub lift: LossRange,
    /// Friction with air alone.
    pub air: LossRange,
    /// All of it with fill: rough.
    pub with_fill: LossRange,
    /// Most that the pressure within the hose takes off the friction of air, as a share of it: 1 - p / (p + that at the blower's
    /// outlet), with p outdoors. Friction goes with flow squared by density, and the air is no denser than at the outlet. It is
    /// left out of the losses, which are too high by no more; null without a curve of the blower.
    pub denser_share: Option<f64>,
    /// Pressure left at the nozzle while this air flows, least and most; null without a curve of the blower.
    pub nozzle: Option<LossRange>,
    /// Longest hose that still packs, by the most and by the least friction; null without a curve, and where even no hose
    /// would.
    pub longest_m: Option<[f64; 2]>,
}

/// A length of the hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SectionFigures {
    /// Inner diameter.
    pub diameter_m: f64,
    /// Length.
    pub length_m: f64,
    /// Speed of the air.
    pub speed_m_s: f64,
    /// Reynolds number.
    pub reynolds_number: f64,
    /// Roughness by diameter.
    pub roughness_ratio: f64,
    /// Darcy friction factor.
    pub friction_factor: f64,
    /// Loss along it as a pipe of this roughness, air alone.
    pub straight_pa: f64,
}

/// Friction of a hose; `None` where it has no section or nobody gives the flow of air.
pub fn hose_figures(hose: &Hose, site: &Site) -> Option<HoseFigures> {
    let air_flow_m3_s = hose.air_flow_m3_s?;
    let air_k = site.air_k.unwrap_or(AIR_K);
    let density_kg_m3 = air_density_kg_m3(standard_pressure_pa(site.altitude_m.unwrap_or(0.0)), air_k);
    let viscosity_pa_s = air_viscosity_pa_s(air_k);
    let of = |section: &HoseSection| {
        let speed_m_s = air_flow_m3_s / (std::f64::consts::PI * section.diameter_m * section.diameter_m / 4.0);
        let reynolds_number = reynolds_number(density_kg_m3, speed_m_s, section.diameter_m, viscosity_pa_s);
        let roughness_ratio = hose.roughness_m / section.diameter_m;
        let friction_factor = friction_factor(reynolds_number, roughness_ratio);
        let (length_m, diameter_m) = (section.length_m, section.diameter_m);
        let straight_pa = darcy_weisbach_pa(friction_factor, length_m, diameter_m, density_kg_m3, speed_m_s);
        SectionFigures {
            diameter_m,
            length_m,
            speed_m_s,
            reynolds_number,
            roughness_ratio,
            friction_factor,
            straight_pa,
        }
    };
    let sections: Vec<SectionFigures> = hose.sections.iter().map(of).collect();
    let narrowest = sections.iter().min_by(|a, b| a.diameter_m.total_cmp(&b.diameter_m))?;
    let bend_pa = |length_m: f64| f64::from(hose.bends) * pa_per_m(narrowest, density_kg_m3) * length_m;
    let by_diameter_m = BEND_DIAMETERS * narrowest.diameter_m;
    let bends = LossRange { least_pa: bend_pa(by_diameter_m.min(BEND_M)), most_pa: bend_pa(by_diameter_m.max(BEND_M)) };
    let solids_ratio = hose.solids_kg_s.unwrap_or(0.0) / (density_kg_m3 * air_flow_m3_s);
    let lift_pa = solids_ratio * density_kg_m3 * GRAVITY_M_S2 * hose.lift_m;
    let mut figures = HoseFigures {
        air_flow_m3_s,
        air_density_kg_m3: density_kg_m3,
        viscosity_pa_s,
        reducers_pa: reducers_pa(&sections, density_kg_m3),
        sections,
        bends,
        solids_ratio,
        lift: LossRange { least_pa: SLIPS.0 * lift_pa, most_pa: SLIPS.1 * lift_pa },
        air: LossRange::default(),
        with_fill: LossRange::default(),
        denser_share: None,
        nozzle: None,
        longest_m: None,
    };
    add_up(&mut figures, length_factors(hose));
    Some(figures)
}

/// Factors of the length, least and most.
pub(super) fn length_factors(hose: &Hose) -> (f64, f64) {
    hose.length_factor.map_or(LENGTH_FACTORS, |factor| (factor, factor))
}

/// Loss of a metre of a section, as a pipe.
pub(super) fn pa_per_m(section: &SectionFigures, density_kg_m3: f64) -> f64 {
    darcy_weisbach_pa(section.friction_factor, 1.0, section.diameter_m, density_kg_m3, section.speed_m_s)
}

/// What fill multiplies the friction of air by, at the least and at the most.
pub(super) fn solids_multipliers(solids_ratio: f64) -> (f64, f64) {
    (1.0 + SOLIDS_FACTORS.0 * solids_ratio, 1.0 + SOLIDS_FACTORS.1 * solids_ratio)
}

fn reducers_pa(sections: &[SectionFigures], density_kg_m3: f64) -> f64 {
    let pairs =
        sections.iter().zip(sections.iter().skip(1)).filter(|(wide, narrow)| narrow.diameter_m < wide.diameter_m);
    let loss_pa = |(wide, narrow): (&SectionFigures, &SectionFigures)| {
        let areas = (narrow.diameter_m / wide.diameter_m).powi(2);
        CONTRACTION * (1.0 - areas) * velocity_pressure_pa(density_kg_m3, narrow.speed_m_s)
    };
    pairs.map(loss_pa).fold(0.0, |sum, loss| sum + loss)
}

fn add_up(figures: &mut HoseFigures, factors: (f64, f64)) {
    let straight_pa = figures.sections.iter().fold(0.0, |sum, section| sum + section.straight_pa);
    let fixed_pa = figures.reducers_pa;
    let least_pa = straight_pa * factors.0 + figures.bends.least_pa + fixed_pa;
    let most_pa = straight_pa * factors.1 + figures.bends.most_pa + fixed_pa;
    let (least, most) = solids_multipliers(figures.solids_ratio);
    figures.air = LossRange { least_pa, most_pa };
    figures.with_fill = LossRange {
        least_pa: least_pa * least + figures.lift.least_pa,
        most_pa: most_pa * most + figures.lift.most_pa,
    };
}
