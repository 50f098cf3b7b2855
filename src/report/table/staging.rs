//! Where bags are set down, and what the work takes.

use super::columns::lines;
use super::summary::{amount, trimmed};
use crate::finding::Code;
use crate::report::text::{printable, shorten};
use crate::takeoff::{FillTakeoff, StageTakeoff, Takeoff};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// A fill with the places that its bags go to.
pub(in crate::report) struct Staged<'t> {
    pub fill: &'t FillTakeoff,
    pub stages: Vec<StageTakeoff>,
}

/// Every fill with its places, be it one alone; nothing where all bags go to the same place.
pub(in crate::report) fn staged(takeoff: &Takeoff) -> Vec<Staged<'_>> {
    let of_fill = |fill| Staged { fill, stages: stages_of(fill) };
    let all: Vec<Staged<'_>> = takeoff.fills.iter().filter(|fill| fill.mass_kg > 0.0).map(of_fill).collect();
    let places = || all.iter().flat_map(|one| one.stages.iter().map(|stage| (&stage.storey, &stage.zone, stage.day)));
    let first = places().next();
    if places().any(|place| Some(place) != first) { all } else { Vec::new() }
}

/// The places of a fill; of one that nothing tells the place of, all of it in a place without a name.
fn stages_of(fill: &FillTakeoff) -> Vec<StageTakeoff> {
    if !fill.staging.is_empty() {
        return fill.staging.clone();
    }
    vec![StageTakeoff { storey: None, zone: None, day: None, mass_kg: fill.mass_kg, bags: fill.bags_order }]
}

/// Whether bags are set down by the day.
pub(in crate::report) fn has_days(staged: &[Staged<'_>]) -> bool {
    staged.iter().any(|one| one.stages.iter().any(|stage| stage.day.is_some()))
}

/// Where to set the bags down, where there is more than one place.
pub(super) fn staging(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let staged = staged(takeoff);
    let has_days = has_days(&staged);
    let heading: &[&str] =
        if has_days { &["day", units.mass_symbol(), "bags"] } else { &["storey", "zone", units.mass_symbol(), "bags"] };
    let row = |stage: &StageTakeoff| {
        let place = if has_days {
            vec![stage.day.map_or_else(|| "no rate given".to_owned(), |day| format!("day {day}"))]
        } else {
            let word = |text: &Option<String>| shorten(text.as_deref().unwrap_or("-"), 26);
            vec![word(&stage.storey), word(&stage.zone)]
        };
        let mass = grouped(units.mass(stage.mass_kg), usize::from(units == UnitSystem::Si));
        let bags = stage.bags.map_or_else(|| "-".to_owned(), |bags| bags.to_string());
        place.into_iter().chain([mass, bags]).collect()
    };
    let mut all = Vec::new();
    for Staged { fill, stages } in &staged {
        let estimate = if fill.estimate.is_some() { ", open-blown: an estimate" } else { "" };
        all.push(format!("Where it goes: {}{estimate}", shorten(&fill.name, 50)));
        all.extend(lines(heading, heading.len() - 2, stages.iter().map(row).collect()));
    }
    all
}

/// Hours and what they cost; nothing where the job gives no rate.
pub(super) fn labour(takeoff: &Takeoff, units: UnitSystem) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(labour) = &takeoff.labour {
        let missing = match (labour.closed_h, labour.open_h) {
            (None, _) => ", closed cavities not included",
            (_, None) => ", open-blown fill not included",
            _ => "",
        };
        parts.push(format!("{} hours of blowing by the rates of the job file{missing}", grouped(labour.machine_h, 1)));
        parts.push(format!("{} hours of a crew of {}", grouped(labour.person_h, 1), labour.crew));
        parts.extend(labour.days_exact.map(|days| format!("{} days", trimmed(days))));
        parts.extend(labour.price.as_ref().map(|price| {
            format!(
                "{} {} at {} an hour, a basis and not an offer",
                amount(&price.total),
                price.currency,
                amount(&price.each)
            )
        }));
    }
    if let Some(left_kg) = takeoff.left_in_machine_kg {
        let is_short = takeoff.findings.iter().any(|finding| finding.code == Code::AllowanceTooSmall);
        let by = if is_short { "more than an allowance: see the findings" } else { "within the allowance" };
        parts.push(format!("{} stay in hopper and hose, {by}", units.show_mass(left_kg)));
    }
    (!parts.is_empty()).then(|| printable(&parts.join("; ")))
}
