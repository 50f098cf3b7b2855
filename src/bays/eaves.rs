//! The wedge that a low roof takes from open-blown fill along the eaves, and baffles.

use super::cut::BayCut;
use super::displaced::{Part, volumes_by_piece};
use super::eave_roof::{EaveRoof, Pitched};
use crate::finding::{Code, Finding};
use crate::framing::{EaveEdge, LEAST_VENT_GAP_M, Layout, LayoutRules, place_of};
use crate::geometry::{Bounds, Point, Polygon, Ring};
use crate::model::{Assumption, EaveSides, Extent, Surface, SurfaceKind};
use crate::units::display::{both_ways, section_both_ways, small_area_both_ways, volume_both_ways};

/// Reason of the volume that the roof leaves no room for.
pub const EAVE_WEDGE: &str = "eave wedge";
/// How far the corners of bays may stand off the line inside the rim, in metres.
const AT_THE_RIM_M: f64 = 0.001;

/// The fill's height under a roof: room at the outer edge, growing with the distance from it.
struct Slope {
    at_edge_m: f64,
    rise_per_run: f64,
}

impl Slope {
    /// Distance from the edge at which the room is as high as a thickness.
    fn reaches_at_m(&self, thickness_m: f64) -> f64 {
        let short_m = thickness_m - self.at_edge_m;
        if short_m <= 0.0 {
            0.0
        } else if self.rise_per_run > 0.0 {
            short_m / self.rise_per_run
        } else {
            f64::INFINITY
        }
    }

    /// What is missing of a thickness from the edge to a distance, over a metre of edge, in square metres.
    fn missing_m2(&self, thickness_m: f64, reach_m: f64) -> f64 {
        let a = self.reaches_at_m(0.0).min(reach_m);
        let b = self.reaches_at_m(thickness_m).min(reach_m);
        thickness_m * a + (thickness_m - self.at_edge_m) * (b - a) - self.rise_per_run * (b * b - a * a) / 2.0
    }
}

/// Edges of a ceiling that lie under eaves.
struct EaveLine {
    length_m: f64,
    /// How far in it may go.
    reach_m: f64,
}

/// Takes the wedge at the eaves out of open-blown fill, and counts its baffles.
///
/// The room above the ceiling at a distance `d` inside its outer edge is heel height less baffle gap
/// plus `d` times the slope of the roof; the heel height is measured from the top of the ceiling board
/// to the underside of the roof deck, above the outer edge of the ceiling, and the gap plumb. The fill
/// is as high as its thickness or that room, whichever is less. Each bay loses what the roof takes above it: what
/// framing takes anyway is not taken twice, nor what stays empty already. Where two eaves meet the lower slope counts.
/// Eaves of which the length alone is given have no place: what they take is shared over all bays.
pub(super) fn take_wedge(surface: &Surface, layout: &Layout, rules: &LayoutRules, cut: &mut BayCut) {
    if surface.kind != SurfaceKind::Ceiling || !layout.is_open {
        return;
    }
    let enclosure = &rules.enclosure;
    let heel_m = surface.eaves.heel_height_m.or(enclosure.heel_height_m);
    let pitch_deg = surface.eaves.roof_pitch_deg.or(enclosure.roof_pitch_deg);
    let sides = surface.eaves.sides.or(enclosure.eaves);
    let line = sides.and_then(|sides| eave_line(surface, sides));
    let (Some(heel_m), Some(pitch_deg), Some(line)) = (heel_m, pitch_deg, line) else {
        let missing = [
            (heel_m.is_none(), "heel_height"),
            (pitch_deg.is_none(), "roof_pitch"),
            (sides.is_none(), "eaves"),
            (sides.is_some() && heel_m.is_some() && pitch_deg.is_some(), "the length of the eaves"),
        ];
        cut.findings.push(not_given(surface, &missing));
        return;
    };
    if enclosure.baffle_gap_m.is_none() {
        cut.assume(Assumption {
            key: "ceiling.baffle_gap".to_owned(),
            value: section_both_ways(LEAST_VENT_GAP_M),
            unit: String::new(),
            source: "IRC R806.3, at least 1 in., from memory".to_owned(),
        });
    }
    let gap_m = enclosure.baffle_gap_m.unwrap_or(LEAST_VENT_GAP_M);
    let slope = Slope { at_edge_m: heel_m - gap_m, rise_per_run: pitch_deg.to_radians().tan().max(0.0) };
    let full_at_m = slope.reaches_at_m(layout.depth_m);
    let taken_m3 = match sides {
        Some(EaveSides::LengthM(_)) | None => take_evenly(surface, layout, (&slope, &line), cut),
        Some(sides) => take_by_place(surface, layout, (&slope, sides, full_at_m), cut),
    };
    cut.baffles = baffles_along(line.length_m, layout.spacing_m);
    cut.findings.extend(shallow(surface, layout, cut.shallow_area_m2, full_at_m.min(line.reach_m), taken_m3));
}

