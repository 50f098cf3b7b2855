//! `cavitally explain`

use super::args::ExplainArgs;
use super::takeoff::read_building;
use super::{DONE, Done, terminal, variants};
use crate::explain::{Origin, explain};
use crate::intake::as_written;
use crate::refusal::Refusal;
use crate::report::render_explanations;
use crate::source::Place;
use crate::takeoff::build;

/// Runs the command.
pub(super) fn run(args: &ExplainArgs) -> Done {
    let Some((id, inputs)) = args.inputs_and_id.split_last().filter(|(_, inputs)| !inputs.is_empty()) else {
        let message = "an input, and behind it the id of what is to be explained, are needed";
        let help = "`cavitally explain surfaces.csv N-1`";
        return Err(vec![Refusal::new(Place::input("explain"), message, help)]);
    };
    let id = id.to_string_lossy();
    let variants = variants::read(&args.job)?;
    let [only] = variants.all.as_slice() else {
        let message = "one takeoff is explained, and several values are given";
        return Err(vec![Refusal::new(Place::input(&id), message, "give one value to each `--set` and to `--bag`")]);
    };
    let building = read_building(inputs, &only.job)?;
    let takeoff = build(&building, &only.job)?;
    let origin = Origin { building: &building, job: &only.job, written: &as_written };
    let explanations = explain(&takeoff, &origin, &id).map_err(|refusal| vec![*refusal])?;
    let text = render_explanations(&explanations, args.job.units.system());
    terminal::print_table(&text).map_err(|refusal| vec![*refusal])?;
    Ok(DONE)
}
