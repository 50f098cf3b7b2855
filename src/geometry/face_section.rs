//! The section of a body of faces: crossings paired within each face, then chained into rings.

use super::overlay::Rings;
use super::plane::Plane;
use super::solid::{FaceBody, edges};
use super::tolerance::COINCIDENT_M;
use super::{Point, Ring};
use std::collections::HashMap;

/// The rings in which a plane cuts a body of faces; `None` where the cut does not close.
pub(super) fn section_of_faces(body: &FaceBody, plane: &Plane) -> Option<Rings> {
    let corners: Vec<(f64, Point)> = body.corners.iter().map(|c| (plane.height(c), plane.project(c))).collect();
    let mut welder = Welder::default();
    let mut links: Vec<Vec<usize>> = Vec::new();
    for face in &body.faces {
        for (a, b) in face_crossings(face, &corners) {
            let (a, b) = (welder.index_of(a), welder.index_of(b));
            links.resize_with(welder.points.len(), Vec::new);
            if a != b {
                toggle(&mut links, a, b);
                toggle(&mut links, b, a);
            }
        }
    }
    chain(&links, &welder.points)
}

/// Adds a link, or takes it out where it is there: a face that two bodies share bounds neither.
fn toggle(links: &mut [Vec<usize>], from: usize, to: usize) {
    let Some(list) = links.get_mut(from) else { return };
    match list.iter().position(|&other| other == to) {
        Some(at) => {
            list.swap_remove(at);
        }
        None => list.push(to),
    }
}

fn face_crossings(face: &[Vec<usize>], corners: &[(f64, Point)]) -> Vec<(Point, Point)> {
    let mut crossings: Vec<Point> = Vec::new();
    for (a, b) in face.iter().flat_map(|ring| edges(ring)) {
        let (Some(a), Some(b)) = (corners.get(*a), corners.get(*b)) else { continue };
        if (a.0 >= 0.0) != (b.0 >= 0.0) {
            // From the lower to the upper corner always, so that both faces of an edge agree to the last bit.
            let (low, high) = if a.0 < b.0 { (a, b) } else { (b, a) };
            let t = low.0 / (low.0 - high.0);
            crossings.push([low.1[0] + t * (high.1[0] - low.1[0]), low.1[1] + t * (high.1[1] - low.1[1])]);
        }
    }
    sort_along_line(&mut crossings);
    crossings.chunks_exact(2).filter_map(|pair| if let [a, b] = pair { Some((*a, *b)) } else { None }).collect()
}

fn sort_along_line(points: &mut [Point]) {
    let spread = |axis: usize| {
        let values = || points.iter().filter_map(|p| p.get(axis).copied());
        values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min)
    };
    if spread(0) >= spread(1) {
        points.sort_by(|p, q| p[0].total_cmp(&q[0]));
    } else {
        points.sort_by(|p, q| p[1].total_cmp(&q[1]));
    }
}

fn chain(links: &[Vec<usize>], points: &[Point]) -> Option<Rings> {
    if links.iter().any(|list| list.len() % 2 == 1) {
        return None;
    }
    let mut links = links.to_vec();
    let mut rings = Rings::new();
    for start in 0..links.len() {
        while links.get(start).is_some_and(|list| !list.is_empty()) {
            let mut ring = Ring::new();
            let mut at = start;
            loop {
                ring.push(*points.get(at)?);
                let next = links.get_mut(at)?.pop()?;
                let back = links.get_mut(next)?;
                let position = back.iter().position(|&other| other == at)?;
                back.swap_remove(position);
                at = next;
                if at == start {
                    break;
                }
            }
            rings.push(ring);
        }
    }
    rings.retain(|ring| ring.len() > 2);
    Some(rings)
}

/// Gives one index to points that coincide.
#[derive(Default)]
struct Welder {
    points: Vec<Point>,
    cells: HashMap<(i64, i64), Vec<usize>>,
}

impl Welder {
    fn index_of(&mut self, point: Point) -> usize {
        let (cx, cy) = (cell(point[0]), cell(point[1]));
        for x in cx - 1..=cx + 1 {
            for y in cy - 1..=cy + 1 {
                let near = self.cells.get(&(x, y)).into_iter().flatten().copied();
                for index in near {
                    let Some(other) = self.points.get(index) else { continue };
                    if (other[0] - point[0]).hypot(other[1] - point[1]) <= COINCIDENT_M {
                        return index;
                    }
                }
            }
        }
        let index = self.points.len();
        self.points.push(point);
        self.cells.entry((cx, cy)).or_default().push(index);
        index
    }
}

fn cell(x: f64) -> i64 {
    // Coordinates are bounded to 10 km before any section is taken, so the cell fits with room to spare.
    #[allow(clippy::cast_possible_truncation, reason = "bounded to 1e10 by the intake's limit on sizes")]
    let cell = (x / (4.0 * COINCIDENT_M)).clamp(-1e15, 1e15).floor() as i64;
    cell
}
