//! One place of the log: what it comes to.

use super::attic::{attic_of, volume_at_m3};
use super::bays::{each_once, name};
use super::blown::{Blown, uncertainty};
use super::contract::{Doubt, Labelled, Reached, UncertaintyInput, Zone};
use super::contract_seen::{BaysSeen, CoresTaken, Readings};
use super::cores::{cores, readings};
use super::depths::{DepthRow, Depths, depths, one_depth_m};
use super::graded::{Graded, grade};
use super::label_row::label_row;
use super::outcome::{Seen, outcome, settles};
use super::sure::{most_kg_m3, of_volume, together};
use super::twins::Twins;
use crate::fill::FillUse;
use crate::intake::log::{Entry, What};
use crate::job::{FillChoice, Tolerances};
use crate::order::{Range, range_of};
use crate::takeoff::SurfaceTakeoff;

/// What is known of a zone.
pub(super) struct Known<'a> {
    pub name: String,
    pub fill: String,
    pub use_of: FillUse,
    pub parts: Vec<&'a SurfaceTakeoff>,
    /// What the job says of its fill.
    pub choice: Option<&'a FillChoice>,
    /// All entries about it.
    pub entries: Vec<&'a Entry>,
    /// Those of depths, with the parts that each names.
    pub depths: Vec<DepthRow<'a>>,
    pub blown: Blown,
    pub bag_kg: Option<f64>,
    /// Which of its rows say the same.
    pub twins: Twins,
    pub bays: BaysSeen,
}

impl Known<'_> {
    pub(super) fn is_open(&self) -> bool {
        self.use_of == FillUse::OpenBlown
    }

    /// Initial thickness of open-blown fill, which all parts of a place have alike.
    fn initial_m(&self) -> Option<f64> {
        self.parts.first()?.open_blown.as_ref()?.initial_m
    }

    /// Whether any row says what was blown.
    fn is_blown(&self) -> bool {
        self.entries.iter().any(|entry| matches!(entry.what, What::Blown { .. }))
    }

    fn sum(&self, of: impl Fn(&SurfaceTakeoff) -> f64) -> f64 {
        self.parts.iter().map(|part| of(part)).sum()
    }
}

/// Figures of a zone.
pub(super) struct Figures {
    pub bay_volume_m3: f64,
    pub promised_kg: f64,
    pub promised_kg_m3: f64,
    pub density_kg_m3: f64,
    pub least_kg_m3: f64,
    pub most_kg_m3: f64,
    pub inputs: Vec<UncertaintyInput>,
    pub readings: Option<Readings>,
    pub cores: Option<CoresTaken>,
}

/// Judges a zone. `graded` are takeoffs at the grades that the log enters.
pub(super) fn judge(known: Known<'_>, graded: &[Graded<'_>], tolerances: &Tolerances) -> Zone {
    let figures = figures(&known, tolerances);
    let seen = Seen {
        promised_kg_m3: figures.promised_kg_m3,
        least_kg_m3: figures.least_kg_m3,
        most_kg_m3: figures.most_kg_m3,
        limit_kg_m3: (!known.is_open()).then(|| most_kg_m3(known.choice, figures.promised_kg_m3)),
        is_blown: known.is_blown(),
        is_closed_off: known.blown.is_closed_off,
        twins: known.twins,
        inputs: &figures.inputs,
        cores: figures.cores.as_ref(),
        readings: figures.readings.as_ref(),
    };
    let attic = known.is_open().then(|| attic_of(&known, &figures));
    let outcome = outcome(&seen, known.is_open(), tolerances);
    let (row, no_row_reason) = match label_row(&known, &figures, outcome.verdict, tolerances) {
        Ok(row) => (Some(row), None),
        Err(reason) => (None, Some(reason)),
    };
    let settles = settles(&outcome, &seen, known.is_open(), tolerances);
    let limit_kg_m3 = seen.limit_kg_m3;
    let doubts = doubts(known.twins, outcome.contradicts);
    let mut zone = put_together(known, &figures, graded, tolerances);
    zone.limit_kg_m3 = limit_kg_m3;
    zone.attic = attic;
    zone.row = row;
    zone.no_row_reason = no_row_reason;
    zone.uncertainty = figures.inputs;
    zone.cores = figures.cores;
    zone.readings = figures.readings;
    zone.doubts = doubts;
    zone.verdict = outcome.verdict;
    zone.judged_by = outcome.by;
    zone.reason = outcome.reason;
    zone.settles = settles;
    zone
}

fn doubts(twins: Twins, contradicts: bool) -> Vec<Doubt> {
    let all = [
        (twins.of_blown, Doubt::BlownTwice),
        (twins.of_taken, Doubt::TakenTwice),
        (contradicts, Doubt::CoresContradict),
    ];
    all.into_iter().filter(|(is, _)| *is).map(|(_, doubt)| doubt).collect()
}

