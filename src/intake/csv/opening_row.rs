//! A row of the openings sheet to the sizes of an opening; its place comes later.

use super::assumed::Assumed;
use super::field::Field;
use super::row::{Reader, Row};
use super::surface_row::short_row;
use crate::cells::{FLUE_KINDS, OPENING_KINDS, clearance_fits, clearance_is_likely, flue_fits};
use crate::finding::{Code, Finding};
use crate::model::{FlueKind, OpeningKind};
use crate::refusal::Refusal;
use crate::units::INCH_M;

/// Most openings that one row may stand for.
const MOST_OPENINGS: u32 = 500;
/// What a rough opening has over the unit that goes into it, in all, each way.
///
/// # Source
/// Common practice, no source.
const CLEARANCE_M: f64 = 0.5 * INCH_M;

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowKind {
    /// A hole through the surface.
    Opening(OpeningKind),
    /// No hole, but a part that must stay empty.
    Platform,
}

impl RowKind {
    /// What fills the opening; none of a platform.
    fn opening(self) -> Option<OpeningKind> {
        match self {
            Self::Opening(kind) => Some(kind),
            Self::Platform => None,
        }
    }
}

/// Words for what a row is.
fn kinds() -> Vec<(&'static str, RowKind)> {
    let openings = OPENING_KINDS.iter().map(|(word, kind)| (*word, RowKind::Opening(*kind)));
    openings.chain([("platform", RowKind::Platform)]).collect()
}

/// The sizes of an opening.
pub(super) struct OpeningRow<'s> {
    pub row: Row<'s>,
    pub surface: &'s str,
    pub id: &'s str,
    pub kind: RowKind,
    pub width_m: f64,
    pub height_m: f64,
    pub sill_m: Option<f64>,
    pub offset_m: Option<f64>,
    pub flue: Option<FlueKind>,
    pub clearance_m: Option<f64>,
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
    let has_kind = row.cell(Field::Kind).is_some();
    let kind = reader.one_of(Field::Kind, &kinds());
    let what = kind.unwrap_or(RowKind::Opening(OpeningKind::Other));
    refuse_surface_cells(&mut reader);
    let width_m = size(&mut reader, Field::Width, Field::UnitWidth);
    let height_m = size(&mut reader, Field::Height, Field::UnitHeight);
    let sill_m = reader.length_or_zero(Field::Sill);
    let offset_m = reader.length_or_zero(Field::Offset);
    // Where the kind is at fault, nothing that hangs on it is.
    let is_known = kind.is_some() || !has_kind;
    let flue = if is_known { read_flue(&mut reader, what) } else { None };
    let clearance_m = if is_known { read_clearance(&mut reader, what) } else { None };
    if what == RowKind::Platform {
        check_platform(&mut reader);
    }
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
    Ok(OpeningRow {
        row,
        surface,
        id,
        kind: what,
        width_m,
        height_m,
        sill_m,
        offset_m,
        flue,
        clearance_m,
        count,
        findings: doubts(row),
    })
}

fn read_flue(reader: &mut Reader<'_>, kind: RowKind) -> Option<FlueKind> {
    let flue = reader.one_of(Field::Flue, &FLUE_KINDS)?;
    if let Err(fault) = flue_fits(kind.opening()) {
        reader.misread(Field::Flue, fault);
    }
    Some(flue)
}

fn read_clearance(reader: &mut Reader<'_>, kind: RowKind) -> Option<f64> {
    let clearance_m = reader.length_or_zero(Field::Clearance)?;
    if let Err(fault) = clearance_fits(kind.opening()).and_then(|()| clearance_is_likely(clearance_m)) {
        reader.misread(Field::Clearance, fault);
    }
    Some(clearance_m)
}

/// A platform has a place of its own and the size that it has.
fn check_platform(reader: &mut Reader<'_>) {
    for field in [Field::Offset, Field::Sill] {
        if reader.row.cell(field).is_none() {
            let message = format!("`{}` is empty, and a platform has a place", field.heading());
            let help = "write how far its left edge lies from the surface's left end (`offset`) and its lower edge from the \
                        surface's low edge (`sill`), such as `4'-0\"`";
            reader.fault(field, message, help);
        }
    }
    for field in [Field::UnitWidth, Field::UnitHeight] {
        if reader.row.cell(field).is_some() {
            let message =
                format!("`{}` is for what goes into a rough opening, and a platform does not", field.heading());
            reader.fault(field, message, "write `width` and `height`");
        }
    }
}

/// Columns that say nothing of an opening.
const UNUSED: [Field; 9] = [
    Field::Assembly,
    Field::Depth,
    Field::Corners,
    Field::Partitions,
    Field::Floors,
    Field::Existing,
    Field::DoNotFill,
    Field::Eaves,
    Field::HeelHeight,
];

/// Columns that make a row a surface.
const OF_SURFACES: [Field; 9] = [
    Field::Length,
    Field::PlanLength,
    Field::Area,
    Field::PlanArea,
    Field::Height2,
    Field::Peak,
    Field::Outline,
    Field::PlanOutline,
    Field::Pitch,
];

/// What a person must know of a row that is read.
fn doubts(row: Row<'_>) -> Vec<Finding> {
    let mut findings = short_row(row);
    for field in UNUSED {
        if row.cell(field).is_some() {
            let message = format!("`{}` is for surfaces and is not used of an opening", field.heading());
            findings.push(Finding::warning(Code::RowDoubt, &row.place(), message));
        }
    }
    findings
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
    for field in OF_SURFACES {
        if reader.row.cell(field).is_some() {
            let message =
                format!("`{}` is for surfaces, and a row that names its `surface` is an opening", field.heading());
            reader.fault(field, message, "leave this cell or `surface` empty; an opening has `width` and `height`");
        }
    }
}
