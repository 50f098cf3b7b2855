//! Time: hours by stage and a plan by day, from the takeoff and the rates of the job.

use super::notes::Notes;
use super::{Status, Topic};
use crate::fill::FillUse;
use crate::job::{Job, Rig};
use crate::order::{split_by_days, stage_bags};
use crate::takeoff::Takeoff;
use crate::units::display_flow::{hours, trimmed};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// People of a crew where nobody says, one at the hose and one at the machine: common practice, no source.
const CREW: u32 = 2;
const PACKED: &str = "pack";
const OPEN: &str = "blow open";

/// Hours and days.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TimeFigures {
    /// Stages in the order of the work.
    pub stages: Vec<StageFigures>,
    /// Their sum.
    pub total_h: f64,
    /// People in the crew.
    pub crew: u32,
    /// Days in their order; empty where the hours of a day are not given.
    pub days: Vec<DayFigures>,
}

/// A stage of the work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StageFigures {
    /// What is done.
    pub what: String,
    /// The fill that is blown; null where none is.
    pub fill: Option<String>,
    /// Its mass, allowance included; nought where none is blown.
    pub mass_kg: f64,
    /// Hours.
    pub work_h: f64,
    /// Rate, in words, and whose it is.
    pub rate: String,
}

/// A day of the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DayFigures {
    /// Day of the work, from 1.
    pub day: u32,
    /// What is done, with its hours.
    pub work: Vec<DayWork>,
    /// Bags to set down, by fill.
    pub bags: Vec<DayBags>,
}

/// A piece of a day's work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DayWork {
    /// What is done.
    pub what: String,
    /// Hours.
    pub work_h: f64,
}

/// Bags of a fill to set down on a day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct DayBags {
    /// Name of the fill.
    pub fill: String,
    /// Whole bags; over all days they sum to the order.
    pub bags: u64,
}

/// Rate of a use and where it comes from.
fn rate_kg_per_h(fill_use: FillUse, job: &Job, rig: &Rig) -> Option<(f64, &'static str)> {
    let labour = job.order.labour.as_ref();
    let (own, shared) = match fill_use {
        FillUse::ClosedCavity => (rig.closed_kg_per_h, labour.and_then(|labour| labour.closed_kg_per_h)),
        FillUse::OpenBlown => (rig.open_kg_per_h, labour.and_then(|labour| labour.open_kg_per_h)),
    };
    let own = own.map(|rate| (rate, "this rig, holes apart"));
    own.or_else(|| shared.map(|rate| (rate, "[labour], holes included")))
}

/// Checks the time.
pub(super) fn check(takeoff: Option<&Takeoff>, job: &Job, rig: &Rig, notes: &mut Notes) -> Option<TimeFigures> {
    let takeoff = takeoff?;
    let crew = job.order.crew.unwrap_or(CREW);
    let mut stages = Vec::new();
    stages.extend(holes(takeoff, rig, crew, notes));
    for fill_use in [FillUse::ClosedCavity, FillUse::OpenBlown] {
        stages.extend(blowing(fill_use, takeoff, job, rig, notes)?);
    }
    let total_h = stages.iter().fold(0.0, |sum, stage: &StageFigures| sum + stage.work_h);
    let days = plan(&stages, takeoff, job, rig, notes);
    let figures = TimeFigures { stages, total_h, crew, days };
    say(&figures, job, rig, notes);
    Some(figures)
}

/// Drilling and plugging, where the rate of the rig leaves it out.
fn holes(takeoff: &Takeoff, rig: &Rig, crew: u32, notes: &mut Notes) -> Option<StageFigures> {
    let count = takeoff.holes.holes_to_drill;
    if count == 0 || rig.closed_kg_per_h.is_none() {
        return None;
    }
    let Some(per_h) = rig.holes_per_h else {
        let found = format!("{count} holes to drill and plug are not in the hours.");
        let action = "Write what one person drills and plugs: `holes_per_hour = 20`.";
        notes.point(Topic::Time, Status::NotShown, found, action);
        return None;
    };
    #[allow(clippy::cast_precision_loss, reason = "no building has 2^52 holes")]
    let work_h = count as f64 / (per_h * f64::from(crew));
    let inputs = [
        ("holes", count.to_string()),
        ("of one person", format!("{} an hour", trimmed(per_h, 1))),
        ("people", crew.to_string()),
    ];
    notes.step(Topic::Time, ["drilling and plugging", &hours(work_h), "holes / (rate x people)"], &inputs, "job file");
    let rate = format!("{} holes an hour each, crew of {crew}", trimmed(per_h, 1));
    Some(StageFigures { what: "drill and plug".to_owned(), fill: None, mass_kg: 0.0, work_h, rate })
}

