//! The extent of a surface: from its sides, from its outline, or from its area alone.

use super::field::Field;
use super::outline::{Shape, Sides};
use super::outline_text::{HELP, read_outline};
use super::row::Reader;
use crate::cells::Room;
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Extent, SurfaceKind};
use crate::units::SQUARE_FOOT_M2;
use crate::units::display::both_ways;

/// An area and the sides beside it agree within this share.
const AGREEMENT: f64 = 0.005;

/// How far a surface reaches, and its shape where it has one.
pub(super) struct Measured {
    pub extent: Extent,
    pub shape: Option<Shape>,
}

impl Measured {
    /// The room that it has for places on it.
    pub fn room(&self) -> Option<Room> {
        let room = |shape: &Shape| Room {
            length_m: shape.length_m,
            highest_m: shape.highest_m,
            around_m: shape.perimeter_m(),
        };
        self.shape.as_ref().map(room)
    }
}

const SIDES: [Field; 6] =
    [Field::Length, Field::PlanLength, Field::Height, Field::PlanHeight, Field::Height2, Field::Peak];

/// Sides, an outline or an area; `None` where they are at fault.
pub(super) fn read_extent(
    reader: &mut Reader<'_>,
    kind: Option<SurfaceKind>,
    pitch_deg: Option<f64>,
    findings: &mut Vec<Finding>,
) -> Option<Measured> {
    let stretch = plan_stretch(reader, kind, pitch_deg);
    let filled =
        |reader: &Reader<'_>, fields: &[Field]| fields.iter().copied().find(|field| reader.row.cell(*field).is_some());
    let area_m2 = read_area(reader, stretch);
    let side = filled(reader, &SIDES);
    let outline = filled(reader, &[Field::Outline, Field::PlanOutline]);
    let shape = match (outline, side) {
        (Some(outline), Some(side)) => {
            let message = format!("both `{}` and `{}` are filled in", outline.heading(), side.heading());
            reader.fault(outline, message, "leave the outline empty, or all of length, height, height_2 and peak");
            return None;
        }
        (Some(outline), None) => read_drawn(reader, outline, stretch?, findings)?,
        (None, Some(_)) => read_sides(reader, stretch?, findings)?,
        (None, None) => {
            if filled(reader, &[Field::Area, Field::PlanArea]).is_none() {
                reader.fault(
                    Field::Id,
                    "the row has neither length and height nor an outline nor an area",
                    "fill in `length` and `height`, or `outline`, or `area`",
                );
            }
            return area_m2.map(|area_m2| Measured { extent: Extent::AreaM2(area_m2), shape: None });
        }
    };
    let measured_m2 = shape.outline().area_m2();
    if let Some(area_m2) = area_m2
        && (area_m2 - measured_m2).abs() > AGREEMENT * measured_m2
    {
        let (given, measured) = (area_m2 / SQUARE_FOOT_M2, measured_m2 / SQUARE_FOOT_M2);
        let sides = if side.is_some() { "sides give" } else { "outline gives" };
        let message = format!(
            "the area is {given:.1} ft2 ({area_m2:.2} m2), and its {sides} {measured:.1} ft2 ({measured_m2:.2} m2)"
        );
        let field = if reader.row.cell(Field::Area).is_some() { Field::Area } else { Field::PlanArea };
        reader.fault(field, message, "correct one of them, or leave the area empty");
        return None;
    }
    Some(Measured { extent: Extent::Outline(vec![shape.outline().clone()]), shape: Some(shape) })
}

/// An outline, drawn by its corners.
fn read_drawn(reader: &mut Reader<'_>, field: Field, stretch: f64, findings: &mut Vec<Finding>) -> Option<Shape> {
    if reader.row.cell(Field::Outline).is_some() && reader.row.cell(Field::PlanOutline).is_some() {
        refuse_pair(reader, Field::Outline, Field::PlanOutline);
        return None;
    }
    let text = reader.row.text(field)?;
    let sheet = reader.row.sheet;
    let rise = if field == Field::PlanOutline { stretch } else { 1.0 };
    let drawn = match read_outline(&text, sheet.columns.length_unit(field), sheet.has_decimal_comma, rise) {
        Ok(drawn) => drawn,
        Err(fault) => {
            reader.part_fault(field, &fault.part, fault.message, HELP);
            return None;
        }
    };
    let [along_m, up_m] = drawn.moved;
    if along_m.max(up_m) > COINCIDENT_M {
        let message = format!(
            "the outline was moved so that it begins at the lower left of its box, which stood {} along and {} up;              every place on it counts from there",
            both_ways(along_m),
            both_ways(up_m)
        );
        findings.push(Finding::note(Code::RowDoubt, &reader.row.place(), message));
    }
    let shape = Shape::of_ring(drawn.ring);
    note_stretch(reader, rise, shape.highest_m, findings);
    Some(shape)
}

