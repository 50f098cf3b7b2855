//! Where a surface stands in the world of its model.

use crate::geometry::{Point, Ring};

/// Where a surface stands in the world of its model, as a plan shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Of a wall the line of its cavity from the left end of its outline to the right end, of all else the outline; x and
    /// y of the world, in metres.
    pub plan_m: Ring,
    /// Its lowest point above the world's origin, in metres.
    pub level_m: f64,
}

impl Standing {
    /// The piece of a wall between two places along it, so much above its foot. `length_m` is the length of the whole.
    #[must_use]
    pub fn piece(&self, length_m: f64, [from_m, to_m]: [f64; 2], up_m: f64) -> Self {
        let level_m = self.level_m + up_m;
        let plan_m = match self.plan_m.as_slice() {
            &[a, b] if length_m > 0.0 => [from_m, to_m].map(|at_m| between(a, b, at_m / length_m)).to_vec(),
            _ => self.plan_m.clone(),
        };
        Self { plan_m, level_m }
    }
}

fn between(a: Point, b: Point, share: f64) -> Point {
    [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_keeps_its_stretch_of_the_wall() {
        let whole = Standing { plan_m: vec![[1.0, 2.0], [5.0, 2.0]], level_m: 0.5 };
        let piece = whole.piece(4.0, [1.0, 4.0], 2.7);
        assert_eq!(piece.plan_m, [[2.0, 2.0], [5.0, 2.0]]);
        assert!((piece.level_m - 3.2).abs() < 1e-12);
    }
}
