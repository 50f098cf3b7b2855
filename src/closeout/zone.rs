//! One place of the log: what it comes to.

use super::attic;
use super::blown::{Blown, uncertainty};
use super::contract::{BaysSeen, CoresTaken, JudgedBy, Labelled, Reached, Readings, UncertaintyInput, Zone};
use super::cores::{cores, readings};
use super::graded::grade;
use super::sure::{of_volume, together};
use crate::fill::FillUse;
use crate::intake::log::{Entry, What};
use crate::job::Tolerances;
use crate::order::{range_of, samples_needed};
use crate::takeoff::SurfaceTakeoff;

/// Spread of cores that is reckoned with before two are cut: twice what samples of ASTM C687 differ by.
const SPREAD_SHARE: f64 = 0.10;

/// What is known of a zone.
pub(super) struct Known<'a> {
    pub name: String,
    pub fill: String,
    pub use_of: FillUse,
    pub parts: Vec<&'a SurfaceTakeoff>,
    /// All entries about it.
    pub entries: Vec<&'a Entry>,
    pub blown: Blown,
    pub bag_kg: Option<f64>,
    pub bays: BaysSeen,
}

/// Judges a zone.
pub(super) fn judge(known: Known<'_>, tolerances: &Tolerances) -> Zone {
    let sum = |of: &dyn Fn(&SurfaceTakeoff) -> f64| known.parts.iter().map(|part| of(part)).sum::<f64>();
    let drawn_m3 = sum(&|part| part.bay_volume_m3.unwrap_or(0.0));
    let promised_kg = sum(&|part| part.mass_kg.unwrap_or(0.0));
    let depth_m = if drawn_m3 > 0.0 {
        sum(&|part| part.bay_volume_m3.unwrap_or(0.0) * part.depth_m.unwrap_or(0.0)) / drawn_m3
    } else {
        0.0
    };
    let is_open = known.use_of == FillUse::OpenBlown;
    let initial_m = known.parts.iter().filter_map(|part| part.open_blown.as_ref()?.initial_m).reduce(f64::max);
    let due_m = if is_open { initial_m } else { Some(depth_m) };
    let read = readings(&known.entries, due_m, tolerances.depth_m);
    let measured = read.as_ref().filter(|_| !is_open && depth_m > 0.0);
    // Depths that were measured in the bays stand in for the drawn ones.
    let bay_volume_m3 = measured.map_or(drawn_m3, |read| drawn_m3 * read.mean_m / depth_m);
    let over = |mass_kg: f64, volume_m3: f64| if volume_m3 > 0.0 { mass_kg / volume_m3 } else { 0.0 };
    let promised_kg_m3 = over(promised_kg, drawn_m3);
    let density_kg_m3 = over(known.blown.net_kg, bay_volume_m3);
    let mut inputs = uncertainty(&known.blown, tolerances.bag_share);
    let of_reading = measured.map(|read| tolerances.depth_m / 2.0 / f64::from(read.count).sqrt() / read.mean_m);
    inputs.extend(of_volume(&known.parts, known.use_of, of_reading, tolerances));
    inputs.sort_by(|a, b| b.standard_share.total_cmp(&a.standard_share));
    let range = range_of(together(&inputs), tolerances.confidence_share);
    let (least, most) =
        range.map_or((0.0, 0.0), |range| (density_kg_m3 * range.least_ratio, density_kg_m3 * range.most_ratio));
    let by_cores = cores(&known.entries, promised_kg_m3, tolerances.confidence_share);
    let seen = Seen { promised_kg_m3, least, most, is_closed_off: known.blown.is_closed_off, inputs: &inputs };
    let outcome = if is_open { of_attic(&seen, read.as_ref()) } else { of_closed(&seen, by_cores.as_ref()) };
    let settles = settles(&outcome, &seen, by_cores.as_ref(), read.as_ref(), is_open, tolerances);
    let judged = Judged { bay_volume_m3, promised_kg, promised_kg_m3, density_kg_m3, range_kg_m3: (least, most) };
    let mut zone = put_together(known, &judged, tolerances);
    zone.uncertainty = inputs;
    zone.cores = by_cores;
    zone.readings = read;
    zone.verdict = outcome.verdict;
    zone.judged_by = outcome.by;
    zone.reason = outcome.reason;
    zone.settles = settles;
    zone
}

