//! The verdict of a place, and what would settle one that can't be told.

use super::attic;
use super::contract::{JudgedBy, Reached, UncertaintyInput};
use super::contract_seen::{CoresTaken, Readings};
use super::cores::samples_wanted;
use super::sure::DEPTH;
use super::twins::Twins;
use crate::job::Tolerances;

/// What is seen of a place.
pub(super) struct Seen<'a> {
    pub promised_kg_m3: f64,
    pub least_kg_m3: f64,
    pub most_kg_m3: f64,
    /// The most that a closed cavity takes.
    pub limit_kg_m3: Option<f64>,
    pub is_blown: bool,
    pub is_closed_off: bool,
    pub twins: Twins,
    pub inputs: &'a [UncertaintyInput],
    pub cores: Option<&'a CoresTaken>,
    pub readings: Option<&'a Readings>,
}

impl Seen<'_> {
    /// Whether all of the range lies above what a closed cavity takes.
    fn is_too_much(&self) -> bool {
        self.is_closed_off && self.is_above_limit(self.least_kg_m3)
    }

    fn is_above_limit(&self, least_kg_m3: f64) -> bool {
        self.limit_kg_m3.is_some_and(|limit_kg_m3| least_kg_m3 > limit_kg_m3)
    }
}

/// A verdict, what it rests on, and why.
pub(super) struct Outcome {
    pub verdict: Reached,
    pub by: Option<JudgedBy>,
    pub reason: String,
    /// Whether bags and cores contradict each other.
    pub contradicts: bool,
}

/// Judges a place.
pub(super) fn outcome(seen: &Seen<'_>, is_open: bool, tolerances: &Tolerances) -> Outcome {
    if is_open { of_attic(seen, tolerances) } else { of_closed(seen) }
}

/// A range against what was promised.
pub(super) fn of_range(least: f64, most: f64, promised: f64) -> Reached {
    if least >= promised * (1.0 - 1e-9) {
        Reached::Reached
    } else if most < promised {
        Reached::Short
    } else {
        Reached::CannotTell
    }
}

fn by_bags(seen: &Seen<'_>) -> (Reached, String) {
    let open = |reason: &str| (Reached::CannotTell, reason.to_owned());
    if !seen.is_blown {
        return open("no row says what was blown here");
    }
    if !seen.is_closed_off {
        return open(
            "the hopper was neither run down nor weighed at both ends, so that nobody knows which of the bags are here",
        );
    }
    if seen.is_too_much() {
        return open("the whole range is above what a closed cavity takes");
    }
    match of_range(seen.least_kg_m3, seen.most_kg_m3, seen.promised_kg_m3) {
        Reached::CannotTell => {
            let first = seen.inputs.first().map_or("", |input| input.what.as_str());
            open(&format!(
                "what was promised lies within the range; a bag count alone can't tell; it rests most on: {first}"
            ))
        }
        Reached::Reached if seen.twins.of_blown => {
            open("two rows say the same, and whether their bags went in once or twice can't be told")
        }
        Reached::Short if seen.twins.of_taken => {
            open("two rows say the same, and whether what they take out came out once or twice can't be told")
        }
        Reached::Reached => (Reached::Reached, "the whole range is at what was promised or above".to_owned()),
        Reached::Short => (Reached::Short, "the whole range is below what was promised".to_owned()),
    }
}

/// Whether cores show it; `None` where they cannot be more than a closed cavity takes, and where there is only one.
fn by_cores(seen: &Seen<'_>) -> Option<Reached> {
    let (least_kg_m3, most_kg_m3) = (seen.cores?.least_kg_m3?, seen.cores?.most_kg_m3?);
    (!seen.is_above_limit(least_kg_m3)).then(|| of_range(least_kg_m3, most_kg_m3, seen.promised_kg_m3))
}

fn of_closed(seen: &Seen<'_>) -> Outcome {
    let (bags, reason) = by_bags(seen);
    match (bags, by_cores(seen)) {
        (Reached::CannotTell, Some(verdict)) if verdict != Reached::CannotTell => {
            let reason = format!("by its cores; by bags: {reason}");
            Outcome { verdict, by: Some(JudgedBy::Cores), reason, contradicts: false }
        }
        (Reached::Reached, Some(Reached::Short)) | (Reached::Short, Some(Reached::Reached)) => {
            let reason = "bags and cores contradict each other: one of them is wrong, or the fill is uneven".to_owned();
            Outcome { verdict: Reached::CannotTell, by: None, reason, contradicts: true }
        }
        (Reached::CannotTell, _) => Outcome { verdict: Reached::CannotTell, by: None, reason, contradicts: false },
        (verdict, _) => Outcome { verdict, by: Some(JudgedBy::Bags), reason, contradicts: false },
    }
}

fn of_attic(seen: &Seen<'_>, tolerances: &Tolerances) -> Outcome {
    let (mass, reason) = by_bags(seen);
    let (verdict, mut text) = attic::judge(seen.readings, mass, tolerances.depth_m);
    if mass == Reached::CannotTell {
        text = format!("{text}; {reason}");
    }
    let by = (verdict != Reached::CannotTell).then_some(JudgedBy::ReadingsAndBags);
    Outcome { verdict, by, reason: text, contradicts: false }
}

/// What would settle a verdict that can't be told.
pub(super) fn settles(outcome: &Outcome, seen: &Seen<'_>, is_open: bool, tolerances: &Tolerances) -> Vec<String> {
    let mut all = Vec::new();
    if outcome.verdict != Reached::CannotTell {
        return all;
    }
    if seen.is_blown && !seen.is_closed_off {
        all.push("run the hopper down, or weigh what is in it, before and after this place".to_owned());
    }
    if seen.is_too_much() {
        all.push("check the count: rows, bags and the mass of a bag".to_owned());
        all.push("look for a way out of the cavity that fill was lost through".to_owned());
    }
    if seen.twins.any() {
        all.push("take out one of the rows that say the same, or give each its photo numbers".to_owned());
    }
    if is_open {
        if seen.readings.is_none() {
            all.push("read the depth at several places, at each depth marker at least".to_owned());
        }
        return all;
    }
    if seen.cores.and_then(|cores| cores.least_kg_m3).is_some_and(|least_kg_m3| seen.is_above_limit(least_kg_m3)) {
        all.push("check mass, diameter and depth of the cores: a closed cavity takes no such density".to_owned());
    }
    all.extend(samples_wanted(seen.cores, tolerances));
    if seen.is_closed_off && seen.inputs.first().is_some_and(|input| input.what == DEPTH) {
        all.push("measure the depth of the cavity at several holes and log it".to_owned());
    }
    all
}
