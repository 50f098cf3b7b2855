//! Things with their boxes in the world, found by place.

use crate::geometry::{Frame, Solid, Vector};

/// Lowest and highest corner of a box.
pub type Corners = (Vector, Vector);

/// Things in the world with their boxes, by their lowest x.
#[derive(Debug)]
pub struct ByX<T> {
    list: Vec<(Corners, T)>,
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
        Self { list: Vec::new(), widest_m: 0.0 }
    }

    /// Sorts things by their boxes.
    pub fn of(mut list: Vec<(Corners, T)>) -> Self {
        list.sort_by(|((a, _), _), ((b, _), _)| a.x.total_cmp(&b.x));
        let widest_m = list.iter().map(|((low, high), _)| high.x - low.x).fold(0.0, f64::max);
        Self { list, widest_m }
    }

    /// All of them, by their lowest x.
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
        let from = self.list.partition_point(|((other, _), _)| other.x < low.x - self.widest_m);
        let to = self.list.partition_point(|((other, _), _)| other.x <= high.x);
        let some = self.list.get(from..to).unwrap_or_default().iter();
        let meets =
            move |(a, b): &Corners| b.x >= low.x && a.y <= high.y && b.y >= low.y && a.z <= high.z && b.z >= low.z;
        some.filter(move |(corners, _)| meets(corners)).map(|(_, thing)| thing)
    }
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
