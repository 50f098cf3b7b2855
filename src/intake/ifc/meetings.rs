//! Where walls meet: by the model's own relations, else by their bodies in plan.
//!
//! A wall that ends at the side of another is a partition to that one; walls that end at each other make a corner. The
//! wall that ends at a side has no junction itself: its end stud is all that stands there.

use super::by_x::ByX;
use super::paths::{At, Connection, Paths};
use super::placed::Placed;
use crate::geometry::{Bounds, Point, clip_by_half_plane};
use crate::model::{Junction, JunctionKind};
use crate::source::Source;
use std::collections::HashMap;

/// Bodies that come as near as this touch, in metres: models leave walls apart by rounding and by thin finishes.
const TOUCHING_M: f64 = 0.02;
/// A wall that meets another within this much of its end meets it at the end, in metres: no bay fits beyond.
const AT_END_M: f64 = 0.1;
/// Walls that share less height than this do not meet, in metres.
const SHARED_HEIGHT_M: f64 = 0.5;
/// Walls at a smaller angle than 20 degrees run on in line or stand side by side: the sine of it.
const IN_LINE: f64 = 0.342;
/// A relation counts where the axis of the other wall passes this one no farther off its ends than this, in metres.
const BEYOND_END_M: f64 = 1.0;
/// Meetings nearer than this along a wall are at one place, in metres.
const ONE_PLACE_M: f64 = 0.02;
/// A floor between walls one above the other is no higher than this, in metres.
const FLOOR_BETWEEN_M: f64 = 1.0;

/// The walls of a model that are plane surfaces, and how they are connected.
pub struct Walls {
    by_x: ByX<Placed>,
    /// Place in `by_x`, by element.
    place: HashMap<u64, usize>,
    paths: Paths,
}

impl Walls {
    /// Walls by their boxes.
    pub fn of(placed: impl Iterator<Item = Placed>, paths: Paths) -> Self {
        let upright = placed.filter(Placed::is_upright);
        let by_x = ByX::of(upright.filter_map(|wall| Some((wall.corners(0.0)?, wall))).collect());
        let place = by_x.list().enumerate().map(|(place, wall)| (wall.entity, place)).collect();
        Self { by_x, place, paths }
    }

    /// One of them, by its element.
    pub fn get(&self, entity: u64) -> Option<&Placed> {
        self.by_x.get(*self.place.get(&entity)?)
    }

    /// The junctions of a wall, in their order along it.
    ///
    /// What the model says of two walls counts; their bodies speak where it says nothing.
    pub fn junctions_of(&self, wall: &Placed, path: &str) -> Vec<Junction> {
        let Some(around) = wall.corners(TOUCHING_M) else { return Vec::new() };
        let said: Vec<&Connection> = self.paths.of(wall.entity).iter().filter(|c| c.is_told()).collect();
        let of_relations = said.iter().filter_map(|connection| {
            let seen = Seen::of(wall, self.get(connection.other)?)?;
            Some(seen.by_relation(connection.own, connection.others))
        });
        let mut meetings: Vec<Meeting> = of_relations.flatten().collect();
        let is_open = |meeting: &Meeting| !said.iter().any(|connection| connection.other == meeting.other);
        let others = self.by_x.near(around).filter(|other| other.entity != wall.entity);
        let seen = others.filter_map(|other| Seen::of(wall, other));
        let mut by_body: Vec<Meeting> = seen.flat_map(|seen| seen.by_body()).filter(is_open).collect();
        by_body.sort_by_key(|meeting| meeting.other);
        meetings.extend(by_body);
        united(meetings).into_iter().map(|meeting| meeting.junction(path)).collect()
    }
}

/// A meeting as one wall sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Meeting {
    kind: JunctionKind,
    at_m: f64,
    reach_m: [f64; 2],
    side: Side,
    other: u64,
}

/// On which side of a wall another one stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    Low,
    High,
}

impl Meeting {
    fn junction(&self, path: &str) -> Junction {
        let source = Some(Source::of_entity(path, self.other));
        Junction { kind: self.kind, at_m: self.at_m, reach_m: Some(self.reach_m), source }
    }
}

/// Another wall in plan, as a wall sees it: x along itself, z through itself.
struct Seen<'a> {
    wall: &'a Placed,
    other: u64,
    /// Ends of the other's middle line.
    ends: [Point; 2],
    /// Its direction, of length 1.
    way: Point,
    half_m: f64,
    reach_m: [f64; 2],
}

impl<'a> Seen<'a> {
    /// `None` where the walls share too little height, or run in line.
    fn of(wall: &'a Placed, other: &Placed) -> Option<Self> {
        // Most of what is near runs in line: that costs nothing more to know.
        let way = [wall.along().dot(&other.along()), wall.through().dot(&other.along())];
        if way[1].abs() < IN_LINE {
            return None;
        }
        let start = wall.seen(&other.out(0.0, 0.0, other.middle_m()));
        let reach_m = [start.y.max(0.0), (start.y + other.height_m).min(wall.height_m)];
        let end = [start.x + way[0] * other.length_m, start.z + way[1] * other.length_m];
        (reach_m[1] - reach_m[0] >= SHARED_HEIGHT_M).then(|| Self {
            wall,
            other: other.entity,
            ends: [[start.x, start.z], end],
            way,
            half_m: (other.high_m - other.low_m) / 2.0,
            reach_m,
        })
    }

    /// Where its middle line passes a depth of this wall.
    fn passes_at(&self, z: f64) -> f64 {
        let [x, from] = self.ends[0];
        x + (z - from) * self.way[0] / self.way[1]
    }

