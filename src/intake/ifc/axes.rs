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
        let world_up = chain.world().inverse().map_or_else(Vector::z, |world| world.direction(&Vector::z()));
        let (through, sides_m2, face_share) = thickness_direction(&base, &world_up, stance)
            .ok_or_else(|| degenerate("the body has no faces that a wall, roof or floor has"))?;
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
        let (low_m, high_m) = extent(&base, &through).ok_or_else(|| degenerate("the body has no corners"))?;
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

/// The direction through a body's thickness: at right angles to its largest faces of a stance.
///
/// The element's own axes are taken to the last bit where the faces agree with one.
/// With it come the area of these faces and the share that they have of all of the stance.
fn thickness_direction(base: &[&Solid], world_up: &Vector, stance: Stance) -> Option<(Vector, f64, f64)> {
    let mut groups: Vec<(Vector, f64)> = Vec::new();
    for solid in base {
        solid.for_each_face(&mut |area| {
            let Some(normal) = area.try_normalize(1e-12) else { return };
            let level = normal.dot(world_up).abs();
            let counts = match stance {
                Stance::Upright => level <= 1.0 - NEITHER,
                Stance::Lying => level >= NEITHER,
            };
            if !counts {
                return;
            }
            match groups.iter_mut().find(|(other, _)| other.dot(&normal).abs() > 1.0 - 1e-9) {
                Some((_, total)) => *total += area.norm(),
                None => groups.push((normal, area.norm())),
            }
        });
    }
    // The first of equals wins, so that the order of the file decides and nothing else.
    let largest = groups.iter().fold(None::<&(Vector, f64)>, |best, group| match best {
        Some(best) if best.1 >= group.1 * (1.0 - 1e-9) => Some(best),
        _ => Some(group),
    })?;
    let share = largest.1 / groups.iter().map(|group| group.1).sum::<f64>();
    let own = [Vector::y(), Vector::x(), Vector::z()].into_iter().find(|axis| axis.dot(&largest.0).abs() > 1.0 - 1e-10);
    let normal = own.unwrap_or(largest.0);
    let sign = match stance {
        Stance::Lying => normal.dot(world_up).signum(),
        Stance::Upright if own.is_some() => 1.0,
        Stance::Upright if normal.y.abs() > 1e-9 => normal.y.signum(),
        Stance::Upright => normal.x.signum(),
    };
    Some((normal * sign, largest.1, share))
}