/// Figures of a zone.
struct Judged {
    bay_volume_m3: f64,
    promised_kg: f64,
    promised_kg_m3: f64,
    density_kg_m3: f64,
    range_kg_m3: (f64, f64),
}

/// A zone with its figures, before its verdict.
fn put_together(known: Known<'_>, judged: &Judged, tolerances: &Tolerances) -> Zone {
    Zone {
        parts: known.parts.iter().map(|part| super::bays::name(part)).collect(),
        days: words(&known.entries, |entry| match entry.what {
            What::Blown { .. } => entry.date.map(|date| date.to_string()),
            _ => None,
        }),
        by: words(&known.entries, |entry| entry.by.clone()),
        photos: words(&known.entries, |entry| entry.photos.clone()),
        bay_area_m2: known.parts.iter().map(|part| part.bay_area_m2).sum(),
        label: label_of(&known.parts),
        name: known.name,
        fill: known.fill,
        r#use: known.use_of,
        bay_volume_m3: judged.bay_volume_m3,
        promised_kg: judged.promised_kg,
        promised_kg_m3: judged.promised_kg_m3,
        bag_kg: known.bag_kg,
        bags_exact: known.blown.bags_exact,
        bags_used_exact: known.bag_kg.filter(|_| known.blown.is_closed_off).map(|bag_kg| known.blown.net_kg / bag_kg),
        blown_kg: known.blown.gross_kg,
        taken_out: known.blown.taken,
        net_kg: known.blown.net_kg,
        density_kg_m3: judged.density_kg_m3,
        least_kg_m3: judged.range_kg_m3.0,
        most_kg_m3: judged.range_kg_m3.1,
        confidence_share: tolerances.confidence_share,
        is_closed_off: known.blown.is_closed_off,
        uncertainty: Vec::new(),
        cores: None,
        readings: None,
        bays: known.bays,
        grade: grade(&known.entries, &known.parts),
        verdict: Reached::CannotTell,
        judged_by: None,
        reason: String::new(),
        settles: Vec::new(),
    }
}

/// Words of the entries, each once.
fn words(entries: &[&Entry], of: impl Fn(&Entry) -> Option<String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in entries.iter().filter_map(|entry| of(entry)) {
        if !all.contains(&word) {
            all.push(word);
        }
    }
    all
}

struct Seen<'a> {
    promised_kg_m3: f64,
    least: f64,
    most: f64,
    is_closed_off: bool,
    inputs: &'a [UncertaintyInput],
}

struct Outcome {
    verdict: Reached,
    by: Option<JudgedBy>,
    reason: String,
}

/// A range against what was promised.
fn of_range(least: f64, most: f64, promised: f64) -> Reached {
    if least >= promised * (1.0 - 1e-9) {
        Reached::Reached
    } else if most < promised {
        Reached::Short
    } else {
        Reached::CannotTell
    }
}

fn by_bags(seen: &Seen<'_>) -> (Reached, String) {
    if !seen.is_closed_off {
        let reason =
            "the hopper was neither run down nor weighed at both ends, so that nobody knows which of the bags are here";
        return (Reached::CannotTell, reason.to_owned());
    }
    match of_range(seen.least, seen.most, seen.promised_kg_m3) {
        Reached::CannotTell => {
            let first = seen.inputs.first().map_or("", |input| input.what.as_str());
            let reason = format!(
                "what was promised lies within the range; a bag count alone can't tell; it rests most on: {first}"
            );
            (Reached::CannotTell, reason)
        }
        Reached::Reached => (Reached::Reached, "the whole range is at what was promised or above".to_owned()),
        Reached::Short => (Reached::Short, "the whole range is below what was promised".to_owned()),
    }
}

