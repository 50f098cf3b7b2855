//! A row of the openings sheet to the sizes of an opening; its place comes later.

use super::assumed::Assumed;
use super::columns::Field;
use super::row::{Reader, Row};
use super::surface_row::short_row;
use crate::finding::Finding;
use crate::model::OpeningKind;
use crate::refusal::Refusal;
use crate::units::INCH_M;

/// Most openings that one row may stand for.
const MOST_OPENINGS: u32 = 500;
/// What a rough opening has over the unit that goes into it, in all, each way.
///
/// # Source
/// Common practice, no source.
const CLEARANCE_M: f64 = 0.5 * INCH_M;

/// The sizes of an opening.
pub(super) struct OpeningRow<'s> {
    pub row: Row<'s>,
    pub surface: &'s str,
    pub id: &'s str,
    pub kind: OpeningKind,
    pub width_m: f64,
    pub height_m: f64,
    pub sill_m: Option<f64>,
    pub offset_m: Option<f64>,
    pub count: u32,
    pub findings: Vec<Finding>,
}

impl OpeningRow<'_> {
    /// The column that its width stands in.
    pub fn width_field(&self) -> Field {
        if self.row.cell(Field::Width).is_some() { Field::Width } else { Field::UnitWidth }
    }

    /// The column that its height stands in.
    pub fn height_field(&self) -> Field {
        if self.row.cell(Field::Height).is_some() { Field::Height } else { Field::UnitHeight }
    }

    /// Ids of all that the row stands for: `W1`, or `W1-1`, `W1-2`, ….
    pub fn ids(&self) -> Vec<String> {
        if self.count == 1 {
            return vec![self.id.to_owned()];
        }
        (1..=self.count).map(|number| format!("{}-{number}", self.id)).collect()
    }
}

/// Reads a row.
pub(super) fn read_opening<'s>(row: Row<'s>, assumed: &mut Assumed) -> Result<OpeningRow<'s>, Vec<Refusal>> {
    let mut reader = row.reader();
    let surface = reader.required(Field::Surface, "name the surface that the opening is in").unwrap_or_default();
    let id = reader.required(Field::Id, "give each opening an id, such as `W1`").unwrap_or_default();
    let kinds = [
        ("window", OpeningKind::Window),
        ("door", OpeningKind::Door),
        ("hatch", OpeningKind::Hatch),
        ("skylight", OpeningKind::Skylight),
        ("chimney", OpeningKind::Chimney),
        ("flue", OpeningKind::Flue),
        ("light", OpeningKind::Light),
        ("other", OpeningKind::Other),
    ];
    let kind = reader.one_of(Field::Kind, &kinds).unwrap_or(OpeningKind::Other);
    refuse_surface_cells(&mut reader);
    let width_m = size(&mut reader, Field::Width, Field::UnitWidth);
    let height_m = size(&mut reader, Field::Height, Field::UnitHeight);
    let sill_m = reader.length_or_zero(Field::Sill);
    let offset_m = reader.length_or_zero(Field::Offset);
    let count = reader.whole(Field::Count, 1, 1, MOST_OPENINGS);
    if count > 1 && offset_m.is_some() {
        let message = format!("one offset stands for {count} openings");
        reader.fault(Field::Offset, message, "give each opening a row of its own, or leave the offset empty");
    }
    let (Some(width_m), Some(height_m), true) = (width_m, height_m, reader.faults.is_empty()) else {
        return Err(reader.faults);
    };
    if row.cell(Field::UnitWidth).or(row.cell(Field::UnitHeight)).is_some() {
        assumed.common_practice("opening.clearance", "1/2", "in", &format!("{surface}/{id}"));
    }
    Ok(OpeningRow { row, surface, id, kind, width_m, height_m, sill_m, offset_m, count, findings: short_row(row) })
}

/// A side of the rough opening, as it is given or as that of the unit with its clearance.
fn size(reader: &mut Reader<'_>, rough: Field, unit: Field) -> Option<f64> {
    match (reader.row.cell(rough).is_some(), reader.row.cell(unit).is_some()) {
        (true, true) => {
            let message = format!("both `{}` and `{}` are filled in", rough.heading(), unit.heading());
            reader.fault(unit, message, "leave one of the two empty");
            None
        }
        (true, false) => reader.length(rough),
        (false, true) => reader.length(unit).map(|side_m| side_m + CLEARANCE_M),
        (false, false) => {
            let message = format!("`{}` is empty", rough.heading());
            reader.fault(rough, message, "write the size of the rough opening, such as `3'-0 1/2\"`");
            None
        }
    }
}

/// Sizes of a surface in a row that names a surface: the row cannot be both.
fn refuse_surface_cells(reader: &mut Reader<'_>) {
    for field in
        [Field::Length, Field::PlanLength, Field::Area, Field::PlanArea, Field::Height2, Field::Peak, Field::Pitch]
    {
        if reader.row.cell(field).is_some() {
            let message =
                format!("`{}` is for surfaces, and a row that names its `surface` is an opening", field.heading());
            reader.fault(field, message, "leave this cell or `surface` empty; an opening has `width` and `height`");
        }
    }
}