fn note_stretch(reader: &Reader<'_>, stretch: f64, height_m: f64, findings: &mut Vec<Finding>) {
    if stretch > 1.0 {
        let message = format!(
            "the sides were taken as measured on plan: {} up the slope became {}",
            both_ways(height_m / stretch),
            both_ways(height_m)
        );
        findings.push(Finding::note(Code::RowDoubt, &reader.row.place(), message));
    }
}

/// What a horizontal measure is multiplied with to lie along the slope; 1 where nothing is measured on plan.
fn plan_stretch(reader: &mut Reader<'_>, kind: Option<SurfaceKind>, pitch_deg: Option<f64>) -> Option<f64> {
    let plan = [Field::PlanLength, Field::PlanHeight, Field::PlanOutline, Field::PlanArea];
    let Some(field) = plan.into_iter().find(|field| reader.row.cell(*field).is_some()) else { return Some(1.0) };
    match (kind?, pitch_deg) {
        (SurfaceKind::Wall, _) => {
            reader.fault(
                field,
                format!("`{}` is a horizontal measure, and a wall stands upright", field.heading()),
                "name the column without `plan`",
            );
            None
        }
        (SurfaceKind::Ceiling | SurfaceKind::Floor, _) => Some(1.0),
        (SurfaceKind::Roof, Some(pitch_deg)) => Some(1.0 / pitch_deg.to_radians().cos()),
        (SurfaceKind::Roof, None) => {
            if reader.row.cell(Field::Pitch).is_none() {
                let message = format!("`{}` is a horizontal measure, and the roof has no pitch", field.heading());
                reader.fault(field, message, "fill in `pitch`, such as `6:12`");
            }
            None
        }
    }
}

fn read_area(reader: &mut Reader<'_>, stretch: Option<f64>) -> Option<f64> {
    refuse_pair(reader, Field::Area, Field::PlanArea);
    let plan_area_m2 = reader.area(Field::PlanArea);
    reader.area(Field::Area).or(plan_area_m2.zip(stretch).map(|(area_m2, stretch)| area_m2 * stretch))
}

fn refuse_pair(reader: &mut Reader<'_>, one: Field, other: Field) {
    if reader.row.cell(one).is_some() && reader.row.cell(other).is_some() {
        let message = format!("both `{}` and `{}` are filled in", one.heading(), other.heading());
        reader.fault(other, message, "leave one of the two empty");
    }
}

fn read_sides(reader: &mut Reader<'_>, stretch: f64, findings: &mut Vec<Finding>) -> Option<Shape> {
    refuse_pair(reader, Field::Length, Field::PlanLength);
    refuse_pair(reader, Field::Height, Field::PlanHeight);
    let faults_before = reader.faults.len();
    let on_plan = [Field::PlanLength, Field::PlanHeight];
    let stretch = if on_plan.iter().any(|field| reader.row.cell(*field).is_some()) { stretch } else { 1.0 };
    // A level eave is as long on plan as it is on the slope; what lies along the slope is stretched.
    let length_m = reader.length(Field::Length).or(reader.length(Field::PlanLength));
    let height_m = reader.length_or_zero(Field::Height).or(reader.length_or_zero(Field::PlanHeight));
    let right_m = reader.length_or_zero(Field::Height2);
    let peak_m = reader.length(Field::Peak);
    for (field, value) in [(Field::Length, length_m), (Field::Height, height_m)] {
        if value.is_none() && reader.faults.len() == faults_before {
            let message = format!("`{}` is empty", field.heading());
            reader.fault(field, message, "fill in both `length` and `height`, or `area` alone");
        }
    }
    if reader.faults.len() > faults_before {
        return None;
    }
    let (length_m, left_m) = (length_m?, height_m? * stretch);
    let right_m = right_m.map_or(left_m, |right_m| right_m * stretch);
    let sides = Sides { length_m, left_m, right_m, peak_m: peak_m.map(|peak_m| peak_m * stretch) };
    check_heights(reader, &sides);
    note_stretch(reader, stretch, left_m, findings);
    (reader.faults.len() == faults_before).then(|| sides.shape())
}

fn check_heights(reader: &mut Reader<'_>, sides: &Sides) {
    let ends_m = sides.left_m.max(sides.right_m);
    match sides.peak_m {
        Some(peak_m) if peak_m <= ends_m + COINCIDENT_M => {
            let message = format!("the peak at {} is not above the ends at {}", both_ways(peak_m), both_ways(ends_m));
            reader.fault(Field::Peak, message, "measure the peak from the bottom of the wall, as `height` is");
        }
        None if ends_m < 0.001 => {
            reader.fault(Field::Height, "a surface of no height", "write a height above zero, with its unit");
        }
        Some(_) | None => {}
    }
}