fn of_closed(seen: &Seen<'_>, cores: Option<&CoresTaken>) -> Outcome {
    let (bags, reason) = by_bags(seen);
    let of_cores = cores.and_then(|cores| Some(of_range(cores.least_kg_m3?, cores.most_kg_m3?, seen.promised_kg_m3)));
    match (bags, of_cores) {
        (Reached::CannotTell, Some(verdict)) if verdict != Reached::CannotTell => {
            let reason = format!("by its cores; by bags: {reason}");
            Outcome { verdict, by: Some(JudgedBy::Cores), reason }
        }
        (Reached::Reached, Some(Reached::Short)) | (Reached::Short, Some(Reached::Reached)) => {
            let reason = "bags and cores contradict each other: one of them is wrong, or the fill is uneven".to_owned();
            Outcome { verdict: Reached::CannotTell, by: None, reason }
        }
        (Reached::CannotTell, _) => Outcome { verdict: Reached::CannotTell, by: None, reason },
        (verdict, _) => Outcome { verdict, by: Some(JudgedBy::Bags), reason },
    }
}

fn of_attic(seen: &Seen<'_>, readings: Option<&Readings>) -> Outcome {
    let (mass, _) = by_bags(seen);
    let (verdict, reason) = attic::judge(readings, mass);
    let by = (verdict != Reached::CannotTell).then_some(JudgedBy::ReadingsAndBags);
    Outcome { verdict, by, reason }
}

/// What would settle a verdict that can't be told.
fn settles(
    outcome: &Outcome,
    seen: &Seen<'_>,
    cores: Option<&CoresTaken>,
    readings: Option<&Readings>,
    is_open: bool,
    tolerances: &Tolerances,
) -> Vec<String> {
    let mut all = Vec::new();
    if outcome.verdict != Reached::CannotTell {
        return all;
    }
    if !seen.is_closed_off {
        all.push("run the hopper down, or weigh what is in it, before and after this place".to_owned());
    }
    if is_open {
        if readings.is_none() {
            all.push("read the depth at several places, at each depth marker at least".to_owned());
        }
        return all;
    }
    let spread = cores.and_then(|cores| Some(cores.spread_kg_m3? / cores.mean_kg_m3));
    let needed = samples_needed(spread.unwrap_or(SPREAD_SHARE), tolerances.density_share, tolerances.confidence_share);
    let of_spread = if spread.is_some() { "as those so far spread" } else { "if they spread by 10 %, as is assumed" };
    if let Some(count) = needed {
        let count = count.max(cores.map_or(2, |cores| u32::try_from(cores.samples.len() + 1).unwrap_or(u32::MAX)));
        all.push(format!(
            "{count} cores in all: they give the mean to within {:.0} % at {:.0} %, {of_spread}",
            tolerances.density_share * 100.0,
            tolerances.confidence_share * 100.0
        ));
    }
    if seen.is_closed_off && seen.inputs.first().is_some_and(|input| input.what == "depth") {
        all.push("measure the depth of the cavity at several holes and log it".to_owned());
    }
    all
}

/// The label's figures, where all parts have the same.
fn label_of(parts: &[&SurfaceTakeoff]) -> Option<Labelled> {
    let of = |part: &SurfaceTakeoff| {
        let label = part.label.as_ref()?;
        let open = part.open_blown.as_ref();
        Some(Labelled {
            source: label.source.clone(),
            r_m2k_w: label.is_printed.then_some(label.r_m2k_w),
            mass_kg_m2: label.mass_kg_m2,
            settled_m: open.map(|open| open.settled_m),
            initial_m: open.and_then(|open| open.initial_m),
            markers: open.map(|open| open.markers),
        })
    };
    let first = of(parts.first()?)?;
    parts.iter().all(|part| of(part).as_ref() == Some(&first)).then_some(first)
}
