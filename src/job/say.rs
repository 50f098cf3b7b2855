//! What the job file says of surfaces, said of a building: its rows and elements take it up before anything is planned.

use super::rules::Job;
use super::say_opening::{lies_on, say_openings};
use super::say_survey::{cautions, not_used, wiring};
use super::surface_rule::{Said, SaidIn, SurfaceRule, SurfaceValue, WhichOpening};
use crate::cells::{
    Corners, Misread, Partitions, Room, ceilings_alone, eaves_fit, floors_fit, floors_have_walls, partitions_fit,
    places_have_room, places_have_walls, stretches_fit,
};
use crate::finding::{Code, Finding};
use crate::framing::place_of;
use crate::model::{
    Assumption, Building, DoNotFill, DoNotFillExtent, EaveSides, Exposure, Glob, Junction, JunctionKind, Subject,
    Surface, SurfaceKey, SurfaceKind,
};
use crate::source::Place;
use rayon::prelude::*;
use std::borrow::Cow;

/// Surfaces that an assumption names before it only counts them.
const NAMED: usize = 12;
/// Why a model's own framing takes up nothing that is framed in.
const FRAMING_IS_GIVEN: &str = "the model gives its framing member by member, and nothing is laid out in it";

/// Says of a building's surfaces what the job file says of them.
///
/// Of all tables that fit a surface, the first that gives a key counts; what the row of a sheet gives itself wins. Each
/// value that is taken up becomes an assumption with the surfaces that take it up; each that does not fit a surface, and
/// each table that fits none, becomes a finding.
pub fn say_of_surfaces<'b>(building: &'b Building, job: &Job) -> Cow<'b, Building> {
    if job.surface_rules.is_empty() && job.survey.is_none() {
        return Cow::Borrowed(building);
    }
    let mut said = building.clone();
    let told: Vec<Told> = said.surfaces.par_iter_mut().map(|surface| tell(surface, job)).collect();
    said.assumptions.extend(assumptions(&said.surfaces, &told, job));
    said.findings.extend(told.iter().flat_map(|one| one.findings.iter().cloned()));
    said.findings.extend(unused(&told, job));
    said.findings.extend(cautions(&said.surfaces, |index, surface| fits_at(&told, index, surface), job));
    said.findings.extend(wiring(&said.surfaces));
    if let Some(survey) = &job.survey {
        said.inputs.push(survey.input.clone());
        said.findings.extend(survey.findings.iter().cloned());
    }
    Cow::Owned(said)
}

/// A rule, by index, and one of its values.
type ValueOf = (usize, usize);

/// What became of one surface.
#[derive(Default)]
struct Told {
    /// Rules that fit it.
    fitting: Vec<usize>,
    /// Values that it took up.
    taken: Vec<ValueOf>,
    /// Entries of a rule's openings that fit one of its openings.
    openings: Vec<ValueOf>,
    findings: Vec<Finding>,
}

/// What became of one value.
#[derive(Default)]
pub(super) struct Outcome {
    /// Whether something of it was taken up.
    pub(super) is_taken: bool,
    /// Why something of it was not.
    pub(super) misfits: Vec<String>,
    /// Entries, by index, that fit an opening.
    pub(super) entries: Vec<usize>,
}

impl Outcome {
    fn of(result: Result<(), String>) -> Self {
        let (is_taken, misfits) = result.map_or_else(|misfit| (false, vec![misfit]), |()| (true, Vec::new()));
        Self { is_taken, misfits, entries: Vec::new() }
    }
}

fn tell(surface: &mut Surface, job: &Job) -> Told {
    let mut told = Told::default();
    let (exposure, _) = job.exposure_of(surface);
    for (index, rule) in job.surface_rules.iter().enumerate() {
        if !fits(rule, surface, exposure) {
            continue;
        }
        told.fitting.push(index);
        for (number, said) in rule.said.iter().enumerate() {
            let key = said.value.key();
            if surface.said.contains(&key) {
                told.openings.extend(named_all(said).into_iter().map(|entry| (index, entry)));
                told.findings.extend(not_used(surface, rule, said));
                continue;
            }
            let outcome = say(surface, &said.value);
            if outcome.is_taken {
                surface.said.push(key);
                told.taken.push((index, number));
            }
            told.openings.extend(outcome.entries.iter().map(|entry| (index, *entry)));
            told.findings.extend(outcome.misfits.iter().map(|misfit| misfit_of(surface, rule, said, misfit)));
        }
    }
    told
}

/// Whether a rule fits a surface, both by index.
fn fits_at(told: &[Told], rule: usize, surface: usize) -> bool {
    told.get(surface).is_some_and(|one| one.fitting.contains(&rule))
}

