//! `cavitally takeoff`

use super::args::TakeoffArgs;
use super::progress::watched;
use super::variants::{self, Variants};
use super::{DONE, Done, FELL_SHORT, options, terminal, write};
use crate::finding::Severity;
use crate::intake::ifc::{ModelText, model_text};
use crate::intake::{self, IntakeOptions};
use crate::job::Job;
use crate::model::{Building, Input, InputKind};
use crate::refusal::Refusal;
use crate::report::{Beside, SaveFormat, Saved, order_lines, render, render_beside, render_findings, render_table};
use crate::source::Place;
use crate::takeoff::{Takeoff, add_up_by_element, build};
use std::path::PathBuf;

/// Runs the command.
pub(super) fn run(args: &TakeoffArgs) -> Done {
    let saves = options::saves(args)?;
    let variants = variants::read(&args.job)?;
    match variants.all.as_slice() {
        [only] => run_one(args, &only.job, &saves),
        _ => run_beside(args, &variants, &saves),
    }
}

/// Reads the inputs as a job asks for it.
pub(super) fn read_building(inputs: &[PathBuf], job: &Job) -> Result<Building, Vec<Refusal>> {
    let options = IntakeOptions { keep_going: job.keep_going, layer_rules: job.layer_rules.clone() };
    watched(|progress| intake::read(inputs, &options, progress))
}

fn run_one(args: &TakeoffArgs, job: &Job, saves: &[options::Save]) -> Done {
    let building = read_building(&args.inputs, job)?;
    let takeoff = build(&building, job)?;
    let units = args.job.units.system();
    terminal::say(&render_findings(&takeoff.findings));
    if saves.is_empty() {
        terminal::print_table(&render_table(&takeoff, units, terminal::width())).map_err(|refusal| vec![*refusal])?;
    } else {
        let model = model_to_extend(&takeoff, saves)?;
        let files = render_all(&Saved { takeoff: &takeoff, units, model: model.as_ref() }, saves)?;
        write::all(&files)?;
        for line in order_lines(&takeoff, units) {
            terminal::say(&format!("{}\n", line.trim_start()));
        }
        for (path, _) in &files {
            terminal::say(&format!("saved {}\n", crate::report::printable(&path.to_string_lossy())));
        }
    }
    let status = status(args, [&takeoff].into_iter());
    // The run ends here: taking hundreds of thousands of small things apart one by one would only make it wait.
    std::mem::forget((building, takeoff));
    Ok(status)
}

/// Several takeoffs in one table. Findings are those of the first, since most are the same.
fn run_beside(args: &TakeoffArgs, variants: &Variants, saves: &[options::Save]) -> Done {
    if let Some(save) = saves.first() {
        let place = Place::input(&save.path.to_string_lossy());
        let message = "a saved file holds one takeoff, and several values are given";
        return Err(vec![Refusal::new(place, message, "give one value to each `--set` and to `--bag`")]);
    }
    let mut takeoffs: Vec<Takeoff> = Vec::new();
    let mut read: Option<(&Job, Building)> = None;
    for variant in &variants.all {
        let is_same = |(job, _): &(&Job, Building)| job.layer_rules == variant.job.layer_rules;
        let building = match read.take().filter(is_same) {
            Some((_, building)) => building,
            None => read_building(&args.inputs, &variant.job)?,
        };
        takeoffs.push(build(&building, &variant.job)?);
        read = Some((&variant.job, building));
    }
    terminal::say(&takeoffs.first().map(|takeoff| render_findings(&takeoff.findings)).unwrap_or_default());
    let beside: Vec<Beside<'_>> =
        variants.all.iter().zip(&takeoffs).map(|(one, takeoff)| Beside { values: &one.values, takeoff }).collect();
    let table = render_beside(&variants.keys, &beside, args.job.units.system());
    terminal::print_table(&table).map_err(|refusal| vec![*refusal])?;
    Ok(status(args, takeoffs.iter()))
}

fn status<'t>(args: &TakeoffArgs, mut takeoffs: impl Iterator<Item = &'t Takeoff>) -> u8 {
    let is_short = |takeoff: &Takeoff| takeoff.findings.iter().any(|finding| finding.severity >= Severity::Warning);
    if args.strict && takeoffs.any(is_short) { FELL_SHORT } else { DONE }
}

/// The model that the takeoff is to be written into, read again; `None` where no save asks for it.
fn model_to_extend(takeoff: &Takeoff, saves: &[options::Save]) -> Result<Option<ModelText>, Vec<Refusal>> {
    let Some(save) = saves.iter().find(|save| save.format == SaveFormat::Ifc) else { return Ok(None) };
    let is_building = |input: &&Input| !(input.kind == InputKind::Csv && input.schema.as_deref() == Some("survey"));
    let buildings: Vec<&Input> = takeoff.inputs.iter().filter(is_building).collect();
    let [Input { path, sha256, kind: InputKind::Ifc, .. }] = buildings.as_slice() else {
        let place = Place::input(&save.path.to_string_lossy());
        let message = "a takeoff is written into the model that it was taken from, and the input is not one model";
        return Err(vec![Refusal::new(place, message, "give one IFC model as the only input")]);
    };
    let elements: Vec<u64> = add_up_by_element(takeoff).iter().map(|element| element.entity).collect();
    model_text(path, sha256, &elements).map(Some).map_err(|refusal| vec![*refusal])
}

/// Everything is rendered before anything is written.
fn render_all(saved: &Saved<'_>, saves: &[options::Save]) -> Result<Vec<write::Written>, Vec<Refusal>> {
    let render_one = |save: &options::Save| match render(saved, save.format) {
        Ok(pieces) => Ok((save.path.clone(), pieces)),
        Err(error) => {
            let place = Place::input(&save.path.to_string_lossy());
            Err(vec![Refusal::new(place, format!("the file cannot be made: {error}"), "")])
        }
    };
    saves.iter().map(render_one).collect()
}
