//! Faces on ruled surfaces, as strips between rulings.
//!
//! The corners of a face's boundary are laid out by the ruling that they lie on. Between two neighbouring rulings the face
//! is a row of strips, each flat but for the stand-off of its chords, and every strip has corners of the boundary only: so
//! faces on either side of an edge share its points, and the body stays closed.

use super::context::Context;
use super::corners::Corners;
use super::curve::curve;
use super::edge::{Edges, Used};
use super::placement::{direction, position};
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Vector};
use std::collections::{BTreeMap, HashMap};
use std::f64::consts::TAU;

/// Rulings closer than this are one, in metres along the surface.
const SAME_RULING_M: f64 = 1e-7;
/// Most corners of a body with curved faces; no building has as many.
const MOST_CORNERS: usize = 1_000_000;
/// Most points of a run that is extruded to a surface.
const MOST_POINTS: usize = 20_000;

/// A surface made of straight parallel lines.
pub struct Ruled {
    /// From the body's element into the surface's own frame.
    inward: Frame,
    kind: Kind,
}

enum Kind {
    /// About z, with its radius in metres.
    Cylinder(f64),
    /// A run in the x-y plane, extruded in a direction of its own.
    Extruded { profile: Vec<Vector>, way: Vector, length_m: f64, closed: bool },
}

/// How to lay out a face's loops.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Place {
    /// Across the rulings, in metres.
    across: f64,
    /// Along them.
    along: f64,
}

impl Ruled {
    /// Reads an `IfcCylindricalSurface` or `IfcSurfaceOfLinearExtrusion`.
    ///
    /// # Errors
    /// Where it cannot be used.
    pub fn read(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Self, Trouble> {
        let is_cylinder = record.is("IFCCYLINDRICALSURFACE");
        let own = match record.optional_reference(usize::from(!is_cylinder)) {
            Some(id) => position(context, record.id, id)?,
            None => Frame::identity(),
        };
        let inward = frame.compose(&own).inverse().ok_or_else(|| record.trouble("the frame of the surface is flat"))?;
        if is_cylinder {
            let radius_m = record.number(1, "radius")? * context.length_m;
            if radius_m <= 0.0 {
                return Err(record.trouble("the radius is not over 0"));
            }
            return Ok(Self { inward, kind: Kind::Cylinder(radius_m) });
        }
        let profile = context.file.follow(record.id, record.reference(0, "swept curve")?)?;
        let is_plain = profile.is("IFCARBITRARYOPENPROFILEDEF") || profile.is("IFCARBITRARYCLOSEDPROFILEDEF");
        if !is_plain {
            let message = format!("surfaces swept by profiles of class {} are not measured", profile.class());
            return Err(Trouble::new(Code::BodyNotMeasured, profile.id, message));
        }
        let profile = curve(context, profile.id, profile.reference(2, "curve")?, 0)?.points;
        if profile.len() > MOST_POINTS {
            let message = format!("surfaces swept by a curve of over {MOST_POINTS} points are not measured");
            return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
        }
        let way = direction(context.file, record.id, record.reference(2, "direction")?)?;
        if way.z.abs() < 1e-9 || profile.len() < 2 {
            return Err(record.trouble("the surface has no extent"));
        }
        let length_m = profile.windows(2).map(|pair| if let [a, b] = pair { (b - a).norm() } else { 0.0 }).sum();
        let closed = profile.first().zip(profile.last()).is_some_and(|(a, b)| (a - b).norm() < SAME_RULING_M);
        Ok(Self { inward, kind: Kind::Extruded { profile, way, length_m, closed } })
    }

    /// After how many metres across the rulings the surface is back where it began.
    fn period(&self) -> Option<f64> {
        match &self.kind {
            Kind::Cylinder(radius_m) => Some(TAU * radius_m),
            Kind::Extruded { length_m, closed, .. } => closed.then_some(*length_m),
        }
    }

    fn place(&self, corner: &Vector) -> Place {
        let p = self.inward.point(corner);
        match &self.kind {
            Kind::Cylinder(radius_m) => Place { across: p.y.atan2(p.x).rem_euclid(TAU) * radius_m, along: p.z },
            Kind::Extruded { profile, way, .. } => {
                Place { across: nearest(profile, &(p - way * (p.z / way.z))), along: p.z }
            }
        }
    }

    /// The way from one ruling to another, the shorter one where the surface runs round.
    fn step(&self, from: f64, to: f64) -> f64 {
        match self.period() {
            Some(period) => (to - from + period / 2.0).rem_euclid(period) - period / 2.0,
            None => to - from,
        }
    }

    /// Gives the edges of a face a corner on each ruling that they cross; whether any was new.
    ///
    /// # Errors
    /// An edge that crosses more rulings than any does.
    pub fn refine(
        &self,
        face: u64,
        loops: &[Vec<Used>],
        edges: &mut Edges,
        corners: &mut Corners,
    ) -> Result<bool, Trouble> {
        let rulings = Rulings::of(self, loops, edges, corners);
        let mut is_new = false;
        for used in loops.iter().flatten() {
            let run = edges.run(used.id).to_vec();
            let mut finer: Vec<usize> = Vec::with_capacity(run.len());
            for pair in run.windows(2) {
                let &[a, b] = pair else { continue };
                finer.push(a);
                let crossed = rulings.between(self, a, b);
                if crossed.len() + corners.count() > MOST_CORNERS {
                    return Err(Trouble::new(Code::BodyNotMeasured, face, "an edge of the face is cut too finely"));
                }
                let (start, end) = (corners.place(a), corners.place(b));
                finer.extend(crossed.into_iter().map(|across| corners.add_near(self.on_chord(&start, &end, across))));
            }
            finer.extend(run.last());
            if finer.len() > run.len() {
                is_new = true;
                edges.replace(used.id, finer);
            }
        }
        Ok(is_new)
    }

    /// The point of a chord that lies on a ruling between those of its ends, by halving.
    fn on_chord(&self, start: &Vector, end: &Vector, across: f64) -> Vector {
        let from = self.place(start).across;
        let (due, whole) = (self.step(from, across), self.step(from, self.place(end).across));
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            let here = self.step(from, self.place(&(start + (end - start) * middle)).across);
            if (here < due) == (whole > 0.0) { low = middle } else { high = middle }
        }
        start + (end - start) * f64::midpoint(low, high)
    }

