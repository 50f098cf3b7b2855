//! The closeout of a log.

use super::bays::{name, seen};
use super::blown::add_up;
use super::contract::{CLOSEOUT_FORMAT, CLOSEOUT_VERSION, Closeout, FillCloseout, Reached, Zone};
use super::fills::{Whole, overall};
use super::running::checks;
use super::sure::sources;
use super::zone::{Known, judge};
use crate::fill::FillUse;
use crate::finding::{Code, Finding};
use crate::intake::log::{Entry, Log, What};
use crate::job::Job;
use crate::refusal::Refusal;
use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};
use std::collections::BTreeMap;

/// Rows of the log about one set of surfaces.
struct Place<'a> {
    name: String,
    parts: Vec<&'a SurfaceTakeoff>,
    fill: &'a FillTakeoff,
    bag_kg: f64,
    use_of: FillUse,
    /// Rows of bags, in stretches that no other place interrupts.
    runs: Vec<Vec<&'a Entry>>,
    taken: Vec<&'a Entry>,
    inspections: Vec<(&'a Entry, Vec<&'a SurfaceTakeoff>)>,
    others: Vec<&'a Entry>,
}

/// Sets a log against a takeoff.
///
/// # Errors
/// Rows that name no counted surface, places that overlap, a fill that is not said, a bag that is not known, and masses that
/// cannot be.
pub fn closeout(takeoff: &Takeoff, log: &Log, job: &Job) -> Result<Closeout, Vec<Refusal>> {
    let entries = with_known_hoppers(&log.entries);
    let mut findings = log.findings.clone();
    let mut refusals = Vec::new();
    let mut places: Vec<Place<'_>> = Vec::new();
    let mut last = BTreeMap::new();
    for entry in entries.iter().filter(|entry| matches!(entry.what, What::Blown { .. } | What::Taken { .. })) {
        if let Err(refusal) = sort_blown(takeoff, entry, &mut places, &mut last) {
            refusals.push(*refusal);
        }
    }
    for entry in entries.iter().filter(|entry| !matches!(entry.what, What::Blown { .. } | What::Taken { .. })) {
        match sort_seen(takeoff, entry, &mut places) {
            Ok(finding) => findings.extend(finding),
            Err(refusal) => refusals.push(*refusal),
        }
    }
    let mut zones = Vec::new();
    let mut running = Vec::new();
    for place in &places {
        match zone_of(place, job) {
            Ok(zone) => zones.push(zone),
            Err(refusal) => refusals.push(*refusal),
        }
        let rows: Vec<&Entry> = place.runs.iter().flatten().copied().collect();
        running.extend(checks(&place.name, &place.parts, &rows, place.bag_kg));
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let overall = overall_of(takeoff, &places, &zones, &entries, job);
    findings.extend(overall.iter().filter_map(|fill| more_than_ordered(fill, &places)));
    let is_logged = |surface: &SurfaceTakeoff| {
        places
            .iter()
            .filter(|place| !place.runs.is_empty())
            .any(|place| place.parts.iter().any(|part| std::ptr::eq(*part, surface)))
    };
    let not_logged =
        takeoff.surfaces.iter().filter(|surface| surface.counted && !is_logged(surface)).map(name).collect();
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
        assumptions: sources(&job.tolerances),
        zones,
        overall,
        running,
        not_logged,
        finish: None,
        is_short,
        findings,
    })
}

/// What one row leaves in the hopper is what the next of the same fill finds there, where only one of them says.
fn with_known_hoppers(entries: &[Entry]) -> Vec<Entry> {
    let mut all = entries.to_vec();
    let rows: Vec<usize> = all
        .iter()
        .enumerate()
        .filter(|(_, entry)| matches!(entry.what, What::Blown { .. }))
        .map(|(at, _)| at)
        .collect();
    for pair in rows.windows(2) {
        let [first, second] = pair else { continue };
        let (Some(before), Some(after)) = (all.get(*first).cloned(), all.get(*second).cloned()) else { continue };
        if before.fill != after.fill {
            continue;
        }
        let (What::Blown { end: left, .. }, What::Blown { start: found, .. }) = (&before.what, &after.what) else {
            continue;
        };
        let known = left.or(*found);
        if let Some(What::Blown { end, .. }) = all.get_mut(*first).map(|entry| &mut entry.what) {
            *end = end.or(known);
        }
        if let Some(What::Blown { start, .. }) = all.get_mut(*second).map(|entry| &mut entry.what) {
            *start = start.or(known);
        }
    }
    all
}

