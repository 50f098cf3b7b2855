//! What a claim would be by each known mistake.

use super::cause::{Cause, Prediction, Seen};
use super::figures::Parts;
use super::tolerance::writing;
use crate::intake::claims::{Basis, Claim, Quantity};
use crate::takeoff::{FramingComparison, SurfaceTakeoff};
use crate::units::{INCH_M, POUND_KG};

/// A figure that was rounded on the way may differ by so much.
const ROUNDED_SHARE: f64 = 0.005;
/// A framing fraction that was rounded on the way may differ by so much.
const NEAR_FRACTION: f64 = 0.005;
/// More parts than this give sums for nearly any claim.
const MOST_PARTS: usize = 60;
/// Net masses that bags are sold at.
const BAGS_LB: [f64; 3] = [25.0, 28.0, 30.0];
/// Nominal sizes.
const NOMINAL_IN: [f64; 5] = [4.0, 6.0, 8.0, 10.0, 12.0];

/// What the claim would be by each mistake that bears on it.
pub(super) fn predictions(seen: &Seen<'_>) -> Vec<Prediction> {
    match seen.claim.quantity {
        Quantity::RValue | Quantity::UValue => resistances(seen),
        Quantity::SettledThickness => installed(seen),
        Quantity::Depth => nominal_depths(seen),
        Quantity::FramingFraction => fractions(seen),
        Quantity::GrossArea | Quantity::NetArea | Quantity::BayArea | Quantity::Mass | Quantity::Bags => extents(seen),
        Quantity::InitialThickness | Quantity::Density | Quantity::BagMass => Vec::new(),
    }
}

fn point(cause: Cause, value_si: f64, tolerance_si: f64, message: String) -> Prediction {
    Prediction { cause, value_si, made_of_it_si: Vec::new(), tolerance_si, message }
}

fn at(seen: &Seen<'_>, cause: Cause, value_si: f64, share: f64, message: String) -> Prediction {
    let tolerance_si = writing(seen.claim.quantity, &seen.claim.value) + share * value_si.abs();
    point(cause, value_si, tolerance_si, message)
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
        _ => parts.bags(seen.group.bag_kg()).unwrap_or(0.0),
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

/// A prediction of an extent. Of bags people write those of the bays and those to load, either of them rounded up or not; of a
/// mass, that of the bays and the one with the allowance.
fn extent(seen: &Seen<'_>, cause: Cause, value_si: f64, message: String) -> Prediction {
    let loaded_si = value_si * (1.0 + seen.parts.allowance());
    let made_of_it_si = match seen.claim.quantity {
        // As an order is: a hair above a whole bag is that bag.
        Quantity::Bags => vec![(value_si - 1e-9).ceil(), loaded_si, (loaded_si - 1e-9).ceil()],
        Quantity::Mass => vec![loaded_si],
        _ => return at(seen, cause, value_si, ROUNDED_SHARE, message),
    };
    Prediction { cause, value_si, made_of_it_si, tolerance_si: ROUNDED_SHARE * value_si, message }
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

/// Where the plan gives its bag, its bags are compared by their mass, and another bag is no mistake.
fn other_bags(seen: &Seen<'_>) -> Vec<Prediction> {
    if seen.group.bag_kg().is_some() {
        return Vec::new();
    }
    let own_kg: Vec<f64> = seen.parts.by_fill().iter().filter_map(|(fill, _)| fill.bag_kg).collect();
    let is_other = |mass_kg: &f64| own_kg.iter().all(|own_kg| (mass_kg - own_kg).abs() > 0.005 * own_kg);
    let of = |bag_kg: f64| {
        let message = format!("equals our mass in bags of {:.1} lb", bag_kg / POUND_KG);
        extent(seen, Cause::OtherBag, seen.parts.mass_kg() / bag_kg, message)
    };
    BAGS_LB.iter().map(|pounds| pounds * POUND_KG).filter(is_other).map(of).collect()
}

/// Published fractions for the kinds of the parts, each once, with the first source of it.
fn defaults(seen: &Seen<'_>) -> Vec<(f64, String)> {
    let is_of = |comparison: &&FramingComparison| seen.parts.all.iter().any(|part| part.kind == comparison.kind);
    let mut all: Vec<(f64, String)> = Vec::new();
    let published = seen.parts.takeoff.framing.iter().filter(is_of).flat_map(|comparison| &comparison.published);
    for one in published.filter(|one| one.applies) {
        if all.iter().all(|(fraction, _)| (fraction - one.fraction).abs() > 1e-9) {
            all.push((one.fraction, one.source.clone()));
        }
    }
    all
}

fn fractions(seen: &Seen<'_>) -> Vec<Prediction> {
    let tolerance_si = seen.claim.value.half_step_si.min(NEAR_FRACTION);
    let of = |(fraction, source): (f64, String)| {
        let message = format!("equals the {:.0} % of {source}", fraction * 100.0);
        point(Cause::DefaultFraming, fraction, tolerance_si, message)
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
    vec![point(Cause::NominalDepth, nominal_m, half, message)]
}

fn installed(seen: &Seen<'_>) -> Vec<Prediction> {
    let initial = seen.parts.all.iter().filter_map(|part| part.open_blown.as_ref()?.initial_m);
    let message = || "equals our initial thickness".to_owned();
    let of = |initial_m: f64| point(Cause::InstalledForSettled, initial_m, INCH_M / 8.0, message());
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
        let share = if is_whole { seen.job.tolerances.resistance_share } else { 0.0 };
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
