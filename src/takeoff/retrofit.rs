//! What a person must know of existing bays: not surveyed, not measured; and of ways of filling that do not fit.

use super::SurfaceTakeoff;
use super::plan::Plan;
use super::words::{area, gross_m2, place, surfaces as how_many, types};
use crate::fill::FillMethod;
use crate::finding::{Code, Finding};
use crate::job::{Filling, Job};
use crate::model::{Building, SurfaceKind};
use crate::source::Place;

/// Collects them, one finding a kind.
pub(super) fn findings(
    building: &Building,
    surfaces: &[SurfaceTakeoff],
    plans: &[Plan<'_>],
    job: &Job,
) -> Vec<Finding> {
    let filled: Vec<(&SurfaceTakeoff, Filling<'_>)> = building
        .surfaces
        .iter()
        .zip(surfaces)
        .zip(plans)
        .filter(|((_, takeoff), _)| takeoff.counted)
        .filter_map(|((surface, takeoff), plan)| Some((takeoff, job.filling_of(surface, plan.assigned.as_ref()?))))
        .collect();
    let those = |is_meant: &dyn Fn(&SurfaceTakeoff, &Filling<'_>) -> bool| -> Vec<&SurfaceTakeoff> {
        filled.iter().filter(|(takeoff, filling)| is_meant(takeoff, filling)).map(|(takeoff, _)| *takeoff).collect()
    };
    let not_surveyed = those(&|takeoff, _| takeoff.surveyed == Some(false));
    let not_measured = those(&|_, filling| filling.is_retrofit && filling.is_depth_nominal);
    let open_upright =
        those(&|takeoff, filling| filling.method == FillMethod::Open && takeoff.kind == SurfaceKind::Wall);
    [
        finding(Code::BaysNotSurveyed, &not_surveyed, NOT_SURVEYED),
        finding(Code::DepthNotMeasured, &not_measured, NOT_MEASURED),
        finding(Code::MethodDoubt, &open_upright, OPEN_UPRIGHT),
    ]
    .into_iter()
    .flatten()
    .collect()
}

const NOT_SURVEYED: &str = "bays not surveyed: existing bays are filled, and nothing says which of them must stay empty \
                            (air ducts, panels, pocket doors, heaters, recessed cabinets, chases, wiring, bays open at \
                            the bottom); look before blowing, and say so with `do_not_fill` in the sheet or in a \
                            `[[surface]]` of the job file, or with `surveyed = true` in the assembly";
const NOT_MEASURED: &str = "the depth is that of dressed lumber or of a drawing, and nobody measured it: old lumber is \
                            full size (a 2x4 of before the 1950s is up to 4 in. deep, one of the 1950s 3 5/8 in.); \
                            measure the cavity, and give `depth` in the sheet, in a `[[surface]]` of the \
                            job file or in the assembly";
const OPEN_UPRIGHT: &str = "open-blown fill does not stay in an upright bay: no holes are counted for it; give `method` as \
                            `tube`, `two holes` or `netting`";

fn finding(code: Code, surfaces: &[&SurfaceTakeoff], what: &str) -> Option<Finding> {
    let first = surfaces.first()?;
    let place = if surfaces.len() == 1 { place(first) } else { Place::input(&first.source.input) };
    let message = format!("{} with {} ({}): {what}", how_many(surfaces), area(gross_m2(surfaces)), types(surfaces));
    Some(Finding::warning(code, &place, message))
}
