//! Placements and transformation operators, as frames in metres.

use super::context::Context;
use super::file::File;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Vector};
use nalgebra::Matrix3;

/// Deeper than this no placement rests on another.
const DEEPEST: usize = 200;

/// A chain of placements, from an element's own to the outermost, each relative to the next.
#[derive(Clone, Debug, Default)]
pub struct Chain {
    /// Instance name and frame of each.
    pub links: Vec<(u64, Frame)>,
    /// What could not be used; a frame that changes nothing stands in for it.
    pub troubles: Vec<Trouble>,
}

impl Chain {
    /// The chain of an element's placement.
    pub fn read(file: &File<'_>, placement: Option<(u64, u64)>, length_m: f64) -> Self {
        let mut chain = Self::default();
        let mut next = placement;
        while let Some((from, id)) = next {
            if chain.links.iter().any(|(seen, _)| *seen == id) || chain.links.len() > DEEPEST {
                let mut path: Vec<String> = chain.links.iter().map(|(id, _)| format!("#{id}")).collect();
                path.push(format!("#{id}"));
                let message = format!("placements rest on each other in a circle: {}", path.join(" -> "));
                chain.troubles.push(Trouble::new(Code::CircularReference, id, message));
                break;
            }
            match link(file, from, id, length_m) {
                Ok((frame, parent, trouble)) => {
                    chain.links.push((id, frame));
                    chain.troubles.extend(trouble);
                    next = parent.map(|parent| (id, parent));
                }
                Err(trouble) => {
                    chain.troubles.push(trouble);
                    next = None;
                }
            }
        }
        chain
    }

    /// The frame of the whole chain, in the outermost.
    pub fn world(&self) -> Frame {
        self.up_to(self.links.len())
    }

    fn up_to(&self, count: usize) -> Frame {
        self.links.iter().take(count).fold(Frame::identity(), |inner, (_, outer)| outer.compose(&inner))
    }

    /// This chain's frame as seen from another's, through the nearest link that both have.
    ///
    /// Nothing above that link enters, so map coordinates cost no digits.
    pub fn seen_from(&self, other: &Self) -> Frame {
        let shared = self.links.iter().enumerate().find_map(|(mine, (id, _))| {
            let theirs = other.links.iter().position(|(other_id, _)| other_id == id)?;
            Some((mine, theirs))
        });
        let (mine, theirs) = shared.unwrap_or((self.links.len(), other.links.len()));
        let back = other.up_to(theirs).inverse().unwrap_or_default();
        back.compose(&self.up_to(mine))
    }
}

type Link = (Frame, Option<u64>, Option<Trouble>);

fn link(file: &File<'_>, from: u64, id: u64, length_m: f64) -> Result<Link, Trouble> {
    let record = file.follow(from, id)?;
    if !record.is("IFCLOCALPLACEMENT") {
        return Err(Trouble::new(
            Code::PlacementDoubt,
            id,
            format!("{} is not read as a placement; the element is placed at the origin", record.class()),
        ));
    }
    let parent = record.optional_reference(0);
    let frame = record.reference(1, "relative placement").and_then(|axis| axis_placement(file, id, axis, length_m));
    Ok(match frame {
        Ok((frame, trouble)) => (frame, parent, trouble),
        Err(trouble) => (Frame::identity(), parent, Some(trouble)),
    })
}

/// An `IfcAxis2Placement2D` or `3D`, and a doubt about its axes.
///
/// # Errors
/// Where it is missing or has no sound origin.
pub fn axis_placement(file: &File<'_>, from: u64, id: u64, length_m: f64) -> Result<(Frame, Option<Trouble>), Trouble> {
    let record = file.follow(from, id)?;
    if record.is("IFCAXIS2PLACEMENT2D") {
        let origin = point(file, id, record.reference(0, "location")?, length_m)?;
        let x = optional_direction(file, &record, 1)?.unwrap_or_else(Vector::x);
        let x = Vector::new(x.x, x.y, 0.0).try_normalize(0.0);
        let x = x.ok_or_else(|| record.trouble("the reference direction has no length"))?;
        let y = Vector::new(-x.y, x.x, 0.0);
        return Ok((Frame::from_axes(origin, x, y, Vector::z()), None));
    }
    if !record.is("IFCAXIS2PLACEMENT3D") {
        return Err(record.trouble(format!("{} is not a placement of axes", record.class())));
    }
    let origin = point(file, id, record.reference(0, "location")?, length_m)?;
    let z = optional_direction(file, &record, 1)?.unwrap_or_else(Vector::z);
    let reference = optional_direction(file, &record, 2)?;
    let along = reference.unwrap_or_else(Vector::x);
    let across = |x: Vector| (x - z * z.dot(&x)).try_normalize(1e-9);
    let (x, trouble) = if let Some(x) = across(along) {
        (x, None)
    } else {
        // A reference that is parallel to the axis says nothing; without one the standard takes the next axis.
        let doubt = reference.map(|_| {
            Trouble::new(
                Code::PlacementDoubt,
                id,
                "axis and reference direction are parallel; any direction at right angles is taken",
            )
        });
        (across(Vector::y()).or_else(|| across(Vector::x())).unwrap_or_else(Vector::x), doubt)
    };
    Ok((Frame::from_axes(origin, x, z.cross(&x), z), trouble))
}

