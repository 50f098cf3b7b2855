//! Walls that run past the structure of floors, cut there as platform framing stands.
//!
//! Between the floors stand pieces of wall, each with its own plates; the strip that a floor's structure stands in is a
//! surface of its own, framed by the ends of joists.

use super::plan::Plan;
use super::sum::total;
use super::words::area;
use crate::finding::{Code, Finding};
use crate::framing::{outline_of, place_of};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Polygon, intersection, total_area_m2};
use crate::model::{
    Building, DoNotFill, DoNotFillExtent, Extent, FloorBand, GivenMember, Junction, JunctionKind, Opening, Standing,
    Surface, SurfaceKind,
};
use crate::source::Place;
use std::borrow::Cow;

/// Name of the strip of a wall that the structure of a floor stands in.
pub(super) const RIM_STRIP: &str = "rim strip";
/// A junction counts in a piece of wall that shares this much of its height, in metres.
const SHARED_HEIGHT_M: f64 = 0.5;

/// A building whose walls are cut, with a plan for every surface of it.
pub(super) struct Cut<'b, 'j> {
    /// The building.
    pub building: Cow<'b, Building>,
    /// A plan for each of its surfaces.
    pub plans: Vec<Plan<'j>>,
    /// What a person must know.
    pub findings: Vec<Finding>,
}

/// Cuts the counted walls that run past floors, unless the layout says that they stay whole.
///
/// Uncounted walls stay whole, and so do walls whose framing the model gives, member by member.
pub(super) fn cut_at_floors<'b, 'j>(building: &'b Building, plans: Vec<Plan<'j>>) -> Cut<'b, 'j> {
    if !building.surfaces.iter().zip(&plans).any(|(surface, plan)| is_cut(surface, plan)) {
        return Cut { building: Cow::Borrowed(building), plans, findings: Vec::new() };
    }
    let mut done = Done::default();
    for (surface, plan) in building.surfaces.iter().zip(plans) {
        let pieces = if is_cut(surface, &plan) { done.pieces(surface) } else { Vec::new() };
        if pieces.is_empty() {
            done.surfaces.push(surface.clone());
            done.plans.push(plan);
            continue;
        }
        for (piece, is_rim) in pieces {
            done.surfaces.push(piece);
            done.plans.push(Plan { is_rim, ..plan.clone() });
        }
    }
    let summary = done.summary();
    let Done { surfaces, plans, mut findings, .. } = done;
    findings.extend(summary);
    let cut = Building {
        inputs: building.inputs.clone(),
        surfaces,
        left_out: building.left_out.clone(),
        assumptions: building.assumptions.clone(),
        findings: building.findings.clone(),
    };
    Cut { building: Cow::Owned(cut), plans, findings }
}

fn is_cut(surface: &Surface, plan: &Plan<'_>) -> bool {
    let keeps_whole = plan.assigned.as_ref().is_none_or(|assigned| assigned.layout.keeps_whole);
    plan.is_counted()
        && !keeps_whole
        && !surface.floor_bands.is_empty()
        && !surface.framing_is_given
        && surface.kind == SurfaceKind::Wall
}

/// What was cut so far.
#[derive(Default)]
struct Done<'j> {
    surfaces: Vec<Surface>,
    plans: Vec<Plan<'j>>,
    findings: Vec<Finding>,
    walls: u32,
    wall_m2: f64,
    rim_m2: f64,
    first: Option<Place>,
}