fn figures(known: &Known<'_>, tolerances: &Tolerances) -> Figures {
    let over = |value: f64, by: f64| if by > 0.0 { value / by } else { 0.0 };
    let rows: &[DepthRow<'_>] = if known.is_open() { &[] } else { &known.depths };
    let at_depth: Depths = depths(&known.parts, rows, tolerances);
    let initial_m = known.initial_m();
    let named: Vec<&SurfaceTakeoff> = known.depths.iter().flat_map(|row| row.parts.iter().copied()).collect();
    let due_m = if known.is_open() { initial_m } else { one_depth_m(&named) };
    let bay_volume_m3 = at_depth.volume_m3;
    let promised_kg = known.sum(|part| part.mass_kg.unwrap_or(0.0));
    let promised_kg_m3 = over(at_depth.mass_kg, bay_volume_m3);
    let density_kg_m3 = over(known.blown.net_kg, bay_volume_m3);
    let mut inputs = uncertainty(&known.blown, tolerances.bag_share);
    inputs.extend(of_volume(&known.parts, known.use_of, &at_depth, tolerances));
    inputs.sort_by(|a, b| b.standard_share.total_cmp(&a.standard_share));
    let nothing = Range { least_ratio: 0.0, most_ratio: 0.0 };
    let range = range_of(together(&inputs), tolerances.confidence_share).unwrap_or(nothing);
    // What lies in an attic lies there as blown, not yet settled.
    let as_blown_kg_m3 = initial_m.map(|initial_m| over(promised_kg, volume_at_m3(&known.parts, initial_m)));
    let due_kg_m3 = if known.is_open() { as_blown_kg_m3 } else { Some(promised_kg_m3) };
    Figures {
        bay_volume_m3,
        promised_kg,
        promised_kg_m3,
        density_kg_m3,
        least_kg_m3: density_kg_m3 * range.least_ratio,
        most_kg_m3: density_kg_m3 * range.most_ratio,
        inputs,
        cores: cores(&known.entries, due_kg_m3, tolerances),
        readings: readings(&known.entries, due_m, tolerances.depth_m),
    }
}

/// A zone with its figures, before its verdict.
fn put_together(known: Known<'_>, figures: &Figures, graded: &[Graded<'_>], tolerances: &Tolerances) -> Zone {
    let is_blown = known.is_blown();
    let of_blown = |kg_m3: f64| is_blown.then_some(kg_m3);
    Zone {
        parts: known.parts.iter().map(|part| name(part)).collect(),
        days: words(&known.entries, |entry| match entry.what {
            What::Blown { .. } => entry.date.map(|date| date.to_string()),
            _ => None,
        }),
        by: words(&known.entries, |entry| entry.by.clone()),
        photos: words(&known.entries, |entry| entry.photos.clone()),
        bay_area_m2: known.sum(|part| part.bay_area_m2),
        label: label_of(&known.parts),
        is_blown,
        name: known.name,
        fill: known.fill,
        r#use: known.use_of,
        bay_volume_m3: figures.bay_volume_m3,
        promised_kg: figures.promised_kg,
        promised_kg_m3: figures.promised_kg_m3,
        bag_kg: known.bag_kg,
        bags_exact: known.blown.bags_exact,
        bags_used_exact: known.bag_kg.filter(|_| known.blown.is_closed_off).map(|bag_kg| known.blown.net_kg / bag_kg),
        blown_kg: known.blown.gross_kg,
        taken_out: known.blown.taken,
        net_kg: known.blown.net_kg,
        density_kg_m3: of_blown(figures.density_kg_m3),
        least_kg_m3: of_blown(figures.least_kg_m3),
        most_kg_m3: of_blown(figures.most_kg_m3),
        confidence_share: tolerances.confidence_share,
        limit_kg_m3: None,
        is_closed_off: known.blown.is_closed_off,
        uncertainty: Vec::new(),
        attic: None,
        cores: None,
        readings: None,
        bays: known.bays,
        grade: grade(&known.entries, &known.parts, graded),
        row: None,
        no_row_reason: None,
        doubts: Vec::new(),
        verdict: Reached::CannotTell,
        judged_by: None,
        reason: String::new(),
        settles: Vec::new(),
    }
}

/// Words of the entries, each once.
fn words(entries: &[&Entry], of: impl Fn(&Entry) -> Option<String>) -> Vec<String> {
    let all: Vec<String> = entries.iter().filter_map(|entry| of(entry)).collect();
    each_once(all.iter().map(String::as_str))
}

/// The label's figures of what was ordered, where all parts have the same.
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
