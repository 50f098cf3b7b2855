//! The closeout of a log.

use super::bays::{name, seen};
use super::blown::{Blown, add_up};
use super::contract::{CLOSEOUT_FORMAT, CLOSEOUT_VERSION, Closeout, Reached, Zone};
use super::depths::{DepthRow, is_one_thickness, one_depth_m};
use super::graded::Graded;
use super::hoppers::with_known_hoppers;
use super::running::{Rows, checks};
use super::sure::sources;
use super::twins::{Twins, said_twice, twins};
use super::whole::{more_than_ordered, overall_of};
use super::zone::{Known, judge};
use crate::fill::FillUse;
use crate::finding::{Code, Finding};
use crate::intake::log::{Entry, Log, What};
use crate::job::Job;
use crate::refusal::Refusal;
use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};
use std::collections::BTreeMap;

/// Rows of the log about one set of surfaces.
pub(super) struct Place<'a> {
    name: String,
    pub parts: Vec<&'a SurfaceTakeoff>,
    pub fill: &'a FillTakeoff,
    /// Net mass of a bag; nothing is blown where it is not known.
    pub bag_kg: Option<f64>,
    pub use_of: FillUse,
    /// Rows of bags, in stretches that no other place interrupts.
    pub runs: Vec<Vec<&'a Entry>>,
    taken: Vec<&'a Entry>,
    inspections: Vec<(&'a Entry, Vec<&'a SurfaceTakeoff>)>,
    others: Vec<&'a Entry>,
    depths: Vec<DepthRow<'a>>,
}

/// Sets a log against a takeoff. `graded` are the same takeoff with the heat of the grades that the log enters.
///
/// # Errors
/// Rows that name no counted surface, places that overlap, a fill that is not said, a bag that is not known, and masses that
/// cannot be.
pub fn closeout(takeoff: &Takeoff, log: &Log, job: &Job, graded: &[Graded<'_>]) -> Result<Closeout, Vec<Refusal>> {
    let (entries, of_hoppers) = with_known_hoppers(takeoff, &log.entries);
    let twins = twins(&log.entries);
    let mut findings = log.findings.clone();
    findings.extend(twins.iter().map(said_twice));
    findings.extend(of_hoppers);
    let mut refusals = Vec::new();
    let places = sorted(takeoff, &entries, &mut findings, &mut refusals);
    let mut zones = Vec::new();
    let mut running = Vec::new();
    for place in &places {
        match zone_of(place, &twins, job, graded) {
            Ok(zone) => zones.push(zone),
            Err(refusal) => refusals.push(*refusal),
        }
        if let Some(bag_kg) = place.bag_kg {
            let rows = Rows { runs: &place.runs, taken: &place.taken, bag_kg };
            running.extend(checks(&place.name, &place.parts, &rows));
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let overall = overall_of(takeoff, &places, &zones, &entries, job);
    findings.extend(overall.iter().filter_map(|fill| more_than_ordered(fill, &places)));
    let mut inputs = takeoff.inputs.clone();
    inputs.push(log.input.clone());
    let is_short = zones.iter().any(|zone| zone.verdict == Reached::Short || !zone.bays.voids.is_empty())
        || overall.iter().any(|fill| fill.verdict == Reached::Short);
    Ok(Closeout {
        format: CLOSEOUT_FORMAT.to_owned(),
        version: CLOSEOUT_VERSION,
        project: takeoff.project.clone(),
        papers: job.papers.clone(),
        inputs,
        job_files: takeoff.job_files.clone(),
        assumptions: sources(&job.tolerances, &job.fills),
        zones,
        overall,
        running,
        not_logged: not_logged(takeoff, &places),
        finish: None,
        is_short,
        findings,
    })
}

/// Rows of a log by their places: those of bags and of what was taken out first, since they name the places.
fn sorted<'a>(
    takeoff: &'a Takeoff,
    entries: &'a [Entry],
    findings: &mut Vec<Finding>,
    refusals: &mut Vec<Refusal>,
) -> Vec<Place<'a>> {
    let mut places: Vec<Place<'_>> = Vec::new();
    let mut last = BTreeMap::new();
    let is_amount = |entry: &&Entry| matches!(entry.what, What::Blown { .. } | What::Taken { .. });
    for entry in entries.iter().filter(is_amount) {
        if let Err(refusal) = sort_blown(takeoff, entry, &mut places, &mut last) {
            refusals.push(*refusal);
        }
    }
    for entry in entries.iter().filter(|entry| !is_amount(entry)) {
        match sort_seen(takeoff, entry, &mut places) {
            Ok(of_entry) => findings.extend(of_entry),
            Err(refusal) => refusals.push(*refusal),
        }
    }
    places
}

/// Counted surfaces that nothing is blown into.
fn not_logged(takeoff: &Takeoff, places: &[Place<'_>]) -> Vec<String> {
    let is_logged = |surface: &SurfaceTakeoff| {
        let mut blown = places.iter().filter(|place| !place.runs.is_empty());
        blown.any(|place| place.parts.iter().any(|part| std::ptr::eq(*part, surface)))
    };
    takeoff.surfaces.iter().filter(|surface| surface.counted && !is_logged(surface)).map(name).collect()
}

/// Counted surfaces that an entry is about, of its fill where it says one.
pub(super) fn parts_of<'a>(takeoff: &'a Takeoff, entry: &Entry) -> Result<Vec<&'a SurfaceTakeoff>, Box<Refusal>> {
    let chosen = |surface: &&SurfaceTakeoff| entry.selection.fits(surface.chosen());
    let is_of_fill = |surface: &&SurfaceTakeoff| {
        entry
            .fill
            .as_deref()
            .is_none_or(|fill| surface.fill.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(fill)))
    };
    let parts: Vec<&SurfaceTakeoff> =
        takeoff.surfaces.iter().filter(|surface| surface.counted).filter(chosen).filter(is_of_fill).collect();
    if parts.is_empty() {
        let message = format!("no counted surface fits `{}`", entry.selection.words());
        let help = "name surfaces as the takeoff does; what is not counted there has no volume to fill";
        return Err(Box::new(Refusal::new(entry.place.clone(), message, help)));
    }
    Ok(parts)
}

