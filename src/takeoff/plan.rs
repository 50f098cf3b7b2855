//! What is to be done with each surface, before anything is measured.

use crate::job::{Assigned, Assignment, Job, assign};
use crate::model::{Exposure, Surface};
use crate::refusal::Refusal;

/// What is to be done with a surface.
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
}

impl Plan<'_> {
    /// Whether it goes into the order.
    pub(super) fn is_counted(&self) -> bool {
        self.reason.is_none()
    }
}

/// Plans every surface.
///
/// # Errors
/// Every assembly that cannot be understood.
pub(super) fn plan<'j>(surfaces: &[Surface], job: &'j Job) -> Result<Vec<Plan<'j>>, Vec<Refusal>> {
    let mut plans = Vec::with_capacity(surfaces.len());
    let mut refusals = Vec::new();
    for surface in surfaces {
        match plan_one(surface, job) {
            Ok(plan) => plans.push(plan),
            Err(refusal) => refusals.push(*refusal),
        }
    }
    if refusals.is_empty() { Ok(plans) } else { Err(refusals) }
}

fn plan_one<'j>(surface: &Surface, job: &'j Job) -> Result<Plan<'j>, Box<Refusal>> {
    let exposure_rule = job.exposure_rules.iter().position(|rule| rule.fits(surface));
    let exposure =
        exposure_rule.and_then(|index| job.exposure_rules.get(index)).map_or(surface.exposure, |rule| rule.exposure);
    let not_asked = job.exposure.reason_against(exposure);
    let (assigned, unframed) = match assign(surface, job)? {
        Assignment::Framed(assigned) => (Some(*assigned), None),
        Assignment::Unframed(reason) => (None, Some(reason)),
    };
    let reason = not_asked.or(unframed);
    Ok(Plan { exposure, exposure_rule, is_asked: not_asked.is_none(), assigned, reason })
}
