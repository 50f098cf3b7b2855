//! The axes of a flat element: along, up, and through its thickness.

use super::body::extent;
use super::element::Element;
use super::placement::Chain;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Plane, Solid, Vector};

/// Larger than this no element is, in metres.
const LARGEST_M: f64 = 10_000.0;
/// Thinner than this no element is, in metres.
const THINNEST_M: f64 = 1e-4;
/// A normal within this share of upright or level belongs to no side of an element.
const NEITHER: f64 = 0.1;

/// Faces at more than about 10 degrees to a plate are of another slope: the cosine of that angle.
const SAME_SLOPE: f64 = 0.985;
/// A body of which other slopes have this share of the faces that lie is no plate, but a roof in one piece.
const SLOPES_SHARE: f64 = 0.3;
/// A body stands where its upright sides have so many times the area of those that lie,
const STANDS_TIMES: f64 = 4.0;
/// and it is so many times higher than it is thick.
const STANDS_HIGHER: f64 = 2.0;

/// A side of the body before its cuts still is its side while it has this share of the largest one.
const KEPT_SHARE: f64 = 0.9;
/// A shape's corners lie this close to where they are due, in metres.
const HAIR_M: f64 = 1e-4;
/// Sides with a smaller share of the faces are facets of a curve, and say nothing of how large it is.
const LARGE_SHARE: f64 = 0.45;

/// Whether an element stands, as walls do, or lies, as roofs, floors and ceilings do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stance {
    /// It stands: its large faces are upright.
    Upright,
    /// It lies: its large faces look up and down.
    Lying,
}

/// The axes of an element, in its own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axes {
    /// Along it: the x axis of its plane.
    pub along: Vector,
    /// Up in its plane: the y axis.
    pub up: Vector,
    /// Through its thickness; of a lying element, upward.
    pub through: Vector,
    /// Up in the world.
    pub world_up: Vector,
    /// Where the body begins along `through`, in metres.
    pub low_m: f64,
    /// Where it ends.
    pub high_m: f64,
    /// Area of the two large sides together, in square metres.
    pub sides_m2: f64,
    /// Share that the two large sides have of all faces of that stance.
    pub face_share: f64,
}

impl Axes {
    /// The axes of an element from its body.
    ///
    /// # Errors
    /// A body without thickness, without faces of the stance, or larger than any building.
    pub fn of(element: &Element, solid: &Solid, chain: &Chain, stance: Stance) -> Result<Self, Trouble> {
        let base = solid.base();
        check_size(element, &base)?;
        let degenerate = |message: &str| Trouble::new(Code::BodyDegenerate, element.entity, message);
        let world_up = up_in(chain);
        let sides = sides(&base, &world_up, stance)
            .ok_or_else(|| degenerate("the body has no faces that a wall, roof or floor has"))?;
        Self::along(element, &base, world_up, stance, sides)
    }

    /// The axes of an element from its body once cut: along the sides of the body before the cuts where one of them is left,
    /// as under a slope for drainage.
    ///
    /// # Errors
    /// As [`Axes::of`].
    pub fn of_cut(
        element: &Element,
        shape: &Solid,
        chain: &Chain,
        stance: Stance,
        before: &Self,
    ) -> Result<Self, Trouble> {
        let base = shape.base();
        let cut = Self::of(element, shape, chain, stance)?;
        let sides = all_sides(&base, &cut.world_up, stance);
        let kept = sides.into_iter().find(|side| side.normal.dot(&before.through).abs() > 1.0 - 1e-9);
        let Some(side) = kept.filter(|side| side.area_m2 >= KEPT_SHARE * cut.sides_m2) else { return Ok(cut) };
        let axes = Self::along(element, &base, cut.world_up, stance, side)?;
        // The shape's corners are a hair off, and the ends that no cut took are known.
        let known = |end_m: f64, before_m: f64| if (end_m - before_m).abs() < HAIR_M { before_m } else { end_m };
        Ok(Self { low_m: known(axes.low_m, before.low_m), high_m: known(axes.high_m, before.high_m), ..axes })
    }

