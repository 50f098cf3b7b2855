//! The audit of a plan.

use super::cause::CAUSES;
use super::contract::{AUDIT_FORMAT, AUDIT_VERSION, Audit, CauseMeaning, JudgedClaim};
use super::figures::Parts;
use super::judge::judge;
use super::tolerance::sources;
use crate::finding::{Code, Finding};
use crate::intake::Selection;
use crate::intake::claims::{ClaimGroup, Plan};
use crate::job::Job;
use crate::takeoff::{SurfaceTakeoff, Takeoff};
use std::collections::BTreeSet;

/// Sets a plan against a takeoff.
pub fn audit(takeoff: &Takeoff, plan: &Plan, job: &Job) -> Audit {
    let mut claims: Vec<JudgedClaim> = Vec::new();
    let mut without = Vec::new();
    let mut findings = plan.findings.clone();
    let mut seen: Vec<(&ClaimGroup, BTreeSet<String>)> = Vec::new();
    for group in &plan.groups {
        let parts = parts_of(takeoff, &group.selection);
        if parts.all.is_empty() && parts.not_counted.is_empty() {
            without.push(group.place.to_string());
            let message = format!("no surface of the takeoff fits `{}`", group.selection.words());
            findings.push(Finding::warning(Code::ClaimWithoutSurface, &group.place, message));
        }
        claims.extend(group.claims.iter().map(|claim| judge(&parts, group, claim, job)));
        let names: BTreeSet<String> = parts.all.iter().map(|surface| Parts::name(surface)).collect();
        findings.extend(seen.iter().filter_map(|(other, theirs)| twice((other, theirs), (group, &names))));
        // What has no surface shares none; a plan of another house has many such rows.
        if !names.is_empty() {
            seen.push((group, names));
        }
    }
    let claimed: BTreeSet<&str> = claims.iter().flat_map(|claim| claim.parts.iter().map(String::as_str)).collect();
    let is_bare = |name: &String| !claimed.contains(name.as_str());
    let surfaces_without_claim: Vec<String> =
        takeoff.surfaces.iter().filter(|surface| surface.counted).map(Parts::name).filter(is_bare).collect();
    let fell_short = claims.iter().filter(|claim| claim.verdict.is_short()).count();
    let mut inputs = takeoff.inputs.clone();
    inputs.push(plan.input.clone());
    Audit {
        format: AUDIT_FORMAT.to_owned(),
        version: AUDIT_VERSION,
        project: takeoff.project.clone(),
        papers: job.papers.clone(),
        inputs,
        job_files: takeoff.job_files.clone(),
        tolerances: sources(&job.tolerances),
        causes: CAUSES
            .iter()
            .map(|(cause, meaning, test)| CauseMeaning {
                cause: *cause,
                meaning: (*meaning).to_owned(),
                test: (*test).to_owned(),
            })
            .collect(),
        claims,
        claims_without_surface: without,
        surfaces_without_claim,
        fell_short: u64::try_from(fell_short).unwrap_or(u64::MAX),
        findings,
    }
}

/// The surfaces that a row is about. One that is named by its id stands whether it is counted or not; of a group, those that
/// are not counted stand apart.
fn parts_of<'t>(takeoff: &'t Takeoff, selection: &Selection) -> Parts<'t> {
    let fits = |surface: &&SurfaceTakeoff| selection.fits(surface.chosen());
    let fitting: Vec<&SurfaceTakeoff> = takeoff.surfaces.iter().filter(fits).collect();
    let is_one = fitting
        .first()
        .is_some_and(|first| selection.is_one_id(&first.id) && fitting.iter().all(|surface| surface.id == first.id));
    let (all, not_counted) =
        if is_one { (fitting, Vec::new()) } else { fitting.into_iter().partition(|surface| surface.counted) };
    Parts { takeoff, all, not_counted }
}

/// Two rows that claim the same of the same surface, where neither is a part of the other: both are judged, and neither is
/// added to the other.
fn twice(
    (first, theirs): (&ClaimGroup, &BTreeSet<String>),
    (second, own): (&ClaimGroup, &BTreeSet<String>),
) -> Option<Finding> {
    let shared = theirs.intersection(own).next()?;
    let is_part = theirs != own && (theirs.is_subset(own) || own.is_subset(theirs));
    let claim = second.claims.iter().find(|claim| first.claims.iter().any(|other| other.quantity == claim.quantity))?;
    if is_part {
        return None;
    }
    let message = format!(
        "`{shared}` has a claim of the same kind at {} already; each is judged by itself, and they are not added up",
        first.place
    );
    Some(Finding::warning(Code::ClaimedTwice, &claim.place, message))
}