impl Done<'_> {
    /// The pieces of a wall from below, and whether each is a rim strip; none where it stays whole.
    fn pieces(&mut self, wall: &Surface) -> Vec<(Surface, bool)> {
        let Some((outline, bounds)) = outline_of(wall).and_then(|o| Some((o, Bounds::of_polygons(o)?))) else {
            let message = "a floor runs into this wall, but it has no outline, or an opening without a size, so that it \
                           cannot be cut there; give length and height, and the size of every opening";
            self.findings.push(Finding::warning(Code::WallCutAtFloor, &place_of(wall), message));
            return Vec::new();
        };
        let levels = levels(&wall.floor_bands, &bounds);
        if !levels.iter().any(|level| level.is_rim) {
            return Vec::new();
        }
        let mut pieces = Vec::new();
        for level in &levels {
            let part = u32::try_from(pieces.len() + 1).unwrap_or(u32::MAX);
            pieces.extend(piece(wall, outline, &bounds, level, part).map(|piece| (piece, level.is_rim)));
        }
        self.findings.extend(openings_across(wall, &levels));
        self.findings.extend(bays_not_meant(wall));
        let count = f64::from(wall.count);
        self.walls = self.walls.saturating_add(wall.count);
        self.wall_m2 += wall.gross_area_m2() * count;
        self.rim_m2 += count * total(pieces.iter().filter(|(_, is_rim)| *is_rim).map(|(rim, _)| rim.gross_area_m2()));
        self.first.get_or_insert_with(|| place_of(wall));
        pieces
    }

    fn summary(&self) -> Option<Finding> {
        let place = match (&self.first, self.walls) {
            (Some(place), 1) => place.clone(),
            (Some(place), _) => Place::input(&place.input),
            (None, _) => return None,
        };
        let message = format!(
            "{} with {} run{} past the structure of floors and {} cut there, as platform framing stands: {} become rim \
             strips, whose bays lie behind the band across them (`rim_joist`); `walls_through_floors = \"whole\"` under `[layout]` in the job file keeps walls whole",
            if self.walls == 1 { "1 wall".to_owned() } else { format!("{} walls", self.walls) },
            area(self.wall_m2),
            if self.walls == 1 { "s" } else { "" },
            if self.walls == 1 { "is" } else { "are" },
            area(self.rim_m2)
        );
        Some(Finding::note(Code::WallCutAtFloor, &place, message))
    }
}

/// A stretch of a wall's height.
struct Level {
    from_m: f64,
    to_m: f64,
    is_rim: bool,
    band: Option<FloorBand>,
}

/// The stretches between and in the bands, from below; bands that overlap are one.
fn levels(bands: &[FloorBand], bounds: &Bounds) -> Vec<Level> {
    let mut sorted: Vec<&FloorBand> = bands.iter().collect();
    sorted.sort_by(|a, b| a.from_m.total_cmp(&b.from_m));
    let mut levels: Vec<Level> = Vec::new();
    let mut at_m = bounds.min_y;
    for band in sorted {
        let (from_m, to_m) = (band.from_m.max(at_m), band.to_m.min(bounds.max_y));
        if to_m - from_m <= COINCIDENT_M {
            continue;
        }
        if from_m - at_m > COINCIDENT_M {
            levels.push(Level { from_m: at_m, to_m: from_m, is_rim: false, band: None });
        }
        let from_m = levels.last().map_or(at_m, |level| level.to_m);
        match levels.last_mut() {
            Some(below) if below.is_rim => below.to_m = to_m,
            _ => levels.push(Level { from_m, to_m, is_rim: true, band: Some(band.clone()) }),
        }
        at_m = to_m;
    }
    match levels.last_mut() {
        Some(last) if bounds.max_y - at_m <= COINCIDENT_M => last.to_m = bounds.max_y,
        _ => levels.push(Level { from_m: at_m, to_m: bounds.max_y, is_rim: false, band: None }),
    }
    levels
}

