//! `cavitally closeout`

use super::args::CloseoutArgs;
use super::options::{self, PaperFormat};
use super::{DONE, Done, FELL_SHORT, terminal, write};
use crate::closeout::closeout;
use crate::intake::{read_finish, read_log};
use crate::report::{closeout_papers, papers_pdf, record_json, render_closeout, render_findings};
use crate::takeoff::build;
use std::path::PathBuf;

/// Runs the command.
pub(super) fn run(args: &CloseoutArgs) -> Done {
    let papers: Vec<&PathBuf> = [&args.log].into_iter().chain(&args.finish).collect();
    let saves = options::papers(&args.takeoff, &papers)?;
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
        let mut files = Vec::new();
        for save in saves {
            let papers = || closeout_papers(&closeout, units);
            let made = match save.format {
                PaperFormat::Json => record_json(&closeout),
                PaperFormat::Html => Ok(papers().html().into_bytes()),
                PaperFormat::Pdf => papers_pdf(&papers(), units),
            };
            let bytes = made.map_err(|error| vec![options::cannot_make(&save.path, &error)])?;
            files.push((save.path, vec![bytes]));
        }
        write::all(&files)?;
        terminal::say(&write::saved(&files));
    }
    Ok(if closeout.is_short { FELL_SHORT } else { DONE })
}
