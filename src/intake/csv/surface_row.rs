//! A row of the surfaces sheet to a surface.

use super::columns::Field;
use super::do_not_fill::{HELP, read_do_not_fill};
use super::outline::Shape;
use super::row::{Reader, Row};
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{DoNotFill, DoNotFillExtent, Exposure, Extent, Surface, SurfaceKind};
use crate::refusal::Refusal;
use crate::units::display::both_ways;

/// Most alike surfaces a row may stand for.
const MOST_ALIKE: u32 = 100_000;
/// Most corner posts or junctions a row may name.
const MOST_POSTS: u32 = 1000;
/// Deeper than any cavity (m).
const DEEPEST_M: f64 = 1.0;
/// A wall above this height (m, some 33 ft) is more often a slip of the unit.
const TALL_WALL_M: f64 = 10.0;
/// An area and the sides beside it agree within this share.
const AGREEMENT: f64 = 0.005;

/// A surface, its shape where it has one, and what a person must know.
pub(super) struct SurfaceRow {
    pub surface: Surface,
    pub shape: Option<Shape>,
    pub has_default_exposure: bool,
    pub findings: Vec<Finding>,
}

/// Reads a row.
pub(super) fn read_surface(row: Row<'_>) -> Result<SurfaceRow, Vec<Refusal>> {
    let mut reader = row.reader();
    let mut findings = short_row(row);
    let id = reader.required(Field::Id, "give each surface an id of its own, such as `G-N`").unwrap_or_default();
    let kinds = [
        ("wall", SurfaceKind::Wall),
        ("ceiling", SurfaceKind::Ceiling),
        ("roof", SurfaceKind::Roof),
        ("floor", SurfaceKind::Floor),
    ];
    reader.required(Field::Kind, "write wall, ceiling, roof or floor");
    let kind = reader.one_of(Field::Kind, &kinds);
    let exposures = [
        ("exterior", Exposure::Exterior),
        ("unconditioned", Exposure::Unconditioned),
        ("interior", Exposure::Interior),
    ];
    let exposure = reader.one_of(Field::Exposure, &exposures).unwrap_or(Exposure::Exterior);
    refuse_opening_cells(&mut reader);
    let pitch_deg = read_pitch(&mut reader, kind);
    let extent = read_extent(&mut reader, kind, pitch_deg, &mut findings);
    let shape = extent.as_ref().and_then(|(_, shape)| *shape);
    let measured_depth_m = read_depth(&mut reader);
    let do_not_fill = read_empty_parts(&mut reader, shape);
    let surface = Surface {
        name: name_of(row),
        storey: row.word(Field::Storey).map(str::to_owned),
        zone: row.word(Field::Zone).map(str::to_owned),
        count: reader.whole(Field::Count, 1, 1, MOST_ALIKE),
        exposure,
        assembly: row.word(Field::Assembly).map(str::to_owned),
        measured_depth_m,
        pitch_deg,
        do_not_fill,
        corner_posts: reader.whole(Field::Corners, 0, 0, MOST_POSTS),
        partition_junctions: reader.whole(Field::Partitions, 0, 0, MOST_POSTS),
        ..Surface::new(
            id.to_owned(),
            row.source(),
            kind.unwrap_or(SurfaceKind::Wall),
            extent.map_or(Extent::AreaM2(0.0), |(extent, _)| extent),
        )
    };
    if !reader.faults.is_empty() {
        return Err(reader.faults);
    }
    doubt_height(&surface, shape, row, &mut findings);
    Ok(SurfaceRow { surface, shape, has_default_exposure: row.cell(Field::Exposure).is_none(), findings })
}

/// A row that ends early is read with its last cells empty, and said.
pub(super) fn short_row(row: Row<'_>) -> Vec<Finding> {
    let (cells, headings) = (row.record.cells.len(), row.sheet.columns.len);
    if cells >= headings {
        return Vec::new();
    }
    let message =
        format!("the row has {cells} cells, and there are {headings} headings; the last ones were taken as empty");
    vec![Finding::note(Code::RowDoubt, &row.place(), message)]
}

