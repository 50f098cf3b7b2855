//! Likely causes of a claim that falls short: a fixed list, each with one numeric test.
//!
//! A cause fits where the claim is what the mistake would have given. Of several that fit, the nearest is named; where two are
//! as near as each other, the one of them that the claim meets exactly, and else none.

use super::figures::Parts;
use super::predict::predictions;
use super::tolerance::least_density_kg_m3;
use crate::intake::claims::{Claim, ClaimGroup, Quantity};
use crate::job::Job;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

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
        "the plan does not give its bag, and the claim is our mass in bags of 25, 28 or 30 lb",
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
/// Figures of one cause that a sentence names.
const NAMED: usize = 3;

/// What a claim would be by a mistake.
#[derive(Clone, Debug)]
pub(super) struct Prediction {
    pub cause: Cause,
    /// The figure itself.
    pub value_si: f64,
    /// What people make of it, greatest last: rounded up to a whole bag, with the allowance on top. A claim may be anything up
    /// to there.
    pub made_of_it_si: Vec<f64>,
    /// How far from all of it a claim may be.
    pub tolerance_si: f64,
    pub message: String,
}

impl Prediction {
    /// The greatest that people make of it.
    fn most_si(&self) -> f64 {
        self.made_of_it_si.iter().fold(self.value_si, |most, one| most.max(*one))
    }

    /// Half way from the figure to there.
    fn middle_si(&self) -> f64 {
        f64::midpoint(self.value_si, self.most_si())
    }

    /// How far a claim is from it, in tolerances; nought where it is anything that people make of the figure, as it is written.
    fn distance(&self, claim: &Claim) -> f64 {
        let claimed_si = claim.value.si;
        let step_si = if self.made_of_it_si.is_empty() { 0.0 } else { step_si(claim) };
        let apart_si = (self.value_si - claimed_si).max(claimed_si - self.most_si()) - step_si;
        apart_si.max(0.0) / self.tolerance_si.max(1e-12 * claimed_si.abs()).max(1e-15)
    }

    /// Whether a claim is the figure, or one that people make of it, to the last digit that was written.
    fn is_met(&self, claim: &Claim) -> bool {
        let is = |one: &f64| (claim.value.si - one).abs() <= step_si(claim) + 1e-6 * one.abs();
        is(&self.value_si) || self.made_of_it_si.iter().any(is)
    }
}

/// Half a step of the last digit of a claim. Whole bags are rounded up, and not to the nearest.
fn step_si(claim: &Claim) -> f64 {
    let is_whole = claim.quantity == Quantity::Bags && claim.value.half_step_si > 0.4;
    if is_whole { 0.0 } else { claim.value.half_step_si }
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
    // What would hold in the main is no mistake.
    let would_hold = |prediction: &Prediction| (seen.band_si.0..=seen.band_si.1).contains(&prediction.middle_si());
    let fitting: Vec<(f64, Prediction)> = predictions(seen)
        .into_iter()
        .filter(|prediction| !would_hold(prediction))
        .map(|prediction| (prediction.distance(seen.claim), prediction))
        .filter(|(distance, _)| *distance <= 1.0)
        .collect();
    let nearest = fitting.iter().map(|(distance, _)| *distance).fold(f64::INFINITY, f64::min);
    let mut equal: Vec<Prediction> =
        fitting.into_iter().filter(|(distance, _)| distance - nearest < EQUAL).map(|(_, one)| one).collect();
    if equal.iter().any(|one| one.is_met(seen.claim)) {
        equal.retain(|one| one.is_met(seen.claim));
    }
    match causes_of(&equal).as_slice() {
        [] => below_minimum(seen).map_or(Tested::None, Tested::Found),
        [_] => together(equal).map_or(Tested::None, Tested::Found),
        several => Tested::Equal(several.to_vec()),
    }
}

/// The causes, each once.
fn causes_of(predictions: &[Prediction]) -> Vec<Cause> {
    let mut causes: Vec<Cause> = predictions.iter().map(|one| one.cause).collect();
    causes.sort_unstable();
    causes.dedup();
    causes
}

/// Predictions of one cause as one, with the words of each that says something of its own.
fn together(mut predictions: Vec<Prediction>) -> Option<Prediction> {
    let mut said = BTreeSet::new();
    predictions.retain(|one| said.insert(one.message.clone()));
    let more = predictions.len().saturating_sub(NAMED);
    let mut all = predictions.into_iter().take(NAMED);
    let mut first = all.next()?;
    for other in all {
        first.message.push_str(" or ");
        first.message.push_str(other.message.strip_prefix("equals ").unwrap_or(&other.message));
    }
    if more > 0 {
        first.message.push_str(&format!(" or {more} more like it"));
    }
    Some(first)
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
    let said = seen.group.bag_kg();
    let mass_kg = match seen.claim.quantity {
        Quantity::Bags => seen.claim.value.si * said.or(fill.bag_kg)?,
        Quantity::Mass => seen.claim.value.si,
        Quantity::Density => seen.claim.value.si * volume_m3,
        _ => return None,
    };
    let least_kg_m3 = least_density_kg_m3(seen.job, &fill.name).unwrap_or(parts.mass_kg() / volume_m3);
    let implied_kg_m3 = mass_kg / volume_m3;
    if implied_kg_m3 >= least_kg_m3 {
        return None;
    }
    let us = crate::units::UnitSystem::Us;
    // Two decimals: what falls short by little would else come to the minimum.
    let show = |density_kg_m3: f64| format!("{:.2} {}", us.density(density_kg_m3), us.density_symbol());
    let message = format!("comes to {}, below {}", show(implied_kg_m3), show(least_kg_m3));
    let value_si = seen.claim.value.si;
    let cause = Cause::DensityBelowMinimum;
    Some(Prediction { cause, value_si, made_of_it_si: Vec::new(), tolerance_si: 0.0, message })
}