    /// The axes of an element that is made of parts: its thickness is where they reach least.
    ///
    /// The largest faces of studs look along the wall, so that they say nothing of its thickness.
    ///
    /// # Errors
    /// As [`Axes::of`].
    pub fn of_parts(element: &Element, solid: &Solid, chain: &Chain, stance: Stance) -> Result<Self, Trouble> {
        let base = solid.base();
        check_size(element, &base)?;
        let world_up = up_in(chain);
        let reach = |side: &Side| extent(&base, &side.normal).map_or(f64::MAX, |(low, high)| high - low);
        let thinnest = all_sides(&base, &world_up, stance).into_iter().min_by(|a, b| reach(a).total_cmp(&reach(b)));
        let degenerate = || Trouble::new(Code::BodyDegenerate, element.entity, "the parts have no faces");
        Self::along(element, &base, world_up, stance, thinnest.ok_or_else(degenerate)?)
    }

    fn along(
        element: &Element,
        base: &[&Solid],
        world_up: Vector,
        stance: Stance,
        side: Side,
    ) -> Result<Self, Trouble> {
        let degenerate = |message: &str| Trouble::new(Code::BodyDegenerate, element.entity, message);
        let (through, sides_m2, face_share) = (side.normal, side.area_m2, side.share);
        let slope = (world_up - through * through.dot(&world_up)).try_normalize(1e-9);
        let (along, up) = match (stance, slope) {
            (Stance::Upright, Some(up)) => (through.cross(&up), up),
            (Stance::Upright, None) => return Err(degenerate("the body lies level; a wall stands")),
            (Stance::Lying, Some(up)) => (up.cross(&through), up),
            (Stance::Lying, None) => {
                let along = (Vector::x() - through * through.x).try_normalize(1e-6).unwrap_or_else(Vector::y);
                (along, through.cross(&along))
            }
        };
        let (low_m, high_m) = extent(base, &through).ok_or_else(|| degenerate("the body has no corners"))?;
        let axes = Self { along, up, through, world_up, low_m, high_m, sides_m2, face_share };
        if axes.thickness_m() < THINNEST_M {
            return Err(degenerate("the body has no thickness"));
        }
        Ok(axes)
    }

    /// Thickness of the body, in metres.
    pub fn thickness_m(&self) -> f64 {
        self.high_m - self.low_m
    }

    /// Slope against the level, in degrees.
    pub fn pitch_deg(&self) -> f64 {
        pitch_deg(&self.through, &self.world_up)
    }

    /// Whether a body that should lie stands instead, as a lining of a wall does: its top would be measured for its side.
    pub fn stands(&self, solid: &Solid) -> bool {
        let base = solid.base();
        let Some(side) = sides(&base, &self.world_up, Stance::Upright) else { return false };
        let size = |along: &Vector| extent(&base, along).map_or(0.0, |(low, high)| high - low);
        side.normal.dot(&self.world_up).abs() < NEITHER
            && side.area_m2 > STANDS_TIMES * self.sides_m2
            && size(&self.world_up) > STANDS_HIGHER * size(&side.normal)
    }

    /// Whether a body that should stand lies instead, as a slab or a kerb does: its edge would be measured for its side.
    pub fn lies(&self, solid: &Solid) -> bool {
        let base = solid.base();
        let Some(side) = sides(&base, &self.world_up, Stance::Lying) else { return false };
        let size = |along: &Vector| extent(&base, along).map_or(0.0, |(low, high)| high - low);
        self.face_share > LARGE_SHARE
            && side.normal.dot(&self.world_up).abs() > 1.0 - NEITHER
            && side.area_m2 > STANDS_TIMES * self.sides_m2
            && self.thickness_m() > STANDS_HIGHER * size(&self.world_up)
    }

    /// Whether a face that looks this way belongs to the sides of an element of a stance.
    pub fn is_side(&self, normal: &Vector, stance: Stance) -> bool {
        is_side(normal, &self.world_up, stance)
    }

