//! Profiles: closed outlines in a plane, with their voids.

use super::context::Context;
use super::curve::{Run, curve};
use super::placement;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Point, Ring, rectangle_ring};
use std::f64::consts::TAU;

/// A closed outline with its voids, under the even-odd rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The rings, in metres.
    pub rings: Vec<Ring>,
    /// Whether arcs were turned into chords.
    pub has_arcs: bool,
}

/// Reads a profile.
///
/// # Errors
/// A profile that cannot be used, or of a class that is not measured.
pub fn profile(context: &Context<'_>, from: u64, id: u64) -> Result<Outline, Trouble> {
    let record = context.file.follow(from, id)?;
    let outline = match record.class().as_str() {
        "IFCARBITRARYCLOSEDPROFILEDEF" => arbitrary(context, &record, false)?,
        "IFCARBITRARYPROFILEDEFWITHVOIDS" => arbitrary(context, &record, true)?,
        "IFCRECTANGLEPROFILEDEF" => {
            let [width, height] = [size(context, &record, 3, "x size")?, size(context, &record, 4, "y size")?];
            placed(context, &record, &rectangle(width, height), false)?
        }
        "IFCCIRCLEPROFILEDEF" => {
            let radius = size(context, &record, 3, "radius")?;
            placed(context, &record, &disc(radius), true)?
        }
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
        for id in record.references(3, "inner curves")? {
            let inner: Run = curve(context, record.id, id, 0)?;
            has_arcs |= inner.has_arcs;
            rings.push(inner.into_ring());
        }
    }
    Ok(Outline { rings, has_arcs })
}

fn size(context: &Context<'_>, record: &Record<'_>, index: usize, what: &str) -> Result<f64, Trouble> {
    let size_m = record.number(index, what)? * context.length_m;
    if size_m <= 0.0 {
        return Err(record.trouble(format!("{what} of {} is not over 0", record.class())));
    }
    Ok(size_m)
}

fn rectangle(width: f64, height: f64) -> Ring {
    rectangle_ring([-width / 2.0, -height / 2.0], [width / 2.0, height / 2.0])
}

fn disc(radius_m: f64) -> Ring {
    // As many chords as a circle of this size needs, at the radius that keeps the area.
    let chords = 360_u32;
    let step = TAU / f64::from(chords);
    let radius = radius_m * (step / step.sin()).sqrt();
    (0..chords).map(|i| f64::from(i) * step).map(|a| [a.cos() * radius, a.sin() * radius]).collect()
}

/// The profile at its own position.
fn placed(context: &Context<'_>, record: &Record<'_>, ring: &Ring, has_arcs: bool) -> Result<Outline, Trouble> {
    let frame = match record.optional_reference(2) {
        Some(id) => placement::position(context, record.id, id)?,
        None => Frame::identity(),
    };
    let place = |p: &Point| {
        let p = frame.plane_point(p);
        [p.x, p.y]
    };
    Ok(Outline { rings: vec![ring.iter().map(place).collect()], has_arcs })
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
    let count = ring.len();
    if count > MOST_CHECKED {
        return false;
    }
    let corner = |i: usize| ring.get(i % count).copied().unwrap_or_default();
    let turn = |a: Point, b: Point, c: Point| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    // Properly: each edge's ends lie on either side of the other, by more than rounding.
    let apart = |x: f64, y: f64| x * y < 0.0 && x.abs() > 1e-12 && y.abs() > 1e-12;
    (0..count).any(|i| {
        (i + 2..count).filter(|j| (j + 1) % count != i).any(|j| {
            let (a, b, c, d) = (corner(i), corner(i + 1), corner(j), corner(j + 1));
            apart(turn(a, b, c), turn(a, b, d)) && apart(turn(c, d, a), turn(c, d, b))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bow_tie_crosses_itself_and_a_gable_does_not() {
        assert!(crosses_itself(&vec![[0.0, 0.0], [5.0, 3.0], [5.0, 0.0], [0.0, 3.0]]));
        assert!(!crosses_itself(&vec![[0.0, 0.0], [5.0, 0.0], [5.0, 3.0], [2.5, 5.0], [0.0, 3.0]]));
    }
}
