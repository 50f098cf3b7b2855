//! Curved and bent walls, unrolled along the middle of their cavity layer.
//!
//! A level section gives the wall's plan; its two ends part it into two long sides, and the line
//! between these is followed in short upright planes, whose sections are laid side by side.

use super::axes::Axes;
use super::cavity::choose;
use super::context::Context;
use super::element::Element;
use super::layers::Layers;
use super::openings::{Cut, Host, openings_of};
use super::placement::Chain;
use super::plate::{section_trouble, surface};
use super::relations::Relations;
use super::stack::{Stack, fill_unsized};
use super::standing::unrolled_standing;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{
    Plane, Point, Polygon, Ring, SectionError, Solid, Vector, clip_by_half_plane, section, union, union_even_odd,
};
use crate::model::{Surface, SurfaceKind};

/// Levels at which the plan is looked for, as shares of the height: openings may break it at one of them.
const LEVELS: [f64; 3] = [0.5, 0.05, 0.95];
/// A corner that turns by more than this may be the end of a wall, in radians.
const SHARP_RAD: f64 = 0.5;
/// The two sides of a wall differ from its thickness by at most this share.
const EVEN_SHARE: f64 = 0.05;

/// A short upright plane along the wall, and where its section is laid.
pub struct Strip {
    plane: Plane,
    length_m: f64,
    offset_m: f64,
}

impl Strip {
    /// A point of it, at a share of its length and so high, in the frame of the element.
    pub fn place(&self, share: f64, up_m: f64) -> Vector {
        self.plane.origin + self.plane.x * (self.length_m * share) + self.plane.y * up_m
    }
}

/// The section of a solid along all strips, laid side by side.
pub fn unrolled_section(solid: &Solid, strips: &[Strip]) -> Result<Vec<Polygon>, SectionError> {
    let mut rings: Vec<Polygon> = Vec::new();
    for strip in strips {
        for polygon in section(solid, &strip.plane)? {
            let started = clip_by_half_plane(&polygon.rings, [-1.0, 0.0], 0.0);
            let ended = clip_by_half_plane(&started, [1.0, 0.0], strip.length_m);
            let shift = |ring: &Ring| ring.iter().map(|[x, y]| [x + strip.offset_m, *y]).collect();
            let clipped: Vec<Ring> = ended.iter().map(shift).collect();
            rings.extend(union_even_odd(&clipped));
        }
    }
    Ok(union(&rings))
}

/// Measures a wall that is curved or bends along its length.
///
/// # Errors
/// Where its plan has no two even sides.
pub fn measure(
    context: &Context<'_>,
    relations: &Relations,
    element: &Element,
    axes: &Axes,
    (solid, chain, layers): (&Solid, &Chain, &Layers),
) -> Result<Surface, Trouble> {
    let refuse = || {
        let message = "the wall is neither flat nor of two even sides that could be unrolled; it is not measured";
        Trouble::new(Code::BodyNotMeasured, element.entity, message)
    };
    let plan = LEVELS.iter().find_map(|level| plan(solid, &axes.world_up, *level)).ok_or_else(refuse)?;
    let sides = plan.sides().ok_or_else(refuse)?;
    let mut stack = stack_of(context, element, layers, sides.thickness_m);
    let share = stack.at_m / sides.thickness_m;
    let strips = strips(&plan.plane, &sides.middle(share));
    let region = unrolled_section(solid, &strips).map_err(|error| section_trouble(element, error))?;
    if region.is_empty() {
        return Err(refuse());
    }
    let host = Host { element, chain, cut: Cut::Unrolled(&strips), lying: None };
    let found = openings_of(context, relations, &host, &region);
    found.troubles.iter().for_each(|trouble| context.note(trouble.clone()));
    stack.at_m = 0.0;
    let standing = unrolled_standing(chain, &strips, found.origin[1]);
    let mut surface = surface(context, element, SurfaceKind::Wall, axes, stack, found);
    surface.thickness_m = Some(sides.thickness_m);
    surface.pitch_deg = Some(90.0);
    surface.standing = standing;
    Ok(surface)
}

/// The layers of a wall whose thickness is known; `at_m` counts from its right side, seen along it.
fn stack_of(context: &Context<'_>, element: &Element, found: &Layers, thickness_m: f64) -> Stack {
    let mut layers = found.layers.clone();
    if !found.has_thickness {
        fill_unsized(&mut layers, thickness_m);
    }
    let total_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
    let sound = layers.iter().all(|layer| layer.thickness_m >= 0.0) && total_m <= thickness_m * (1.0 + EVEN_SHARE);
    let cavity = if sound { choose(context, element, &layers, &found.marks) } else { None };
    let at_m = cavity.map_or(thickness_m / 2.0, |index| {
        let before_m: f64 = layers.iter().take(index).map(|layer| layer.thickness_m).sum();
        let within_m = before_m + layers.get(index).map_or(0.0, |layer| layer.thickness_m / 2.0);
        if found.usage.is_some_and(|usage| !usage.positive) { thickness_m - within_m } else { within_m }
    });
    Stack { layers, cavity_layer: cavity, at_m }
}

