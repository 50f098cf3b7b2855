//! Whether a body bends away from its largest sides, and which leaf is left of one that has more than two sides.

use super::axes::{Axes, Stance};
use crate::geometry::{Solid, Vector};

/// Sides at less than this to the largest ones are theirs, and at more are ends: 0.06 and 75 degrees, as cosines.
const SAME: f64 = 1.0 - 5e-7;
const ENDS: f64 = 0.26;
/// Normals whose cosine differs from 1 by less than this belong to one pair of sides.
const ONE_PAIR: f64 = 1e-9;
/// A body bends where other pairs of sides have at least this share of its faces,
const BENT_SHARE: f64 = 0.02;
/// A face this close to where the body ends makes that end, as a share of the thickness.
const AT_END: f64 = 0.01;
/// A leaf holds at least this share of its body: what is beyond it is not counted.
const LEAF_SHARE: f64 = 0.7;

/// How much of a body is in pairs of sides that look another way than its largest, as a share of its faces; 0 for one that
/// does not bend.
///
/// Both sides of a leg look opposite ways and nearly make up for each other; those of a taper, a splay or a slope for
/// drainage have no opposite. A plate whose largest sides bound it does not bend, whatever the shape of its ends.
pub fn bent_share(shape: &Solid, axes: &Axes, stance: Stance) -> f64 {
    let mut pairs: Vec<(Vector, f64, Vector)> = Vec::new();
    let mut all_m2 = 0.0;
    for piece in shape.base() {
        piece.for_each_face(&mut |area| {
            let Some(normal) = area.try_normalize(1e-12).filter(|normal| axes.is_side(normal, stance)) else { return };
            all_m2 += area.norm();
            if !(ENDS..SAME).contains(&normal.dot(&axes.through).abs()) {
                return;
            }
            match pairs.iter_mut().find(|(other, ..)| other.dot(&normal).abs() > 1.0 - ONE_PAIR) {
                Some((_, total_m2, sum)) => {
                    *total_m2 += area.norm();
                    *sum += area;
                }
                None => pairs.push((normal, area.norm(), area)),
            }
        });
    }
    if all_m2 <= 0.0 {
        return 0.0;
    }
    let share = pairs.iter().map(|(_, total_m2, sum)| total_m2 - sum.norm()).sum::<f64>() / all_m2;
    if share < BENT_SHARE || is_bounded(shape, axes) { 0.0 } else { share }
}

/// Whether the largest sides are where the body begins and ends.
fn is_bounded(shape: &Solid, axes: &Axes) -> bool {
    let near_m = AT_END * axes.thickness_m();
    let at = |end_m: f64| sides(shape, axes).iter().any(|side| (side.at_m - end_m).abs() < near_m);
    at(axes.low_m) && at(axes.high_m)
}

/// Sides in one plane.
struct Side {
    at_m: f64,
    area_m2: f64,
    looks_up: bool,
}

/// The faces that look along the thickness, those in one plane together.
fn sides(shape: &Solid, axes: &Axes) -> Vec<Side> {
    let near_m = AT_END * axes.thickness_m();
    let mut sides: Vec<Side> = Vec::new();
    for face in shape.base().iter().flat_map(|piece| piece.faces()) {
        let Some(normal) = face.normal().filter(|normal| normal.dot(&axes.through).abs() > SAME) else { continue };
        let (at_m, looks_up) = (face.height_along(&axes.through), normal.dot(&axes.through) > 0.0);
        let area_m2 = face.area_vector().norm();
        match sides.iter_mut().find(|side| side.looks_up == looks_up && (side.at_m - at_m).abs() < near_m) {
            Some(side) => side.area_m2 += area_m2,
            None => sides.push(Side { at_m, area_m2, looks_up }),
        }
    }
    sides
}

/// The leaf between the two largest sides of a body that has others beyond, as a wall with pilasters or a stub has: its
/// axes, and the share of the body that it holds.
///
/// Faces of a file may look either way, so the two largest are taken that are apart.
pub fn leaf(shape: &Solid, axes: &Axes) -> Option<(Axes, f64)> {
    let mut sides = sides(shape, axes);
    sides.sort_by(|a, b| b.area_m2.total_cmp(&a.area_m2));
    let first = sides.first()?;
    let second = sides.iter().find(|side| (side.at_m - first.at_m).abs() > AT_END * axes.thickness_m())?;
    let (low_m, high_m) = (first.at_m.min(second.at_m), first.at_m.max(second.at_m));
    let sides_m2 = first.area_m2 + second.area_m2;
    let volume_m3: f64 = shape.base().iter().map(|piece| piece.volume_m3()).sum();
    let share = first.area_m2 * (high_m - low_m) / volume_m3;
    let leaf = Axes { low_m, high_m, sides_m2, ..*axes };
    (LEAF_SHARE..=1.0 + 1e-9).contains(&share).then_some((leaf, share))
}
