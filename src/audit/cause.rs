//! Likely causes of a claim that falls short: a fixed list, each with one numeric test.
//!
//! A cause fits where the claim is what the mistake would have given. Of several that fit, the nearest is named; none, where
//! two are as near as each other.

use super::figures::Parts;
use super::tolerance::{FRAMING_SHARE, writing};
use crate::intake::claims::{Basis, Claim, ClaimGroup, Quantity};
use crate::job::Job;
use crate::takeoff::{FramingComparison, PublishedFraction, SurfaceTakeoff};
use crate::units::{INCH_M, POUND_KG};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A likely cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// Openings were not taken off.
    GrossForNet,
    /// Framing was not taken off.
    FramingLeftIn,
    /// A usual framing fraction stands for the framing itself.
    DefaultFraming,
    /// The nominal size of the lumber was taken for the depth.
    NominalDepth,
    /// A part was counted twice.
    CountedTwice,
    /// R was multiplied from R per inch.
    RPerInch,
    /// R-values of parts were added.
    RAdded,
    /// Installed thickness was taken for settled.
    InstalledForSettled,
    /// Bags of another mass were counted.
    OtherBag,
    /// The density that the bags come to is below the minimum.
    DensityBelowMinimum,
}

/// The causes in the order in which they are looked for: what each is, and its test.
pub const CAUSES: [(Cause, &str, &str); 10] = [
    (Cause::GrossForNet, "openings were not taken off", "the claim is what the gross area gives"),
    (Cause::FramingLeftIn, "framing was not taken off", "the claim is what gross less openings gives"),
    (
        Cause::DefaultFraming,
        "a usual framing fraction was used",
        "the claim is a fraction published for such framing, or what gross less openings gives with it",
    ),
    (
        Cause::NominalDepth,
        "the nominal size was taken for the depth",
        "the claim is 4, 6, 8, 10 or 12 in. where the lumber is 1/4 to 3/4 in. less, or what that depth gives",
    ),
    (Cause::CountedTwice, "a part was counted twice", "the claim is ours and one of its parts once more"),
    (
        Cause::RPerInch,
        "R was multiplied from R per inch, which 16 CFR 460.17 does not allow",
        "the claim is R per inch times a thickness of the plan or ours",
    ),
    (Cause::RAdded, "R-values of parts were added", "the claim is the sum of the R-values of its parts"),
    (
        Cause::InstalledForSettled,
        "installed thickness was taken for settled",
        "the claimed settled thickness is our initial thickness",
    ),
    (
        Cause::OtherBag,
        "the bags are of another mass",
        "the claim is our mass in bags of the plan's own mass, or of 25, 28 or 30 lb",
    ),
    (
        Cause::DensityBelowMinimum,
        "the density that they come to is below the minimum",
        "the claimed mass over our volume is below 3.5 lb/ft3 for cellulose (US Standard Work Specifications 4.1103.1), else \
         below the density of the job; looked for last",
    ),
];

/// What a cause is.
pub(super) fn meaning(cause: Cause) -> &'static str {
    CAUSES.iter().find(|(known, ..)| *known == cause).map_or("", |(_, meaning, _)| meaning)
}

/// Fits whose distances differ by less than this, in tolerances, are equal.
const EQUAL: f64 = 0.1;
/// A figure that was rounded on the way may differ by so much.
const ROUNDED_SHARE: f64 = 0.005;
/// More parts than this give sums for nearly any claim.
const MOST_PARTS: usize = 60;
/// Net masses that bags are sold at.
const BAGS_LB: [f64; 3] = [25.0, 28.0, 30.0];
/// Nominal sizes.
const NOMINAL_IN: [f64; 5] = [4.0, 6.0, 8.0, 10.0, 12.0];

/// What a claim would be by a mistake.
pub(super) struct Prediction {
    pub cause: Cause,
    pub value_si: f64,
    pub tolerance_si: f64,
    pub message: String,
}

/// What the tests look at.
pub(super) struct Seen<'a> {
    pub parts: &'a Parts<'a>,
    pub group: &'a ClaimGroup,
    pub claim: &'a Claim,
    pub job: &'a Job,
    /// From where to where the claim would hold.
    pub band_si: (f64, f64),
}

/// What the tests come to: the cause, or those that fit equally.
pub(super) enum Tested {
    None,
    Found(Prediction),
    Equal(Vec<Cause>),
}