/// One piece of a wall; `None` where nothing of the wall is there.
fn piece(wall: &Surface, outline: &[Polygon], whole: &Bounds, level: &Level, part: u32) -> Option<Surface> {
    let cut = within(outline, whole, level);
    let bounds = Bounds::of_polygons(&cut)?;
    let moved = |polygons: &[Polygon]| -> Vec<Polygon> {
        polygons.iter().map(|polygon| polygon.translated(-bounds.min_x, -bounds.min_y)).collect()
    };
    let inside = |polygons: &[Polygon]| moved(&within(polygons, whole, level));
    let height_m = bounds.height_m();
    let band = level.band.as_ref().map(|band| FloorBand { from_m: 0.0, to_m: height_m, source: band.source.clone() });
    let members =
        wall.given_members.iter().map(|member| GivenMember { outline: inside(&member.outline), ..member.clone() });
    Some(Surface {
        part,
        name: if level.is_rim { Some(rim_name(wall)) } else { wall.name.clone() },
        openings: wall.openings.iter().filter_map(|opening| opening_in(opening, inside(&opening.outline))).collect(),
        given_members: members.filter(|member| !member.outline.is_empty()).collect(),
        do_not_fill: wall.do_not_fill.iter().filter_map(|entry| kept_empty(entry, &bounds)).collect(),
        junctions: if level.is_rim { Vec::new() } else { junctions_in(wall, &bounds) },
        corner_posts: if level.is_rim { 0 } else { wall.corner_posts },
        partition_junctions: if level.is_rim { 0 } else { wall.partition_junctions },
        floor_bands: band.into_iter().collect(),
        standing: standing_of(wall, whole, &bounds),
        extent: Extent::Outline(moved(&cut)),
        ..wall.clone()
    })
}

/// Where a piece stands.
fn standing_of(wall: &Surface, whole: &Bounds, piece: &Bounds) -> Option<Standing> {
    let along_m = [piece.min_x - whole.min_x, piece.max_x - whole.min_x];
    wall.standing.as_ref().map(|standing| standing.piece(whole.width_m(), along_m, piece.min_y - whole.min_y))
}

/// The name of a rim strip says which wall it belongs to.
fn rim_name(wall: &Surface) -> String {
    wall.name.as_deref().map_or_else(|| RIM_STRIP.to_owned(), |name| format!("{name}, {RIM_STRIP}"))
}

/// The part of some polygons at a level of a wall.
fn within(polygons: &[Polygon], whole: &Bounds, level: &Level) -> Vec<Polygon> {
    let strip = Polygon::rectangle(whole.min_x, level.from_m, whole.max_x, level.to_m);
    let is_something = |polygon: &Polygon| {
        polygon.bounds().is_some_and(|bounds| bounds.width_m() > COINCIDENT_M && bounds.height_m() > COINCIDENT_M)
    };
    intersection(polygons, &[strip]).into_iter().filter(is_something).collect()
}

/// An opening as far as it lies in a piece; one without an outline takes nothing.
fn opening_in(opening: &Opening, outline: Vec<Polygon>) -> Option<Opening> {
    (!outline.is_empty()).then(|| Opening { area_m2: total_area_m2(&outline), outline, ..opening.clone() })
}

/// What stays empty in a piece; bays have other numbers there.
fn kept_empty(entry: &DoNotFill, bounds: &Bounds) -> Option<DoNotFill> {
    let [x, y] = [bounds.min_x, bounds.min_y];
    let extent = match entry.extent {
        DoNotFillExtent::Bays { .. } => return None,
        DoNotFillExtent::All => DoNotFillExtent::All,
        DoNotFillExtent::Stretch { from_m, to_m } => {
            let lies_beside = to_m <= x || from_m >= bounds.max_x;
            (!lies_beside).then_some(DoNotFillExtent::Stretch { from_m: from_m - x, to_m: to_m - x })?
        }
        DoNotFillExtent::Box { from_m, to_m } => {
            let cut_from = [from_m[0].max(x), from_m[1].max(y)];
            let cut_to = [to_m[0].min(bounds.max_x), to_m[1].min(bounds.max_y)];
            let is_there = cut_to[0] - cut_from[0] > COINCIDENT_M && cut_to[1] - cut_from[1] > COINCIDENT_M;
            let moved = |[a, b]: [f64; 2]| [a - x, b - y];
            is_there.then(|| DoNotFillExtent::Box { from_m: moved(cut_from), to_m: moved(cut_to) })?
        }
    };
    Some(DoNotFill { extent, ..entry.clone() })
}