    /// Whether much of what lies is in other slopes than the plate's own, as in a solid hipped roof.
    pub fn has_slopes(&self, solid: &Solid) -> bool {
        let (mut all_m2, mut other_m2) = (0.0, 0.0);
        solid.for_each_face(&mut |area| {
            let Some(normal) = area.try_normalize(1e-12) else { return };
            if normal.dot(&self.world_up).abs() >= NEITHER {
                all_m2 += area.norm();
                other_m2 += if normal.dot(&self.through).abs() < SAME_SLOPE { area.norm() } else { 0.0 };
            }
        });
        other_m2 > SLOPES_SHARE * all_m2
    }

    /// The plane at right angles to the thickness, so far along it.
    pub fn plane(&self, at_m: f64) -> Plane {
        Plane { origin: self.through * at_m, x: self.along, y: self.up, normal: self.through }
    }
}

/// Slope of a plane against the level, in degrees, from its normal.
pub fn pitch_deg(normal: &Vector, world_up: &Vector) -> f64 {
    // The arc tangent keeps 0, 45 and 90 degrees exact, which the arc cosine does not.
    let level = normal.dot(world_up).abs();
    (normal.cross(world_up)).norm().atan2(level).to_degrees()
}

fn check_size(element: &Element, base: &[&Solid]) -> Result<(), Trouble> {
    for axis in [Vector::x(), Vector::y(), Vector::z()] {
        let size = extent(base, &axis);
        let within = size.is_some_and(|(low, high)| low.is_finite() && high.is_finite() && high - low < LARGEST_M);
        if !within {
            let message = format!("the body is over {LARGEST_M} m large; no part of a building is");
            return Err(Trouble::new(Code::Implausible, element.entity, message));
        }
    }
    Ok(())
}

fn up_in(chain: &Chain) -> Vector {
    chain.world().inverse().map_or_else(Vector::z, |world| world.direction(&Vector::z()))
}

/// Two opposite sides of a body: their normal, their area together, and their share of all faces of the stance.
#[derive(Clone, Copy)]
struct Side {
    normal: Vector,
    area_m2: f64,
    share: f64,
}

/// The largest sides of a body; the first of equals, so that the order of the file decides and nothing else.
fn sides(base: &[&Solid], world_up: &Vector, stance: Stance) -> Option<Side> {
    let all = all_sides(base, world_up, stance);
    all.into_iter().reduce(|best, side| if best.area_m2 >= side.area_m2 * (1.0 - 1e-9) { best } else { side })
}

/// Every pair of opposite sides of a stance.
///
/// The element's own axes are taken to the last bit where faces agree with one.
fn all_sides(base: &[&Solid], world_up: &Vector, stance: Stance) -> Vec<Side> {
    let mut groups: Vec<(Vector, f64)> = Vec::new();
    for solid in base {
        solid.for_each_face(&mut |area| {
            let Some(normal) = area.try_normalize(1e-12) else { return };
            if !is_side(&normal, world_up, stance) {
                return;
            }
            match groups.iter_mut().find(|(other, _)| other.dot(&normal).abs() > 1.0 - 1e-9) {
                Some((_, total)) => *total += area.norm(),
                None => groups.push((normal, area.norm())),
            }
        });
    }
    let total_m2: f64 = groups.iter().map(|group| group.1).sum();
    let side = |(normal, area_m2): (Vector, f64)| Side {
        normal: turned(normal, world_up, stance),
        area_m2,
        share: area_m2 / total_m2,
    };
    groups.into_iter().map(side).collect()
}

/// Whether a face that looks this way belongs to the sides of an element of a stance.
fn is_side(normal: &Vector, world_up: &Vector, stance: Stance) -> bool {
    let level = normal.dot(world_up).abs();
    match stance {
        Stance::Upright => level <= 1.0 - NEITHER,
        Stance::Lying => level >= NEITHER,
    }
}

fn turned(normal: Vector, world_up: &Vector, stance: Stance) -> Vector {
    let own = [Vector::y(), Vector::x(), Vector::z()].into_iter().find(|axis| axis.dot(&normal).abs() > 1.0 - 1e-10);
    let axis = own.unwrap_or(normal);
    let sign = match stance {
        Stance::Lying => axis.dot(world_up).signum(),
        Stance::Upright if own.is_some() => 1.0,
        Stance::Upright if axis.y.abs() > 1e-9 => axis.y.signum(),
        Stance::Upright => axis.x.signum(),
    };
    axis * sign
}
