//! How far a claim may be from our figure and still hold.
//!
//! Every tolerance is two standard deviations of its input, those of `[tolerance]`; what is measured twice, once for the plan
//! and once by us, may differ by both, the root of the sum of their squares.

use super::figures::{Figure, Parts};
use crate::intake::claims::{Basis, Quantity};
use crate::job::Tolerances;
use crate::model::Assumption;
use crate::order::combined;
use crate::takeoff::SurfaceTakeoff;
use crate::units::{INCH_M, POUND_PER_CUBIC_FOOT_KG_M3, Written};
use std::f64::consts::SQRT_2;

/// How far a framing fraction may be off, as a share of gross less openings: framing in the wall is seldom what was drawn.
pub const FRAMING_SHARE: f64 = 0.02;
/// How far a resistance of a whole assembly may be beyond the limits of its methods.
pub(super) const RESISTANCE_SHARE: f64 = 0.05;

/// Every tolerance with its source.
pub(super) fn sources(tolerances: &Tolerances) -> Vec<Assumption> {
    let own = |key: &str, value: &str, unit: &str, source: &str| Assumption {
        key: format!("audit.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: source.to_owned(),
    };
    let mut all = tolerances.sources.clone();
    all.push(own("framing", "2", "points of the framing fraction", "common practice, no source"));
    all.push(own("resistance", "5", "% beyond the limits of ISO 6946", "common practice, no source"));
    all.push(own("label", "half a step of the last digit written", "", "16 CFR 460.11: R is rounded, from memory"));
    all.push(own("writing", "half a step of the last digit written", "", "of every claim on top"));
    all
}

/// From where to where a claim about a figure holds.
pub(super) fn band(
    parts: &Parts<'_>,
    figure: &Figure,
    (quantity, basis): (Quantity, Option<Basis>),
    written: &Written,
    tolerances: &Tolerances,
) -> (f64, f64) {
    let ours = figure.value_si;
    let within = |tolerance_si: f64| (ours - tolerance_si, ours + tolerance_si);
    let (least, most) = match quantity {
        Quantity::GrossArea => within(gross_m2(parts, tolerances)),
        Quantity::NetArea => within(net_m2(parts, tolerances)),
        Quantity::BayArea => within(combined([net_m2(parts, tolerances), FRAMING_SHARE * parts.net_m2()].into_iter())),
        Quantity::FramingFraction => within(FRAMING_SHARE),
        Quantity::Depth | Quantity::SettledThickness | Quantity::InitialThickness => {
            within(tolerances.depth_m * SQRT_2)
        }
        Quantity::Density => within(ours * tolerances.density_share),
        Quantity::BagMass => within(ours * tolerances.bag_share),
        Quantity::Mass => {
            let share = mass_share(parts, tolerances);
            (ours * (1.0 - share), ours * (1.0 + parts.allowance()) * (1.0 + share))
        }
        Quantity::Bags => {
            let share = combined([mass_share(parts, tolerances), tolerances.bag_share].into_iter());
            // A plan may give the bags of the bays, or those to load, which are whole.
            return (ours * (1.0 - share), (ours * (1.0 + parts.allowance()) * (1.0 + share)).ceil());
        }
        Quantity::RValue | Quantity::UValue => {
            let share = if basis == Some(Basis::WholeAssembly) { RESISTANCE_SHARE } else { 0.0 };
            let (least, most) = figure.limits_si.unwrap_or((ours, ours));
            (least * (1.0 - share), most * (1.0 + share))
        }
    };
    // What is written as ours to the last digit is ours.
    let step = writing(quantity, written) + 1e-9 * ours.abs();
    (least - step, most + step)
}

/// Half a step of the last digit written, where a figure is rounded so: an area of `252 ft2` is, a depth of `4 in` is not.
pub(super) fn writing(quantity: Quantity, written: &Written) -> f64 {
    let most_si = match quantity {
        Quantity::Depth | Quantity::SettledThickness | Quantity::InitialThickness => INCH_M / 32.0,
        Quantity::Density => 0.05 * POUND_PER_CUBIC_FOOT_KG_M3,
        Quantity::BagMass => 0.005 * written.si,
        Quantity::Bags => 0.0,
        _ => f64::INFINITY,
    };
    written.half_step_si.min(most_si)
}

/// Sides of a surface of one: of the box of its outline, else of a square of its area.
fn sides_m(surface: &SurfaceTakeoff) -> (f64, f64) {
    let one_m2 = (surface.gross_area_m2 / f64::from(surface.count.max(1))).max(0.0);
    let across = surface.outline_m.iter().flatten().map(|[x, _]| *x);
    let (from, to) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), x| (from.min(x), to.max(x)));
    if to > from { (to - from, one_m2 / (to - from)) } else { (one_m2.sqrt(), one_m2.sqrt()) }
}

/// Of the gross area: length and height of each surface, measured twice.
fn gross_m2(parts: &Parts<'_>, tolerances: &Tolerances) -> f64 {
    let of = |surface: &&SurfaceTakeoff| {
        let (length_m, height_m) = sides_m(surface);
        let count = f64::from(surface.count);
        combined([length_m, height_m].into_iter()) * tolerances.length_m * SQRT_2 * count
    };
    combined(parts.all.iter().map(of))
}

/// Of the net area: the openings' sides too.
fn net_m2(parts: &Parts<'_>, tolerances: &Tolerances) -> f64 {
    let of = |surface: &SurfaceTakeoff| {
        let count = f64::from(surface.count);
        surface
            .openings
            .iter()
            .map(|opening| opening.area_m2.max(0.0).sqrt() * SQRT_2 * tolerances.length_m * SQRT_2 * count)
            .collect::<Vec<f64>>()
    };
    let openings = parts.all.iter().flat_map(|surface| of(surface));
    combined(openings.chain([gross_m2(parts, tolerances)]))
}

/// Of a mass, as a share of it: density, area, depth and framing.
pub(super) fn mass_share(parts: &Parts<'_>, tolerances: &Tolerances) -> f64 {
    let net = parts.net_m2().max(f64::MIN_POSITIVE);
    let depth_m = parts.all.iter().filter_map(|surface| surface.filled_depth_m()).fold(f64::INFINITY, f64::min);
    let depth = if parts.is_closed() && depth_m > 0.0 && depth_m.is_finite() {
        tolerances.depth_m * SQRT_2 / depth_m
    } else {
        0.0
    };
    let framing = FRAMING_SHARE / (1.0 - parts.framing_fraction().unwrap_or(0.0)).max(0.1);
    combined([tolerances.density_share, net_m2(parts, tolerances) / net, depth, framing].into_iter())
}
