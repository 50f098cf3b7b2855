//! Corners of a body of faces, one for each place, so that neighbouring faces share them.

use super::context::Context;
use super::placement::point;
use super::trouble::Trouble;
use crate::geometry::{Frame, Vector};
use std::collections::HashMap;

/// Corners by their place, so that faces share them whatever names the file gives their points.
#[derive(Default)]
pub struct Corners {
    places: Vec<Vector>,
    by_place: HashMap<[u64; 3], usize>,
    by_name: HashMap<u64, usize>,
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

    /// Where a corner is.
    pub fn place(&self, index: usize) -> Vector {
        self.places.get(index).copied().unwrap_or_else(Vector::zeros)
    }

    /// The places, in the order of their indices.
    pub fn into_places(self) -> Vec<Vector> {
        self.places
    }
}
