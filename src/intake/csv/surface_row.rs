//! A row of the surfaces sheet to a surface.

use super::extent::{Measured, read_extent};
use super::field::Field;
use super::junctions::read_junctions;
use super::outline::Shape;
use super::row::{Reader, Row};
use crate::cells::{
    ceilings_alone, depth_is_likely, eaves_fit, floors_fit, floors_have_walls, heel_is_likely, read_do_not_fill,
    read_existing, read_floor_bands, stretches_fit,
};
use crate::finding::{Code, Finding};
use crate::model::{
    DoNotFill, EaveSides, Eaves, ExistingFill, Exposure, Extent, FloorBand, Surface, SurfaceKey, SurfaceKind,
};
use crate::refusal::Refusal;
use crate::units::display::both_ways;

/// Most alike surfaces a row may stand for.
const MOST_ALIKE: u32 = 100_000;
/// A wall above this height (m, some 33 ft) is more often a slip of the unit.
const TALL_WALL_M: f64 = 10.0;

/// Columns that are for openings alone.
const OF_OPENINGS: [Field; 7] =
    [Field::Width, Field::UnitWidth, Field::UnitHeight, Field::Sill, Field::Offset, Field::Flue, Field::Clearance];

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
    let pitch = read_pitch(&mut reader, kind);
    let measured = read_extent(&mut reader, kind, pitch.own_deg, &mut findings);
    let measured_depth_m = read_depth(&mut reader);
    let do_not_fill = read_empty_parts(&mut reader, measured.as_ref());
    let junctions = read_junctions(&mut reader, kind, measured.as_ref());
    let floor_bands = read_floors(&mut reader, kind, measured.as_ref());
    let existing_fill = read_existing_fill(&mut reader);
    let eaves = read_eaves(&mut reader, kind, pitch.above_deg, measured.as_ref());
    let (extent, shape) = measured.map_or((Extent::AreaM2(0.0), None), |measured| (measured.extent, measured.shape));
    let surface = Surface {
        name: name_of(row),
        storey: row.word(Field::Storey).map(str::to_owned),
        zone: row.word(Field::Zone).map(str::to_owned),
        count: reader.whole(Field::Count, 1, 1, MOST_ALIKE),
        exposure,
        assembly: row.word(Field::Assembly).map(str::to_owned),
        measured_depth_m,
        pitch_deg: pitch.own_deg,
        do_not_fill,
        corner_posts: junctions.corner_posts,
        partition_junctions: junctions.partitions,
        junctions: junctions.placed,
        floor_bands,
        existing_fill,
        is_surveyed: row.cell(Field::DoNotFill).is_some(),
        eaves,
        said: said_by(row, kind),
        ..Surface::new(id.to_owned(), row.source(), kind.unwrap_or(SurfaceKind::Wall), extent)
    };
    if !reader.faults.is_empty() {
        return Err(reader.faults);
    }
    doubt_height(&surface, shape.as_ref(), row, &mut findings);
    doubt_sloped_ceiling(&surface, row, &mut findings);
    Ok(SurfaceRow { surface, shape, has_default_exposure: row.cell(Field::Exposure).is_none(), findings })
}

/// What the row itself gives, also where it gives none.
fn said_by(row: Row<'_>, kind: Option<SurfaceKind>) -> Vec<SurfaceKey> {
    let keys = [
        (Field::Depth, SurfaceKey::Depth),
        (Field::Corners, SurfaceKey::Corners),
        (Field::Partitions, SurfaceKey::Partitions),
        (Field::Floors, SurfaceKey::Floors),
        (Field::Existing, SurfaceKey::Existing),
        (Field::DoNotFill, SurfaceKey::DoNotFill),
        (Field::DoNotFill, SurfaceKey::Surveyed),
        (Field::Eaves, SurfaceKey::Eaves),
        (Field::HeelHeight, SurfaceKey::HeelHeight),
        (Field::Pitch, SurfaceKey::RoofPitch),
    ];
    let is_said = |(field, key): &(Field, SurfaceKey)| {
        let is_above = *key != SurfaceKey::RoofPitch || kind == Some(SurfaceKind::Ceiling);
        row.cell(*field).is_some() && is_above
    };
    keys.iter().filter(|said| is_said(said)).map(|(_, key)| *key).collect()
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
    for field in OF_OPENINGS {
        if reader.row.cell(field).is_some() {
            let message = format!("`{}` is for openings, and this row names no surface that it is in", field.heading());
            reader.fault(field, message, "name the surface in the column `surface`, or leave this cell empty");
        }
    }
}

/// Slopes against the level, in degrees.
struct Pitch {
    /// That of the surface.
    own_deg: Option<f64>,
    /// That of the roof above a ceiling.
    above_deg: Option<f64>,
}