/// The junctions that reach into a piece.
fn junctions_in(wall: &Surface, bounds: &Bounds) -> Vec<Junction> {
    let reaches = |junction: &&Junction| {
        junction.reach_m.is_none_or(|[from_m, to_m]| {
            let shared_m = to_m.min(bounds.max_y) - from_m.max(bounds.min_y);
            shared_m >= SHARED_HEIGHT_M.min(bounds.height_m() / 2.0)
        })
    };
    let moved = |junction: &Junction| {
        let from_left_m = junction.at_m - bounds.min_x;
        let is_inside = (-COINCIDENT_M..=bounds.width_m() + COINCIDENT_M).contains(&from_left_m);
        let at_m = match junction.kind {
            JunctionKind::Corner if from_left_m < bounds.width_m() / 2.0 => 0.0,
            JunctionKind::Corner => bounds.width_m(),
            JunctionKind::Partition => Some(from_left_m).filter(|_| is_inside)?,
        };
        let reach_m =
            junction.reach_m.map(|reach_m| reach_m.map(|y| y.clamp(bounds.min_y, bounds.max_y) - bounds.min_y));
        Some(Junction { at_m, reach_m, ..junction.clone() })
    };
    wall.junctions.iter().filter(reaches).filter_map(moved).collect()
}

/// Openings that a floor's structure crosses, which no building has.
fn openings_across(wall: &Surface, levels: &[Level]) -> Option<Finding> {
    let is_across = |opening: &&Opening| {
        let own = Bounds::of_polygons(&opening.outline);
        let meets =
            |level: &&Level, own: &Bounds| own.max_y.min(level.to_m) - own.min_y.max(level.from_m) > COINCIDENT_M;
        own.is_some_and(|own| {
            let met: Vec<&Level> = levels.iter().filter(|level| meets(level, &own)).collect();
            met.len() > 1
        })
    };
    let across: Vec<String> = wall.openings.iter().filter(is_across).map(|o| format!("`{}`", o.id)).collect();
    (!across.is_empty()).then(|| {
        let message = format!(
            "a floor runs into this wall across the opening{} {}: each is cut there, and each piece of wall has its part; \
             check the opening, or keep this wall whole (`walls_through_floors = \"whole\"`)",
            if across.len() == 1 { "" } else { "s" },
            across.join(", ")
        );
        Finding::warning(Code::WallCutAtFloor, &place_of(wall), message)
    })
}