fn is_same(a: &[&SurfaceTakeoff], b: &[&SurfaceTakeoff]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| std::ptr::eq(*a, *b))
}

/// Puts a row of bags, or of what was taken out, to its place.
fn sort_blown<'a>(
    takeoff: &'a Takeoff,
    entry: &'a Entry,
    places: &mut Vec<Place<'a>>,
    last: &mut BTreeMap<String, usize>,
) -> Result<(), Box<Refusal>> {
    let parts = parts_of(takeoff, entry)?;
    let refuse = |message: String, help: &str| Err(Box::new(Refusal::new(entry.place.clone(), message, help)));
    let at = places.iter().position(|place| is_same(&place.parts, &parts));
    let overlaps = |place: &&Place<'_>| {
        !is_same(&place.parts, &parts)
            && place.parts.iter().any(|own| parts.iter().any(|part| std::ptr::eq(*own, *part)))
    };
    if let Some(other) = places.iter().find(overlaps) {
        let message = format!("`{}` and `{}` share surfaces", entry.selection.words(), other.name);
        return refuse(message, "name each place one way in all rows, so that no bay counts for two");
    }
    let at = if let Some(at) = at {
        at
    } else {
        places.push(new_place(takeoff, entry, parts)?);
        places.len() - 1
    };
    let Some(place) = places.get_mut(at) else { return Ok(()) };
    if place.bag_kg.is_none() {
        return refuse(
            format!("the net mass of a bag of `{}` is not known", place.fill.name),
            "give it: `--bag \"25 lb\"` or `bag` in the job file",
        );
    }
    if matches!(entry.what, What::Taken { .. }) {
        place.taken.push(entry);
        return Ok(());
    }
    // Each fill has its own machine.
    let was_last = last.insert(place.fill.name.clone(), at) == Some(at);
    match place.runs.last_mut() {
        Some(run) if was_last && !breaks(run, entry) => run.push(entry),
        _ => place.runs.push(vec![entry]),
    }
    Ok(())
}

/// Whether the hopper is known both after a run and before a row: then both stand by themselves.
fn breaks(run: &[&Entry], entry: &Entry) -> bool {
    let left = match run.last().map(|last| &last.what) {
        Some(What::Blown { end, .. }) => *end,
        _ => None,
    };
    matches!((left, &entry.what), (Some(_), What::Blown { start: Some(_), .. }))
}

