//! `cavitally closeout`

use super::args::CloseoutArgs;
use super::options;
use super::papers;
use super::{DONE, Done, FELL_SHORT, terminal};
use crate::closeout::{Graded, closeout, grades_entered};
use crate::heat::Grade;
use crate::intake::log::Log;
use crate::intake::{read_finish, read_log};
use crate::job::{HeatChoice, Job};
use crate::model::Building;
use crate::refusal::Refusal;
use crate::report::{closeout_papers, record_json, render_closeout, render_findings};
use crate::takeoff::{Takeoff, build};
use std::path::PathBuf;

/// Runs the command.
pub(super) fn run(args: &CloseoutArgs) -> Done {
    let sheets: Vec<&PathBuf> = [&args.log].into_iter().chain(&args.finish).collect();
    let saves = options::papers(&args.takeoff, &sheets)?;
    let job = options::only_job(&args.takeoff)?;
    let log = read_log(&args.log)?;
    let finish = args.finish.as_deref().map(read_finish).transpose()?;
    let building = super::takeoff::read_building(&args.takeoff.inputs, &job)?;
    let takeoff = build(&building, &job)?;
    let at_grades = at_grades(&log, &building, &job)?;
    let graded: Vec<Graded<'_>> = at_grades.iter().map(|(grade, takeoff)| Graded { grade: *grade, takeoff }).collect();
    let closeout = closeout(&takeoff, &log, &job, &graded)?;
    let closeout = match &finish {
        Some(finish) => closeout.with_finish(&takeoff, finish),
        None => closeout,
    };
    let units = args.takeoff.job.units.system();
    terminal::say(&render_findings(&closeout.findings));
    if saves.is_empty() {
        terminal::print(render_closeout(&closeout, units).as_bytes()).map_err(|refusal| vec![*refusal])?;
    } else {
        papers::save(saves, || record_json(&closeout), || closeout_papers(&closeout, units), units)?;
    }
    Ok(if closeout.is_short { FELL_SHORT } else { DONE })
}

/// The takeoff with the heat of each grade that the log enters and the job does not ask for.
fn at_grades(log: &Log, building: &Building, job: &Job) -> Result<Vec<(Grade, Takeoff)>, Vec<Refusal>> {
    let is_other = |grade: &Grade| {
        grade.void_share().total_cmp(&job.heat.grade.map_or(0.0, Grade::void_share)).is_ne() && job.heat.is_enabled
    };
    let of = |grade: Grade| {
        let heat = HeatChoice { grade: Some(grade), ..job.heat.clone() };
        Ok((grade, build(building, &Job { heat, ..job.clone() })?))
    };
    grades_entered(log).into_iter().filter(is_other).map(of).collect()
}
