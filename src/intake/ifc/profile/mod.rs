//! Profiles: closed outlines in a plane, with their voids.

mod centre_line;
mod fillet;
mod shapes;
mod spatial;

pub use fillet::rounded;
pub use spatial::spatial;

use super::context::Context;
use super::curve::{Run, curve, unit_arc};
use super::placement::{self, transformation};
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Bounds, Frame, Point, Polygon, Ring, Vector, union, union_even_odd};
use std::f64::consts::TAU;

/// Deeper than this no profile is made of others.
const DEEPEST: usize = 16;
/// Most profiles that one is made of.
const MOST_PARTS: usize = 1000;
/// Farther out than this lies no part of a profile, in metres: the booleans reckon within it.
const FARTHEST_M: f64 = 1e9;
/// Chords of a disc, whatever its radius, so that a disc can taper into another.
const DISC_CHORDS: u32 = 360;

/// A closed outline with its voids, under the even-odd rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The rings, in metres.
    pub rings: Vec<Ring>,
    /// Whether arcs were turned into chords.
    pub has_arcs: bool,
}

impl Outline {
    /// The outline in another frame; chords keep the area of their arcs under any of them.
    fn moved(self, frame: &Frame) -> Self {
        let place = |p: &Point| {
            let p = frame.plane_point(p);
            [p.x, p.y]
        };
        let rings = self.rings.iter().map(|ring| ring.iter().map(place).collect()).collect();
        Self { rings, ..self }
    }
}

/// Reads a profile.
///
/// # Errors
/// A profile that cannot be used, or of a class that is not measured.
pub fn profile(context: &Context<'_>, from: u64, id: u64) -> Result<Outline, Trouble> {
    nested(context, from, id, 0)
}

fn nested(context: &Context<'_>, from: u64, id: u64, depth: usize) -> Result<Outline, Trouble> {
    let record = context.file.follow(from, id)?;
    if depth > DEEPEST {
        return Err(Trouble::new(Code::CircularReference, id, format!("profiles are nested too deep at #{id}")));
    }
    if let Some(shape) = shapes::shape(context, &record) {
        let outline = placed(context, &record, filleted(&record, &shape?)?)?;
        check(&record, &outline)?;
        return Ok(outline);
    }
    let outline = match record.class().as_ref() {
        "IFCARBITRARYCLOSEDPROFILEDEF" => arbitrary(context, &record, false)?,
        "IFCARBITRARYPROFILEDEFWITHVOIDS" => arbitrary(context, &record, true)?,
        "IFCCIRCLEPROFILEDEF" => {
            let radius = size(context, &record, 3, "radius")?;
            placed(context, &record, discs(&[[radius; 2]]))?
        }
        "IFCCIRCLEHOLLOWPROFILEDEF" => {
            let (radius, wall) = (size(context, &record, 3, "radius")?, size(context, &record, 4, "wall thickness")?);
            if wall >= radius {
                let message = "no room within the wall thickness of the ring";
                return Err(Trouble::new(Code::BodyDegenerate, id, message));
            }
            placed(context, &record, discs(&[[radius; 2], [radius - wall; 2]]))?
        }
        "IFCELLIPSEPROFILEDEF" => {
            let radii = [size(context, &record, 3, "first semi-axis")?, size(context, &record, 4, "second semi-axis")?];
            placed(context, &record, discs(&[radii]))?
        }
        "IFCCOMPOSITEPROFILEDEF" => composite(context, &record, depth)?,
        "IFCDERIVEDPROFILEDEF" => {
            let operator = transformation(context.file, id, record.reference(3, "operator")?, context.length_m)?;
            nested(context, id, record.reference(2, "parent profile")?, depth + 1)?.moved(&operator)
        }
        "IFCMIRROREDPROFILEDEF" => {
            let mirror = Frame::from_axes(Vector::zeros(), -Vector::x(), Vector::y(), Vector::z());
            nested(context, id, record.reference(2, "parent profile")?, depth + 1)?.moved(&mirror)
        }
        "IFCCENTERLINEPROFILEDEF" => centre_line::centre_line(context, &record)?,
        class if class.ends_with("PROFILEDEF") || class.ends_with("PROFILEDEFWITHVOIDS") => {
            return Err(Trouble::new(Code::BodyNotMeasured, id, format!("profiles of class {class} are not measured")));
        }
        class => return Err(record.trouble(format!("#{from} has {class} where a profile is due"))),
    };
    check(&record, &outline)?;
    Ok(outline)
}

