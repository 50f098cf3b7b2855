//! Outlines by their boxes, so that a member is held against those near it and not against all.

use crate::geometry::{Bounds, Polygon};

/// What is no wider than this, in metres, is found by where it begins; plates and rims are wider, and few.
const NARROW_M: f64 = 0.5;

/// Outlines with their boxes.
pub(super) struct Near {
    /// Sorted by their left edges.
    narrow: Vec<(Bounds, Polygon)>,
    wide: Vec<(Bounds, Polygon)>,
}

impl Near {
    pub(super) fn of(outlines: impl IntoIterator<Item = Polygon>) -> Self {
        let boxed = outlines.into_iter().filter_map(|outline| Some((outline.bounds()?, outline)));
        let (mut narrow, wide): (Vec<_>, Vec<_>) = boxed.partition(|(bounds, _)| bounds.width_m() <= NARROW_M);
        narrow.sort_by(|(a, _), (b, _)| a.min_x.total_cmp(&b.min_x));
        Self { narrow, wide }
    }

    /// Those whose boxes share more than an edge with the box of an outline.
    pub(super) fn meeting(&self, outline: &Polygon) -> Vec<Polygon> {
        let Some(own) = outline.bounds() else { return Vec::new() };
        let from = self.narrow.partition_point(|(bounds, _)| bounds.min_x < own.min_x - NARROW_M);
        let to = self.narrow.partition_point(|(bounds, _)| bounds.min_x < own.max_x);
        let narrow = self.narrow.get(from..to).unwrap_or_default().iter();
        narrow.chain(&self.wide).filter(|(bounds, _)| bounds.overlaps(&own)).map(|(_, other)| other.clone()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_are_found_and_those_that_touch_or_lie_apart_are_not() {
        let stud = |x: f64| Polygon::rectangle(x, 0.0, x + 0.04, 2.0);
        let plate = Polygon::rectangle(0.0, 2.0, 10.0, 2.1);
        let near = Near::of([stud(0.0), stud(0.4), stud(0.8), plate.clone()]);
        assert_eq!(near.meeting(&Polygon::rectangle(0.42, 1.0, 0.5, 1.5)), [stud(0.4)]);
        assert_eq!(near.meeting(&Polygon::rectangle(0.44, 0.0, 0.8, 2.05)), std::slice::from_ref(&plate));
        assert_eq!(near.meeting(&Polygon::rectangle(0.1, 0.0, 0.3, 2.0)), []);
        assert_eq!(near.meeting(&plate.translated(0.0, -0.05)).len(), 4);
    }
}
