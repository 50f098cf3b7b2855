//! The job as a whole, put together from the places of the log.

use super::contract::{FillCloseout, Zone};
use super::fills::{OfUse, Whole, overall};
use super::run::Place;
use crate::fill::FillUse;
use crate::finding::{Code, Finding};
use crate::intake::log::Entry;
use crate::job::Job;
use crate::takeoff::{FillTakeoff, Takeoff};

/// One entry a fill that the log names.
pub(super) fn overall_of(
    takeoff: &Takeoff,
    places: &[Place<'_>],
    zones: &[Zone],
    entries: &[Entry],
    job: &Job,
) -> Vec<FillCloseout> {
    let of = |fill: &FillTakeoff| {
        let own: Vec<(&Place<'_>, &Zone)> =
            places.iter().zip(zones).filter(|(place, _)| std::ptr::eq(place.fill, fill)).collect();
        let bag_kg = own.first()?.0.bag_kg.unwrap_or(0.0);
        let uses = [FillUse::ClosedCavity, FillUse::OpenBlown];
        let uses = uses.into_iter().filter_map(|use_of| of_use(&own, use_of, entries)).collect();
        let whole = Whole { fill, bag_kg, zones: own.iter().map(|(_, zone)| *zone).collect(), uses };
        Some(overall(&whole, &job.tolerances))
    };
    takeoff.fills.iter().filter_map(of).collect()
}

/// The places of one use that something is blown into; `None` where there are none.
fn of_use<'a>(fill: &[(&Place<'a>, &'a Zone)], use_of: FillUse, entries: &'a [Entry]) -> Option<OfUse<'a>> {
    let own: Vec<&(&Place<'a>, &'a Zone)> =
        fill.iter().filter(|(place, _)| place.use_of == use_of && !place.runs.is_empty()).collect();
    let holds = |place: &Place<'_>, entry: &Entry| place.runs.iter().flatten().any(|row| std::ptr::eq(*row, entry));
    let mut stretches: Vec<Vec<&Entry>> = Vec::new();
    let (mut was_own, mut is_first) = (false, None);
    for entry in entries.iter().filter(|entry| fill.iter().any(|(place, _)| holds(place, entry))) {
        let is_own = own.iter().any(|(place, _)| holds(place, entry));
        is_first = is_first.or(Some(is_own));
        match stretches.last_mut() {
            Some(stretch) if is_own && was_own => stretch.push(entry),
            _ if is_own => stretches.push(vec![entry]),
            _ => {}
        }
        was_own = is_own;
    }
    let zones = own.iter().map(|(_, zone)| *zone).collect();
    (!own.is_empty()).then(|| OfUse { use_of, zones, stretches, is_first: is_first == Some(true) })
}

/// More bags than the order.
pub(super) fn more_than_ordered(fill: &FillCloseout, places: &[Place<'_>]) -> Option<Finding> {
    let order = fill.bags_order?;
    fill.left_exact.filter(|left| *left < -1e-9)?;
    let of_fill = places.iter().filter(|place| place.fill.name == fill.fill);
    let last = of_fill.flat_map(|place| place.runs.iter().flatten()).max_by_key(|entry| entry.place.line)?;
    let bags = (fill.bags_exact * 10.0).round() / 10.0;
    let message = format!("{bags} bags of {} are logged by here, and {order} were ordered", fill.fill);
    Some(Finding::warning(Code::MoreThanOrdered, &last.place, message))
}