fn arbitrary(context: &Context<'_>, record: &Record<'_>, with_voids: bool) -> Result<Outline, Trouble> {
    let outer = curve(context, record.id, record.reference(2, "outer curve")?, 0)?;
    let mut has_arcs = outer.has_arcs;
    let mut rings = vec![outer.into_ring()];
    if with_voids {
        let mut voids = Vec::new();
        for id in record.references(3, "inner curves")? {
            let inner: Run = curve(context, record.id, id, 0)?;
            has_arcs |= inner.has_arcs;
            voids.push(inner.into_ring());
        }
        rings.extend(once(voids));
    }
    Ok(Outline { rings, has_arcs })
}

/// Voids that overlap as one: under the even-odd rule what two of them take out would be filled again.
fn once(voids: Vec<Ring>) -> Vec<Ring> {
    let boxes: Vec<Bounds> = voids.iter().filter_map(Bounds::of).collect();
    let overlap = |(i, a): (usize, &Bounds)| boxes.iter().skip(i + 1).any(|b| a.overlaps(b));
    let is_near = boxes.iter().all(|b| [b.min_x, b.min_y, b.max_x, b.max_y].iter().all(|x| x.abs() < FARTHEST_M));
    if voids.len() > MOST_PARTS || !is_near || !boxes.iter().enumerate().any(overlap) {
        return voids;
    }
    let polygons: Vec<Polygon> = voids.iter().flat_map(|ring| union_even_odd(std::slice::from_ref(ring))).collect();
    union(&polygons).into_iter().flat_map(|polygon| polygon.rings).collect()
}

/// Several profiles as one; where they overlap, once.
fn composite(context: &Context<'_>, record: &Record<'_>, depth: usize) -> Result<Outline, Trouble> {
    let ids = record.references(2, "profiles")?;
    if ids.len() > MOST_PARTS {
        return Err(record.trouble(format!("a profile is made of more than {MOST_PARTS} others")));
    }
    let (mut polygons, mut has_arcs): (Vec<Polygon>, bool) = (Vec::new(), false);
    for id in ids {
        context.count_item(id)?;
        let part = nested(context, record.id, id, depth + 1)?;
        if part.rings.iter().flatten().flatten().any(|part| !part.is_finite() || part.abs() > FARTHEST_M) {
            let message = format!("a profile reaches over {FARTHEST_M} m from its origin; no building does");
            return Err(Trouble::new(Code::Implausible, id, message));
        }
        has_arcs |= part.has_arcs;
        polygons.extend(union_even_odd(&part.rings));
    }
    let rings = union(&polygons).into_iter().flat_map(|polygon| polygon.rings).collect();
    Ok(Outline { rings, has_arcs })
}

fn size(context: &Context<'_>, record: &Record<'_>, index: usize, what: &str) -> Result<f64, Trouble> {
    let size_m = record.number(index, what)? * context.length_m;
    if size_m <= 0.0 {
        return Err(record.trouble(format!("{what} of {} is not over 0", record.class())));
    }
    Ok(size_m)
}

fn filleted(record: &Record<'_>, shape: &[shapes::Corners]) -> Result<Outline, Trouble> {
    let ring = |corners: &shapes::Corners| -> Result<Ring, Trouble> {
        let corners: Vec<(Vector, f64)> = corners.iter().map(|([x, y], r)| (Vector::new(*x, *y, 0.0), *r)).collect();
        let no_room = || Trouble::new(Code::BodyDegenerate, record.id, "the fillets do not fit between their corners");
        Ok(Run::straight(rounded(&corners, true).ok_or_else(no_room)?).into_ring())
    };
    let has_arcs = shape.iter().flatten().any(|(_, radius)| *radius > 0.0);
    Ok(Outline { rings: shape.iter().map(ring).collect::<Result<_, _>>()?, has_arcs })
}

