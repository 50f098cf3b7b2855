//! Things with their boxes in the world, found by place.

use crate::geometry::{Frame, Solid, Vector};

/// Lowest and highest corner of a box.
pub type Corners = (Vector, Vector);

/// Things narrower than this are in the first tier, in metres; each further one takes what is up to twice as wide.
const FIRST_TIER_M: f64 = 0.5;
/// Tiers there are: the last takes all that is left.
const TIERS: usize = 16;

/// Things in the world with their boxes, by width and then by their lowest x.
///
/// A wall along x is as wide as it is long, and one along y as its thickness: were they in one tier, each look-up would
/// go back by the longest wall.
#[derive(Debug)]
pub struct ByX<T> {
    list: Vec<(Corners, T)>,
    tiers: Vec<Tier>,
}

/// A run of the list with things of similar width.
#[derive(Debug)]
struct Tier {
    from: usize,
    to: usize,
    widest_m: f64,
}

impl<T> Default for ByX<T> {
    fn default() -> Self {
        Self::none()
    }
}

impl<T> ByX<T> {
    /// Nothing.
    pub const fn none() -> Self {
        Self { list: Vec::new(), tiers: Vec::new() }
    }

    /// Sorts things by their boxes.
    pub fn of(mut list: Vec<(Corners, T)>) -> Self {
        list.sort_by(|(a, _), (b, _)| tier_of(a).cmp(&tier_of(b)).then(a.0.x.total_cmp(&b.0.x)));
        let mut tiers = Vec::new();
        for tier in 0..TIERS {
            let from = list.partition_point(|(corners, _)| tier_of(corners) < tier);
            let to = list.partition_point(|(corners, _)| tier_of(corners) <= tier);
            let widths = list.get(from..to).unwrap_or_default().iter().map(|(corners, _)| width_m(corners));
            let widest_m = widths.fold(0.0, f64::max);
            if to > from {
                tiers.push(Tier { from, to, widest_m });
            }
        }
        Self { list, tiers }
    }

    /// All of them, in the order of their places.
    pub fn list(&self) -> impl Iterator<Item = &T> + Clone {
        self.list.iter().map(|(_, thing)| thing)
    }

    /// One of them, by its place in the list.
    pub fn get(&self, place: usize) -> Option<&T> {
        self.list.get(place).map(|(_, thing)| thing)
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Those whose boxes meet a box.
    pub fn near(&self, (low, high): Corners) -> impl Iterator<Item = &T> {
        let some = self.tiers.iter().flat_map(move |tier| {
            let tiered = self.list.get(tier.from..tier.to).unwrap_or_default();
            let from = tiered.partition_point(|((other, _), _)| other.x < low.x - tier.widest_m);
            let to = tiered.partition_point(|((other, _), _)| other.x <= high.x);
            tiered.get(from..to).unwrap_or_default()
        });
        let meets =
            move |(a, b): &Corners| b.x >= low.x && a.y <= high.y && b.y >= low.y && a.z <= high.z && b.z >= low.z;
        some.filter(move |(corners, _)| meets(corners)).map(|(_, thing)| thing)
    }
}

fn width_m((low, high): &Corners) -> f64 {
    high.x - low.x
}

fn tier_of(corners: &Corners) -> usize {
    let mut most_m = FIRST_TIER_M;
    for tier in 0..TIERS - 1 {
        if width_m(corners) <= most_m {
            return tier;
        }
        most_m *= 2.0;
    }
    TIERS - 1
}

/// The box around some points; `None` where there are none.
pub fn box_around(points: impl IntoIterator<Item = Vector>) -> Option<Corners> {
    points.into_iter().fold(None, |corners: Option<Corners>, point| {
        Some(corners.map_or((point, point), |(low, high)| (low.inf(&point), high.sup(&point))))
    })
}

/// The box around a solid whose frame lies so in the world.
pub fn corners_of(solid: &Solid, world: &Frame) -> Option<Corners> {
    let mut corners: Option<Corners> = None;
    solid.for_each_corner(&mut |corner| {
        let corner = world.point(&corner);
        corners = Some(corners.map_or((corner, corner), |(low, high)| (low.inf(&corner), high.sup(&corner))));
    });
    corners
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_near_is_found_whatever_its_width() {
        let boxed = |x: f64, width: f64, name: &'static str| {
            ((Vector::new(x, 0.0, 0.0), Vector::new(x + width, 1.0, 1.0)), name)
        };
        let all = [boxed(0.0, 100.0, "long"), boxed(9.9, 0.2, "thin"), boxed(20.0, 3.0, "far"), boxed(4.0, 7.0, "mid")];
        let by_x = ByX::of(all.to_vec());
        let mut found: Vec<&str> =
            by_x.near((Vector::new(10.0, 0.5, 0.5), Vector::new(11.0, 0.6, 0.6))).copied().collect();
        found.sort_unstable();
        assert_eq!(found, ["long", "mid", "thin"]);
        assert_eq!(by_x.near((Vector::new(10.0, 2.0, 0.5), Vector::new(11.0, 3.0, 0.6))).count(), 0);
    }
}