/// A wall's plan at one level.
struct Plan {
    plane: Plane,
    ring: Ring,
}

fn plan(solid: &Solid, world_up: &Vector, level: f64) -> Option<Plan> {
    let base = solid.base();
    let (low, high) = super::body::extent(&base, world_up)?;
    let aside = if world_up.x.abs() < 0.9 { Vector::x() } else { Vector::y() };
    let x = (aside - world_up * world_up.dot(&aside)).try_normalize(1e-9)?;
    let origin = world_up * (low + (high - low) * level);
    let plane = Plane { origin, x, y: world_up.cross(&x), normal: *world_up };
    let pieces: Vec<Polygon> = base.iter().filter_map(|piece| section(piece, &plane).ok()).flatten().collect();
    match union(&pieces).as_slice() {
        [Polygon { rings }] => match rings.as_slice() {
            [ring] => Some(Plan { plane, ring: ring.clone() }),
            _ => None,
        },
        _ => None,
    }
}

/// The two long sides of a plan, both from the same end: the right one, then the left one.
struct Sides {
    right: Vec<Point>,
    left: Vec<Point>,
    thickness_m: f64,
}

impl Plan {
    /// Parts the plan at its two ends: the edges between sharp corners that leave the most even sides.
    fn sides(&self) -> Option<Sides> {
        let ends: Vec<usize> = (0..self.ring.len()).filter(|&i| self.is_sharp(i) && self.is_sharp(i + 1)).collect();
        let mut best: Option<(f64, Sides)> = None;
        for (at, &first) in ends.iter().enumerate() {
            for &second in ends.iter().skip(at + 1) {
                let Some((unevenness, sides)) = self.parted(first, second) else { continue };
                if best.as_ref().is_none_or(|(least, _)| unevenness < *least) {
                    best = Some((unevenness, sides));
                }
            }
        }
        best.filter(|(unevenness, _)| *unevenness < EVEN_SHARE).map(|(_, sides)| sides)
    }

    fn corner(&self, index: usize) -> Point {
        self.ring.get(index % self.ring.len()).copied().unwrap_or_default()
    }

    fn is_sharp(&self, index: usize) -> bool {
        let (before, at) = (self.corner(index + self.ring.len() - 1), self.corner(index));
        let after = self.corner(index + 1);
        let (into, out) = ([at[0] - before[0], at[1] - before[1]], [after[0] - at[0], after[1] - at[1]]);
        (into[0] * out[1] - into[1] * out[0]).atan2(into[0] * out[0] + into[1] * out[1]).abs() > SHARP_RAD
    }

    /// The sides between two end edges, and how far from one thickness apart they are, as a share of it.
    fn parted(&self, first: usize, second: usize) -> Option<(f64, Sides)> {
        let n = self.ring.len();
        let run = |from: usize, to: usize| -> Vec<Point> { (from..=to).map(|i| self.corner(i)).collect() };
        let right = run(first + 1, second);
        let mut left = run(second + 1, first + n);
        left.reverse();
        let (start, end) = (distance(right.first()?, left.first()?), distance(right.last()?, left.last()?));
        let thickness_m = f64::midpoint(start, end);
        if right.len() < 2 || left.len() < 2 || thickness_m > length(&right).min(length(&left)) {
            return None;
        }
        // Half-way along each edge, since the corners of a bend are farther apart than its thickness.
        // Both ways: a pilaster stands on one side alone.
        let off = farthest_off(&right, &left, thickness_m).max(farthest_off(&left, &right, thickness_m));
        let uneven = (off + (start - end).abs()) / thickness_m;
        // Counter-clockwise, the outline runs along the right side first; the way along the wall is x where it can be.
        Some((uneven, Sides { right, left, thickness_m }))
    }
}

impl Sides {
    /// The line between the sides, at a share of the way from the right one to the left one.
    fn middle(&self, share: f64) -> Vec<Point> {
        let between = |(r, l): (Point, Point)| [r[0] + share * (l[0] - r[0]), r[1] + share * (l[1] - r[1])];
        paired(&self.right, &self.left).into_iter().map(between).collect()
    }
}

/// Points of two runs in pairs: corner by corner where they have as many, else at equal shares of their lengths.
fn paired(right: &[Point], left: &[Point]) -> Vec<(Point, Point)> {
    if right.len() == left.len() {
        return right.iter().copied().zip(left.iter().copied()).collect();
    }
    let mut shares: Vec<f64> = shares(right);
    shares.extend(self::shares(left));
    shares.sort_by(f64::total_cmp);
    shares.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    shares.iter().filter_map(|share| Some((at_share(right, *share)?, at_share(left, *share)?))).collect()
}

