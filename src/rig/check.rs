//! The check of one rig as one function.

use super::contract::{FORMAT, RigCheck, VERSION};
use super::notes::Notes;
use super::{Status, Topic, haul, hazards, needs, nozzle, power, pressure, time, trial_box};
use crate::job::{Job, Rig};
use crate::takeoff::Takeoff;
use crate::units::UnitSystem;

/// Checks a rig against the takeoff, or without one by its own figures; texts are in the units asked for.
pub fn check_rig(takeoff: Option<&Takeoff>, job: &Job, rig: &Rig, units: UnitSystem) -> RigCheck {
    let mut notes = Notes::new(units);
    let site = &job.site;
    let needs = needs::closed(takeoff, job);
    let pressure = pressure::check(&needs, rig, site, &mut notes);
    let open_kg = needs::open_kg(takeoff);
    if open_kg > 0.0 {
        let found = format!("{} that are blown open need no pressure of packing.", units.show_mass(open_kg));
        let is_weak = notes.points.iter().any(|point| point.status == Status::FallsShort);
        let action = if is_weak { "This machine may still blow what lies open." } else { "" };
        notes.point(Topic::Pressure, Status::Holds, found, action);
    }
    let most_pa = pressure.needs.iter().filter_map(|need| need.required_pa).max_by(f64::total_cmp);
    let hose = nozzle::check(most_pa, rig, site, &mut notes);
    let trial_box = trial_box::check(takeoff, job, rig, &mut notes);
    let cords = power::check(rig, site, &mut notes);
    let time = time::check(takeoff, job, rig, &mut notes);
    haul::check(takeoff, rig, site, time.as_ref(), &mut notes);
    RigCheck {
        format: FORMAT.to_owned(),
        version: VERSION,
        project: job.project.clone(),
        rig: rig.name.clone(),
        inputs: takeoff.map(|takeoff| takeoff.inputs.clone()).unwrap_or_default(),
        job_files: job.sources.clone(),
        has_takeoff: takeoff.is_some(),
        status: notes.points.iter().map(|point| point.status).max().unwrap_or(Status::NotShown),
        points: notes.points,
        pressure,
        hose,
        trial_box,
        cords,
        time,
        hazards: hazards::list(takeoff, site),
        steps: notes.steps,
    }
}
