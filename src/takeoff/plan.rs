//! What is to be done with each surface, before anything is measured.

use crate::finding::{Code, Finding};
use crate::job::{
    Assigned, Assignment, Job, assign, reason_against_fill, reason_against_roof, reason_against_thin_body,
    reason_against_wiring,
};
use crate::model::{Exposure, Surface, SurfaceKind};
use crate::refusal::Refusal;
use rayon::prelude::*;

/// Why a surface is not counted that the model says will be demolished.
const TO_BE_DEMOLISHED: &str = "to be demolished";

/// What is to be done with a surface.
#[derive(Clone)]
pub(super) struct Plan<'j> {
    /// What lies on the other side, after the rules of the job.
    pub exposure: Exposure,
    /// Index of the rule that says so, where one does.
    pub exposure_rule: Option<usize>,
    /// Whether its exposure is asked for.
    pub is_asked: bool,
    /// Its framing, whether asked for or not.
    pub assigned: Option<Assigned<'j>>,
    /// Why it is not counted; `None` where it is.
    pub reason: Option<&'static str>,
    /// Whether it is the strip of a wall that the structure of a floor stands in.
    pub is_rim: bool,
}

impl Plan<'_> {
    /// Whether it goes into the order.
    pub(super) fn is_counted(&self) -> bool {
        self.reason.is_none()
    }

    /// Whether it is a rim with a band across it in the depth that is known: that of a wall whose strip it is, or of the
    /// framing. A depth that was measured in a rim of its own is what its band leaves.
    pub(super) fn is_rim_behind_band(&self, surface: &Surface, job: &Job) -> bool {
        let Some(assigned) = &self.assigned else { return false };
        let is_measured = surface.measured_depth_m.is_some()
            || job.assembly_of(assigned).is_some_and(|assembly| assembly.retrofit.is_depth_given);
        let is_rim = self.is_rim || assigned.layout.is_rim && !is_measured;
        surface.kind == SurfaceKind::Wall && is_rim && assigned.layout.rim_joist_m.is_some()
    }
}

/// Plans every surface. With `keep_going` an assembly that cannot be understood leaves its surface
/// uncounted, with a finding.
///
/// # Errors
/// Every assembly that cannot be understood, unless the job says to keep going.
pub(super) fn plan<'j>(surfaces: &[Surface], job: &'j Job) -> Result<(Vec<Plan<'j>>, Vec<Finding>), Vec<Refusal>> {
    let mut plans = Vec::with_capacity(surfaces.len());
    let mut findings = Vec::new();
    let mut refusals = Vec::new();
    let assigned: Vec<_> = surfaces.par_iter().map(|surface| assign(surface, job)).collect();
    for (surface, assigned) in surfaces.iter().zip(assigned) {
        match (assigned, job.keep_going) {
            (Ok(assignment), _) => plans.push(plan_one(surface, assignment, job)),
            (Err(refusal), true) => {
                plans.push(plan_one(surface, Assignment::Unframed("assembly not known"), job));
                let message = format!("{}; not counted; {}", refusal.message, refusal.help);
                findings.push(Finding::warning(Code::FramingUnknown, &refusal.place, message));
            }
            (Err(refusal), false) => refusals.push(*refusal),
        }
    }
    if refusals.is_empty() { Ok((plans, findings)) } else { Err(refusals) }
}

fn plan_one<'j>(surface: &Surface, assignment: Assignment<'j>, job: &Job) -> Plan<'j> {
    let (exposure, exposure_rule) = job.exposure_of(surface);
    let not_asked = job.exposure.reason_against(exposure);
    let (assigned, unframed) = match assignment {
        Assignment::Framed(assigned) => (Some(*assigned), None),
        Assignment::Unframed(reason) => (None, Some(reason)),
    };
    let unvented = assigned.as_ref().and_then(|assigned| reason_against_roof(surface, assigned));
    let not_told = assigned.as_ref().and_then(|assigned| reason_against_fill(surface, assigned, job));
    let gone = surface.is_demolished.then_some(TO_BE_DEMOLISHED);
    let thin = reason_against_thin_body(surface);
    let reason =
        gone.or(not_asked).or(unframed).or(thin).or_else(|| reason_against_wiring(surface)).or(unvented).or(not_told);
    Plan { exposure, exposure_rule, is_asked: not_asked.or(gone).is_none(), assigned, reason, is_rim: false }
}
