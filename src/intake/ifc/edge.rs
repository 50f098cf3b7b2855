//! Edges that faces share, each turned into points once.

use super::context::Context;
use super::corners::Corners;
use super::curve::{Conic, Run, curve, turn_between};
use super::placement::point;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Vector};
use std::collections::HashMap;
use std::collections::hash_map::Entry;

/// Farthest that a vertex may lie from the curve of its edge, in metres.
const OFF_CURVE_M: f64 = 1e-3;
/// Closer than this the end of a curve is the vertex, in metres.
const SAME_M: f64 = 1e-6;

/// The edges of a body by their names, each as corners from its start to its end.
#[derive(Default)]
pub struct Edges {
    runs: HashMap<u64, Vec<usize>>,
}

/// An edge as a loop uses it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Used {
    /// Name of the edge.
    pub id: u64,
    /// Whether the loop runs along it from its start.
    pub forward: bool,
}

impl Edges {
    /// Reads the edges of an `IfcEdgeLoop`.
    ///
    /// # Errors
    /// Where an edge cannot be used.
    pub fn read(
        &mut self,
        context: &Context<'_>,
        ring: &Record<'_>,
        frame: &Frame,
        corners: &mut Corners,
    ) -> Result<Vec<Used>, Trouble> {
        let mut used = Vec::new();
        for id in ring.references(0, "edges")? {
            let oriented = context.file.follow(ring.id, id)?;
            if !oriented.is("IFCORIENTEDEDGE") {
                return Err(oriented.trouble(format!("{} where an oriented edge is due", oriented.class())));
            }
            let id = oriented.reference(2, "edge")?;
            if let Entry::Vacant(place) = self.runs.entry(id) {
                let record = context.file.follow(oriented.id, id)?;
                place.insert(corners_of(context, &record, frame, corners)?);
            }
            used.push(Used { id, forward: oriented.logical(3) != Some(false) });
        }
        Ok(used)
    }

    /// The corners of an edge from its start to its end.
    pub fn run(&self, id: u64) -> &[usize] {
        self.runs.get(&id).map_or(&[], Vec::as_slice)
    }

    /// Puts other corners in place of those of an edge.
    pub fn replace(&mut self, id: u64, run: Vec<usize>) {
        self.runs.insert(id, run);
    }

    /// The closed ring of corners of a loop.
    pub fn ring(&self, used: &[Used]) -> Vec<usize> {
        let mut ring: Vec<usize> = Vec::new();
        for edge in used {
            let run = self.run(edge.id);
            if edge.forward {
                ring.extend(run);
            } else {
                ring.extend(run.iter().rev());
            }
        }
        ring.dedup();
        while ring.len() > 1 && ring.first() == ring.last() {
            ring.pop();
        }
        ring
    }
}

fn corners_of(
    context: &Context<'_>,
    record: &Record<'_>,
    frame: &Frame,
    corners: &mut Corners,
) -> Result<Vec<usize>, Trouble> {
    let [(start, start_at), (end, end_at)] =
        [vertex(context, record, 0, frame, corners)?, vertex(context, record, 1, frame, corners)?];
    let between = match record.class().as_ref() {
        "IFCEDGE" => Vec::new(),
        "IFCEDGECURVE" => points_between(context, record, start_at, end_at)?,
        class => {
            let message = format!("edges of class {class} are not measured");
            return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
        }
    };
    let mut run = vec![start];
    run.extend(between.iter().map(|place| corners.add_near(frame.point(place))));
    run.push(end);
    Ok(run)
}

fn vertex(
    context: &Context<'_>,
    record: &Record<'_>,
    index: usize,
    frame: &Frame,
    corners: &mut Corners,
) -> Result<(usize, Vector), Trouble> {
    let vertex = context.file.follow(record.id, record.reference(index, "vertex")?)?;
    if !vertex.is("IFCVERTEXPOINT") {
        return Err(vertex.trouble(format!("{} where a vertex with a point is due", vertex.class())));
    }
    let id = vertex.reference(0, "point")?;
    Ok((corners.named(context, vertex.id, id, frame)?, point(context.file, vertex.id, id, context.length_m)?))
}