/// Takes out of each bay what the roof above it leaves no room for, and what framing does not take anyway.
fn take_by_place(
    surface: &Surface,
    layout: &Layout,
    (slope, sides, reach_m): (&Slope, EaveSides, f64),
    cut: &mut BayCut,
) -> f64 {
    let Extent::Outline(outline) = &surface.extent else { return 0.0 };
    if reach_m <= 0.0 {
        return 0.0;
    }
    let Some(bounds) = Bounds::of_polygons(outline) else { return 0.0 };
    let rise = Pitched { at_edge_m: slope.at_edge_m, rise_per_run: slope.rise_per_run, reach_m };
    let roof = EaveRoof::over(outline, |from, to| is_eave(sides, &bounds, from, to), rise);
    let framed_m3 = volumes_by_piece(&layout.partial, cut, |member, part| {
        let shapes = match part {
            Part::Whole => std::slice::from_ref(&member.outline),
            Part::In(shapes) => shapes,
        };
        roof.above_m3(shapes, member.from_m, member.to_m) * member.solid_share
    });
    let own = |bay: &super::Bay| roof.above_m3(std::slice::from_ref(&bay.outline), 0.0, layout.depth_m);
    let missing_m3: Vec<f64> = cut.bays.iter().zip(framed_m3).map(|(bay, framed_m3)| own(bay) - framed_m3).collect();
    cut.shallow_area_m2 = cut.bays.iter().map(|bay| roof.shallow_m2(std::slice::from_ref(&bay.outline))).sum();
    cut.roof = Some(roof);
    cut.keep_empty_in_each(EAVE_WEDGE, &missing_m3, layout.depth_m)
}

/// Takes the wedge along eaves of which the length alone is known out of all bays alike.
fn take_evenly(surface: &Surface, layout: &Layout, (slope, line): (&Slope, &EaveLine), cut: &mut BayCut) -> f64 {
    let lost = |thickness_m: f64| line.length_m * slope.missing_m2(thickness_m, line.reach_m);
    let framing_m = layout.framing_depth_m.min(layout.depth_m);
    let lost_m3 = lost(layout.depth_m) - framing_share(surface, layout, framing_m) * lost(framing_m);
    cut.shallow_area_m2 = line.length_m * slope.reaches_at_m(layout.depth_m).min(line.reach_m);
    cut.keep_volume_empty(EAVE_WEDGE, lost_m3, None, layout.depth_m)
}

/// Share of the framing's own depth that framing takes.
fn framing_share(surface: &Surface, layout: &Layout, framing_m: f64) -> f64 {
    let room_m3 = (surface.gross_area_m2() - surface.opening_area_m2()) * framing_m;
    let through_m3: f64 = layout.members.iter().map(|member| member.area_m2 * framing_m).sum();
    let partial_m3: f64 = layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2)).sum();
    if room_m3 > 0.0 { ((through_m3 + partial_m3) / room_m3).min(1.0) } else { 0.0 }
}

fn eave_line(surface: &Surface, sides: EaveSides) -> Option<EaveLine> {
    let outline = match &surface.extent {
        Extent::Outline(outline) => outline.as_slice(),
        Extent::AreaM2(_) => &[],
    };
    if let EaveSides::LengthM(length_m) = sides {
        let is_usable = length_m > 0.0 && length_m.is_finite();
        return is_usable.then(|| EaveLine { length_m, reach_m: surface.gross_area_m2() / length_m });
    }
    let bounds = Bounds::of_polygons(outline)?;
    let (short_m, long_m) = (bounds.width_m().min(bounds.height_m()), bounds.width_m().max(bounds.height_m()));
    let rings = outline.iter().filter_map(|polygon| polygon.rings.first());
    let eaves = rings.flat_map(edges).filter(|[a, b]| is_eave(sides, &bounds, *a, *b));
    let reach_m = if sides == EaveSides::ShortSides { long_m / 2.0 } else { short_m / 2.0 };
    Some(EaveLine { length_m: eaves.map(|[a, b]| run(a, b).hypot(rise(a, b))).sum(), reach_m })
}

