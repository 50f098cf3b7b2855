//! What the wedge at the eaves is computed from, and all of it over a rectangular ceiling.

use super::step::{Figure, Line, Operation};
use super::{Subject, area, assigned_of};
use crate::framing::LEAST_VENT_GAP_M;
use crate::geometry::Bounds;
use crate::model::EaveSides;

/// What of the wedge's figures is known, in metres.
struct Wedge {
    heel_m: f64,
    gap_m: f64,
    pitch_deg: f64,
    depth_m: f64,
    sides: EaveSides,
}

/// Heel height, gap, pitch and eaves; of a rectangle also the volume between the full thickness and the roof, with the
/// framing in it.
pub(super) fn lines(subject: &Subject<'_>) -> Vec<Line> {
    let Some(wedge) = read(subject) else { return Vec::new() };
    let (heel, gap) = (Figure::length(wedge.heel_m), Figure::length(wedge.gap_m));
    let room = Figure::length(wedge.heel_m - wedge.gap_m);
    let rise_per_run = wedge.pitch_deg.to_radians().tan().max(0.0);
    let pitch = format!("tangent of its pitch of {:.6} degrees", wedge.pitch_deg);
    let mut lines = vec![
        Line::given("heel height", heel, "sheet or job file"),
        Line::given("channel under the roof deck that baffles keep", gap, "job file, else IRC R806.3, from memory"),
        Line::step("room above the outer edge", heel, [(Operation::Minus, gap)], room),
        Line::given("rise of the roof for each run of one", Figure::number(rise_per_run), pitch),
    ];
    let short_m = wedge.depth_m - room.si;
    if short_m <= 0.0 {
        return lines;
    }
    let short = Figure::length(short_m);
    let less = [(Operation::Minus, room)];
    lines.push(Line::step("missing of the thickness at the edge", Figure::length(wedge.depth_m), less, short));
    if rise_per_run > 0.0 {
        let reach = Figure::length(short_m / rise_per_run);
        let over = [(Operation::Over, Figure::number(rise_per_run))];
        lines.push(Line::step("full thickness is reached inside the edge at", short, over, reach));
        let bounds = area::rectangle(&subject.surface.outline_m);
        lines.extend(bounds.into_iter().flat_map(|bounds| over_rectangle(&wedge, &bounds, short, reach)));
    }
    lines
}

fn read(subject: &Subject<'_>) -> Option<Wedge> {
    let assigned = assigned_of(subject)?;
    let (eaves, enclosure) = (&subject.read?.eaves, &assigned.layout.enclosure);
    Some(Wedge {
        heel_m: eaves.heel_height_m.or(enclosure.heel_height_m)?,
        gap_m: enclosure.baffle_gap_m.unwrap_or(LEAST_VENT_GAP_M),
        pitch_deg: eaves.roof_pitch_deg.or(enclosure.roof_pitch_deg)?,
        depth_m: subject.surface.depth_m?,
        sides: eaves.sides.or(enclosure.eaves)?,
    })
}

/// Half of height by reach by length; where eaves meet in a corner, a third of height by reach by reach is in both of them.
/// Nothing where the roof leaves no room at the edge, or where two wedges meet in the middle.
fn over_rectangle(wedge: &Wedge, bounds: &Bounds, short: Figure, reach: Figure) -> Vec<Line> {
    let (short_side_m, long_side_m) =
        (bounds.width_m().min(bounds.height_m()), bounds.width_m().max(bounds.height_m()));
    let (length_m, across_m, words) = match wedge.sides {
        EaveSides::All => (2.0 * (short_side_m + long_side_m), short_side_m, "all sides"),
        EaveSides::LongSides => (2.0 * long_side_m, short_side_m, "both long sides"),
        EaveSides::ShortSides => (2.0 * short_side_m, long_side_m, "both short sides"),
        EaveSides::LengthM(length_m) => {
            let line = Line::given("length of the eaves", Figure::length(length_m), "sheet or job file");
            return vec![line];
        }
    };
    let length = Figure::length(length_m);
    let mut lines = vec![Line::given("length of the eaves", length, words)];
    if wedge.heel_m < wedge.gap_m || reach.si > across_m / 2.0 {
        return lines;
    }
    let by = [(Operation::Times, reach), (Operation::Times, length), (Operation::Over, Figure::number(2.0))];
    let along_m3 = short.si * reach.si * length_m / 2.0;
    lines.push(Line::step("wedge along the eaves, with the framing in it", short, by, Figure::volume(along_m3)));
    if wedge.sides == EaveSides::All {
        let corners_m3 = short.si * reach.si * reach.si * 4.0 / 3.0;
        let by = [
            (Operation::Times, reach),
            (Operation::Times, reach),
            (Operation::Times, Figure::number(4.0)),
            (Operation::Over, Figure::number(3.0)),
        ];
        lines.push(Line::step("of it twice, in the four corners", short, by, Figure::volume(corners_m3)));
        let less = [(Operation::Minus, Figure::volume(corners_m3))];
        let once = Figure::volume(along_m3 - corners_m3);
        lines.push(Line::step("wedge, with the framing in it", Figure::volume(along_m3), less, once));
    }
    lines
}