/// The points of an edge between its vertices.
fn points_between(
    context: &Context<'_>,
    record: &Record<'_>,
    start: Vector,
    end: Vector,
) -> Result<Vec<Vector>, Trouble> {
    let mut geometry = context.file.follow(record.id, record.reference(2, "geometry")?)?;
    if ["IFCSURFACECURVE", "IFCINTERSECTIONCURVE", "IFCSEAMCURVE"].iter().any(|class| geometry.is(class)) {
        geometry = context.file.follow(geometry.id, geometry.reference(0, "curve in space")?)?;
    }
    let same_sense = record.logical(3) != Some(false);
    let run = match geometry.class().as_ref() {
        "IFCLINE" => return Ok(Vec::new()),
        "IFCCIRCLE" | "IFCELLIPSE" => {
            let conic = Conic::read(context, &geometry)?;
            let angle = conic.angle_of(&start);
            conic.arc_with_ends(angle, turn_between(angle, conic.angle_of(&end), same_sense))
        }
        _ => {
            let Run { mut points, has_arcs } = curve(context, record.id, geometry.id, 0)?;
            if !same_sense {
                points.reverse();
            }
            let off = || record.trouble("a vertex of the edge lies off its curve");
            Run { points: part(&points, &start, &end).ok_or_else(off)?, has_arcs }
        }
    };
    let inner = run.points.get(1..run.points.len().saturating_sub(1));
    Ok(inner.unwrap_or_default().to_vec())
}

/// The part of a run between two of its points; `None` where they lie off it.
fn part(points: &[Vector], start: &Vector, end: &Vector) -> Option<Vec<Vector>> {
    let (first, last) = (points.first()?, points.last()?);
    if (first - start).norm() < SAME_M && (last - end).norm() < SAME_M {
        return Some(points.to_vec());
    }
    let closed = (first - last).norm() < SAME_M;
    let (from, to) = (place_on(points, start)?, place_on(points, end)?);
    let mut kept = vec![*start];
    let inside = |low: f64, high: f64| {
        let numbered = points.iter().zip(0_u32..).map(|(p, i)| (p, f64::from(i)));
        numbered.filter(move |(_, i)| *i > low + 1e-9 && *i < high - 1e-9).map(|(p, _)| *p)
    };
    let whole = f64::from(u32::try_from(points.len()).ok()?);
    if from < to {
        kept.extend(inside(from, to));
    } else if closed {
        kept.extend(inside(from, whole));
        kept.extend(inside(-1.0, to));
    } else {
        return None;
    }
    kept.push(*end);
    Some(kept)
}

/// Where on a run a point lies, counted in its pieces.
fn place_on(points: &[Vector], p: &Vector) -> Option<f64> {
    let mut best: Option<(f64, f64)> = None;
    for (pair, i) in points.windows(2).zip(0_u32..) {
        let &[a, b] = pair else { continue };
        let (way, length) = (b - a, (b - a).norm_squared());
        let share = if length > 0.0 { (way.dot(&(p - a)) / length).clamp(0.0, 1.0) } else { 0.0 };
        let off = (a + way * share - p).norm();
        if best.is_none_or(|(least, _)| off < least) {
            best = Some((off, f64::from(i) + share));
        }
    }
    best.filter(|(off, _)| *off < OFF_CURVE_M).map(|(_, place)| place)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_of_a_closed_run_may_pass_its_start() {
        let at = |x: f64, y: f64| Vector::new(x, y, 0.0);
        let square = [at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 1.0), at(0.0, 0.0)];
        let over = part(&square, &at(0.0, 0.5), &at(0.5, 0.0)).unwrap();
        assert_eq!(over, [at(0.0, 0.5), at(0.0, 0.0), at(0.0, 0.0), at(0.5, 0.0)]);
        let short = part(&square, &at(0.5, 0.0), &at(1.0, 0.5)).unwrap();
        assert_eq!(short, [at(0.5, 0.0), at(1.0, 0.0), at(1.0, 0.5)]);
        assert_eq!(part(&square, &at(5.0, 5.0), &at(1.0, 0.5)), None);
    }
}