fn fits(rule: &SurfaceRule, surface: &Surface, exposure: Exposure) -> bool {
    let subject = Subject::of(surface, exposure);
    let layers = || surface.layers.iter().map(|layer| layer.material.as_str());
    let is_named =
        |glob: &Glob| glob.is_match(&surface.id) || surface.name.as_deref().is_some_and(|name| glob.is_match(name));
    rule.patterns.iter().any(|pattern| pattern.fits(&subject, layers())) || rule.named.iter().any(is_named)
}

/// Entries of openings that an earlier table has said all of: they are not unused for that.
fn named_all(said: &Said) -> Vec<usize> {
    match &said.value {
        SurfaceValue::Openings(openings) => (0..openings.len()).collect(),
        _ => Vec::new(),
    }
}

fn say(surface: &mut Surface, value: &SurfaceValue) -> Outcome {
    match value {
        SurfaceValue::Depth(depth_m) => {
            surface.measured_depth_m = Some(*depth_m);
            Outcome::of(Ok(()))
        }
        SurfaceValue::Corners(corners) => Outcome::of(say_corners(surface, *corners)),
        SurfaceValue::Partitions(partitions) => Outcome::of(say_partitions(surface, partitions)),
        SurfaceValue::Floors(bands) => {
            let fit = floors_have_walls(surface.kind).and_then(|()| floors_fit(bands, Room::of(surface)));
            Outcome::of(fit.map_err(|misfit| misfit.message).and_then(|()| is_laid_out(surface)).map(|()| {
                surface.floor_bands.clone_from(bands);
            }))
        }
        SurfaceValue::Existing(fill) => {
            surface.existing_fill.clone_from(fill);
            Outcome::of(Ok(()))
        }
        SurfaceValue::DoNotFill(parts) => say_empty(surface, parts),
        SurfaceValue::Surveyed(is_surveyed) => {
            surface.is_surveyed |= *is_surveyed;
            Outcome::of(Ok(()))
        }
        SurfaceValue::Wiring(wiring) => {
            surface.wiring = Some(*wiring);
            Outcome::of(Ok(()))
        }
        SurfaceValue::ReleasedBy(name) => {
            surface.released_by = Some(name.clone());
            Outcome::of(Ok(()))
        }
        SurfaceValue::Eaves(_) | SurfaceValue::HeelHeight(_) | SurfaceValue::RoofPitch(_) => {
            Outcome::of(say_eaves(surface, value).map_err(|misfit| misfit.message))
        }
        SurfaceValue::Platforms(platforms) => say_platforms(surface, platforms),
        SurfaceValue::Openings(openings) => say_openings(surface, openings),
    }
}

fn is_laid_out(surface: &Surface) -> Result<(), String> {
    if surface.framing_is_given { Err(FRAMING_IS_GIVEN.to_owned()) } else { Ok(()) }
}

/// Corners in place of those that the model gives.
fn say_corners(surface: &mut Surface, corners: Corners) -> Result<(), String> {
    is_laid_out(surface)?;
    let placed: Vec<Junction> = match corners {
        Corners::Number(number) => {
            posts_have_walls(surface.kind, number)?;
            surface.corner_posts = number;
            Vec::new()
        }
        Corners::At(ends) => {
            let length_m = placed_length_m(surface, SurfaceKey::Corners)?;
            ends.iter().map(|share| Junction::corner(share * length_m)).collect()
        }
    };
    replace(surface, JunctionKind::Corner, placed);
    Ok(())
}

/// Partitions in place of those that the model gives.
fn say_partitions(surface: &mut Surface, partitions: &Partitions) -> Result<(), String> {
    is_laid_out(surface)?;
    let placed: Vec<Junction> = match partitions {
        Partitions::Number(number) => {
            posts_have_walls(surface.kind, *number)?;
            surface.partition_junctions = *number;
            Vec::new()
        }
        Partitions::At(places_m) => {
            let length_m = placed_length_m(surface, SurfaceKey::Partitions)?;
            partitions_fit(places_m, length_m).map_err(|misfit| misfit.message)?;
            places_m.iter().copied().map(Junction::partition).collect()
        }
    };
    replace(surface, JunctionKind::Partition, placed);
    Ok(())
}

fn posts_have_walls(kind: SurfaceKind, number: u32) -> Result<(), String> {
    let is_framed_in = kind == SurfaceKind::Wall || number == 0;
    if is_framed_in { Ok(()) } else { Err("other walls meet walls alone".to_owned()) }
}

fn placed_length_m(surface: &Surface, key: SurfaceKey) -> Result<f64, String> {
    let placed = places_have_walls(key.word(), surface.kind).and_then(|()| places_have_room(Room::of(surface)));
    placed.map_err(|misfit| misfit.message)
}

fn replace(surface: &mut Surface, kind: JunctionKind, placed: Vec<Junction>) {
    surface.junctions.retain(|junction| junction.kind != kind);
    surface.junctions.extend(placed);
}

