//! `cavitally takeoff`

use super::args::TakeoffArgs;
use super::progress::watched;
use super::{DONE, Done, FELL_SHORT, options, terminal, write};
use crate::finding::Severity;
use crate::intake::{self, IntakeOptions};
use crate::refusal::Refusal;
use crate::report::{order_lines, render, render_findings, render_table};
use crate::source::Place;
use crate::takeoff::{Takeoff, build};

/// Runs the command.
pub(super) fn run(args: &TakeoffArgs) -> Done {
    let saves = options::saves(args)?;
    let job = options::job(args)?;
    let options = IntakeOptions { keep_going: args.keep_going, layer_rules: job.layer_rules.clone() };
    let building = watched(|progress| intake::read(&args.inputs, &options, progress))?;
    let takeoff = build(&building, &job)?;
    let units = args.units.system();
    terminal::say(&render_findings(&takeoff.findings));
    if saves.is_empty() {
        terminal::print(render_table(&takeoff, units, terminal::width()).as_bytes())
            .map_err(|refusal| vec![*refusal])?;
    } else {
        let files = render_all(&takeoff, &saves)?;
        write::all(&files)?;
        for line in order_lines(&takeoff, units) {
            terminal::say(&format!("{}\n", line.trim_start()));
        }
        for (path, _) in &files {
            terminal::say(&format!("saved {}\n", crate::report::printable(&path.to_string_lossy())));
        }
    }
    let falls_short = takeoff.findings.iter().any(|finding| finding.severity >= Severity::Warning);
    // The run ends here: taking hundreds of thousands of small things apart one by one would only make it wait.
    std::mem::forget((building, takeoff));
    Ok(if args.strict && falls_short { FELL_SHORT } else { DONE })
}

/// Everything is rendered before anything is written.
fn render_all(takeoff: &Takeoff, saves: &[options::Save]) -> Result<Vec<write::Written>, Vec<Refusal>> {
    let render_one = |save: &options::Save| match render(takeoff, save.format) {
        Ok(pieces) => Ok((save.path.clone(), pieces)),
        Err(error) => {
            let place = Place::input(&save.path.to_string_lossy());
            Err(vec![Refusal::new(place, format!("the file cannot be made: {error}"), "")])
        }
    };
    saves.iter().map(render_one).collect()
}
