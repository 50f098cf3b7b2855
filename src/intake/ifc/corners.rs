//! Corners of a body of faces, one for each place, so that neighbouring faces share them.

use super::context::Context;
use super::placement::point;
use super::trouble::Trouble;
use crate::geometry::{Frame, Vector};
use std::collections::HashMap;

/// Points of curved edges closer than this are one corner, in metres: exports that repeat an edge for each face.
const SAME_M: f64 = 1e-8;

/// Corners by their place, so that faces share them whatever names the file gives their points.
#[derive(Default)]
pub struct Corners {
    places: Vec<Vector>,
    by_place: HashMap<[u64; 3], usize>,
    by_name: HashMap<u64, usize>,
    by_cell: HashMap<[i64; 3], Vec<usize>>,
}

impl Corners {
    /// The corner at a place; the same one for the same place, to the last bit.
    pub fn add(&mut self, place: Vector) -> usize {
        // Adding 0 makes one zero of two.
        let key = [place.x, place.y, place.z].map(|part| (part + 0.0).to_bits());
        let next = self.places.len();
        *self.by_place.entry(key).or_insert_with(|| {
            self.places.push(place);
            next
        })
    }

    /// The corner near a place of a curved edge: one that was added so before, or a new one.
    pub fn add_near(&mut self, place: Vector) -> usize {
        let [x, y, z] = cell(&place);
        for near in (-1..=1).flat_map(|i| (-1..=1).flat_map(move |j| (-1..=1).map(move |k| [x + i, y + j, z + k]))) {
            let there = self.by_cell.get(&near).into_iter().flatten().copied();
            for index in there {
                if (self.place(index) - place).norm() <= SAME_M {
                    return index;
                }
            }
        }
        let index = self.add(place);
        self.by_cell.entry([x, y, z]).or_default().push(index);
        index
    }

    /// The corner at a point of the file.
    ///
    /// # Errors
    /// Where the point cannot be used.
    pub fn named(&mut self, context: &Context<'_>, from: u64, id: u64, frame: &Frame) -> Result<usize, Trouble> {
        if let Some(index) = self.by_name.get(&id) {
            return Ok(*index);
        }
        let place = frame.point(&point(context.file, from, id, context.length_m)?);
        let index = self.add(place);
        self.by_name.insert(id, index);
        Ok(index)
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.places.len()
    }

    /// Where a corner is.
    pub fn place(&self, index: usize) -> Vector {
        self.places.get(index).copied().unwrap_or_else(Vector::zeros)
    }

    /// The places, in the order of their indices.
    pub fn into_places(self) -> Vec<Vector> {
        self.places
    }
}

fn cell(place: &Vector) -> [i64; 3] {
    // Saturates far beyond any building; there all is one cell, and the distance decides.
    #[allow(clippy::cast_possible_truncation, reason = "clamped to whole numbers that fit")]
    let cell = |part: f64| (part / (4.0 * SAME_M)).clamp(-1e17, 1e17).floor() as i64;
    [cell(place.x), cell(place.y), cell(place.z)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_of_repeated_edges_are_one_corner() {
        let mut corners = Corners::default();
        let first = corners.add_near(Vector::new(1.0, 2.0, 3.0));
        assert_eq!(corners.add_near(Vector::new(1.0 + 1e-12, 2.0, 3.0 - 1e-12)), first);
        assert_ne!(corners.add_near(Vector::new(1.0 + 1e-6, 2.0, 3.0)), first);
    }
}