/// Discs and ellipses about the origin, by their radii.
fn discs(radii: &[[f64; 2]]) -> Outline {
    let ring = |[x, y]: &[f64; 2]| -> Ring {
        let points = unit_arc(0.0, TAU, DISC_CHORDS);
        points.iter().skip(1).map(|[along, across]| [along * x, across * y]).collect()
    };
    Outline { rings: radii.iter().map(ring).collect(), has_arcs: true }
}

/// The profile at its own position.
fn placed(context: &Context<'_>, record: &Record<'_>, outline: Outline) -> Result<Outline, Trouble> {
    match record.optional_reference(2) {
        Some(id) => Ok(outline.moved(&placement::position(context, record.id, id)?)),
        None => Ok(outline),
    }
}

fn check(record: &Record<'_>, outline: &Outline) -> Result<(), Trouble> {
    let degenerate = |message: String| Err(Trouble::new(Code::BodyDegenerate, record.id, message));
    for ring in &outline.rings {
        if ring.len() < 3 {
            return degenerate(format!("the outline has {} different points, 3 or more are due", ring.len()));
        }
        if !outline.has_arcs && crosses_itself(ring) {
            return degenerate("the outline crosses itself".to_owned());
        }
    }
    Ok(())
}

/// Longest ring that is checked pair by pair; longer ones come from fine curves, not from hand-drawn walls.
const MOST_CHECKED: usize = 400;

fn crosses_itself(ring: &Ring) -> bool {
    let n = ring.len();
    if n > MOST_CHECKED {
        return false;
    }
    let corner = |i: usize| ring.get(i % n).copied().unwrap_or_default();
    let turn = |a: Point, b: Point, c: Point| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    // Properly: each edge's ends lie on either side of the other, by more than rounding.
    let apart = |x: f64, y: f64| x * y < 0.0 && x.abs() > 1e-12 && y.abs() > 1e-12;
    (0..n).any(|i| {
        (i + 2..n).filter(|j| (j + 1) % n != i).any(|j| {
            let (a, b, c, d) = (corner(i), corner(i + 1), corner(j), corner(j + 1));
            apart(turn(a, b, c), turn(a, b, d)) && apart(turn(c, d, a), turn(c, d, b))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::total_area_m2;

    #[test]
    fn a_bow_tie_crosses_itself_and_a_gable_does_not() {
        assert!(crosses_itself(&vec![[0.0, 0.0], [5.0, 3.0], [5.0, 0.0], [0.0, 3.0]]));
        assert!(!crosses_itself(&vec![[0.0, 0.0], [5.0, 0.0], [5.0, 3.0], [2.5, 5.0], [0.0, 3.0]]));
    }

    #[test]
    fn voids_that_overlap_are_taken_out_once() {
        let rectangle = |low: [f64; 2], high: [f64; 2]| crate::geometry::rectangle_ring(low, high);
        let area_m2 = |voids: Vec<Ring>| {
            let rings: Vec<Ring> = std::iter::once(rectangle([0.0, 0.0], [6.0, 3.0])).chain(once(voids)).collect();
            total_area_m2(&union_even_odd(&rings))
        };
        // 18 m2 less 1 m2 and 1.5 m2 that share 0.5 m2, by hand; then less the same two side by side.
        let overlapping = vec![rectangle([1.0, 1.0], [2.0, 2.0]), rectangle([1.5, 1.0], [3.0, 2.0])];
        assert!((area_m2(overlapping) - 16.0).abs() < 1e-9);
        let beside = vec![rectangle([1.0, 1.0], [2.0, 2.0]), rectangle([2.0, 1.0], [3.5, 2.0])];
        assert!((area_m2(beside) - 15.5).abs() < 1e-9);
    }
}