fn shares(run: &[Point]) -> Vec<f64> {
    let total = length(run);
    let mut along = 0.0;
    let steps = run.windows(2).map(|edge| {
        along += length(edge);
        along / total
    });
    std::iter::once(0.0).chain(steps).collect()
}

fn at_share(run: &[Point], share: f64) -> Option<Point> {
    let mut left_m = share * length(run);
    for edge in run.windows(2) {
        let &[a, b] = edge else { continue };
        let edge_m = distance(&a, &b);
        if left_m <= edge_m && edge_m > 0.0 {
            let t = left_m / edge_m;
            return Some([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
        }
        left_m -= edge_m;
    }
    run.last().copied()
}

fn length(run: &[Point]) -> f64 {
    run.windows(2).map(|edge| if let [a, b] = edge { distance(a, b) } else { 0.0 }).sum()
}

fn distance(a: &Point, b: &Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn half_way(a: &Point, b: &Point) -> Point {
    [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])]
}

/// How far the middles of a run's edges are from being one thickness away from another run, at most.
fn farthest_off(run: &[Point], other: &[Point], thickness_m: f64) -> f64 {
    let middles = run.windows(2).filter_map(|edge| if let [a, b] = edge { Some(half_way(a, b)) } else { None });
    let apart = |p: Point| other.windows(2).map(|edge| to_edge(&p, edge)).fold(f64::MAX, f64::min);
    middles.map(|p| (apart(p) - thickness_m).abs()).fold(0.0, f64::max)
}

fn to_edge(p: &Point, edge: &[Point]) -> f64 {
    let &[a, b] = edge else { return f64::MAX };
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 { (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    distance(p, &[a[0] + t * dx, a[1] + t * dy])
}

fn strips(plan: &Plane, middle: &[Point]) -> Vec<Strip> {
    let mut strips = Vec::new();
    let mut offset_m = 0.0;
    for pair in middle.windows(2) {
        let &[a, b] = pair else { continue };
        let length_m = distance(&a, &b);
        if length_m <= 0.0 {
            continue;
        }
        let x = plan.x * ((b[0] - a[0]) / length_m) + plan.y * ((b[1] - a[1]) / length_m);
        // The level is measured from the element's own origin, so that all strips agree.
        let start = plan.x * a[0] + plan.y * a[1];
        let plane = Plane { origin: start, x, y: plan.normal, normal: plan.normal.cross(&x) };
        strips.push(Strip { plane, length_m, offset_m });
        offset_m += length_m;
    }
    strips
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::total_area_m2;
    use crate::geometry::{Extrusion, Frame};

    fn wall(ring: Ring) -> Solid {
        Solid::Extrusion(Extrusion {
            rings: vec![ring],
            frame: Frame::identity(),
            sweep: Vector::new(0.0, 0.0, 2.5),
            has_arcs: true,
        })
    }

    #[test]
    fn a_quarter_ring_unrolls_to_its_middle_length() {
        let arc = |radius: f64, turns: Vec<u32>| -> Ring {
            turns
                .iter()
                .map(|i| f64::from(*i) / 400.0 * std::f64::consts::FRAC_PI_2)
                .map(|a| [radius * a.cos(), radius * a.sin()])
                .collect()
        };
        let mut ring = arc(5.2, (0..=400).collect());
        ring.extend(arc(4.8, (0..=400).rev().collect()));
        let solid = wall(ring);
        let plan = plan(&solid, &Vector::z(), 0.5).expect("one ring");
        let sides = plan.sides().expect("two even sides");
        let strips = strips(&plan.plane, &sides.middle(0.5));
        let area = total_area_m2(&unrolled_section(&solid, &strips).expect("closed"));
        // Length of a quarter circle of radius 5 m, times the height.
        let due = 5.0 * std::f64::consts::FRAC_PI_2 * 2.5;
        assert!((area - due).abs() < 1e-4 * due, "{area} {due}");
    }

    #[test]
    fn a_bent_wall_unrolls_along_both_legs() {
        let solid = wall(vec![[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [3.8, 3.0], [3.8, 0.2], [0.0, 0.2]]);
        let plan = plan(&solid, &Vector::z(), 0.5).expect("one ring");
        let sides = plan.sides().expect("two even sides");
        let strips = strips(&plan.plane, &sides.middle(0.5));
        let area = total_area_m2(&unrolled_section(&solid, &strips).expect("closed"));
        assert!((area - (3.9 + 2.9) * 2.5).abs() < 1e-9, "{area}");
    }
}