/// Runs the tests.
pub(super) fn test(seen: &Seen<'_>) -> Tested {
    let claimed = seen.claim.value.si;
    let distance = |prediction: &Prediction| {
        (claimed - prediction.value_si).abs() / prediction.tolerance_si.max(1e-12 * claimed.abs()).max(1e-15)
    };
    // What would hold is no mistake.
    let is_mistake = |prediction: &Prediction| {
        !(seen.band_si.0..=seen.band_si.1).contains(&prediction.value_si) && distance(prediction) <= 1.0
    };
    let mut fitting: Vec<(f64, Prediction)> = predictions(seen)
        .into_iter()
        .filter(is_mistake)
        .map(|prediction| (distance(&prediction), prediction))
        .collect();
    fitting.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let Some((nearest, best)) = fitting.first().map(|(distance, best)| (*distance, best.cause)) else {
        return below_minimum(seen).map_or(Tested::None, Tested::Found);
    };
    let mut equal: Vec<Cause> =
        fitting.iter().filter(|(distance, _)| distance - nearest < EQUAL).map(|(_, one)| one.cause).collect();
    equal.sort_unstable();
    equal.dedup();
    if equal.len() > 1 {
        return Tested::Equal(equal);
    }
    match fitting.into_iter().find(|(_, one)| one.cause == best) {
        Some((_, found)) => Tested::Found(found),
        None => Tested::None,
    }
}

fn predictions(seen: &Seen<'_>) -> Vec<Prediction> {
    match seen.claim.quantity {
        Quantity::RValue | Quantity::UValue => resistances(seen),
        Quantity::SettledThickness => installed(seen),
        Quantity::Depth => nominal_depths(seen),
        Quantity::FramingFraction => fractions(seen),
        Quantity::GrossArea | Quantity::NetArea | Quantity::BayArea | Quantity::Mass | Quantity::Bags => extents(seen),
        Quantity::InitialThickness | Quantity::Density | Quantity::BagMass => Vec::new(),
    }
}

fn at(seen: &Seen<'_>, cause: Cause, value_si: f64, share: f64, message: String) -> Prediction {
    let tolerance_si = writing(seen.claim.quantity, &seen.claim.value) + share * value_si.abs();
    Prediction { cause, value_si, tolerance_si, message }
}

/// An area, a mass or bags, which grow alike with what is left in or counted twice.
fn extents(seen: &Seen<'_>) -> Vec<Prediction> {
    let parts = seen.parts;
    let quantity = seen.claim.quantity;
    let is_fill = matches!(quantity, Quantity::Mass | Quantity::Bags | Quantity::BayArea);
    let (gross, net, bays) = (parts.gross_m2(), parts.net_m2(), parts.bay_m2());
    let mut all = Vec::new();
    let own = match quantity {
        Quantity::GrossArea => gross,
        Quantity::NetArea => net,
        Quantity::BayArea => bays,
        Quantity::Mass => parts.mass_kg(),
        _ => parts.bags().unwrap_or(0.0),
    };
    let mut by_ratio = |cause: Cause, ratio: f64, message: String| all.push(extent(seen, cause, own * ratio, message));
    if quantity == Quantity::NetArea && parts.openings_m2() > 0.0 {
        by_ratio(Cause::GrossForNet, gross / net, "equals the gross area".to_owned());
    }
    if is_fill && bays > 0.0 && (quantity == Quantity::BayArea || parts.is_closed()) {
        if parts.openings_m2() > 0.0 {
            by_ratio(Cause::GrossForNet, gross / bays, "equals what the gross area gives".to_owned());
        }
        by_ratio(Cause::FramingLeftIn, net / bays, "equals what gross less openings gives".to_owned());
        for (fraction, source) in defaults(seen) {
            let message = format!("equals what a framing fraction of {:.0} % gives ({source})", fraction * 100.0);
            by_ratio(Cause::DefaultFraming, net * (1.0 - fraction) / bays, message);
        }
    }
    if matches!(quantity, Quantity::Mass | Quantity::Bags)
        && let Some((nominal_m, depth_m)) = nominal_of(parts)
    {
        let message = format!("equals what a depth of {:.0} in. gives", nominal_m / INCH_M);
        by_ratio(Cause::NominalDepth, nominal_m / depth_m, message);
    }
    all.extend(twice(seen, own));
    if quantity == Quantity::Bags {
        all.extend(other_bags(seen));
    }
    all
}

/// A prediction of an extent; of bags, anything from those of the bays to the whole ones to load.
fn extent(seen: &Seen<'_>, cause: Cause, value_si: f64, message: String) -> Prediction {
    if matches!(seen.claim.quantity, Quantity::Bags | Quantity::Mass) {
        let most = value_si * (1.0 + seen.parts.allowance());
        let most = if seen.claim.quantity == Quantity::Bags { most.ceil() } else { most };
        let (middle, half) = (f64::midpoint(value_si, most), (most - value_si) / 2.0);
        return Prediction { cause, value_si: middle, tolerance_si: half + ROUNDED_SHARE * value_si, message };
    }
    at(seen, cause, value_si, ROUNDED_SHARE, message)
}

