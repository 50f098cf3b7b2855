//! `cavitally closeout`

use super::args::CloseoutArgs;
use super::options;
use super::papers;
use super::{DONE, Done, FELL_SHORT, terminal};
use crate::closeout::closeout;
use crate::intake::{read_finish, read_log};
use crate::report::{closeout_papers, record_json, render_closeout, render_findings};
use crate::takeoff::build;
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
    let closeout = closeout(&takeoff, &log, &job)?;
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
