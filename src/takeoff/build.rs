//! The pipeline as one function.

use super::findings::summarise;
use super::floors::{Cut, cut_at_floors};
use super::measure::{Measured, measure};
use super::plan::plan;
use super::{FORMAT, Takeoff, VERSION};
use super::{assumptions, balance, comparison, fills, holes, labour, roofs, types};
use crate::job::{Job, say_of_surfaces};
use crate::model::Building;
use crate::refusal::Refusal;
use rayon::prelude::*;

/// Takes a building off: frames its surfaces, cuts their bays, fills them and orders the bags.
///
/// Surfaces are measured in parallel and added up in the order of the inputs, so that the figures
/// are the same whatever the number of threads.
///
/// # Errors
/// An assembly in a sheet that is neither a name in the job file nor framing.
pub fn build(building: &Building, job: &Job) -> Result<Takeoff, Vec<Refusal>> {
    let building = say_of_surfaces(building, job);
    let building = building.as_ref();
    let (plans, mut all) = plan(&building.surfaces, job)?;
    let Cut { building, plans, findings } = cut_at_floors(building, plans);
    let building = building.as_ref();
    all.extend(findings);
    let measured: Vec<Measured> =
        building.surfaces.par_iter().zip(&plans).map(|(surface, plan)| measure(surface, plan, job)).collect();
    let (surfaces, seen): (Vec<_>, Vec<_>) = measured.into_iter().map(|one| (one.takeoff, one.seen)).unzip();
    let ((fills, balance), (types, framing)) = rayon::join(
        || (fills::add_up(&surfaces, &plans, job), balance::add_up(&surfaces, building.left_out.len())),
        || {
            (
                types::group(&building.surfaces, &surfaces),
                comparison::compare(&building.surfaces, &surfaces, &plans, job),
            )
        },
    );
    let (assumptions, summary) = rayon::join(
        || assumptions::collect(building, &surfaces, &seen, &plans, job),
        || summarise(building, &surfaces, &fills, &plans, job),
    );
    all.splice(0..0, building.findings.iter().cloned());
    all.extend(seen.iter().flat_map(|seen| seen.findings.iter().cloned()));
    all.extend(summary);
    all.extend(balance::check(&surfaces, &balance));
    Ok(Takeoff {
        format: FORMAT.to_owned(),
        version: VERSION,
        project: job.project.clone(),
        exposure_asked: job.exposure,
        inputs: building.inputs.clone(),
        job_files: job.sources.clone(),
        assumptions,
        holes: holes::add_up(&surfaces, job),
        labour: labour::add_up(&surfaces, job),
        left_in_machine_kg: job.order.left_in_machine_kg,
        crew_seen_from: job.crew.seen_from,
        cautions: roofs::cautions(&surfaces),
        framing_fraction: comparison::job_fraction(&building.surfaces, &surfaces),
        framing,
        types,
        surfaces,
        fills,
        balance,
        left_out_elements: building.left_out.clone(),
        findings: all,
    })
}
