//! What inspections saw, bay by bay.

use super::contract_seen::BaysSeen;
use crate::intake::log::{BayList, Entry, What};
use crate::refusal::Refusal;
use crate::source::Place;
use crate::takeoff::SurfaceTakeoff;
use std::collections::BTreeMap;

/// Id and part: `O-S/2`.
pub(super) fn name(surface: &SurfaceTakeoff) -> String {
    match surface.part {
        0 => surface.id.clone(),
        part => format!("{}/{part}", surface.id),
    }
}

/// Words, each once.
pub(super) fn each_once<'w>(words: impl Iterator<Item = &'w str>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in words {
        if !all.iter().any(|known| known == word) {
            all.push(word.to_owned());
        }
    }
    all
}

/// What is known of the bays of some surfaces. Each inspection comes with those of them that it is about.
///
/// # Errors
/// A bay that its surfaces do not have.
pub(super) fn seen(
    parts: &[&SurfaceTakeoff],
    inspections: &[(&Entry, Vec<&SurfaceTakeoff>)],
) -> Result<BaysSeen, Box<Refusal>> {
    let mut bays: BTreeMap<(String, u32), Option<bool>> = BTreeMap::new();
    for surface in parts {
        bays.extend(numbers(surface).map(|number| ((name(surface), number), None)));
    }
    let mut methods: Vec<String> = Vec::new();
    for (entry, own) in inspections {
        let What::Inspection { method, bays: list, is_filled } = &entry.what else { continue };
        check(list, own, &entry.place)?;
        if !methods.iter().any(|known| known == method.word()) {
            methods.push(method.word().to_owned());
        }
        for ((_, number), state) in bays.iter_mut().filter(|((id, _), _)| own.iter().any(|part| name(part) == *id)) {
            if list.has(*number) {
                // What was found empty once stays so until somebody sees it filled, further down.
                *state = Some(*is_filled);
            }
        }
    }
    let count = |is: &dyn Fn(&Option<bool>) -> bool| bays.values().filter(|state| is(state)).count();
    let filled = count(&|state| *state == Some(true));
    let many = parts.iter().any(|surface| surface.count > 1);
    Ok(BaysSeen {
        bays: u64::try_from(bays.len()).unwrap_or(u64::MAX),
        filled: u64::try_from(filled).unwrap_or(u64::MAX),
        voids: bays
            .iter()
            .filter(|(_, state)| **state == Some(false))
            .map(|((id, number), _)| format!("{id} bay {number}"))
            .collect(),
        methods,
        // Of several surfaces alike, the bays of one stand for all in the takeoff, and nobody can say which were seen.
        every_bay_filled: !bays.is_empty() && filled == bays.len() && !many,
    })
}

/// Numbers of the bays; those that must stay empty are skipped by the takeoff.
fn numbers(surface: &SurfaceTakeoff) -> impl Iterator<Item = u32> {
    surface.bays.iter().filter_map(|bay| bay.id.parse().ok())
}

fn check(list: &BayList, parts: &[&SurfaceTakeoff], place: &Place) -> Result<(), Box<Refusal>> {
    let Some(greatest) = list.greatest() else { return Ok(()) };
    let last = |surface: &SurfaceTakeoff| numbers(surface).max().unwrap_or(0);
    match parts.iter().find(|surface| last(surface) < greatest) {
        Some(surface) => {
            let message = format!("there is no bay {greatest} in {}: the last is {}", name(surface), last(surface));
            Err(Box::new(Refusal::new(
                place.clone(),
                message,
                "bays are numbered as in the takeoff: `--save x.bays.csv`",
            )))
        }
        None => Ok(()),
    }
}
