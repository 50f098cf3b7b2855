//! `cavitally rig`

use super::args::{RigArgs, TakeoffArgs};
use super::takeoff::read_building;
use super::{DONE, Done, FELL_SHORT, options, terminal, write};
use crate::job::{Job, Rig, Setting, parse_settings};
use crate::refusal::Refusal;
use crate::report::{SaveFormat, render_findings, render_rig, render_rig_json};
use crate::rig::{RigCheck, Status, check_rig};
use crate::source::Place;
use crate::takeoff::{Takeoff, build};

/// Runs the command.
pub(super) fn run(args: &RigArgs) -> Done {
    let of_takeoff = args.as_takeoff();
    let saves = options::saves(&of_takeoff)?;
    if let Some(other) = saves.iter().find(|save| save.format != SaveFormat::Json) {
        let place = Place::input(&other.path.to_string_lossy());
        return Err(vec![Refusal::new(place, "the check of a rig is saved as `.json` alone", "")]);
    }
    let job = options::job(&of_takeoff.job, &settings(args)?, None)?;
    let rig = chosen(&job, args)?;
    let takeoff = takeoff(&of_takeoff, &job)?;
    let units = args.units.system();
    let check = check_rig(takeoff.as_ref(), &job, rig, units);
    if saves.is_empty() {
        let page = render_rig(&check, units, args.explain);
        terminal::print(page.as_bytes()).map_err(|refusal| vec![*refusal])?;
    } else {
        save(&check, &saves)?;
    }
    Ok(if check.status == Status::FallsShort { FELL_SHORT } else { DONE })
}

/// Values of the job file that options set; one each.
fn settings(args: &RigArgs) -> Result<Vec<Setting>, Vec<Refusal>> {
    let mut settings = Vec::new();
    for text in &args.set {
        let mut values = parse_settings(text).map_err(|refusal| vec![*refusal])?;
        if values.len() > 1 {
            let help = "run it once for each value";
            return Err(vec![Refusal::new(Place::input(crate::job::SET), "a rig is checked with one value", help)]);
        }
        settings.append(&mut values);
    }
    Ok(settings)
}

/// The rig that an option names, else the first of the job file.
fn chosen<'j>(job: &'j Job, args: &RigArgs) -> Result<&'j Rig, Vec<Refusal>> {
    let names: Vec<String> = job.rigs.iter().map(|rig| format!("`{}`", rig.name)).collect();
    match &args.rig {
        None => job.rigs.first().ok_or_else(|| {
            let help = "add `[rig.NAME]` with its `gauge`, `hose` and `circuit`; `cavitally start` writes an example";
            vec![Refusal::new(Place::input(&args.job.to_string_lossy()), "the job file has no rig", help)]
        }),
        Some(name) => job.rigs.iter().find(|rig| rig.name == *name).ok_or_else(|| {
            let help = if names.is_empty() { "it has none".to_owned() } else { format!("it has {}", names.join(", ")) };
            vec![Refusal::new(Place::input("--rig"), format!("the job file has no rig `{name}`"), help)]
        }),
    }
}

/// The takeoff, where inputs are given.
fn takeoff(args: &TakeoffArgs, job: &Job) -> Result<Option<Takeoff>, Vec<Refusal>> {
    if args.inputs.is_empty() {
        return Ok(None);
    }
    let building = read_building(&args.inputs, job)?;
    let takeoff = build(&building, job)?;
    terminal::say(&render_findings(&takeoff.findings));
    Ok(Some(takeoff))
}

fn save(check: &RigCheck, saves: &[options::Save]) -> Result<(), Vec<Refusal>> {
    let mut files = Vec::new();
    for save in saves {
        let bytes = render_rig_json(check).map_err(|error| {
            let place = Place::input(&save.path.to_string_lossy());
            vec![Refusal::new(place, format!("the file cannot be made: {error}"), "")]
        })?;
        files.push((save.path.clone(), vec![bytes]));
    }
    write::all(&files)?;
    for (path, _) in &files {
        terminal::say(&format!("saved {}\n", crate::report::printable(&path.to_string_lossy())));
    }
    Ok(())
}
