//! How far a claim may be from our figure and still hold.
//!
//! Every tolerance is two standard deviations of its input, those of `[tolerance]`; what is measured twice, once for the plan
//! and once by us, may differ by both, the root of the sum of their squares.

use super::figures::{Figure, Parts};
use crate::intake::claims::{Basis, Quantity};
use crate::job::{Job, Tolerances};
use crate::model::Assumption;
use crate::order::combined;
use crate::takeoff::SurfaceTakeoff;
use crate::units::{INCH_M, POUND_PER_CUBIC_FOOT_KG_M3, Written};
use std::f64::consts::SQRT_2;

/// Every tolerance with its source.
pub(super) fn sources(tolerances: &Tolerances) -> Vec<Assumption> {
    let own = |key: &str, value: &str, unit: &str, source: &str| Assumption {
        key: format!("audit.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: source.to_owned(),
    };
    let mut all = tolerances.sources.clone();
    all.extend(tolerances.judged_sources.iter().cloned());
    let least = "lb/ft3 of cellulose in closed cavities; a density has no tolerance below it";
    all.push(own("minimum", "3.5", least, "US Standard Work Specifications 4.1103.1"));
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
    job: &Job,
) -> (f64, f64) {
    let tolerances = &job.tolerances;
    let ours = figure.value_si;
    let within = |tolerance_si: f64| (ours - tolerance_si, ours + tolerance_si);
    let (least, most) = match quantity {
        Quantity::GrossArea => within(gross_m2(parts, tolerances)),
        Quantity::NetArea => within(net_m2(parts, tolerances)),
        Quantity::BayArea => {
            within(combined([net_m2(parts, tolerances), tolerances.framing_share * parts.net_m2()].into_iter()))
        }
        Quantity::FramingFraction => within(tolerances.framing_share),
        Quantity::Depth | Quantity::SettledThickness | Quantity::InitialThickness => {
            within(tolerances.depth_m * SQRT_2)
        }
        Quantity::Density => {
            let (least, most) = within(ours * tolerances.density_share);
            let minimum = minimum_kg_m3(parts, job).filter(|minimum| ours >= minimum * (1.0 - 1e-9));
            (minimum.map_or(least, |minimum| least.max(minimum)), most)
        }
        Quantity::BagMass => within(ours * tolerances.bag_share),
        Quantity::Mass => {
            let (below, above) = mass_shares(parts, job);
            (ours * (1.0 - below), ours * (1.0 + parts.allowance()) * (1.0 + above))
        }
        Quantity::Bags => {
            let (below, above) = mass_shares(parts, job);
            let with_bag = |share: f64| combined([share, tolerances.bag_share].into_iter());
            // A plan may give the bags of the bays, or those to load, which are whole.
            let most = (ours * (1.0 + parts.allowance()) * (1.0 + with_bag(above))).ceil();
            return (ours * (1.0 - with_bag(below)), most);
        }
        Quantity::RValue | Quantity::UValue => {
            let share = if basis == Some(Basis::WholeAssembly) { tolerances.resistance_share } else { 0.0 };
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

/// Least density published for a fill in closed cavities; `None` where none is.
pub(super) fn least_density_kg_m3(job: &Job, fill: &str) -> Option<f64> {
    let choice = job.fills.iter().find(|choice| choice.rules.name == fill)?;
    choice.material.and_then(|material| material.least_density).map(|figure| figure.si)
}

/// The same for parts of one fill in closed cavities.
fn minimum_kg_m3(parts: &Parts<'_>, job: &Job) -> Option<f64> {
    let fills = parts.by_fill();
    let ([(fill, _)], true) = (fills.as_slice(), parts.is_closed()) else { return None };
    least_density_kg_m3(job, &fill.name)
}

/// Mass of the bays at that density, by their mass. Nought, which bounds nothing, where none is published, and where the job
/// itself packs more loosely, as a label may allow.
fn minimum_ratio(parts: &Parts<'_>, job: &Job) -> f64 {
    let ratio = minimum_kg_m3(parts, job).map(|minimum| minimum * parts.bay_m3() / parts.mass_kg());
    ratio.filter(|ratio| *ratio <= 1.0 + 1e-9).unwrap_or(0.0)
}

/// Of a mass, as shares of it, below and above: density, area, depth and framing. Below the minimum a density has no tolerance:
/// what cannot be measured better is left.
fn mass_shares(parts: &Parts<'_>, job: &Job) -> (f64, f64) {
    let tolerances = &job.tolerances;
    let volume = volume_share(parts, tolerances);
    let both = combined([tolerances.density_share, volume].into_iter());
    let at_minimum = 1.0 - minimum_ratio(parts, job) * (1.0 - volume);
    (both.min(at_minimum), both)
}

/// Of the volume of the bays, as a share of it: area, depth and framing.
fn volume_share(parts: &Parts<'_>, tolerances: &Tolerances) -> f64 {
    let net = parts.net_m2().max(f64::MIN_POSITIVE);
    let depth_m = parts.all.iter().filter_map(|surface| surface.filled_depth_m()).fold(f64::INFINITY, f64::min);
    let depth = if parts.is_closed() && depth_m > 0.0 && depth_m.is_finite() {
        tolerances.depth_m * SQRT_2 / depth_m
    } else {
        0.0
    };
    let framing = tolerances.framing_share / (1.0 - parts.framing_fraction().unwrap_or(0.0)).max(0.1);
    combined([net_m2(parts, tolerances) / net, depth, framing].into_iter())
}
