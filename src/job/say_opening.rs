//! Openings that the job file adds to a surface, or says more of.

use super::say::Outcome;
use super::surface_rule::{OpeningSaid, WhichOpening};
use crate::cells::{Room, clearance_fits, flue_fits};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Point, Polygon, intersection, total_area_m2};
use crate::model::{Extent, Glob, Opening, Surface};
use crate::units::display::both_ways;

/// Says what is said of a surface's openings, and adds those that it lacks.
pub(super) fn say_openings(surface: &mut Surface, openings: &[OpeningSaid]) -> Outcome {
    let mut outcome = Outcome::default();
    for (entry, said) in openings.iter().enumerate() {
        match &said.which {
            WhichOpening::Own(pattern) => say_own(surface, pattern, said, entry, &mut outcome),
            WhichOpening::New { .. } => match add(surface, said) {
                Ok(is_added) => outcome.is_taken |= is_added,
                Err(misfit) => outcome.misfits.push(misfit),
            },
        }
    }
    outcome
}

fn say_own(surface: &mut Surface, pattern: &Glob, said: &OpeningSaid, entry: usize, outcome: &mut Outcome) {
    let is_row = surface.source.line.is_some();
    for opening in surface.openings.iter_mut().filter(|opening| is_called(pattern, opening)) {
        outcome.entries.push(entry);
        if let Some(flue) = said.flue.filter(|_| !(is_row && opening.flue.is_some())) {
            if flue_fits(Some(opening.kind)).is_ok() {
                opening.flue = Some(flue);
                outcome.is_taken = true;
            } else {
                outcome.misfits.push(format!("its opening `{}` is neither a flue nor a chimney", called(opening)));
            }
        }
        if let Some(clearance_m) = said.clearance_m.filter(|_| !(is_row && opening.clearance_m.is_some())) {
            if clearance_fits(Some(opening.kind)).is_ok() {
                opening.clearance_m = Some(clearance_m);
                outcome.is_taken = true;
            } else {
                outcome.misfits.push(format!("its opening `{}` is a window or a door", called(opening)));
            }
        }
    }
}

/// Whether an opening is meant: by its name in a model, by its id in a sheet.
fn is_called(pattern: &Glob, opening: &Opening) -> bool {
    pattern.is_match(called(opening))
}

fn called(opening: &Opening) -> &str {
    opening.name.as_deref().unwrap_or(&opening.id)
}

/// Adds an opening; nothing where the sheet of the surface has it.
fn add(surface: &mut Surface, said: &OpeningSaid) -> Result<bool, String> {
    let WhichOpening::New { id, kind, from_m, to_m } = &said.which else { return Ok(false) };
    let is_there = surface.openings.iter().any(|opening| called(opening).eq_ignore_ascii_case(id));
    match (is_there, surface.source.line) {
        (true, Some(_)) => return Ok(false),
        (true, None) => {
            return Err(format!("it has an opening `{id}` already; what is known of that is said with `match`"));
        }
        (false, _) => {}
    }
    lies_on(surface, *from_m, *to_m).map_err(|misfit| format!("the opening `{id}` {misfit}"))?;
    let Extent::Outline(own) = &surface.extent else { return Ok(false) };
    let whole = intersection(&[of_box(*from_m, *to_m)], own);
    let is_over = |other: &&Opening| total_area_m2(&intersection(&whole, &other.outline)) > NEGLIGIBLE_AREA_M2;
    if let Some(other) = surface.openings.iter().find(is_over) {
        return Err(format!("the opening `{id}` overlaps its opening `{}`", called(other)));
    }
    surface.openings.push(Opening {
        id: id.clone(),
        name: None,
        kind: *kind,
        source: Some(said.source.clone()),
        area_m2: total_area_m2(&whole),
        flue: said.flue,
        clearance_m: said.clearance_m,
        outline: whole,
    });
    Ok(true)
}

/// Whether a box lies on a surface.
pub(super) fn lies_on(surface: &Surface, from_m: Point, to_m: Point) -> Result<(), String> {
    let (Extent::Outline(outline), Some(room)) = (&surface.extent, Room::of(surface)) else {
        return Err("has a place, and only the area of the surface is known".to_owned());
    };
    let is_in_box = to_m[0] <= room.length_m + COINCIDENT_M && to_m[1] <= room.highest_m + COINCIDENT_M;
    let whole = of_box(from_m, to_m);
    // What lies beyond an edge by less than can be told apart is rounding.
    let rounding_m2 = COINCIDENT_M * 2.0 * (to_m[0] - from_m[0] + to_m[1] - from_m[1]);
    let is_within =
        || whole.area_m2() - total_area_m2(&intersection(std::slice::from_ref(&whole), outline)) <= rounding_m2;
    if is_in_box && is_within() {
        return Ok(());
    }
    Err(format!(
        "reaches from {} to {} along and from {} to {} up, and the surface, {} long and {} high, does not hold it",
        both_ways(from_m[0]),
        both_ways(to_m[0]),
        both_ways(from_m[1]),
        both_ways(to_m[1]),
        both_ways(room.length_m),
        both_ways(room.highest_m)
    ))
}

fn of_box(from_m: Point, to_m: Point) -> Polygon {
    Polygon::rectangle(from_m[0], from_m[1], to_m[0], to_m[1])
}
