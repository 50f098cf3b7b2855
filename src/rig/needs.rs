//! What the takeoff asks of a rig: fills in closed cavities by depth, fill that lies open, holes, bags.

use crate::fill::{ClosedUse, FillUse, density_kg_m3};
use crate::job::{FillChoice, Job};
use crate::takeoff::{BayTakeoff, Takeoff};

/// Depths that differ by less are one: a quarter of a millimetre.
const SAME_DEPTH_M: f64 = 0.000_25;

/// What one fill comes to at one depth of closed cavities; without a takeoff, a fill of the job at no depth.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Need {
    pub fill: String,
    pub is_cellulose: bool,
    pub depth_m: Option<f64>,
    pub density_kg_m3: f64,
    pub mass_kg: f64,
}

/// What is blown into closed cavities: by fill, then from the shallowest.
pub(super) fn closed(takeoff: Option<&Takeoff>, job: &Job) -> Vec<Need> {
    let Some(takeoff) = takeoff else { return job.fills.iter().map(of_fill).collect() };
    let mut needs: Vec<Need> = Vec::new();
    let counted = takeoff.surfaces.iter().filter(|surface| surface.counted);
    for surface in counted.filter(|surface| surface.r#use == Some(FillUse::ClosedCavity)) {
        let (Some(fill), Some(depth_m), Some(mass_kg)) =
            (surface.fill.as_ref(), surface.filled_depth_m(), surface.mass_kg)
        else {
            continue;
        };
        let density_kg_m3 = surface.density_kg_m3.unwrap_or(0.0);
        let is_same = |need: &&mut Need| {
            need.fill == *fill
                && need.depth_m.is_some_and(|other_m| (other_m - depth_m).abs() < SAME_DEPTH_M)
                && (need.density_kg_m3 - density_kg_m3).abs() < 1e-6
        };
        if let Some(need) = needs.iter_mut().find(is_same) {
            need.mass_kg += mass_kg;
        } else {
            let is_cellulose = job.fills.iter().any(|own| own.rules.name == *fill && is_cellulose(own));
            let (fill, depth_m) = (fill.clone(), Some(depth_m));
            needs.push(Need { fill, is_cellulose, depth_m, density_kg_m3, mass_kg });
        }
    }
    let place = |name: &str| job.fills.iter().position(|fill| fill.rules.name == name);
    needs.sort_by(|a, b| {
        let depth = |need: &Need| need.depth_m.unwrap_or(0.0);
        place(&a.fill).cmp(&place(&b.fill)).then(depth(a).total_cmp(&depth(b)))
    });
    needs
}

fn of_fill(fill: &FillChoice) -> Need {
    Need {
        fill: fill.rules.name.clone(),
        is_cellulose: is_cellulose(fill),
        depth_m: None,
        density_kg_m3: fill.rules.density_kg_m3,
        mass_kg: 0.0,
    }
}

fn is_cellulose(fill: &FillChoice) -> bool {
    fill.material.is_some_and(|material| material.name() == "cellulose")
}

/// Mass of fill that lies open; none without a takeoff.
pub(super) fn open_kg(takeoff: Option<&Takeoff>) -> f64 {
    let counted = takeoff.into_iter().flat_map(|takeoff| &takeoff.surfaces).filter(|surface| surface.counted);
    let open = counted.filter(|surface| surface.r#use == Some(FillUse::OpenBlown));
    open.filter_map(|surface| surface.mass_kg).fold(0.0, |sum, mass_kg| sum + mass_kg)
}

/// The deepest bay that is packed, with the name of its fill and its density; the widest of several.
pub(super) fn deepest_bay(takeoff: &Takeoff) -> Option<(&str, &BayTakeoff)> {
    let counted = takeoff.surfaces.iter().filter(|surface| surface.counted);
    let closed = counted.filter(|surface| surface.r#use == Some(FillUse::ClosedCavity));
    let bays = closed.flat_map(|surface| {
        let fill = surface.fill.as_deref().unwrap_or_default();
        surface.bays.iter().map(move |bay| (fill, bay))
    });
    bays.filter(|(_, bay)| bay.width_m.is_some()).max_by(|(_, a), (_, b)| {
        let width = |bay: &BayTakeoff| bay.width_m.unwrap_or(0.0);
        a.depth_m.total_cmp(&b.depth_m).then(width(a).total_cmp(&width(b)))
    })
}

/// Density that a fill of the job must reach at a depth.
pub(super) fn target_kg_m3(fill: &FillChoice, depth_m: f64) -> f64 {
    density_kg_m3(&fill.rules, ClosedUse::Plain, depth_m)
}