/// Counted surfaces that an entry is about, of its fill where it says one.
fn parts_of<'a>(takeoff: &'a Takeoff, entry: &Entry) -> Result<Vec<&'a SurfaceTakeoff>, Box<Refusal>> {
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
    let is_of = |one: &&FillTakeoff| one.name == fill && one.bag_kg.is_some();
    let Some((fill, bag_kg)) = takeoff.fills.iter().find(is_of).and_then(|fill| Some((fill, fill.bag_kg?))) else {
        return refuse(
            format!("the net mass of a bag of `{fill}` is not known"),
            "give it: `--bag \"25 lb\"` or `bag` in the job file",
        );
    };
    Ok(Place {
        name: entry.selection.words(),
        parts,
        fill,
        bag_kg,
        use_of,
        runs: Vec::new(),
        taken: Vec::new(),
        inspections: Vec::new(),
        others: Vec::new(),
    })
}

/// Puts a core, a reading or an inspection to the places that it is about.
fn sort_seen<'a>(
    takeoff: &'a Takeoff,
    entry: &'a Entry,
    places: &mut [Place<'a>],
) -> Result<Option<Finding>, Box<Refusal>> {
    let parts = parts_of(takeoff, entry)?;
    let has = |place: &Place<'_>, part: &SurfaceTakeoff| place.parts.iter().any(|own| std::ptr::eq(*own, part));
    let of: Vec<usize> = places
        .iter()
        .enumerate()
        .filter(|(_, place)| parts.iter().any(|part| has(place, part)))
        .map(|(at, _)| at)
        .collect();
    if of.is_empty() {
        let message = "no row says what was blown here; this row is not used";
        return Ok(Some(Finding::warning(Code::LogDoubt, &entry.place, message)));
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
        place.others.push(entry);
    }
    Ok(None)
}

fn zone_of(place: &Place<'_>, job: &Job) -> Result<Zone, Box<Refusal>> {
    let blown = add_up(&place.runs, &place.taken, place.bag_kg)?;
    let bays = seen(&place.parts, &place.inspections)?;
    let mut entries: Vec<&Entry> = place.runs.iter().flatten().copied().collect();
    entries.extend(&place.others);
    let known = Known {
        name: place.name.clone(),
        fill: place.fill.name.clone(),
        use_of: place.use_of,
        parts: place.parts.clone(),
        entries,
        blown,
        bays,
    };
    Ok(judge(known, &job.tolerances))
}

fn overall_of(
    takeoff: &Takeoff,
    places: &[Place<'_>],
    zones: &[Zone],
    entries: &[Entry],
    job: &Job,
) -> Vec<FillCloseout> {
    let of = |fill: &FillTakeoff| {
        let own: Vec<&Place<'_>> = places.iter().filter(|place| std::ptr::eq(place.fill, fill)).collect();
        let bag_kg = own.first()?.bag_kg;
        let is_own =
            |entry: &&Entry| own.iter().any(|place| place.runs.iter().flatten().any(|row| std::ptr::eq(*row, *entry)));
        let whole = Whole {
            fill,
            bag_kg,
            zones: places
                .iter()
                .zip(zones)
                .filter(|(place, _)| std::ptr::eq(place.fill, fill))
                .map(|(_, zone)| zone)
                .collect(),
            parts: own.iter().flat_map(|place| place.parts.iter().copied()).collect(),
            rows: entries.iter().filter(is_own).collect(),
        };
        Some(overall(&whole, &job.tolerances))
    };
    takeoff.fills.iter().filter_map(of).collect()
}

/// More bags than the order.
fn more_than_ordered(fill: &FillCloseout, places: &[Place<'_>]) -> Option<Finding> {
    let order = fill.bags_order?;
    fill.left_exact.filter(|left| *left < -1e-9)?;
    let of_fill = places.iter().filter(|place| place.fill.name == fill.fill);
    let last = of_fill.flat_map(|place| place.runs.iter().flatten()).max_by_key(|entry| entry.place.line)?;
    let message = format!("{} bags of {} are logged by here, and {order} were ordered", fill.bags_exact, fill.fill);
    Some(Finding::warning(Code::MoreThanOrdered, &last.place, message))
}
