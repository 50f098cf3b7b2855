//! Which spaces lie on the two sides of a wall, by geometry.
//!
//! Points a little off both faces are held against the plans of the spaces at the same level.

use super::axes::{Axes, Stance};
use super::body::{body, extent};
use super::by_x::{ByX, Corners, corners_of};
use super::class::Class;
use super::context::Context;
use super::element::Element;
use super::exposure::{Between, between, is_wall};
use super::file::File;
use super::placement::Chain;
use super::relations::Relations;
use super::spaces::Spaces;
use super::units::Units;
use crate::geometry::{Frame, Plane, Point, Polygon, Solid, Vector, section};
use crate::model::{Exposure, SpaceUse};
use rayon::prelude::*;
use std::collections::HashMap;

/// How far off its faces a wall is looked at, the first that meets a space, in metres.
const OFF_M: [f64; 2] = [0.3, 0.1];
/// A space this far off, behind a gap without one, means that the gap is a shaft or a cavity and not outdoors.
const BEYOND_M: [f64; 4] = [1.0, 2.0, 3.0, 4.0];
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
    /// Where the axes of its plan begin, in the world.
    from: Vector,
}

/// The spaces and walls of a model that have bodies.
#[derive(Default)]
pub struct Sides {
    rooms: ByX<Room>,
    walls: ByX<Wall>,
    /// Place in `walls`, by element.
    place: HashMap<u64, usize>,
}

impl Sides {
    /// Reads them; what has a body that cannot be read is not there.
    pub fn read(
        file: &File<'_>,
        relations: &Relations,
        units: &Units,
        spaces: &Spaces,
        elements: &[(Class, u64)],
    ) -> Self {
        let rooms = spaces.list.par_iter().filter_map(|(id, is)| Room::read(file, units, *id, *is)).collect();
        let walls = elements.par_iter().filter(|(class, _)| is_wall(*class));
        let walls = ByX::of(walls.filter_map(|(class, id)| Wall::read(file, relations, units, *class, *id)).collect());
        let place = walls.list().enumerate().map(|(place, wall)| (wall.id, place)).collect();
        Self { rooms: ByX::of(rooms), walls, place }
    }

    /// What stands on both sides of a wall; `None` where no space does, or where it cannot be told.
    pub fn between(&self, id: u64) -> Option<Between> {
        let wall = self.walls.get(*self.place.get(&id)?)?;
        if !wall.has_two_sides {
            return None;
        }
        let mut votes = Votes::default();
        for level in LEVELS {
            let around = wall.around(level);
            let rooms = self.rooms.near(around).filter_map(|room| room.plan(around.0.z)).collect();
            let walls = self.walls.near(around).filter(|other| other.id != id).collect();
            let near = Near { rooms, walls };
            for place in PLACES {
                votes.count(wall, &near, place, level);
            }
        }
        votes.winner()
    }
}

/// What is near a wall at one level.
struct Near<'a> {
    rooms: Vec<Plan>,
    walls: Vec<&'a Wall>,
}

impl Near<'_> {
    fn space_at(&self, point: &Vector) -> Option<SpaceUse> {
        self.rooms.iter().filter(|plan| plan.holds(point)).map(|plan| plan.is).min()
    }

    fn has_wall_at(&self, point: &Vector) -> bool {
        self.walls.iter().any(|wall| wall.holds(point))
    }
}

impl Room {
    fn read(file: &File<'_>, units: &Units, id: u64, is: SpaceUse) -> Option<(Corners, Self)> {
        let record = file.record(id).ok()?;
        let context = Context::new(file, units.length_m, units.angle_rad);
        let chain = Chain::read(file, record.optional_reference(5).map(|placement| (id, placement)), units.length_m);
        let solid = body(&context, id, record.optional_reference(6)?, &Frame::identity()).ok()?;
        let world = chain.world();
        let corners = corners_of(&solid, &world)?;
        Some((corners, Self { is, solid, inward: world.inverse()?, from: corners.0 }))
    }

    /// Its plan at a level of the world.
    fn plan(&self, level_m: f64) -> Option<Plan> {
        let plane = Plane {
            origin: self.inward.point(&Vector::new(self.from.x, self.from.y, level_m)),
            x: self.inward.direction(&Vector::x()),
            y: self.inward.direction(&Vector::y()),
            normal: self.inward.direction(&Vector::z()),
        };
        let outline = section(&self.solid, &plane).ok().filter(|outline| !outline.is_empty())?;
        Some(Plan { is: self.is, from: [self.from.x, self.from.y], outline })
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
    id: u64,
    world: Frame,
    inward: Frame,
    axes: Axes,
    along: (f64, f64),
    up: (f64, f64),
    has_two_sides: bool,
}

impl Wall {
    fn read(file: &File<'_>, relations: &Relations, units: &Units, class: Class, id: u64) -> Option<(Corners, Self)> {
        let (element, _) = Element::read(file, relations, class, id).ok()?;
        let context = Context::new(file, units.length_m, units.angle_rad);
        let chain = Chain::read(file, element.placement.map(|placement| (id, placement)), units.length_m);
        let solid = body(&context, id, element.shape?, &Frame::identity()).ok()?;
        let axes = Axes::of(&element, &solid, &chain, Stance::Upright).ok()?;
        let (base, world) = (solid.base(), chain.world());
        let (along, up) = (extent(&base, &axes.along)?, extent(&base, &axes.up)?);
        let has_two_sides = axes.face_share >= TWO_SIDED;
        let corners = corners_of(&solid, &world)?;
        Some((corners, Self { id, world, inward: world.inverse()?, axes, along, up, has_two_sides }))
    }

