//! `cavitally audit`

use super::args::AuditArgs;
use super::options::{self, PaperFormat};
use super::{DONE, Done, FELL_SHORT, terminal, write};
use crate::audit::audit;
use crate::intake::read_plan;
use crate::report::{opinion, papers_pdf, record_json, render_audit, render_findings};
use crate::takeoff::build;

/// Runs the command.
pub(super) fn run(args: &AuditArgs) -> Done {
    let saves = options::papers(&args.takeoff, &[&args.claims])?;
    let job = options::only_job(&args.takeoff)?;
    let plan = read_plan(&args.claims)?;
    let building = super::takeoff::read_building(&args.takeoff.inputs, &job)?;
    let takeoff = build(&building, &job)?;
    let audit = audit(&takeoff, &plan, &job);
    let units = args.takeoff.job.units.system();
    terminal::say(&render_findings(&audit.findings));
    if saves.is_empty() {
        terminal::print(render_audit(&audit, units).as_bytes()).map_err(|refusal| vec![*refusal])?;
    } else {
        let mut files = Vec::new();
        for save in saves {
            let papers = || opinion(&audit, units);
            let made = match save.format {
                PaperFormat::Json => record_json(&audit),
                PaperFormat::Html => Ok(papers().html().into_bytes()),
                PaperFormat::Pdf => papers_pdf(&papers(), units),
            };
            let bytes = made.map_err(|error| vec![options::cannot_make(&save.path, &error)])?;
            files.push((save.path, vec![bytes]));
        }
        write::all(&files)?;
        terminal::say(&write::saved(&files));
    }
    Ok(if audit.fell_short > 0 { FELL_SHORT } else { DONE })
}
