//! One claim against our figures.

use super::cause::{Seen, Tested, meaning, test};
use super::contract::{CauseFound, JudgedClaim, Verdict, unit_of};
use super::figures::{Figure, Parts};
use super::tolerance::band;
use crate::intake::claims::{Claim, ClaimGroup};
use crate::job::Job;

/// Parts that a sentence names.
const NAMED: usize = 6;

/// Judges a claim of a group.
pub(super) fn judge(parts: &Parts<'_>, group: &ClaimGroup, claim: &Claim, job: &Job) -> JudgedClaim {
    let mut judged = empty(parts, group, claim);
    if parts.all.is_empty() {
        judged.verdict = if parts.not_counted.is_empty() { Verdict::NoSurface } else { Verdict::NotCompared };
        judged.reason = parts.not_counted.first().map(|surface| {
            let why = surface.reason.as_deref().unwrap_or("no reason is given");
            format!("nothing that fits is counted: {}: {why}", Parts::name(surface))
        });
        return judged;
    }
    let figures = match parts.figures(claim.quantity, claim.basis, group.bag_kg()) {
        Ok(figures) if !figures.is_empty() => figures,
        Ok(_) => {
            judged.reason = Some("nothing of ours to set against it".to_owned());
            return judged;
        }
        Err(reason) => {
            judged.reason = Some(reason);
            return judged;
        }
    };
    judged.derivation = parts.derivation(claim.quantity, group.bag_kg());
    let bands: Vec<(&Figure, (f64, f64))> = figures
        .iter()
        .map(|figure| {
            let kind = (claim.quantity, claim.basis);
            (figure, band(parts, figure, kind, &claim.value, job))
        })
        .collect();
    compare(&mut judged, claim.value.si, &bands);
    if judged.verdict.is_short() {
        let band_si = (judged.least_si.unwrap_or(f64::NAN), judged.most_si.unwrap_or(f64::NAN));
        match test(&Seen { parts, group, claim, job, band_si }) {
            Tested::None => {}
            Tested::Equal(causes) => judged.undecided = causes,
            Tested::Found(found) => {
                let message = format!("{}: {}", meaning(found.cause), found.message);
                judged.cause = Some(CauseFound { cause: found.cause, predicted_si: found.value_si, message });
            }
        }
    }
    judged
}

/// Sets a claim against our figures: it must hold for each part.
fn compare(judged: &mut JudgedClaim, claimed: f64, bands: &[(&Figure, (f64, f64))]) {
    let values = || bands.iter().map(|(figure, _)| figure.value_si);
    let least = values().fold(f64::INFINITY, f64::min);
    let most = values().fold(f64::NEG_INFINITY, f64::max);
    judged.ours_si = Some(least);
    judged.ours_most_si = Some(most).filter(|most| most - least > 1e-9 * most.abs());
    // From the greatest lower end to the least upper end it holds for all; where that is empty, no claim can.
    judged.least_si = Some(bands.iter().map(|(_, (from, _))| *from).fold(f64::NEG_INFINITY, f64::max));
    judged.most_si = Some(bands.iter().map(|(_, (_, to))| *to).fold(f64::INFINITY, f64::min));
    judged.difference_si = Some(claimed - claimed.clamp(least, most));
    let names = |is: &dyn Fn(&(f64, f64)) -> bool| -> Vec<String> {
        let fitting = bands.iter().filter(|(_, band)| is(band));
        fitting.map(|(figure, _)| figure.part.clone()).collect()
    };
    let above = names(&|(_, to)| claimed > *to);
    let below = names(&|(from, _)| claimed < *from);
    let failing = if above.is_empty() { &below } else { &above };
    judged.verdict = match (above.is_empty(), below.is_empty()) {
        (false, _) => Verdict::TooHigh,
        (true, false) => Verdict::TooLow,
        (true, true) => Verdict::Holds,
    };
    if !failing.is_empty() && failing.len() < bands.len() {
        judged.reason = Some(format!("it does not hold for {}", listed(failing)));
    }
}

fn listed(names: &[String]) -> String {
    let shown: Vec<&str> = names.iter().take(NAMED).map(String::as_str).collect();
    let more = names.len().saturating_sub(NAMED);
    if more > 0 { format!("{} and {more} more", shown.join(", ")) } else { shown.join(", ") }
}

fn empty(parts: &Parts<'_>, group: &ClaimGroup, claim: &Claim) -> JudgedClaim {
    JudgedClaim {
        r#where: claim.place.to_string(),
        surfaces: group.selection.words(),
        parts: parts.all.iter().map(|surface| Parts::name(surface)).collect(),
        parts_not_counted: parts.not_counted.iter().map(|surface| Parts::name(surface)).collect(),
        quantity: claim.quantity,
        basis: claim.basis,
        unit: unit_of(claim.quantity).to_owned(),
        claimed: claim.value.text.clone(),
        claimed_si: claim.value.si,
        ours_si: None,
        ours_most_si: None,
        least_si: None,
        most_si: None,
        difference_si: None,
        verdict: Verdict::NotCompared,
        reason: None,
        cause: None,
        undecided: Vec::new(),
        derivation: Vec::new(),
    }
}