    /// The strips of a face whose edges have been refined.
    ///
    /// # Errors
    /// A face whose boundary does not close between two rulings.
    pub fn strips(
        &self,
        face: u64,
        loops: &[Vec<Used>],
        edges: &Edges,
        corners: &Corners,
    ) -> Result<Vec<Vec<usize>>, Trouble> {
        let open = |message: &str| Trouble::new(Code::BodyOpen, face, message);
        let rulings = Rulings::of(self, loops, edges, corners);
        let count = rulings.across.len();
        if count < 2 || (self.period().is_some() && count < 3) {
            return Err(open("a curved face has no extent across its rulings"));
        }
        // By the ruling on their lower side, the chords that cross from it to the next.
        let mut spans: BTreeMap<usize, Vec<[usize; 2]>> = BTreeMap::new();
        for ring in loops.iter().map(|used| edges.ring(used)) {
            for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let (Some(from), Some(to)) = (rulings.of_corner(a), rulings.of_corner(b)) else { continue };
                match (to + count - from) % count {
                    0 => {}
                    1 => spans.entry(from).or_default().push([a, b]),
                    back if back == count - 1 => spans.entry(to).or_default().push([b, a]),
                    _ => return Err(open("an edge of a curved face leaves its surface")),
                }
            }
        }
        let mut strips = Vec::new();
        for (ruling, mut chords) in spans {
            let height = |[a, b]: &[usize; 2]| rulings.along(*a) + rulings.along(*b);
            chords.sort_by(|x, y| height(x).total_cmp(&height(y)));
            if chords.len() % 2 == 1 {
                return Err(open("the boundary of a curved face is not closed"));
            }
            for pair in chords.chunks_exact(2) {
                let &[[low, low_next], [high, high_next]] = pair else { continue };
                let mut strip = vec![low];
                strip.extend(rulings.stretch((ruling + 1) % count, low_next, high_next));
                strip.extend(rulings.stretch(ruling, low, high).into_iter().rev());
                strip.dedup();
                strip.pop();
                if strip.len() > 2 {
                    strips.push(strip);
                }
            }
        }
        Ok(strips)
    }
}

