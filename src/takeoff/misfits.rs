//! Keys of assemblies that none of the surfaces they frame can use.

use super::SurfaceTakeoff;
use super::plan::Plan;
use super::words::surfaces as how_many;
use crate::finding::{Code, Finding};
use crate::job::{Assembly, Job, Rule};
use crate::model::SurfaceKind;
use crate::source::Place;

/// What a key is said of.
#[derive(Clone, Copy)]
enum SaidOf {
    Roofs,
    Ceilings,
    /// Ceilings whose fill lies open: those with a thickness or an R.
    Attics,
    Floors,
}

/// Keys that bear on surfaces of one kind alone.
const KEYS: &[(&str, SaidOf)] = &[
    ("vent_gap", SaidOf::Roofs),
    ("unvented", SaidOf::Roofs),
    ("thickness", SaidOf::Ceilings),
    ("board", SaidOf::Attics),
    ("heel_height", SaidOf::Attics),
    ("roof_pitch", SaidOf::Attics),
    ("baffle_gap", SaidOf::Attics),
    ("eaves", SaidOf::Attics),
    ("below", SaidOf::Floors),
];

impl SaidOf {
    fn fits(self, kind: SurfaceKind, assembly: &Assembly) -> bool {
        let is_open = assembly.layout.enclosure.open_thickness_m.is_some() || assembly.r_m2k_w.is_some();
        match self {
            Self::Roofs => kind == SurfaceKind::Roof,
            Self::Ceilings => kind == SurfaceKind::Ceiling,
            Self::Attics => kind == SurfaceKind::Ceiling && is_open,
            Self::Floors => kind == SurfaceKind::Floor,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Roofs => "roof slopes",
            Self::Ceilings => "ceilings",
            Self::Attics => "ceilings with open-blown fill, which have a `thickness` or an `r_value`",
            Self::Floors => "floors",
        }
    }
}

/// One finding for each key of an assembly that no surface which it frames can use; an assembly without surfaces is named as such
/// elsewhere.
pub(super) fn findings(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<Finding> {
    let mut findings = Vec::new();
    for assembly in &job.assemblies {
        let frames = |plan: &Plan<'_>| {
            let assigned = plan.assigned.as_ref().filter(|assigned| !matches!(assigned.rule, Rule::BuiltIn(_)));
            assigned.and_then(|assigned| job.assembly_of(assigned)).is_some_and(|own| own.name == assembly.name)
        };
        let framed = surfaces.iter().zip(plans).filter(|(_, plan)| frames(plan));
        let framed: Vec<&SurfaceTakeoff> = framed.map(|(surface, _)| surface).collect();
        if framed.is_empty() {
            continue;
        }
        let is_said =
            |key: &str| assembly.sources.iter().any(|one| one.key == format!("assembly.{}.{key}", assembly.name));
        for (key, said_of) in KEYS {
            if is_said(key) && !framed.iter().any(|surface| said_of.fits(surface.kind, assembly)) {
                findings.push(misfit(assembly, key, *said_of, &framed, job));
            }
        }
    }
    findings
}

fn misfit(assembly: &Assembly, key: &str, said_of: SaidOf, framed: &[&SurfaceTakeoff], job: &Job) -> Finding {
    let message = format!(
        "`{key}` of `[assembly.{}]` fits nothing that it frames ({}): it is said of {}, and is left",
        assembly.name,
        how_many(framed),
        said_of.word()
    );
    Finding::warning(Code::RuleMisfit, &Place::input(&job.path), message)
}
