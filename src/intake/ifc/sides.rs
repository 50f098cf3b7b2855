//! Which spaces lie on the two sides of a wall, by geometry.
//!
//! Points a little off both faces are held against the plans of the spaces at the same level.

use super::axes::{Axes, Stance};
use super::body::{body, extent};
use super::class::Class;
use super::context::Context;
use super::element::Element;
use super::exposure::{Between, between};
use super::file::File;
use super::placement::Chain;
use super::relations::Relations;
use super::spaces::Spaces;
use super::units::Units;
use crate::geometry::{Frame, Plane, Point, Polygon, Solid, Vector, section};
use crate::model::{Exposure, SpaceUse};
use rayon::prelude::*;

/// How far off its faces a wall is looked at, the first that meets a space, in metres.
const OFF_M: [f64; 2] = [0.3, 0.1];
/// A space this far off, behind a gap without one, means that the gap is a shaft or a cavity and not outdoors.
const BEYOND_M: [f64; 2] = [1.0, 2.0];
/// Where along a wall, as shares of its length.
const PLACES: [f64; 7] = [0.07, 0.21, 0.36, 0.5, 0.64, 0.79, 0.93];
/// At which heights, as shares of its height.
const LEVELS: [f64; 3] = [0.2, 0.5, 0.8];
/// A wall whose two large sides have a smaller share of its faces bends, and has no two sides to look from.
const TWO_SIDED: f64 = 0.3;

/// A space with a body.
struct Room {
    is: SpaceUse,
    solid: Solid,
    /// From the world into its own frame.
    inward: Frame,
    low: Vector,
    high: Vector,
}

/// The spaces of a model that have bodies.
#[derive(Default)]
pub struct Rooms {
    /// By their lowest x.
    rooms: Vec<Room>,
}

impl Rooms {
    /// Reads them; a space whose body cannot be read is none.
    pub fn read(file: &File<'_>, units: &Units, spaces: &Spaces) -> Self {
        let mut rooms: Vec<Room> =
            spaces.list.par_iter().filter_map(|(id, is)| Room::read(file, units, *id, *is)).collect();
        rooms.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
        Self { rooms }
    }

    /// What stands on both sides of a wall; `None` where no space does, or where it cannot be told.
    pub fn between(
        &self,
        file: &File<'_>,
        relations: &Relations,
        units: &Units,
        class: Class,
        id: u64,
    ) -> Option<Between> {
        if self.rooms.is_empty() {
            return None;
        }
        let (element, _) = Element::read(file, relations, class, id).ok()?;
        let context = Context::new(file, units.length_m, units.angle_rad);
        let chain = Chain::read(file, element.placement.map(|placement| (id, placement)), units.length_m);
        let solid = body(&context, id, element.shape?, &Frame::identity()).ok()?;
        let axes = Axes::of(&element, &solid, &chain, Stance::Upright).ok()?;
        if axes.face_share < TWO_SIDED {
            return None;
        }
        let wall = Wall {
            world: chain.world(),
            along: extent(&solid.base(), &axes.along)?,
            up: extent(&solid.base(), &axes.up)?,
            axes,
        };
        let mut votes = Votes::default();
        for level in LEVELS {
            let plans = self.plans(&wall, level);
            for place in PLACES {
                votes.count(&wall, &plans, place, level);
            }
        }
        votes.winner()
    }

    /// The plans of all spaces near a wall, at one level of it.
    fn plans(&self, wall: &Wall, level: f64) -> Vec<Plan> {
        let reach = BEYOND_M.iter().copied().fold(0.0, f64::max);
        let corners = [(0.0, -reach), (0.0, reach), (1.0, -reach), (1.0, reach)]
            .map(|(place, off)| wall.point(place, level, off));
        let [first, ..] = corners;
        let low = corners.iter().fold(first, |low, corner| low.inf(corner));
        let high = corners.iter().fold(first, |high, corner| high.sup(corner));
        let level_m = wall.point(0.5, level, 0.0).z;
        let to = self.rooms.partition_point(|room| room.low.x <= high.x);
        let near = self.rooms.iter().take(to).filter(|room| {
            room.high.x >= low.x
                && room.low.y <= high.y
                && room.high.y >= low.y
                && room.low.z < level_m
                && room.high.z > level_m
        });
        near.filter_map(|room| room.plan(level_m)).collect()
    }
}