/// The parts that lie on the surface; who says one of them, or that there is none, has looked.
fn say_empty(surface: &mut Surface, parts: &[DoNotFill]) -> Outcome {
    let room = Room::of(surface);
    let mut outcome = Outcome { is_taken: parts.is_empty(), ..Outcome::default() };
    for part in parts {
        let misfits = stretches_fit(std::slice::from_ref(part), room);
        if misfits.is_empty() {
            surface.do_not_fill.push(part.clone());
            outcome.is_taken = true;
        }
        outcome.misfits.extend(misfits.into_iter().map(|misfit| misfit.message));
    }
    surface.is_surveyed |= outcome.is_taken;
    outcome
}

fn say_eaves(surface: &mut Surface, value: &SurfaceValue) -> Result<(), Misread> {
    ceilings_alone(value.key().word(), surface.kind)?;
    match value {
        SurfaceValue::Eaves(sides) => {
            if let EaveSides::LengthM(length_m) = sides {
                eaves_fit(*length_m, Room::of(surface))?;
            }
            surface.eaves.sides = Some(*sides);
        }
        SurfaceValue::HeelHeight(heel_m) => surface.eaves.heel_height_m = Some(*heel_m),
        SurfaceValue::RoofPitch(pitch_deg) => surface.eaves.roof_pitch_deg = Some(*pitch_deg),
        _ => {}
    }
    Ok(())
}

fn say_platforms(surface: &mut Surface, platforms: &[DoNotFill]) -> Outcome {
    let mut outcome = Outcome::default();
    for platform in platforms {
        let DoNotFillExtent::Box { from_m, to_m } = platform.extent else { continue };
        match lies_on(surface, from_m, to_m) {
            Ok(()) => {
                surface.do_not_fill.push(platform.clone());
                outcome.is_taken = true;
            }
            Err(misfit) => outcome.misfits.push(format!("a platform {misfit}")),
        }
    }
    outcome
}

fn misfit_of(surface: &Surface, rule: &SurfaceRule, said: &Said, misfit: &str) -> Finding {
    let place = place_of(surface);
    let message = format!(
        "`{}` of {} ({}) does not fit `{}`: {misfit}; mend it, or narrow {}",
        said.value.key().word(),
        rule.said_in.words(),
        said.place.clone().without_column(),
        label(surface),
        if rule.said_in == SaidIn::JobFile { "its `match`" } else { "its `surface`" }
    );
    Finding::warning(Code::RuleMisfit, &place, message)
}

/// What people call it: the name of a model's element, the id of a row.
pub(super) fn label(surface: &Surface) -> &str {
    let name = surface.name.as_deref().filter(|name| surface.source.line.is_none() && !name.trim().is_empty());
    name.unwrap_or(&surface.id)
}

/// Each value that is taken up, with the surfaces that take it up.
fn assumptions(surfaces: &[Surface], told: &[Told], job: &Job) -> Vec<Assumption> {
    let mut all = Vec::new();
    for (index, rule) in job.surface_rules.iter().enumerate() {
        for (number, said) in rule.said.iter().enumerate() {
            let takes = |one: &(&Surface, &Told)| one.1.taken.contains(&(index, number));
            let pairs = surfaces.iter().zip(told);
            let names: Vec<&str> = pairs.filter(takes).map(|(surface, _)| label(surface)).collect();
            if names.is_empty() {
                continue;
            }
            let shown = list(&names);
            all.push(Assumption {
                key: format!("surface.{}", said.value.key().word()),
                value: said.text.clone(),
                unit: String::new(),
                source: format!("{}; for {}: {shown}", rule.source, names.len()),
            });
        }
    }
    all
}

/// Some names, and how many more there are.
pub(super) fn list(names: &[&str]) -> String {
    let shown = names.iter().take(NAMED).copied().collect::<Vec<_>>().join(", ");
    match names.len().saturating_sub(NAMED) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// Tables that fit no surface, and openings that none of the surfaces has.
fn unused(told: &[Told], job: &Job) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, rule) in job.surface_rules.iter().enumerate() {
        if !told.iter().any(|one| one.fitting.contains(&index)) {
            findings.push(match rule.said_in {
                SaidIn::JobFile => Finding::note(Code::RuleUnused, &rule.place, "this `[[surface]]` fits no surface"),
                SaidIn::Survey => Finding::warning(
                    Code::RuleUnused,
                    &rule.place,
                    "this row of the survey fits no surface; write the id or the name that the takeoff has",
                ),
            });
            continue;
        }
        let openings = rule.said.iter().filter_map(|said| match &said.value {
            SurfaceValue::Openings(openings) => Some(openings.iter().enumerate()),
            _ => None,
        });
        for (entry, opening) in openings.flatten() {
            let WhichOpening::Own(pattern) = &opening.which else { continue };
            if !told.iter().any(|one| one.openings.contains(&(index, entry))) {
                let message = format!("the pattern `{}` fits no opening of the surfaces", pattern.text());
                let place = Place::line(&opening.source.input, opening.source.line.unwrap_or_default());
                findings.push(Finding::note(Code::RuleUnused, &place, message));
            }
        }
    }
    findings
}
