//! Where the structure of floors runs into walls, or against them: slabs, as far as the model gives them.

use super::by_x::ByX;
use super::placed::Placed;
use crate::geometry::{Point, Polygon, intersection, total_area_m2, union_even_odd};
use crate::model::FloorBand;
use crate::source::Source;

/// A slab that comes as near as this to a wall touches it, in metres: finishes and sheathing lie between.
const TOUCHING_M: f64 = 0.05;
/// A floor stands clear of the foot of a wall by this much, in metres: else it is the floor that the wall stands on. At
/// its head a wall may be drawn past the floor above just to that floor's top.
const FROM_END_M: f64 = 0.3;
/// What is thinner is no structure of a floor but a board or a finish, in metres: a slab has at least 4 in.
const THINNEST_M: f64 = 0.1;
/// A floor counts where it runs along this share of a wall: a landing or a balcony does not.
const ALONG_SHARE: f64 = 0.5;
/// A wall runs past a floor where its outline covers this share of what the floor touches.
const PAST_SHARE: f64 = 0.9;

/// A slab in the world, with its outline in its own plane.
#[derive(Debug)]
pub struct Slab {
    /// Where it lies.
    pub placed: Placed,
    /// Its outline.
    pub outline: Vec<Polygon>,
}

/// The slabs of a model by their boxes.
pub fn slabs_by_x(slabs: impl Iterator<Item = Slab>) -> ByX<Slab> {
    let level = slabs.filter(|slab| slab.placed.is_level());
    ByX::of(level.filter_map(|slab| Some((slab.placed.corners(0.0)?, slab))).collect())
}

/// What one slab does to a wall.
struct Run {
    entity: u64,
    from_m: f64,
    to_m: f64,
    /// Stretches along the wall.
    along: Vec<[f64; 2]>,
}

/// The bands of a wall with this outline, from below; slabs that overlap in height make one.
pub fn bands_of(wall: &Placed, outline: &[Polygon], slabs: &ByX<Slab>, path: &str) -> Vec<FloorBand> {
    let Some(around) = wall.corners(TOUCHING_M) else { return Vec::new() };
    let mut runs: Vec<Run> = slabs.near(around).filter_map(|slab| run(wall, slab)).collect();
    runs.sort_by(|a, b| a.from_m.total_cmp(&b.from_m).then(a.entity.cmp(&b.entity)));
    let mut groups: Vec<Vec<Run>> = Vec::new();
    let mut top_m = f64::NEG_INFINITY;
    for run in runs {
        let to_m = run.to_m;
        match groups.last_mut() {
            Some(group) if run.from_m <= top_m => group.push(run),
            _ => groups.push(vec![run]),
        }
        top_m = top_m.max(to_m);
    }
    groups.iter().filter_map(|group| band(wall, outline, group, path)).collect()
}

/// How a slab lies at a wall; `None` where it does not touch it above its foot, or lies on its head.
fn run(wall: &Placed, slab: &Slab) -> Option<Run> {
    let placed = &slab.placed;
    let height = |z: f64| wall.seen(&placed.out(0.0, 0.0, z)).y;
    let (from_m, to_m) = (height(placed.low_m), height(placed.high_m).min(wall.height_m));
    if from_m < FROM_END_M || to_m <= from_m {
        return None;
    }
    let in_plan = |p: &Point| {
        let seen = wall.seen(&placed.out(p[0], p[1], placed.high_m));
        [seen.x, seen.z]
    };
    let rings: Vec<Vec<Point>> =
        slab.outline.iter().flat_map(|p| &p.rings).map(|ring| ring.iter().map(in_plan).collect()).collect();
    let [low, high] = [wall.low_m - TOUCHING_M, wall.high_m + TOUCHING_M];
    let body = Polygon::rectangle(0.0, low, wall.length_m, high);
    let touched = intersection(&union_even_odd(&rings), &[body]);
    let along: Vec<[f64; 2]> =
        touched.iter().filter_map(Polygon::bounds).map(|bounds| [bounds.min_x, bounds.max_x]).collect();
    (!along.is_empty()).then_some(Run { entity: placed.entity, from_m, to_m, along })
}

/// The band of slabs at one height; `None` where they run along too little of the wall, or it does not run past them.
fn band(wall: &Placed, outline: &[Polygon], group: &[Run], path: &str) -> Option<FloorBand> {
    let from_m = group.iter().map(|run| run.from_m).reduce(f64::min)?;
    let to_m = group.iter().map(|run| run.to_m).reduce(f64::max)?;
    let along = merged(group.iter().flat_map(|run| run.along.iter().copied()).collect());
    if to_m - from_m < THINNEST_M {
        return None;
    }
    // A raked wall must be there below the floor and above it as well, all along what the floor touches.
    let above_m = (to_m + FROM_END_M).min(wall.height_m);
    let rectangle = |[from, to]: &[f64; 2]| Polygon::rectangle(*from, from_m - FROM_END_M, *to, above_m);
    let touched: Vec<Polygon> = along.iter().map(rectangle).collect();
    let strip_m2 = total_area_m2(&intersection(outline, &[rectangle(&[0.0, wall.length_m])]));
    let (touched_m2, past_m2) = (total_area_m2(&touched), total_area_m2(&intersection(outline, &touched)));
    let runs_past = past_m2 >= PAST_SHARE * touched_m2 && past_m2 >= ALONG_SHARE * strip_m2 && strip_m2 > 0.0;
    let longest = |run: &Run| run.along.iter().map(|[from, to]| to - from).sum::<f64>();
    let first = group.iter().reduce(|best, run| if longest(run) > longest(best) { run } else { best })?;
    runs_past.then(|| FloorBand { from_m, to_m, source: Some(Source::of_entity(path, first.entity)) })
}

/// Stretches that do not overlap, from the left.
fn merged(mut stretches: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    stretches.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut all: Vec<[f64; 2]> = Vec::new();
    for [from, to] in stretches {
        match all.last_mut() {
            Some(last) if from <= last[1] => last[1] = last[1].max(to),
            _ => all.push([from, to]),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_that_touch_are_one() {
        assert_eq!(merged(vec![[2.0, 3.0], [0.0, 1.0], [0.5, 2.0], [4.0, 5.0]]), [[0.0, 3.0], [4.0, 5.0]]);
    }
}