/// The name, then notes and the columns that are not known.
fn name_of(row: Row<'_>) -> Option<String> {
    let parts: Vec<String> =
        [row.text(Field::Name), row.text(Field::Notes)].into_iter().flatten().chain(row.notes()).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// Sizes of an opening in a row without `surface` are most often an opening that lost its surface.
fn refuse_opening_cells(reader: &mut Reader<'_>) {
    for field in [Field::Width, Field::UnitWidth, Field::UnitHeight, Field::Sill, Field::Offset] {
        if reader.row.cell(field).is_some() {
            let message = format!("`{}` is for openings, and this row names no surface that it is in", field.heading());
            reader.fault(field, message, "name the surface in the column `surface`, or leave this cell empty");
        }
    }
}

fn read_pitch(reader: &mut Reader<'_>, kind: Option<SurfaceKind>) -> Option<f64> {
    let pitch_deg = reader.pitch();
    match kind {
        Some(SurfaceKind::Roof) => pitch_deg,
        Some(other) => {
            if reader.row.cell(Field::Pitch).is_some() {
                let help = "leave the cell empty, or write `roof` as its kind";
                reader.fault(Field::Pitch, "a pitch is for roofs alone", help);
            }
            Some(if other == SurfaceKind::Wall { 90.0 } else { 0.0 })
        }
        None => None,
    }
}

fn read_depth(reader: &mut Reader<'_>) -> Option<f64> {
    let depth_m = reader.length(Field::Depth)?;
    if depth_m > DEEPEST_M {
        let message = format!("a depth of {} is more than any cavity has", both_ways(depth_m));
        reader.fault(Field::Depth, message, "check the unit: a 2x6 wall is `5 1/2 in` deep");
    }
    Some(depth_m)
}

fn read_empty_parts(reader: &mut Reader<'_>, shape: Option<Shape>) -> Vec<DoNotFill> {
    let Some(text) = reader.row.text(Field::DoNotFill) else { return Vec::new() };
    let sheet = reader.row.sheet;
    let parts = match read_do_not_fill(&text, sheet.columns.length_unit(Field::DoNotFill), sheet.has_decimal_comma) {
        Ok(parts) => parts,
        Err(message) => {
            reader.fault(Field::DoNotFill, message, HELP);
            return Vec::new();
        }
    };
    for part in &parts {
        let DoNotFillExtent::Stretch { to_m, .. } = part.extent else { continue };
        match shape {
            Some(shape) if to_m > shape.length_m + COINCIDENT_M => {
                let message = format!(
                    "the stretch ends at {}, and the surface at {}",
                    both_ways(to_m),
                    both_ways(shape.length_m)
                );
                reader.fault(Field::DoNotFill, message, "measure the stretch from the surface's left end");
            }
            None if reader.row.cell(Field::Area).is_some() => {
                let message = "a stretch cannot be found on a surface of which only the area is known";
                reader.fault(Field::DoNotFill, message, "give length and height, or write `all: REASON`");
            }
            Some(_) | None => {}
        }
    }
    parts
}

/// Sides or area; `None` where they are at fault.
fn read_extent(
    reader: &mut Reader<'_>,
    kind: Option<SurfaceKind>,
    pitch_deg: Option<f64>,
    findings: &mut Vec<Finding>,
) -> Option<(Extent, Option<Shape>)> {
    let stretch = plan_stretch(reader, kind, pitch_deg);
    let has_sides = [Field::Length, Field::PlanLength, Field::Height, Field::PlanHeight, Field::Height2, Field::Peak]
        .iter()
        .any(|field| reader.row.cell(*field).is_some());
    let area_m2 = read_area(reader, stretch);
    if !has_sides {
        if reader.row.cell(Field::Area).or(reader.row.cell(Field::PlanArea)).is_none() {
            reader.fault(
                Field::Id,
                "the row has neither length and height nor an area",
                "fill in `length` and `height`, or `area`",
            );
        }
        return area_m2.map(|area_m2| (Extent::AreaM2(area_m2), None));
    }
    let shape = read_shape(reader, stretch?, findings)?;
    let outline = shape.outline();
    if let Some(area_m2) = area_m2
        && (area_m2 - outline.area_m2()).abs() > AGREEMENT * outline.area_m2()
    {
        let (given, measured) =
            (area_m2 / crate::units::SQUARE_FOOT_M2, outline.area_m2() / crate::units::SQUARE_FOOT_M2);
        let message = format!(
            "the area is {given:.1} ft2 ({area_m2:.2} m2), and its sides give {measured:.1} ft2 ({:.2} m2)",
            outline.area_m2()
        );
        reader.fault(Field::Area, message, "correct one of them, or leave the area empty");
        return None;
    }
    Some((Extent::Outline(vec![outline]), Some(shape)))
}

/// What a horizontal measure is multiplied with to lie along the slope; 1 where nothing is measured on plan.
fn plan_stretch(reader: &mut Reader<'_>, kind: Option<SurfaceKind>, pitch_deg: Option<f64>) -> Option<f64> {
    let plan = [Field::PlanLength, Field::PlanHeight, Field::PlanArea];
    let Some(field) = plan.into_iter().find(|field| reader.row.cell(*field).is_some()) else { return Some(1.0) };
    match (kind?, pitch_deg) {
        (SurfaceKind::Wall, _) => {
            reader.fault(
                field,
                format!("`{}` is a horizontal measure, and a wall stands upright", field.heading()),
                "name the column `length`",
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

fn read_shape(reader: &mut Reader<'_>, stretch: f64, findings: &mut Vec<Finding>) -> Option<Shape> {
    refuse_pair(reader, Field::Length, Field::PlanLength);
    refuse_pair(reader, Field::Height, Field::PlanHeight);
    let faults_before = reader.faults.len();
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
    let shape = Shape { length_m, left_m, right_m, peak_m: peak_m.map(|peak_m| peak_m * stretch) };
    check_heights(reader, &shape);
    if stretch > 1.0 {
        let message = format!(
            "the sides were taken as measured on plan: {} up the slope became {}",
            both_ways(left_m / stretch),
            both_ways(left_m)
        );
        findings.push(Finding::note(Code::RowDoubt, &reader.row.place(), message));
    }
    (reader.faults.len() == faults_before).then_some(shape)
}

fn check_heights(reader: &mut Reader<'_>, shape: &Shape) {
    let ends_m = shape.left_m.max(shape.right_m);
    match shape.peak_m {
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

fn doubt_height(surface: &Surface, shape: Option<Shape>, row: Row<'_>, findings: &mut Vec<Finding>) {
    let Some(height_m) = shape.map(|shape| shape.highest_m()) else { return };
    if surface.kind == SurfaceKind::Wall && height_m > TALL_WALL_M {
        let message = format!("the wall is {} high; check the unit of its height", both_ways(height_m));
        findings.push(Finding::warning(Code::RowDoubt, &row.place(), message));
    }
}