/// Blowing of one use, fill by fill; `None` where a rate is missing.
fn blowing(fill_use: FillUse, takeoff: &Takeoff, job: &Job, rig: &Rig, notes: &mut Notes) -> Option<Vec<StageFigures>> {
    let mut stages = Vec::new();
    for fill in &job.fills {
        let own = takeoff.surfaces.iter().filter(|surface| {
            surface.counted && surface.r#use == Some(fill_use) && surface.fill.as_ref() == Some(&fill.rules.name)
        });
        let net_kg = own.filter_map(|surface| surface.mass_kg).fold(0.0, |sum, mass_kg| sum + mass_kg);
        if net_kg <= 0.0 {
            continue;
        }
        let mass_kg = net_kg * (1.0 + fill.allowance);
        let (what, key) = match fill_use {
            FillUse::ClosedCavity => (PACKED, "closed_rate"),
            FillUse::OpenBlown => (OPEN, "open_rate"),
        };
        let Some((rate, source)) = rate_kg_per_h(fill_use, job, rig) else {
            let action = format!("Write `{key}` of the rig, measured on a job like this one: `{key} = \"450 lb/h\"`.");
            notes.point(Topic::Time, Status::NotShown, "no rate is given: hours are not known.", &action);
            return None;
        };
        let work_h = mass_kg / rate;
        let rate = format!("{} ({source})", notes.units.show_rate(rate));
        let inputs = [("mass, allowance included", notes.units.show_mass(mass_kg)), ("rate", rate.clone())];
        let what = format!("{what} {}", fill.rules.name);
        notes.step(Topic::Time, [&what, &hours(work_h), "mass / rate"], &inputs, "takeoff; job file");
        let fill = Some(fill.rules.name.clone());
        stages.push(StageFigures { what, fill, mass_kg, work_h, rate });
    }
    Some(stages)
}

/// Hours of a day that are left for the work.
fn day_h(job: &Job, rig: &Rig) -> Option<f64> {
    job.order.day_h.map(|day_h| day_h - rig.set_up_h.unwrap_or(0.0))
}

fn plan(stages: &[StageFigures], takeoff: &Takeoff, job: &Job, rig: &Rig, notes: &mut Notes) -> Vec<DayFigures> {
    let Some(left_h) = day_h(job, rig) else { return Vec::new() };
    let hours_h: Vec<f64> = stages.iter().map(|stage| stage.work_h).collect();
    let Some(split) = split_by_days(&hours_h, left_h) else {
        let action = "Is `hours_per_day` more than `set_up`, and is the rate right?";
        notes.point(Topic::Time, Status::NotShown, "no day is left for the work.", action);
        return Vec::new();
    };
    let last = split.iter().flatten().map(|(day, _)| *day).max();
    let mut days: Vec<DayFigures> = (0..last.map_or(0, |last| last + 1))
        .map(|day| DayFigures { day: u32::try_from(day + 1).unwrap_or(u32::MAX), work: Vec::new(), bags: Vec::new() })
        .collect();
    for (stage, shares) in stages.iter().zip(&split) {
        for (day, work_h) in shares {
            if let Some(day) = days.get_mut(*day) {
                day.work.push(DayWork { what: stage.what.clone(), work_h: *work_h });
            }
        }
    }
    for fill in takeoff.fills.iter().filter(|fill| fill.estimate.is_none()) {
        let Some(order) = fill.bags_order else { continue };
        let mut masses_kg = vec![0.0; days.len()];
        for (stage, shares) in stages.iter().zip(&split).filter(|(stage, _)| stage.fill.as_ref() == Some(&fill.name)) {
            for (day, work_h) in shares {
                if let Some(mass_kg) = masses_kg.get_mut(*day) {
                    *mass_kg += stage.mass_kg * work_h / stage.work_h;
                }
            }
        }
        for (day, bags) in days.iter_mut().zip(stage_bags(order, &masses_kg)) {
            if bags > 0 {
                day.bags.push(DayBags { fill: fill.name.clone(), bags });
            }
        }
    }
    days
}

fn say(figures: &TimeFigures, job: &Job, rig: &Rig, notes: &mut Notes) {
    let total = format!("{} of work for a crew of {}", hours(figures.total_h), figures.crew);
    if figures.stages.is_empty() {
        return;
    }
    match day_h(job, rig) {
        Some(left_h) if !figures.days.is_empty() => {
            let set_up =
                rig.set_up_h.map_or_else(String::new, |set_up| format!(" after {} of setting up", hours(set_up)));
            let days = figures.days.len();
            let plural = if days == 1 { "" } else { "s" };
            notes.holds(Topic::Time, format!("{total}: {days} day{plural} of {}{set_up}.", hours(left_h)));
        }
        _ => {
            let action = "Write `hours_per_day` under `[labour]` for a plan by day.";
            notes.point(Topic::Time, Status::Holds, format!("{total}."), action);
        }
    }
}
