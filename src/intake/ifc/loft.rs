//! Bodies that run through a row of sections.

use super::corners::Corners;
use crate::geometry::{FaceBody, Ring, Vector};

/// A section: its rings in space, outer ones one way round and voids the other.
pub type Section = Vec<Vec<Vector>>;

/// The body through sections that have the same rings with the same number of points.
///
/// Each point is joined to the same one of the next section. A ring shrunk to a point is a tip. The first and last section
/// close the body, unless it runs round in a circle.
pub fn loft(sections: &[Section], runs_round: bool) -> FaceBody {
    let mut corners = Corners::default();
    let index = |section: &Section, corners: &mut Corners| -> Vec<Vec<usize>> {
        section.iter().map(|ring| ring.iter().map(|place| corners.add(*place)).collect()).collect()
    };
    let levels: Vec<Vec<Vec<usize>>> = sections.iter().map(|section| index(section, &mut corners)).collect();
    let mut faces = Vec::new();
    let next = levels.iter().skip(1).chain(runs_round.then(|| levels.first()).flatten());
    for (level, above) in levels.iter().zip(next) {
        for (ring, over) in level.iter().zip(above) {
            let sides = ring.iter().zip(over).zip(ring.iter().zip(over).cycle().skip(1));
            faces.extend(sides.filter_map(|((a, d), (b, c))| face(&[*a, *b, *c, *d])).map(|ring| vec![ring]));
        }
    }
    if !runs_round {
        let bottom = levels.first().map(|level| cap(level, true));
        let top = levels.last().map(|level| cap(level, false));
        faces.extend(bottom.into_iter().chain(top).filter(|loops| !loops.is_empty()));
    }
    FaceBody { corners: corners.into_places(), faces }
}

fn cap(level: &[Vec<usize>], turned: bool) -> Vec<Vec<usize>> {
    let ring = |ring: &Vec<usize>| {
        let ring = face(ring)?;
        Some(if turned { ring.into_iter().rev().collect() } else { ring })
    };
    level.iter().filter_map(ring).collect()
}

/// A ring of corners without repeats; `None` where fewer than 3 are left.
fn face(corners: &[usize]) -> Option<Vec<usize>> {
    let mut ring = corners.to_vec();
    ring.dedup();
    while ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    (ring.len() > 2).then_some(ring)
}

/// Outlines turned so that outer rings run counter-clockwise and voids clockwise; each keeps its first point.
pub fn oriented(rings: &[Ring]) -> Vec<Ring> {
    let turned = |(i, ring): (usize, &Ring)| {
        let first = ring.first().copied().unwrap_or_default();
        let others = rings.iter().enumerate().filter(|(j, _)| *j != i);
        let is_void = others.filter(|(_, other)| encloses(other, first)).count() % 2 == 1;
        let runs_left = area_twice(ring) > 0.0;
        let mut ring = ring.clone();
        if runs_left == is_void
            && let Some(rest) = ring.get_mut(1..)
        {
            rest.reverse();
        }
        ring
    };
    rings.iter().enumerate().map(turned).collect()
}

fn area_twice(ring: &Ring) -> f64 {
    let Some([x0, y0]) = ring.first().copied() else { return 0.0 };
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    pairs.map(|(a, b)| (a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0)).sum()
}

fn encloses(ring: &Ring, [x, y]: [f64; 2]) -> bool {
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossings =
        pairs.filter(|(a, b)| (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
    crossings.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Solid, rectangle_ring};

    fn at(ring: &Ring, z: f64, scale: f64) -> Vec<Vector> {
        ring.iter().map(|[x, y]| Vector::new(x * scale, y * scale, z)).collect()
    }

    #[test]
    fn a_square_tube_is_closed_and_has_its_volume() {
        let rings = oriented(&[rectangle_ring([-2.0, -2.0], [2.0, 2.0]), rectangle_ring([-1.0, -1.0], [1.0, 1.0])]);
        let section = |z| rings.iter().map(|ring| at(ring, z, 1.0)).collect::<Section>();
        let body = loft(&[section(0.0), section(3.0)], false);
        assert_eq!(body.open_edges(), 0);
        assert!((Solid::Faces(body).volume_m3() - 36.0).abs() < 1e-12);
    }

    #[test]
    fn a_pyramid_ends_in_a_tip() {
        let ring = rectangle_ring([-1.0, -1.0], [1.0, 1.0]);
        let body = loft(&[vec![at(&ring, 0.0, 1.0)], vec![at(&ring, 3.0, 0.0)]], false);
        assert_eq!((body.open_edges(), body.faces.len(), body.corners.len()), (0, 5, 5));
        assert!((Solid::Faces(body).volume_m3() - 4.0).abs() < 1e-12);
    }
}
