//! The `corners` and `partitions` cells, on the wall of their row.

use super::extent::Measured;
use super::field::Field;
use super::row::Reader;
use crate::cells::{
    Corners, Partitions, partitions_fit, places_have_room, places_have_walls, read_corners, read_partitions,
};
use crate::model::{Junction, SurfaceKind};

/// Junctions of a surface: those that have a place, and numbers of those that have none.
#[derive(Debug, Default)]
pub(super) struct Junctions {
    pub placed: Vec<Junction>,
    pub corner_posts: u32,
    pub partitions: u32,
}

/// Reads both cells.
pub(super) fn read_junctions(
    reader: &mut Reader<'_>,
    kind: Option<SurfaceKind>,
    measured: Option<&Measured>,
) -> Junctions {
    let mut junctions = Junctions::default();
    match reader.row.word(Field::Corners).map(read_corners) {
        Some(Ok(Corners::Number(number))) => junctions.corner_posts = number,
        Some(Ok(Corners::At(ends))) => {
            let length_m = placed_length_m(reader, Field::Corners, kind, measured).unwrap_or_default();
            junctions.placed.extend(ends.iter().map(|share| Junction::corner(share * length_m)));
        }
        Some(Err(fault)) => reader.misread(Field::Corners, fault),
        None => {}
    }
    let sheet = reader.row.sheet;
    let unit = sheet.columns.length_unit(Field::Partitions);
    let read = |word| read_partitions(word, unit, sheet.has_decimal_comma);
    match reader.row.word(Field::Partitions).map(read) {
        Some(Ok(Partitions::Number(number))) => junctions.partitions = number,
        Some(Ok(Partitions::At(places_m))) => {
            let length_m = placed_length_m(reader, Field::Partitions, kind, measured);
            if let Some(Err(fault)) = length_m.map(|length_m| partitions_fit(&places_m, length_m)) {
                reader.misread(Field::Partitions, fault);
            }
            junctions.placed.extend(places_m.into_iter().map(Junction::partition));
        }
        Some(Err(fault)) => reader.misread(Field::Partitions, fault),
        None => {}
    }
    junctions
}

/// Length of a wall that something has its place on; a fault where it is none, or has no shape.
fn placed_length_m(
    reader: &mut Reader<'_>,
    field: Field,
    kind: Option<SurfaceKind>,
    measured: Option<&Measured>,
) -> Option<f64> {
    let placed = places_have_walls(field.heading(), kind?).and_then(|()| match measured {
        Some(measured) => places_have_room(measured.room()).map(Some),
        None => Ok(None),
    });
    placed.map_err(|fault| reader.misread(field, fault)).ok().flatten()
}