impl Room {
    fn read(file: &File<'_>, units: &Units, id: u64, is: SpaceUse) -> Option<Self> {
        let record = file.record(id).ok()?;
        let context = Context::new(file, units.length_m, units.angle_rad);
        let chain = Chain::read(file, record.optional_reference(5).map(|placement| (id, placement)), units.length_m);
        let solid = body(&context, id, record.optional_reference(6)?, &Frame::identity()).ok()?;
        let world = chain.world();
        let mut corners: Option<(Vector, Vector)> = None;
        solid.for_each_corner(&mut |corner| {
            let corner = world.point(&corner);
            corners = Some(corners.map_or((corner, corner), |(low, high)| (low.inf(&corner), high.sup(&corner))));
        });
        let (low, high) = corners?;
        Some(Self { is, solid, inward: world.inverse()?, low, high })
    }

    /// Its plan at a level of the world.
    fn plan(&self, level_m: f64) -> Option<Plan> {
        let from = [self.low.x, self.low.y];
        let plane = Plane {
            origin: self.inward.point(&Vector::new(self.low.x, self.low.y, level_m)),
            x: self.inward.direction(&Vector::x()),
            y: self.inward.direction(&Vector::y()),
            normal: self.inward.direction(&Vector::z()),
        };
        let outline = section(&self.solid, &plane).ok().filter(|outline| !outline.is_empty())?;
        Some(Plan { is: self.is, from, outline })
    }
}

/// A space seen from above.
struct Plan {
    is: SpaceUse,
    /// Where its axes begin, in the world.
    from: Point,
    outline: Vec<Polygon>,
}

impl Plan {
    fn holds(&self, point: &Vector) -> bool {
        let (x, y) = (point.x - self.from[0], point.y - self.from[1]);
        let rings = self.outline.iter().flat_map(|polygon| &polygon.rings);
        let crossed = rings
            .flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)))
            .filter(|(a, b)| (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
        crossed.count() % 2 == 1
    }
}

/// A wall as it stands in the world.
struct Wall {
    world: Frame,
    axes: Axes,
    along: (f64, f64),
    up: (f64, f64),
}

impl Wall {
    /// A point at shares of length and height, so far off the face: behind it where negative.
    fn point(&self, place: f64, level: f64, off_m: f64) -> Vector {
        let share = |(low, high): (f64, f64), share: f64| low + (high - low) * share;
        let through_m = if off_m < 0.0 { self.axes.low_m + off_m } else { self.axes.high_m + off_m };
        let Axes { along, up, through, .. } = &self.axes;
        self.world.point(&(along * share(self.along, place) + up * share(self.up, level) + through * through_m))
    }
}

/// What was seen at the places of a wall.
#[derive(Default)]
struct Votes {
    exterior: u32,
    unconditioned: u32,
    interior: u32,
    no_room: u32,
}

impl Votes {
    fn count(&mut self, wall: &Wall, plans: &[Plan], place: f64, level: f64) {
        let at = |off_m: f64| {
            let point = wall.point(place, level, off_m);
            plans.iter().filter(|plan| plan.holds(&point)).map(|plan| plan.is).min()
        };
        let seen = |sign: f64| OFF_M.iter().find_map(|off_m| at(sign * off_m));
        let (behind, before) = (seen(-1.0), seen(1.0));
        let found = match (behind, before) {
            (None, None) => return,
            (Some(one), Some(other)) => between(one, other),
            (one, other) => {
                let sign = if one.is_none() { -1.0 } else { 1.0 };
                let is_gap = BEYOND_M.iter().any(|off_m| at(sign * off_m).is_some_and(|is| is != SpaceUse::Outdoors));
                if is_gap {
                    return;
                }
                between(one.or(other).unwrap_or(SpaceUse::Outdoors), SpaceUse::Outdoors)
            }
        };
        match found {
            Between::RoomAnd(Exposure::Exterior) => self.exterior += 1,
            Between::RoomAnd(Exposure::Unconditioned) => self.unconditioned += 1,
            Between::RoomAnd(Exposure::Interior) => self.interior += 1,
            Between::RoomAnd(Exposure::Unknown) => {}
            Between::NoRoom => self.no_room += 1,
        }
    }

    /// What was seen most; of equals, what must rather be filled.
    fn winner(&self) -> Option<Between> {
        let counts = [
            (self.no_room, Between::NoRoom),
            (self.interior, Between::RoomAnd(Exposure::Interior)),
            (self.unconditioned, Between::RoomAnd(Exposure::Unconditioned)),
            (self.exterior, Between::RoomAnd(Exposure::Exterior)),
        ];
        counts.into_iter().filter(|(count, _)| *count > 0).max_by_key(|(count, _)| *count).map(|(_, between)| between)
    }
}