/// Ours with one part once more.
fn twice(seen: &Seen<'_>, own: f64) -> Vec<Prediction> {
    let parts = seen.parts;
    let mass_kg = parts.mass_kg();
    if parts.all.len() > MOST_PARTS {
        return Vec::new();
    }
    let of = |surface: &SurfaceTakeoff| match seen.claim.quantity {
        Quantity::GrossArea => surface.gross_area_m2,
        Quantity::NetArea => surface.gross_area_m2 - surface.opening_area_m2,
        Quantity::BayArea => surface.bay_area_m2,
        Quantity::Mass => surface.mass_kg.unwrap_or(0.0),
        _ if mass_kg > 0.0 => own * surface.mass_kg.unwrap_or(0.0) / mass_kg,
        _ => 0.0,
    };
    let prediction = |surface: &&SurfaceTakeoff| {
        let message = format!("equals ours with {} once more", Parts::name(surface));
        let mut found = extent(seen, Cause::CountedTwice, own + of(surface), message);
        if !matches!(seen.claim.quantity, Quantity::Mass | Quantity::Bags) {
            // The part itself must fit, not a small share of a large sum.
            found.tolerance_si = seen.claim.value.half_step_si + ROUNDED_SHARE * of(surface);
        }
        found
    };
    parts.all.iter().filter(|surface| of(surface) > 0.0).map(prediction).collect()
}

fn other_bags(seen: &Seen<'_>) -> Vec<Prediction> {
    let own_kg: Vec<f64> = seen.parts.by_fill().iter().filter_map(|(fill, _)| fill.bag_kg).collect();
    let said = seen.group.claims.iter().find(|claim| claim.quantity == Quantity::BagMass).map(|claim| claim.value.si);
    let masses_kg: Vec<f64> = match said {
        Some(said_kg) => vec![said_kg],
        None => BAGS_LB.iter().map(|pounds| pounds * POUND_KG).collect(),
    };
    let is_other = |mass_kg: &&f64| own_kg.iter().all(|own_kg| (*mass_kg - own_kg).abs() > 0.005 * own_kg);
    let of = |bag_kg: &f64| {
        let message = format!("equals our mass in bags of {:.1} lb", bag_kg / POUND_KG);
        extent(seen, Cause::OtherBag, seen.parts.mass_kg() / bag_kg, message)
    };
    masses_kg.iter().filter(is_other).map(of).collect()
}

/// Published fractions for the kinds of the parts, each with its source.
fn defaults(seen: &Seen<'_>) -> Vec<(f64, String)> {
    let is_of = |comparison: &&FramingComparison| seen.parts.all.iter().any(|part| part.kind == comparison.kind);
    let applying = |comparison: &FramingComparison| -> Vec<PublishedFraction> {
        comparison.published.iter().filter(|one| one.applies).cloned().collect()
    };
    let all = seen.parts.takeoff.framing.iter().filter(is_of).flat_map(applying);
    all.map(|one| (one.fraction, one.source)).collect()
}

fn fractions(seen: &Seen<'_>) -> Vec<Prediction> {
    let of = |(fraction, source): (f64, String)| Prediction {
        cause: Cause::DefaultFraming,
        value_si: fraction,
        tolerance_si: seen.claim.value.half_step_si.min(FRAMING_SHARE / 4.0),
        message: format!("equals the {:.0} % of {source}", fraction * 100.0),
    };
    defaults(seen).into_iter().map(of).collect()
}

/// The nominal size of the parts' lumber, where all have one depth, and that depth.
fn nominal_of(parts: &Parts<'_>) -> Option<(f64, f64)> {
    let mut depths = parts.all.iter().map(|surface| surface.depth_m);
    let depth_m = depths.next()??;
    let is_same = |other: Option<f64>| other.is_some_and(|other_m| (other_m - depth_m).abs() < 1e-6);
    if !depths.all(is_same) || !parts.is_closed() {
        return None;
    }
    let nominal_in = NOMINAL_IN.into_iter().find(|nominal| {
        let less = nominal - depth_m / INCH_M;
        (0.2..=0.8).contains(&less)
    })?;
    Some((nominal_in * INCH_M, depth_m))
}

fn nominal_depths(seen: &Seen<'_>) -> Vec<Prediction> {
    let Some((nominal_m, _)) = nominal_of(seen.parts) else { return Vec::new() };
    let message = format!("equals the nominal {:.0} in.", nominal_m / INCH_M);
    let half = INCH_M / 32.0;
    vec![Prediction { cause: Cause::NominalDepth, value_si: nominal_m, tolerance_si: half, message }]
}

