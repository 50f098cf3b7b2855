//! The sheet that a crew works by.

use super::marks::{FillMarks, Mark, fill_of};
use super::view::{View, given, is_outer, seen};
use super::walk::walk;
use crate::geometry::Bounds;
use crate::job::SeenFrom;
use crate::takeoff::{BayTakeoff, LeftOutTakeoff, SurfaceTakeoff, Takeoff};
use std::collections::HashSet;

/// All that a crew fills, in the order in which it walks.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewSheet {
    /// From where it sees its work.
    pub seen_from: SeenFrom,
    /// Its stops.
    pub stops: Vec<Stop>,
    /// Bags by fill.
    pub fills: Vec<FillMarks>,
    /// What hopper and hose hold at a mark; `None` where nobody says: then the hopper is run down at each mark.
    pub left_in_machine_kg: Option<f64>,
}

/// One surface, or several that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Number, from 1.
    pub number: u32,
    /// Index among the surfaces of the takeoff.
    pub surface: usize,
    /// From where the crew sees it.
    pub view: View,
    /// Whether that is the other way round than its outline is given.
    pub is_mirrored: bool,
    /// Whether somebody must look for bays that stay empty before the first one is filled.
    pub is_to_survey: bool,
    /// What must not be filled, from the left as the crew sees it.
    pub keep_empty: Vec<KeepEmpty>,
    /// Bays of one surface, in the order in which they are filled.
    pub bays: Vec<BayStep>,
    /// What all that are alike take.
    pub mass_kg: f64,
    /// That in bags.
    pub bags_exact: Option<f64>,
    /// Index in `fills`.
    pub fill: Option<usize>,
    /// Where the work is at its end.
    pub end: Option<Mark>,
}

/// A piece that must not be filled.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepEmpty {
    /// Why.
    pub reason: String,
    /// The bay of whose volume it is a part, where it has no place of its own.
    pub bay: Option<String>,
    /// Its edges from the left as the crew sees it, in metres; `None` where its place is not known.
    pub across_m: Option<[f64; 2]>,
    /// Its edges from below, in metres.
    pub up_m: Option<[f64; 2]>,
    /// Its area.
    pub area_m2: f64,
}

/// A bay to fill.
#[derive(Clone, Debug, PartialEq)]
pub struct BayStep {
    /// Index among the bays of its surface.
    pub bay: usize,
    /// Its left edge as the crew sees it; `None` where only an area is known.
    pub from_left_m: Option<f64>,
    /// Bags that it takes.
    pub bags_exact: Option<f64>,
    /// How many bays like it a bag fills.
    pub to_a_bag_exact: Option<f64>,
}

/// Makes the crew sheet of a takeoff.
pub fn crew_sheet(takeoff: &Takeoff) -> CrewSheet {
    let mut fills = FillMarks::of(takeoff);
    let mut seen_ids = HashSet::new();
    // Pieces of one wall, cut at floors, stand one above the other.
    let outer = takeoff.surfaces.iter().filter(|surface| is_outer(surface));
    let outer: Vec<&SurfaceTakeoff> = outer.filter(|surface| seen_ids.insert(surface.id.as_str())).collect();
    let mut stops = Vec::new();
    for index in walk(&takeoff.surfaces) {
        let Some(surface) = takeoff.surfaces.get(index) else { continue };
        let number = u32::try_from(stops.len() + 1).unwrap_or(u32::MAX);
        let around: Vec<&SurfaceTakeoff> =
            outer.iter().copied().filter(|other| other.storey == surface.storey).collect();
        let (view, is_mirrored) = seen(given(surface, &around), surface.kind, takeoff.crew_seen_from);
        let fill = fill_of(surface, takeoff);
        let marks = fill.and_then(|fill| fills.get_mut(fill));
        let bag_kg = marks.as_ref().and_then(|marks| marks.bag_kg);
        let bays = bay_steps(surface, is_mirrored, bag_kg);
        let blown: Vec<(String, f64)> = bays
            .iter()
            .filter_map(|step| surface.bays.get(step.bay))
            .map(|bay| (bay.id.clone(), bay.mass_kg))
            .collect();
        let mass_kg = surface.mass_kg.unwrap_or(0.0);
        stops.push(Stop {
            number,
            surface: index,
            view,
            is_mirrored,
            is_to_survey: surface.surveyed == Some(false),
            keep_empty: keep_empty(surface, is_mirrored),
            bays,
            mass_kg,
            bags_exact: bag_kg.map(|bag_kg| mass_kg / bag_kg),
            fill,
            end: marks.and_then(|marks| marks.blow(number, surface.count, &blown)),
        });
    }
    CrewSheet { seen_from: takeoff.crew_seen_from, stops, fills, left_in_machine_kg: takeoff.left_in_machine_kg }
}

/// Edges of a box from the left as the crew sees it.
fn across(bounds: &Bounds, length_m: f64, is_mirrored: bool) -> [f64; 2] {
    if is_mirrored { [length_m - bounds.max_x, length_m - bounds.min_x] } else { [bounds.min_x, bounds.max_x] }
}

fn length_m(surface: &SurfaceTakeoff) -> f64 {
    Bounds::of(surface.outline_m.iter().flatten()).map_or(0.0, |bounds| bounds.max_x)
}

/// From the left, then from below, as the bays are numbered; mirrored, the numbers run from the right.
fn bay_steps(surface: &SurfaceTakeoff, is_mirrored: bool, bag_kg: Option<f64>) -> Vec<BayStep> {
    let length_m = length_m(surface);
    let step = |(index, bay): (usize, &BayTakeoff)| BayStep {
        bay: index,
        from_left_m: bay.outline_m.bounds().map(|bounds| across(&bounds, length_m, is_mirrored)[0]),
        bags_exact: bag_kg.map(|bag_kg| bay.mass_kg / bag_kg),
        to_a_bag_exact: bag_kg.filter(|_| bay.mass_kg > 0.0).map(|bag_kg| bag_kg / bay.mass_kg),
    };
    let mut steps: Vec<BayStep> = surface.bays.iter().enumerate().map(step).collect();
    if is_mirrored {
        // The sort is stable: bays of one place keep their order from below.
        steps.sort_by(|a, b| a.from_left_m.unwrap_or(0.0).total_cmp(&b.from_left_m.unwrap_or(0.0)));
    }
    steps
}

fn keep_empty(surface: &SurfaceTakeoff, is_mirrored: bool) -> Vec<KeepEmpty> {
    let length_m = length_m(surface);
    let piece = |piece: &LeftOutTakeoff| {
        let bounds = piece.outline_m.bounds();
        KeepEmpty {
            reason: piece.reason.clone(),
            bay: piece.bay.clone(),
            across_m: bounds.map(|bounds| across(&bounds, length_m, is_mirrored)),
            up_m: bounds.map(|bounds| [bounds.min_y, bounds.max_y]),
            area_m2: piece.area_m2,
        }
    };
    let mut pieces: Vec<KeepEmpty> = surface.left_out.iter().map(piece).collect();
    let left_m = |piece: &KeepEmpty| piece.across_m.map_or(f64::INFINITY, |across_m| across_m[0]);
    pieces.sort_by(|a, b| left_m(a).total_cmp(&left_m(b)));
    pieces
}