/// Whether an edge of a ceiling lies under an eave: it belongs to the sides along x where it runs rather along x.
fn is_eave(sides: EaveSides, bounds: &Bounds, from: Point, to: Point) -> bool {
    let is_long_along_x = bounds.width_m() >= bounds.height_m();
    let is_along_x = run(from, to) >= rise(from, to);
    match sides {
        EaveSides::All => true,
        EaveSides::LongSides => is_along_x == is_long_along_x,
        EaveSides::ShortSides => is_along_x != is_long_along_x,
        EaveSides::LengthM(_) => false,
    }
}

fn run(a: Point, b: Point) -> f64 {
    (b[0] - a[0]).abs()
}

fn rise(a: Point, b: Point) -> f64 {
    (b[1] - a[1]).abs()
}

fn edges(ring: &Ring) -> Vec<[Point; 2]> {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b]).collect()
}

/// Baffles along eaves of a length: one a rafter bay.
fn baffles_along(length_m: f64, spacing_m: f64) -> Option<u32> {
    let bays = (length_m / spacing_m - 1e-9).ceil();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number within bounds")]
    (spacing_m > 0.0 && (0.0..1e6).contains(&bays)).then_some(bays as u32)
}

/// Baffles of a roof with a vent channel: one for each bay that reaches an eave; `None` where no outline is known.
pub(super) fn count_baffles(surface: &Surface, layout: &Layout, rules: &LayoutRules, cut: &mut BayCut) {
    if surface.kind != SurfaceKind::Roof || rules.enclosure.vent_gap_m.is_none() || layout.eaves.is_empty() {
        return;
    }
    let reaches = |outline: &Polygon| layout.eaves.iter().any(|eave| lies_at(outline, eave));
    let count = cut.bays.iter().filter(|bay| reaches(&bay.outline)).count();
    cut.baffles = u32::try_from(count).ok();
}

fn lies_at(outline: &Polygon, eave: &EaveEdge) -> bool {
    let is_level_with = |point: &Point| (point[1] - eave.inside_m).abs() < AT_THE_RIM_M;
    let shared_m = |a: &Point, b: &Point| a[0].max(b[0]).min(eave.to_m) - a[0].min(b[0]).max(eave.from_m);
    let mut edges = outline.rings.iter().flat_map(edges);
    edges.any(|[a, b]| is_level_with(&a) && is_level_with(&b) && shared_m(&a, &b) > AT_THE_RIM_M)
}

fn shallow(surface: &Surface, layout: &Layout, area_m2: f64, to_m: f64, taken_m3: f64) -> Option<Finding> {
    (area_m2 > 0.0).then(|| {
        let (count, of_all) = match surface.count {
            0 | 1 => (1.0, String::new()),
            count => (f64::from(count), format!(" of all {count}")),
        };
        let message = format!(
            "{} along the eaves{of_all} cannot reach {}: the roof leaves less room up to {} inside the edge, and {} stay \
             empty; a higher heel, or another material there, is for the designer",
            small_area_both_ways(area_m2 * count),
            section_both_ways(layout.depth_m),
            both_ways(to_m),
            volume_both_ways(taken_m3 * count)
        );
        Finding::note(Code::ShallowAtEaves, &place_of(surface), message)
    })
}

fn not_given(surface: &Surface, missing: &[(bool, &str)]) -> Finding {
    let names: Vec<String> =
        missing.iter().filter(|(is_missing, _)| *is_missing).map(|(_, name)| format!("`{name}`")).collect();
    let place = place_of(surface);
    if names.len() == missing.len() - 1 {
        let message = "nothing says how low the roof is at the eaves: the fill is taken as full to the edge; give \
                       `heel_height`, `roof_pitch` and `eaves` in the assembly, in a `[[surface]]` of the job file, or in the sheet";
        return Finding::note(Code::EavesNotGiven, &place, message);
    }
    let message = format!(
        "the wedge at the eaves is not taken out, since {} is missing; give it in the assembly, in a `[[surface]]` of the \
         job file, or in the sheet",
        names.join(" and ")
    );
    Finding::warning(Code::EavesNotGiven, &place, message)
}