/// The rulings that have corners of a face's boundary on them, in order.
struct Rulings {
    /// Where each lies across the surface.
    across: Vec<f64>,
    /// Ruling of each corner, and where along it the corner lies.
    corners: HashMap<usize, (usize, f64)>,
    /// The corners on each ruling, in order along it.
    on: Vec<Vec<usize>>,
}

impl Rulings {
    fn of(surface: &Ruled, loops: &[Vec<Used>], edges: &Edges, corners: &Corners) -> Self {
        let mut all: Vec<usize> = loops.iter().flatten().flat_map(|used| edges.run(used.id).iter().copied()).collect();
        all.sort_unstable();
        all.dedup();
        let mut placed: Vec<(usize, Place)> =
            all.into_iter().map(|corner| (corner, surface.place(&corners.place(corner)))).collect();
        placed.sort_by(|a, b| a.1.across.total_cmp(&b.1.across));
        let mut rulings = Self { across: Vec::new(), corners: HashMap::new(), on: Vec::new() };
        let mut previous = f64::NEG_INFINITY;
        let last = placed.last().map(|(_, place)| place.across);
        for (corner, place) in placed {
            // The last ruling may be the first one again.
            let wraps = surface.period().zip(last).is_some_and(|(period, _)| {
                let first = rulings.across.first().copied().unwrap_or(place.across);
                first + period - place.across < SAME_RULING_M
            });
            if !wraps && place.across - previous > SAME_RULING_M {
                rulings.across.push(place.across);
                rulings.on.push(Vec::new());
            }
            previous = place.across;
            let ruling = if wraps { 0 } else { rulings.across.len() - 1 };
            rulings.corners.insert(corner, (ruling, place.along));
            if let Some(on) = rulings.on.get_mut(ruling) {
                on.push(corner);
            }
        }
        let along = |corner: &usize| rulings.corners.get(corner).map_or(0.0, |(_, along)| *along);
        for on in &mut rulings.on {
            on.sort_by(|a, b| along(a).total_cmp(&along(b)).then(a.cmp(b)));
        }
        rulings
    }

    fn of_corner(&self, corner: usize) -> Option<usize> {
        self.corners.get(&corner).map(|(ruling, _)| *ruling)
    }

    fn along(&self, corner: usize) -> f64 {
        self.corners.get(&corner).map_or(0.0, |(_, along)| *along)
    }

    /// The rulings that the chord between two corners crosses, in its own order.
    fn between(&self, surface: &Ruled, a: usize, b: usize) -> Vec<f64> {
        let (Some(from), Some(to)) = (self.of_corner(a), self.of_corner(b)) else { return Vec::new() };
        let at = |ruling: usize| self.across.get(ruling).copied().unwrap_or(0.0);
        let count = self.across.len();
        let forward = surface.step(at(from), at(to)) > 0.0;
        let mut crossed = Vec::new();
        let mut ruling = from;
        while from != to && crossed.len() <= count {
            ruling = if forward { (ruling + 1) % count } else { (ruling + count - 1) % count };
            if ruling == to {
                break;
            }
            crossed.push(at(ruling));
        }
        crossed
    }

    /// The corners on a ruling from one to another, both with it, in order along it.
    fn stretch(&self, ruling: usize, low: usize, high: usize) -> Vec<usize> {
        let (bottom, top) = (self.along(low), self.along(high));
        let on = self.on.get(ruling).map_or(&[][..], Vec::as_slice);
        let inside = on.iter().copied().filter(|corner| {
            let along = self.along(*corner);
            along > bottom && along < top && *corner != low && *corner != high
        });
        std::iter::once(low).chain(inside).chain([high]).collect()
    }
}

/// Distance along a run to the place that is nearest to a point.
fn nearest(run: &[Vector], p: &Vector) -> f64 {
    let (mut best, mut before) = ((f64::INFINITY, 0.0), 0.0);
    for pair in run.windows(2) {
        let &[a, b] = pair else { continue };
        let length = (b - a).norm();
        let share = if length > 0.0 { ((b - a).dot(&(p - a)) / (length * length)).clamp(0.0, 1.0) } else { 0.0 };
        let off = (a + (b - a) * share - p).norm();
        if off < best.0 {
            best = (off, before + share * length);
        }
        before += length;
    }
    best.1
}