fn new_place<'a>(
    takeoff: &'a Takeoff,
    entry: &Entry,
    parts: Vec<&'a SurfaceTakeoff>,
) -> Result<Place<'a>, Box<Refusal>> {
    let refuse = |message: String, help: &str| Err(Box::new(Refusal::new(entry.place.clone(), message, help)));
    let first = parts.first();
    let fill = first.and_then(|part| part.fill.clone()).unwrap_or_default();
    let use_of = first.and_then(|part| part.r#use).unwrap_or(FillUse::ClosedCavity);
    if parts.iter().any(|part| part.fill.as_deref() != Some(&fill)) {
        return refuse("these surfaces have several fills".to_owned(), "name one in the column `fill`");
    }
    if parts.iter().any(|part| part.r#use != Some(use_of)) {
        let message = "these surfaces are closed cavities and open-blown ones together";
        return refuse(
            message.to_owned(),
            "log attics and walls apart: one is judged by thickness, the other by density",
        );
    }
    if use_of == FillUse::OpenBlown && !is_one_thickness(&parts) {
        let help = "an attic is judged by one thickness: name each by a row of its own";
        return refuse("these surfaces have several thicknesses: log them apart".to_owned(), help);
    }
    let is_of = |one: &&FillTakeoff| one.name == fill;
    let with_bag = takeoff.fills.iter().filter(is_of).find(|one| one.bag_kg.is_some());
    let Some(fill) = with_bag.or_else(|| takeoff.fills.iter().find(is_of)) else {
        return refuse(format!("the takeoff has no fill `{fill}`"), "name surfaces that are filled");
    };
    Ok(Place {
        name: entry.selection.words(),
        parts,
        fill,
        bag_kg: fill.bag_kg,
        use_of,
        runs: Vec::new(),
        taken: Vec::new(),
        inspections: Vec::new(),
        others: Vec::new(),
        depths: Vec::new(),
    })
}

/// Puts a core, a reading or an inspection to the places that it is about.
fn sort_seen<'a>(
    takeoff: &'a Takeoff,
    entry: &'a Entry,
    places: &mut Vec<Place<'a>>,
) -> Result<Vec<Finding>, Box<Refusal>> {
    let parts = parts_of(takeoff, entry)?;
    let has = |place: &Place<'_>, part: &SurfaceTakeoff| place.parts.iter().any(|own| std::ptr::eq(*own, part));
    let mut of: Vec<usize> = places
        .iter()
        .enumerate()
        .filter(|(_, place)| parts.iter().any(|part| has(place, part)))
        .map(|(at, _)| at)
        .collect();
    let mut findings = Vec::new();
    if of.is_empty() {
        match new_place(takeoff, entry, parts.clone()) {
            Ok(place) => places.push(place),
            Err(refusal) => {
                let message = format!("no row says what was blown here, and {}; this row is not used", refusal.message);
                return Ok(vec![Finding::warning(Code::LogDoubt, &entry.place, message)]);
            }
        }
        of.push(places.len() - 1);
        let message = "no row says what was blown here: this place is judged by what was cut out and seen alone";
        findings.push(Finding::warning(Code::LogDoubt, &entry.place, message));
    }
    let is_inspection = matches!(entry.what, What::Inspection { .. });
    if of.len() > 1 && !is_inspection {
        let message = "this row does not say which of several places it is about";
        return Err(Box::new(Refusal::new(entry.place.clone(), message, "name a surface of one place")));
    }
    for at in of {
        let Some(place) = places.get_mut(at) else { continue };
        if is_inspection {
            let own = parts.iter().copied().filter(|part| place.parts.iter().any(|one| std::ptr::eq(*one, *part)));
            place.inspections.push((entry, own.collect()));
        }
        if matches!(entry.what, What::Depth { .. }) {
            let own = parts.iter().copied().filter(|part| place.parts.iter().any(|one| std::ptr::eq(*one, *part)));
            let own: Vec<&SurfaceTakeoff> = own.collect();
            if place.use_of == FillUse::ClosedCavity && one_depth_m(&own).is_none() {
                let message =
                    "these surfaces have several depths: name the one that was measured; this reading is not used";
                findings.push(Finding::warning(Code::LogDoubt, &entry.place, message));
                continue;
            }
            place.depths.push(DepthRow { entry, parts: own });
        }
        place.others.push(entry);
    }
    Ok(findings)
}

fn zone_of(
    place: &Place<'_>,
    twins: &[(&Entry, &Entry)],
    job: &Job,
    graded: &[Graded<'_>],
) -> Result<Zone, Box<Refusal>> {
    // Without a bag nothing is blown.
    let blown = match place.bag_kg {
        Some(bag_kg) => add_up(&place.runs, &place.taken, bag_kg)?,
        None => Blown::default(),
    };
    let bays = seen(&place.parts, &place.inspections)?;
    let rows: Vec<&Entry> = place.runs.iter().flatten().copied().collect();
    let mut entries = rows.clone();
    entries.extend(&place.others);
    let known = Known {
        name: place.name.clone(),
        fill: place.fill.name.clone(),
        use_of: place.use_of,
        parts: place.parts.clone(),
        choice: job.fills.iter().find(|choice| choice.rules.name == place.fill.name),
        twins: Twins::among(twins, &rows, &place.taken),
        entries,
        blown,
        bag_kg: place.bag_kg,
        depths: place.depths.clone(),
        bays,
    };
    Ok(judge(known, graded, &job.tolerances))
}