/// The same, for a position within a body: a doubt about its axes is noted.
///
/// # Errors
/// Where it is missing or has no sound origin.
pub fn position(context: &Context<'_>, from: u64, id: u64) -> Result<Frame, Trouble> {
    let (frame, doubt) = axis_placement(context.file, from, id, context.length_m)?;
    if let Some(doubt) = doubt {
        context.note(doubt);
    }
    Ok(frame)
}

/// An `IfcCartesianTransformationOperator3D`, uniform or not, or `2D`.
///
/// # Errors
/// Where a direction or a scale has no length.
pub fn transformation(file: &File<'_>, from: u64, id: u64, length_m: f64) -> Result<Frame, Trouble> {
    let record = file.follow(from, id)?;
    let flat = record.is("IFCCARTESIANTRANSFORMATIONOPERATOR2D")
        || record.is("IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM");
    let uneven = record.is("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM");
    if !flat && !uneven && !record.is("IFCCARTESIANTRANSFORMATIONOPERATOR3D") {
        return Err(record.trouble(format!("{} is not a transformation", record.class())));
    }
    let origin = point(file, id, record.reference(2, "local origin")?, length_m)?;
    let scale = record.optional_number(3, "scale")?.unwrap_or(1.0);
    let z = if flat { None } else { optional_direction(file, &record, 4)? }.unwrap_or_else(Vector::z);
    let no_length = || record.trouble("the axes of the transformation are parallel");
    let second = optional_direction(file, &record, 1)?;
    // In a plane a second axis alone gives the first, at right angles to it.
    let default = || match second {
        Some(y) if flat => Vector::new(y.y, -y.x, 0.0),
        _ if z.x.abs() > 0.999 => Vector::y(),
        _ => Vector::x(),
    };
    let x = optional_direction(file, &record, 0)?.unwrap_or_else(default);
    let x = (x - z * z.dot(&x)).try_normalize(1e-12).ok_or_else(no_length)?;
    let upright = z.cross(&x);
    // A second axis against the third and first mirrors.
    let y = match second {
        Some(y) if y.dot(&upright) < 0.0 => -upright,
        _ => upright,
    };
    let scales = if record.is("IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM") {
        [scale, record.optional_number(4, "second scale")?.unwrap_or(scale), scale]
    } else if uneven {
        let second = record.optional_number(5, "second scale")?.unwrap_or(scale);
        [scale, second, record.optional_number(6, "third scale")?.unwrap_or(scale)]
    } else {
        [scale; 3]
    };
    if scales.iter().any(|scale| scale.abs() < 1e-12) {
        return Err(record.trouble(format!("scale {scale}; a number other than 0 is due")));
    }
    Ok(Frame { matrix: Matrix3::from_columns(&[x * scales[0], y * scales[1], z * scales[2]]), origin })
}

/// An `IfcCartesianPoint` in metres; a missing third coordinate is 0.
///
/// # Errors
/// Where it is missing or no point.
pub fn point(file: &File<'_>, from: u64, id: u64, length_m: f64) -> Result<Vector, Trouble> {
    let record = file.follow(from, id)?;
    if !record.is("IFCCARTESIANPOINT") {
        return Err(record.trouble(format!("{} is not a point", record.class())));
    }
    match record.numbers(0, "coordinates")?.as_slice() {
        [x, y] => Ok(Vector::new(*x, *y, 0.0) * length_m),
        [x, y, z] => Ok(Vector::new(*x, *y, *z) * length_m),
        other => Err(record.trouble(format!("a point has {} coordinates, 2 or 3 are due", other.len()))),
    }
}

/// An `IfcDirection` of length 1; a missing third part is 0.
///
/// # Errors
/// Where it is missing or has no length.
pub fn direction(file: &File<'_>, from: u64, id: u64) -> Result<Vector, Trouble> {
    let record = file.follow(from, id)?;
    if !record.is("IFCDIRECTION") {
        return Err(record.trouble(format!("{} is not a direction", record.class())));
    }
    let ratios = record.numbers(0, "direction ratios")?;
    let part = |index: usize| ratios.get(index).copied().unwrap_or(0.0);
    let vector = Vector::new(part(0), part(1), part(2));
    vector.try_normalize(1e-12).ok_or_else(|| record.trouble("the direction has no length"))
}

fn optional_direction(file: &File<'_>, record: &Record<'_>, index: usize) -> Result<Option<Vector>, Trouble> {
    record.optional_reference(index).map(|id| direction(file, record.id, id)).transpose()
}
