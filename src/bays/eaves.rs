//! The wedge that a low roof takes from open-blown fill along the eaves, and baffles.

use super::cut::BayCut;
use crate::finding::{Code, Finding};
use crate::framing::{EaveEdge, LEAST_VENT_GAP_M, Layout, LayoutRules, place_of};
use crate::geometry::{Bounds, Point, Polygon, Ring};
use crate::model::{Assumption, EaveSides, Extent, Surface, SurfaceKind};
use crate::units::display::{both_ways, section_both_ways};

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

    /// What is missing of a thickness from the edge to a distance, over a metre of edge, and the same
    /// weighted with the distance: the integrals of `t - h(d)` and of `d (t - h(d))`.
    fn missing(&self, thickness_m: f64, reach_m: f64) -> [f64; 2] {
        let a = self.reaches_at_m(0.0).min(reach_m);
        let b = self.reaches_at_m(thickness_m).min(reach_m);
        let (short, s) = (thickness_m - self.at_edge_m, self.rise_per_run);
        let squares = b * b - a * a;
        [
            thickness_m * a + short * (b - a) - s * squares / 2.0,
            thickness_m * a * a / 2.0 + short * squares / 2.0 - s * (b * b * b - a * a * a) / 3.0,
        ]
    }
}

/// Edges of a ceiling that lie under eaves.
struct EaveLine {
    length_m: f64,
    /// How much shorter the line is for every two metres further in: where two eaves meet in a corner.
    corners: f64,
    /// How far in it may go.
    reach_m: f64,
}

/// Takes the wedge at the eaves out of open-blown fill, and counts its baffles.
///
/// The room above the ceiling at a distance `d` inside its outer edge is heel height less baffle gap
/// plus `d` times the slope of the roof; the heel height is measured from the top of the ceiling board
/// to the underside of the roof deck, above the outer edge of the ceiling, and the gap plumb. The fill
/// is as high as its thickness or that room, whichever is less. What framing takes anyway is not taken twice. In the
/// corners of a hipped roof, where two eaves meet, the wedges are not counted twice.
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
    let lost = |thickness_m: f64| {
        let [along, inwards] = slope.missing(thickness_m, line.reach_m);
        (line.length_m * along - 2.0 * line.corners * inwards).max(0.0)
    };
    let framing_m = layout.framing_depth_m.min(layout.depth_m);
    let lost_m3 = lost(layout.depth_m) - framing_share(surface, layout, framing_m) * lost(framing_m);
    let taken_m3 = cut.keep_volume_empty(EAVE_WEDGE, lost_m3, None, layout.depth_m);
    let full_at_m = slope.reaches_at_m(layout.depth_m).min(line.reach_m);
    cut.shallow_area_m2 = (line.length_m * full_at_m - line.corners * full_at_m * full_at_m).max(0.0);
    cut.baffles = baffles_along(line.length_m, layout.spacing_m);
    cut.findings.extend(shallow(surface, layout, cut.shallow_area_m2, full_at_m, taken_m3));
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
    let (bounds, area_m2) = (Bounds::of_polygons(outline), surface.gross_area_m2());
    if let EaveSides::LengthM(length_m) = sides {
        let is_usable = length_m > 0.0 && length_m.is_finite();
        return is_usable.then(|| EaveLine { length_m, corners: 0.0, reach_m: area_m2 / length_m });
    }
    let bounds = bounds?;
    let is_long_along_x = bounds.width_m() >= bounds.height_m();
    let (short_m, long_m) = (bounds.width_m().min(bounds.height_m()), bounds.width_m().max(bounds.height_m()));
    let rings = || outline.iter().filter_map(|polygon| polygon.rings.first());
    // An edge belongs to the sides along x where it runs rather along x.
    let along = |x: bool| rings().flat_map(edges).filter(move |[a, b]| (run(*a, *b) >= rise(*a, *b)) == x);
    let sum = |edges: &mut dyn Iterator<Item = [Point; 2]>| edges.map(|[a, b]| run(a, b).hypot(rise(a, b))).sum();
    Some(match sides {
        EaveSides::All => EaveLine {
            length_m: sum(&mut rings().flat_map(edges)),
            corners: outline.iter().map(corners).sum(),
            reach_m: short_m / 2.0,
        },
        EaveSides::LongSides => {
            EaveLine { length_m: sum(&mut along(is_long_along_x)), corners: 0.0, reach_m: short_m / 2.0 }
        }
        EaveSides::ShortSides => {
            EaveLine { length_m: sum(&mut along(!is_long_along_x)), corners: 0.0, reach_m: long_m / 2.0 }
        }
        EaveSides::LengthM(length_m) => EaveLine { length_m, corners: 0.0, reach_m: short_m },
    })
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

/// Sum of the cotangents of half the inner angles: what the outline moved inwards by a metre loses in its corners.
fn corners(polygon: &Polygon) -> f64 {
    let Some(ring) = Polygon::from_ring(polygon.rings.first().cloned().unwrap_or_default()).rings.pop() else {
        return 0.0;
    };
    let turn = |[a, b]: [Point; 2], [_, c]: [Point; 2]| {
        let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        // The tangent of half the turn is the cotangent of half the inner angle.
        ((u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1]) / 2.0).tan()
    };
    let edges = edges(&ring);
    edges.iter().zip(edges.iter().cycle().skip(1)).map(|(one, next)| turn(*one, *next)).sum()
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
        let message = format!(
            "{area_m2:.2} m2 along the eaves cannot reach {}: the roof leaves less room up to {} inside the edge, and \
             {taken_m3:.3} m3 stay empty; a higher heel, or another material there, is for the designer",
            section_both_ways(layout.depth_m),
            both_ways(to_m)
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