/// Bays that should stay empty by their number in the whole wall.
fn bays_not_meant(wall: &Surface) -> Vec<Finding> {
    let message = |entry: &DoNotFill| match entry.extent {
        DoNotFillExtent::Bays { first, last } => Some(format!(
            "bays {first} to {last} should stay empty (`{}`), but the wall is cut at a floor and its pieces number their \
             own bays: nothing stays empty for it; give a stretch along the wall{}",
            entry.reason,
            entry.said_by.as_deref().map(|place| format!(" at {place}")).unwrap_or_default()
        )),
        DoNotFillExtent::Stretch { .. } | DoNotFillExtent::Box { .. } | DoNotFillExtent::All => None,
    };
    let warned = wall.do_not_fill.iter().filter_map(message);
    warned.map(|message| Finding::warning(Code::DoNotFill, &place_of(wall), message)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::build;
    use super::*;
    use crate::job::{Job, parse_frame};
    use crate::model::Exposure;
    use crate::source::Source;

    fn band(from_m: f64, to_m: f64) -> FloorBand {
        FloorBand { from_m, to_m, source: None }
    }

    /// A wall 4 m long with a gable: 6 m high in the middle, 5 m at its ends.
    fn gable() -> Surface {
        let ring = vec![[0.0, 0.0], [4.0, 0.0], [4.0, 5.0], [2.0, 6.0], [0.0, 5.0]];
        let junction = |kind, at_m, reach_m| Junction { kind, at_m, reach_m, source: None };
        let empty = |extent| DoNotFill { extent, reason: "chase".to_owned(), said_by: None };
        Surface {
            exposure: Exposure::Exterior,
            floor_bands: vec![band(2.4, 2.7)],
            junctions: vec![
                junction(JunctionKind::Partition, 1.0, Some([0.0, 2.4])),
                junction(JunctionKind::Partition, 3.0, Some([2.7, 5.0])),
                junction(JunctionKind::Corner, 4.0, None),
            ],
            do_not_fill: vec![
                empty(DoNotFillExtent::Bays { first: 2, last: 3 }),
                empty(DoNotFillExtent::Stretch { from_m: 1.0, to_m: 1.5 }),
                empty(DoNotFillExtent::Box { from_m: [0.0, 2.0], to_m: [1.0, 3.0] }),
            ],
            ..Surface::new(
                "G",
                Source::of_line("house.csv", 2),
                SurfaceKind::Wall,
                Extent::Outline(vec![Polygon::from_ring(ring)]),
            )
        }
    }

    fn pieces(wall: &Surface) -> (Vec<(Surface, bool)>, Vec<Finding>) {
        let mut done = Done::default();
        let pieces = done.pieces(wall);
        (pieces, done.findings)
    }

    #[test]
    fn the_pieces_make_the_whole_and_keep_what_is_theirs() {
        let wall = gable();
        let (pieces, findings) = pieces(&wall);
        let areas: Vec<f64> = pieces.iter().map(|(piece, _)| piece.gross_area_m2()).collect();
        // 22 m2 in all, by hand: 4 x 5 and the gable of 4 x 1 / 2.
        for (area_m2, due_m2) in areas.iter().zip([9.6, 1.2, 11.2]) {
            assert!((area_m2 - due_m2).abs() < 1e-9, "{areas:?}");
        }
        let places = |index: usize| -> Vec<(JunctionKind, f64)> {
            pieces[index].0.junctions.iter().map(|junction| (junction.kind, junction.at_m)).collect()
        };
        assert_eq!(places(0), [(JunctionKind::Partition, 1.0), (JunctionKind::Corner, 4.0)]);
        assert_eq!(places(1), []);
        assert_eq!(places(2), [(JunctionKind::Partition, 3.0), (JunctionKind::Corner, 4.0)]);
        let kept: Vec<usize> = pieces.iter().map(|(piece, _)| piece.do_not_fill.len()).collect();
        assert_eq!(kept, [2, 2, 2]);
        assert!(
            findings.len() == 1 && findings[0].message.starts_with("bays 2 to 3 should stay empty"),
            "{findings:?}"
        );
        let DoNotFillExtent::Box { from_m, to_m } = pieces[2].0.do_not_fill[1].extent else { panic!("a box") };
        assert!(from_m[1].abs() < 1e-12 && (to_m[1] - 0.3).abs() < 1e-12);
    }

    #[test]
    fn bands_that_overlap_or_reach_the_end_leave_no_slivers() {
        let bounds = Bounds { min_x: 0.0, min_y: 0.0, max_x: 4.0, max_y: 6.0 };
        let of = |bands: &[FloorBand]| -> Vec<(f64, f64, bool)> {
            levels(bands, &bounds).iter().map(|level| (level.from_m, level.to_m, level.is_rim)).collect()
        };
        let one = [(0.0, 2.4, false), (2.4, 2.8, true), (2.8, 6.0, false)];
        assert_eq!(of(&[band(2.6, 2.8), band(2.4, 2.7)]), one);
        assert_eq!(of(&[band(-0.2, 0.3), band(5.7, 6.2)]), [(0.0, 0.3, true), (0.3, 5.7, false), (5.7, 6.0, true)]);
        assert_eq!(of(&[band(7.0, 8.0)]), [(0.0, 6.0, false)]);
    }

    #[test]
    fn a_wall_without_an_outline_stays_whole_and_says_so() {
        let wall = Surface { extent: Extent::AreaM2(20.0), ..gable() };
        let job = Job { frames: vec![parse_frame("2x6 @ 16 in").unwrap()], ..Job::default() };
        let takeoff = build(&Building { surfaces: vec![wall], ..Building::default() }, &job).unwrap();
        assert_eq!(takeoff.surfaces.iter().map(|surface| surface.part).collect::<Vec<_>>(), [0]);
        assert!(takeoff.findings.iter().any(|f| f.code == Code::WallCutAtFloor && f.message.contains("no outline")));
    }
}