fn read_pitch(reader: &mut Reader<'_>, kind: Option<SurfaceKind>) -> Pitch {
    let pitch_deg = reader.pitch();
    match kind {
        Some(SurfaceKind::Roof) => Pitch { own_deg: pitch_deg, above_deg: None },
        Some(SurfaceKind::Ceiling) => Pitch { own_deg: Some(0.0), above_deg: pitch_deg },
        Some(SurfaceKind::Wall | SurfaceKind::Floor) => {
            if reader.row.cell(Field::Pitch).is_some() {
                let help = "leave the cell empty, or write `roof` as its kind";
                let message = "a pitch is for roofs, and for ceilings under one";
                reader.fault(Field::Pitch, message, help);
            }
            let own_deg = if kind == Some(SurfaceKind::Wall) { 90.0 } else { 0.0 };
            Pitch { own_deg: Some(own_deg), above_deg: None }
        }
        None => Pitch { own_deg: None, above_deg: None },
    }
}

fn read_depth(reader: &mut Reader<'_>) -> Option<f64> {
    let depth_m = reader.length(Field::Depth)?;
    if let Err(fault) = depth_is_likely(depth_m) {
        reader.misread(Field::Depth, fault);
    }
    Some(depth_m)
}

fn read_empty_parts(reader: &mut Reader<'_>, measured: Option<&Measured>) -> Vec<DoNotFill> {
    let Some(text) = reader.row.text(Field::DoNotFill) else { return Vec::new() };
    let sheet = reader.row.sheet;
    let parts = match read_do_not_fill(&text, sheet.columns.length_unit(Field::DoNotFill), sheet.has_decimal_comma) {
        Ok(parts) => parts,
        Err(fault) => {
            reader.misread(Field::DoNotFill, fault);
            return Vec::new();
        }
    };
    for fault in measured.map(|measured| stretches_fit(&parts, measured.room())).unwrap_or_default() {
        reader.misread(Field::DoNotFill, fault);
    }
    parts
}

/// Where floors run into the wall.
fn read_floors(reader: &mut Reader<'_>, kind: Option<SurfaceKind>, measured: Option<&Measured>) -> Vec<FloorBand> {
    let Some(text) = reader.row.text(Field::Floors) else { return Vec::new() };
    let sheet = reader.row.sheet;
    let read = || {
        kind.map_or(Ok(()), floors_have_walls)?;
        let bands = read_floor_bands(&text, sheet.columns.length_unit(Field::Floors), sheet.has_decimal_comma)?;
        measured.map_or(Ok(()), |measured| floors_fit(&bands, measured.room()))?;
        Ok(bands)
    };
    read().unwrap_or_else(|fault| {
        reader.misread(Field::Floors, fault);
        Vec::new()
    })
}

fn read_existing_fill(reader: &mut Reader<'_>) -> Option<ExistingFill> {
    let text = reader.row.text(Field::Existing)?;
    let sheet = reader.row.sheet;
    read_existing(&text, sheet.columns.length_unit(Field::Existing), sheet.has_decimal_comma).unwrap_or_else(|fault| {
        reader.misread(Field::Existing, fault);
        None
    })
}

/// What bounds the fill along the eaves; of ceilings alone.
fn read_eaves(
    reader: &mut Reader<'_>,
    kind: Option<SurfaceKind>,
    roof_pitch_deg: Option<f64>,
    measured: Option<&Measured>,
) -> Eaves {
    if let Some(kind) = kind.filter(|kind| *kind != SurfaceKind::Ceiling) {
        for field in [Field::Eaves, Field::HeelHeight] {
            if reader.row.cell(field).is_some()
                && let Err(fault) = ceilings_alone(field.heading(), kind)
            {
                reader.misread(field, fault);
            }
        }
        return Eaves::default();
    }
    let length_m = reader.length_or_zero(Field::Eaves);
    if let Some(Err(fault)) = length_m.map(|length_m| eaves_fit(length_m, measured.and_then(Measured::room))) {
        reader.misread(Field::Eaves, fault);
    }
    let heel_height_m = reader.length_or_zero(Field::HeelHeight);
    if let Some(Err(fault)) = heel_height_m.map(heel_is_likely) {
        reader.misread(Field::HeelHeight, fault);
    }
    Eaves { sides: length_m.map(EaveSides::LengthM), heel_height_m, roof_pitch_deg }
}

fn doubt_height(surface: &Surface, shape: Option<&Shape>, row: Row<'_>, findings: &mut Vec<Finding>) {
    let Some(height_m) = shape.map(|shape| shape.highest_m) else { return };
    if surface.kind == SurfaceKind::Wall && height_m > TALL_WALL_M {
        let message = format!("the wall is {} high; check the unit of its height", both_ways(height_m));
        findings.push(Finding::warning(Code::RowDoubt, &row.place(), message));
    }
}

/// A ceiling with a pitch and nothing of its eaves may be one that slopes.
fn doubt_sloped_ceiling(surface: &Surface, row: Row<'_>, findings: &mut Vec<Finding>) {
    let eaves = surface.eaves;
    if eaves.roof_pitch_deg.is_some() && eaves.sides.is_none() && eaves.heel_height_m.is_none() {
        let message =
            "the pitch was taken as that of the roof above a level ceiling; a ceiling that slopes itself is a `roof`";
        findings.push(Finding::note(Code::RowDoubt, &row.place(), message));
    }
}