fn installed(seen: &Seen<'_>) -> Vec<Prediction> {
    let initial = seen.parts.all.iter().filter_map(|part| part.open_blown.as_ref()?.initial_m);
    let of = |initial_m: f64| Prediction {
        cause: Cause::InstalledForSettled,
        value_si: initial_m,
        tolerance_si: INCH_M / 8.0,
        message: "equals our initial thickness".to_owned(),
    };
    initial.map(of).collect()
}

fn resistances(seen: &Seen<'_>) -> Vec<Prediction> {
    let parts = seen.parts;
    let is_u = seen.claim.quantity == Quantity::UValue;
    let is_whole = seen.claim.basis == Some(Basis::WholeAssembly);
    let own = |part: &&SurfaceTakeoff| match (&part.heat, &part.label) {
        (Some(heat), _) if is_whole => Some(heat.combined.r_m2k_w),
        (_, Some(label)) if !is_whole => Some(label.r_m2k_w),
        _ => None,
    };
    let each: Vec<f64> = parts.all.iter().filter_map(own).collect();
    let mut all = Vec::new();
    let mut push = |cause: Cause, r_m2k_w: f64, share: f64, message: String| {
        let value_si = if is_u { 1.0 / r_m2k_w } else { r_m2k_w };
        all.push(at(seen, cause, value_si, share, message));
    };
    if each.len() > 1 && each.len() == parts.all.len() {
        let share = if is_whole { super::tolerance::RESISTANCE_SHARE } else { 0.0 };
        push(Cause::RAdded, each.iter().sum(), share, format!("equals the sum of the R of {} parts", each.len()));
    }
    if !is_u {
        for (per_inch, thickness_m) in per_inches(seen, &each) {
            let inches = thickness_m / INCH_M;
            let message = format!("equals {inches:.2} in. times R per inch");
            push(Cause::RPerInch, per_inch * inches, ROUNDED_SHARE, message);
        }
    }
    all
}

/// R per inch, and thicknesses that it may have been multiplied by.
fn per_inches(seen: &Seen<'_>, each: &[f64]) -> Vec<(f64, f64)> {
    let open = |part: &&SurfaceTakeoff| part.open_blown.clone();
    let first = seen.parts.all.first().and_then(open);
    let of_label = first.as_ref().zip(each.first()).map(|(open, r)| r / (open.settled_m / INCH_M));
    let Some(per_inch) = seen.group.r_per_inch_m2k_w.or(of_label) else { return Vec::new() };
    let is_thickness = |claim: &&Claim| {
        matches!(claim.quantity, Quantity::Depth | Quantity::SettledThickness | Quantity::InitialThickness)
    };
    let mut thicknesses: Vec<f64> = seen.group.claims.iter().filter(is_thickness).map(|claim| claim.value.si).collect();
    thicknesses.extend(first.iter().flat_map(|open| [Some(open.settled_m), open.initial_m]).flatten());
    thicknesses.extend(seen.parts.all.first().and_then(|part| part.depth_m));
    thicknesses.into_iter().map(|thickness_m| (per_inch, thickness_m)).collect()
}

/// The one test that is no equality, and so comes last.
fn below_minimum(seen: &Seen<'_>) -> Option<Prediction> {
    let parts = seen.parts;
    let volume_m3 = parts.bay_m3();
    if !parts.is_closed() || volume_m3 <= 0.0 {
        return None;
    }
    let fills = parts.by_fill();
    let [(fill, _)] = fills.as_slice() else { return None };
    let said = seen.group.claims.iter().find(|claim| claim.quantity == Quantity::BagMass).map(|claim| claim.value.si);
    let mass_kg = match seen.claim.quantity {
        Quantity::Bags => seen.claim.value.si * said.or(fill.bag_kg)?,
        Quantity::Mass => seen.claim.value.si,
        Quantity::Density => seen.claim.value.si * volume_m3,
        _ => return None,
    };
    let choice = seen.job.fills.iter().find(|choice| choice.rules.name == fill.name)?;
    let least = choice.material.and_then(|material| material.least_density);
    let least_kg_m3 = least.map_or(parts.mass_kg() / volume_m3, |figure| figure.si);
    let implied_kg_m3 = mass_kg / volume_m3;
    if implied_kg_m3 >= least_kg_m3 {
        return None;
    }
    let us = crate::units::UnitSystem::Us;
    let message = format!("comes to {}, below {}", us.show_density(implied_kg_m3), us.show_density(least_kg_m3));
    let value_si = seen.claim.value.si;
    Some(Prediction { cause: Cause::DensityBelowMinimum, value_si, tolerance_si: 0.0, message })
}