    /// Corners of its plan.
    fn plan(&self) -> [Point; 4] {
        let ([a, b], [dx, dz], half) = (self.ends, self.way, self.half_m);
        let aside = |p: Point, sign: f64| [p[0] - sign * half * dz, p[1] + sign * half * dx];
        [aside(a, -1.0), aside(b, -1.0), aside(b, 1.0), aside(a, 1.0)]
    }

    /// From where to where along this wall it lies within a range of depths; `None` where it does not.
    fn within(&self, low_m: f64, high_m: f64) -> Option<[f64; 2]> {
        let plan = self.plan();
        let whole = Bounds::of(&plan)?;
        if whole.min_y > high_m || whole.max_y < low_m {
            return None;
        }
        // At right angles, as most walls stand, nothing needs to be clipped.
        if self.way[0].abs() < 1e-9 {
            return Some([whole.min_x, whole.max_x]);
        }
        let above = clip_by_half_plane(&[plan.to_vec()], [0.0, -1.0], -low_m);
        let within = clip_by_half_plane(&above, [0.0, 1.0], high_m);
        Bounds::of(within.iter().flatten()).map(|bounds| [bounds.min_x, bounds.max_x])
    }

    /// The sides of this wall that it stands out on.
    fn sides(&self) -> Vec<Side> {
        let Some(bounds) = Bounds::of(&self.plan()) else { return Vec::new() };
        let low = (bounds.min_y < self.wall.low_m - AT_END_M).then_some(Side::Low);
        let high = (bounds.max_y > self.wall.high_m + AT_END_M).then_some(Side::High);
        low.into_iter().chain(high).collect()
    }

    /// Where along this wall it is met, on one side of it.
    fn at_m(&self, sides: &[Side]) -> f64 {
        self.passes_at(match sides {
            [Side::Low] => self.wall.low_m,
            [Side::High] => self.wall.high_m,
            _ => self.wall.middle_m(),
        })
    }

    fn corner(&self, side: Side, at_m: f64) -> Meeting {
        let end_m = if at_m < self.wall.length_m / 2.0 { 0.0 } else { self.wall.length_m };
        Meeting { kind: JunctionKind::Corner, at_m: end_m, reach_m: self.reach_m, side, other: self.other }
    }

    /// A partition on each side that it stands out on.
    fn partitions(&self, sides: &[Side], at_m: f64) -> Vec<Meeting> {
        let at_m = at_m.clamp(0.0, self.wall.length_m);
        let one = |side: &Side| Meeting {
            kind: JunctionKind::Partition,
            at_m,
            reach_m: self.reach_m,
            side: *side,
            other: self.other,
        };
        sides.iter().map(one).collect()
    }

    /// What the model says of both; the bodies only tell where it is.
    fn by_relation(&self, own: At, others: At) -> Vec<Meeting> {
        let sides = self.sides();
        let at_m = self.at_m(&sides);
        if at_m < -BEYOND_END_M || at_m > self.wall.length_m + BEYOND_END_M {
            return Vec::new();
        }
        let first = sides.first().copied().unwrap_or(Side::High);
        match (own, others) {
            (At::End, At::End) => vec![self.corner(first, at_m)],
            (At::Path, At::End) => self.partitions(&[first], at_m),
            (At::Path, At::Path) => self.partitions(&[Side::Low, Side::High], at_m),
            (At::End, At::Path) | (At::NotSaid, _) | (_, At::NotSaid) => Vec::new(),
        }
    }

    fn by_body(&self) -> Vec<Meeting> {
        let (low, high) = (self.wall.low_m - TOUCHING_M, self.wall.high_m + TOUCHING_M);
        let Some([from, to]) = self.within(low, high) else { return Vec::new() };
        let length_m = self.wall.length_m;
        if to < -TOUCHING_M || from > length_m + TOUCHING_M {
            return Vec::new();
        }
        let sides = self.sides();
        let at_m = self.at_m(&sides);
        let is_at_end = from <= AT_END_M || to >= length_m - AT_END_M;
        match (is_at_end, sides.as_slice()) {
            (true, [side]) => vec![self.corner(*side, f64::midpoint(from, to))],
            // Where the other runs on both ways, this wall ends at its side.
            (true, _) => Vec::new(),
            (false, sides) => self.partitions(sides, at_m),
        }
    }
}

/// Each meeting once: walls one above the other meet a wall at one place.
fn united(meetings: Vec<Meeting>) -> Vec<Meeting> {
    let mut all: Vec<Meeting> = Vec::new();
    for meeting in meetings {
        let is_same = |one: &&mut Meeting| {
            one.kind == meeting.kind
                && (one.at_m - meeting.at_m).abs() <= ONE_PLACE_M
                && meeting.reach_m[0] - one.reach_m[1] <= FLOOR_BETWEEN_M
                && one.reach_m[0] - meeting.reach_m[1] <= FLOOR_BETWEEN_M
                && (one.kind == JunctionKind::Corner || one.side == meeting.side)
        };
        match all.iter_mut().find(is_same) {
            Some(one) => {
                one.reach_m = [one.reach_m[0].min(meeting.reach_m[0]), one.reach_m[1].max(meeting.reach_m[1])];
            }
            None => all.push(meeting),
        }
    }
    all.sort_by(|a, b| a.at_m.total_cmp(&b.at_m).then(a.side.cmp(&b.side)).then(a.other.cmp(&b.other)));
    all
}