    /// A point at shares of length and height, so far off the face: behind it where negative.
    fn point(&self, place: f64, level: f64, off_m: f64) -> Vector {
        let share = |(low, high): (f64, f64), share: f64| low + (high - low) * share;
        let through_m = if off_m < 0.0 { self.axes.low_m + off_m } else { self.axes.high_m + off_m };
        let Axes { along, up, through, .. } = &self.axes;
        self.world.point(&(along * share(self.along, place) + up * share(self.up, level) + through * through_m))
    }

    /// The box around what is looked at, at one level of it.
    fn around(&self, level: f64) -> Corners {
        let reach = BEYOND_M.iter().copied().fold(0.0, f64::max);
        let corners = [(0.0, -reach), (0.0, reach), (1.0, -reach), (1.0, reach)];
        let [first, rest @ ..] = corners.map(|(place, off)| self.point(place, level, off));
        let (low, high) = rest.iter().fold((first, first), |(low, high), corner| (low.inf(corner), high.sup(corner)));
        let level_m = self.point(0.5, level, 0.0).z;
        (Vector::new(low.x, low.y, level_m), Vector::new(high.x, high.y, level_m))
    }

    /// Whether a point lies in it, as far as its box says.
    fn holds(&self, point: &Vector) -> bool {
        let point = self.inward.point(point);
        let within = |axis: &Vector, (low, high): (f64, f64)| (low..=high).contains(&axis.dot(&point));
        let Axes { along, up, through, low_m, high_m, .. } = &self.axes;
        self.has_two_sides && within(through, (*low_m, *high_m)) && within(along, self.along) && within(up, self.up)
    }
}

/// What was seen at the places of a wall.
#[derive(Default)]
struct Votes {
    exterior: u32,
    unconditioned: u32,
    interior: u32,
    no_room: u32,
    doubt: u32,
}

impl Votes {
    fn count(&mut self, wall: &Wall, near: &Near<'_>, place: f64, level: f64) {
        let at = |off_m: f64| wall.point(place, level, off_m);
        let seen = |sign: f64| OFF_M.iter().find_map(|off_m| near.space_at(&at(sign * off_m)));
        let found = match (seen(-1.0), seen(1.0)) {
            (None, None) => return,
            (Some(one), Some(other)) => between(one, other),
            (one, other) => {
                let sign = if one.is_none() { -1.0 } else { 1.0 };
                // A wall right behind hides the other side, and a space behind a gap makes a shaft of the gap.
                let is_hidden = OFF_M.iter().any(|off_m| near.has_wall_at(&at(sign * off_m)));
                let is_room = |off_m: &f64| near.space_at(&at(sign * off_m)).is_some_and(|is| is != SpaceUse::Outdoors);
                if is_hidden || BEYOND_M.iter().any(is_room) {
                    self.doubt += 1;
                    return;
                }
                between(one.or(other).unwrap_or(SpaceUse::Outdoors), SpaceUse::Outdoors)
            }
        };
        match found {
            Between::RoomAnd(Exposure::Exterior) => self.exterior += 1,
            Between::RoomAnd(Exposure::Unconditioned) => self.unconditioned += 1,
            Between::RoomAnd(Exposure::Interior) => self.interior += 1,
            Between::RoomAnd(Exposure::Unknown) => self.doubt += 1,
            Between::NoRoom => self.no_room += 1,
        }
    }

    /// What was seen most; of equals, what must rather be filled.
    fn winner(&self) -> Option<Between> {
        let counts = [
            (self.doubt, None),
            (self.no_room, Some(Between::NoRoom)),
            (self.interior, Some(Between::RoomAnd(Exposure::Interior))),
            (self.unconditioned, Some(Between::RoomAnd(Exposure::Unconditioned))),
            (self.exterior, Some(Between::RoomAnd(Exposure::Exterior))),
        ];
        let most = counts.into_iter().filter(|(count, _)| *count > 0).max_by_key(|(count, _)| *count);
        most.and_then(|(_, between)| between)
    }
}
