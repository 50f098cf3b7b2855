//! `cavitally audit`

use super::args::AuditArgs;
use super::options;
use super::papers;
use super::{DONE, Done, FELL_SHORT, terminal};
use crate::audit::audit;
use crate::intake::read_plan;
use crate::report::{opinion, record_json, render_audit, render_findings};
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
        papers::save(saves, || record_json(&audit), || opinion(&audit, units), units)?;
    }
    Ok(if audit.fell_short > 0 { FELL_SHORT } else { DONE })
}
