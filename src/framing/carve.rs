//! Taking members out of the free ground, one role after the other, so that no two overlap.

use super::site::{Site, polygon_of};
use super::{Member, MemberRole};
use crate::geometry::{Bounds, Polygon, difference, union};
use std::collections::BTreeMap;

/// The ground that is still free, and what was taken.
pub(super) struct Carve {
    blocked: Vec<Polygon>,
    taken: BTreeMap<MemberRole, Vec<Polygon>>,
}

impl Carve {
    /// Starts with what lies outside the outline.
    pub(super) fn of(site: &Site) -> Self {
        Self { blocked: site.outside.clone(), taken: BTreeMap::new() }
    }

    /// Keeps members out of these places from now on.
    pub(super) fn block(&mut self, places: impl IntoIterator<Item = Polygon>) {
        self.blocked.extend(places);
    }

    /// Takes what is still free of these shapes, united with what the role has already.
    pub(super) fn take(&mut self, role: MemberRole, shapes: &[Polygon]) {
        if shapes.is_empty() {
            return;
        }
        let pieces = if self.blocked.is_empty() { union(shapes) } else { difference(shapes, &self.blocked) };
        self.blocked.extend(pieces.iter().cloned());
        let own = self.taken.entry(role).or_default();
        let is_first = own.is_empty();
        own.extend(pieces);
        if !is_first {
            *own = union(own);
        }
    }

    /// The same for boxes.
    pub(super) fn take_boxes(&mut self, role: MemberRole, boxes: &[Bounds]) {
        let shapes: Vec<Polygon> = boxes.iter().map(polygon_of).collect();
        self.take(role, &shapes);
    }

    /// What was taken: by role, then from the left, then from below.
    pub(super) fn members(self) -> Vec<Member> {
        let mut members = Vec::new();
        for (role, pieces) in self.taken {
            let mut pieces: Vec<Member> =
                pieces.into_iter().map(|outline| Member { role, area_m2: outline.area_m2(), outline }).collect();
            pieces.sort_by(|a, b| from_the_left(&a.outline, &b.outline));
            members.extend(pieces);
        }
        members
    }
}

/// Order of two pieces: from the left, then from below, to a thousandth of a millimetre.
pub(crate) fn from_the_left(a: &Polygon, b: &Polygon) -> std::cmp::Ordering {
    let corner = |polygon: &Polygon| {
        polygon.bounds().map_or([0.0, 0.0], |b| [(b.min_x * 1e6).round() + 0.0, (b.min_y * 1e6).round() + 0.0])
    };
    let (a, b) = (corner(a), corner(b));
    a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1]))
}
