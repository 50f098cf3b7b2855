//! What a survey brings besides values: cautions, wiring that nobody released, and values that stand back behind others.

use super::rules::Job;
use super::say::{label, list};
use super::surface_rule::{Said, SaidIn, SurfaceRule, SurfaceValue};
use crate::finding::{Code, Finding};
use crate::framing::place_of;
use crate::model::{Surface, Wiring};

/// Why a surface with old wiring is not counted.
pub const LIVE_WIRING: &str = "knob-and-tube wiring, not released";

/// Depths that differ by less are the same, in metres.
const SAME_DEPTH_M: f64 = 1e-6;

/// Why the wiring of a surface keeps it out of the order.
pub fn reason_against_wiring(surface: &Surface) -> Option<&'static str> {
    let is_live = surface.wiring == Some(Wiring::KnobAndTube) && surface.released_by.is_none();
    is_live.then_some(LIVE_WIRING)
}

/// Surfaces with old wiring, those that are released apart.
pub(super) fn wiring(surfaces: &[Surface]) -> Vec<Finding> {
    let old = surfaces.iter().filter(|surface| surface.wiring == Some(Wiring::KnobAndTube));
    old.map(|surface| {
        if let Some(name) = &surface.released_by {
            let message = format!("knob-and-tube wiring, released by {name}; NEC 394.12 and the local code decide");
            return Finding::note(Code::OldWiring, &place_of(surface), message);
        }
        let message = "knob-and-tube wiring is live until an electrician says otherwise, and fill must not cover it (NEC \
                       394.12); not counted until the survey's `released by`, or `released_by` of a `[[surface]]`, says \
                       who released it";
        Finding::warning(Code::OldWiring, &place_of(surface), message)
    })
    .collect()
}

/// One finding for each caution of a rule that fits a surface; `fits` takes the indices of both.
pub(super) fn cautions(surfaces: &[Surface], fits: impl Fn(usize, usize) -> bool, job: &Job) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, rule) in job.surface_rules.iter().enumerate().filter(|(_, rule)| !rule.cautions.is_empty()) {
        let fitting = surfaces.iter().enumerate().filter(|(at, _)| fits(index, *at));
        let mut names: Vec<&str> = fitting.map(|(_, surface)| label(surface)).collect();
        // A wall in several parts is one wall to whoever looks at it.
        names.dedup();
        if names.is_empty() {
            continue;
        }
        for caution in &rule.cautions {
            let message = format!("{}: {}", list(&names), caution.message);
            findings.push(if caution.is_warning {
                Finding::warning(Code::SurveyCaution, &caution.place, message)
            } else {
                Finding::note(Code::SurveyCaution, &caution.place, message)
            });
        }
    }
    findings
}

/// A value of a survey that another one goes before and differs from.
pub(super) fn not_used(surface: &Surface, rule: &SurfaceRule, said: &Said) -> Option<Finding> {
    if rule.said_in != SaidIn::Survey || !differs(surface, &said.value) {
        return None;
    }
    let message = format!(
        "`{}` {} of the survey is not used for `{}`: its own row, or an earlier row of the survey, says otherwise; keep \
         the one that holds",
        said.value.key().word(),
        said.text,
        label(surface)
    );
    Some(Finding::warning(Code::RuleMisfit, &said.place, message))
}

fn differs(surface: &Surface, value: &SurfaceValue) -> bool {
    match value {
        SurfaceValue::Depth(depth_m) => {
            surface.measured_depth_m.is_none_or(|own_m| (own_m - depth_m).abs() > SAME_DEPTH_M)
        }
        SurfaceValue::Existing(fill) => surface.existing_fill != *fill,
        SurfaceValue::DoNotFill(parts) => {
            let is_there = |part: &crate::model::DoNotFill| {
                surface.do_not_fill.iter().any(|own| own.extent == part.extent && own.reason == part.reason)
            };
            !parts.iter().all(is_there)
        }
        SurfaceValue::Wiring(wiring) => surface.wiring != Some(*wiring),
        SurfaceValue::ReleasedBy(name) => surface.released_by.as_ref() != Some(name),
        _ => false,
    }
}
