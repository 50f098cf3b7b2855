//! The derivation of one surface or bay, step by step, from what its source says to its share of the order.
//!
//! A takeoff and what it was made from in, sections of plain lines out. Each step holds the figures that it is computed
//! from, so that it can be done again by hand.
//! Invariant: finds and lists figures; every figure is the takeoff's own, or follows from such by the step that shows it.

mod area;
mod bay;
mod empty;
mod fill;
mod find;
mod order;
mod partial;
mod step;
mod surface;
mod wedge;

pub use step::{Explanation, Figure, Line, Measure, Operation, Section, Step};

use crate::intake::WrittenCell;
use crate::job::{Assigned, Assignment, Job, assign, say_of_surfaces};
use crate::model::{Building, Surface};
use crate::refusal::Refusal;
use crate::source::Source;
use crate::takeoff::{SurfaceTakeoff, Takeoff};
use find::{Target, find};

/// Heading over framing that takes a part of the depth.
const WITHIN: &str = "Members within the depth, which lie in the bays";
/// Heading over what stays empty in bays whose area is filled.
const KEPT_EMPTY: &str = "What stays empty in the bays";

/// What a takeoff was made from.
pub struct Origin<'o> {
    /// What was read.
    pub building: &'o Building,
    /// The job that it was taken off with.
    pub job: &'o Job,
    /// What stands at some places of the inputs, in their order.
    pub written: &'o dyn Fn(&[Source]) -> Vec<Vec<WrittenCell>>,
}

/// One surface with all that is known of it.
struct Subject<'o> {
    takeoff: &'o Takeoff,
    surface: &'o SurfaceTakeoff,
    /// What was read of it, and what the job file says of it.
    read: Option<&'o Surface>,
    origin: &'o Origin<'o>,
}

/// Explains what an id names: a surface by its id, `GlobalId` or name, with `/2` behind it for a part where there are
/// several and `#3` for a bay.
///
/// # Errors
/// An id that names nothing, or several surfaces that are not parts of one element; with the nearest ids.
pub fn explain(takeoff: &Takeoff, origin: &Origin<'_>, id: &str) -> Result<Vec<Explanation>, Box<Refusal>> {
    let said = say_of_surfaces(origin.building, origin.job);
    let subject = |surface| Subject { takeoff, surface, read: read_of(&said, surface), origin };
    Ok(match find(takeoff, id)? {
        Target::Surfaces(surfaces) => surfaces.into_iter().map(|one| surface::explain(&subject(one))).collect(),
        Target::Bay(surface, bay) => vec![bay::explain(&subject(surface), bay)],
        Target::LeftOut(element) => vec![find::left_out(element)],
    })
}

fn read_of<'b>(building: &'b Building, surface: &SurfaceTakeoff) -> Option<&'b Surface> {
    let is_own = |read: &&Surface| read.id == surface.id && read.source == surface.source;
    let mut own = building.surfaces.iter().filter(is_own);
    own.clone().find(|read| read.part == surface.part).or_else(|| own.next())
}

/// The framing and the fill that the job gives a surface; `None` where it gives none.
fn assigned_of<'o>(subject: &Subject<'o>) -> Option<Assigned<'o>> {
    match assign(subject.read?, subject.origin.job).ok()? {
        Assignment::Framed(assigned) => Some(*assigned),
        Assignment::Unframed(_) => None,
    }
}

/// What people call a surface, with its part.
fn name_of(surface: &SurfaceTakeoff) -> String {
    let part = if surface.part > 0 { format!("/{}", surface.part) } else { String::new() };
    match surface.name.as_deref().filter(|name| *name != surface.id && !name.trim().is_empty()) {
        Some(name) => format!("{}{part} ({name})", surface.id),
        None => format!("{}{part}", surface.id),
    }
}
