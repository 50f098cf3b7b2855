//! One row a surface.

use super::cell::{Cell, Sheet, headings};
use super::{Book, SURFACES};
use crate::takeoff::SurfaceTakeoff;

/// Letters of the columns that formulas refer to.
pub(super) const VOLUME: char = 'T';
const DENSITY: char = 'U';
pub(super) const MASS: char = 'V';
pub(super) const ORDER_LINE: char = 'W';

pub(super) fn sheet(book: &Book<'_>) -> Sheet {
    let units = book.units;
    let (area, section) = (units.area_symbol(), book.section_symbol());
    let names = [
        "id".to_owned(),
        "part".to_owned(),
        "name".to_owned(),
        "type".to_owned(),
        "storey".to_owned(),
        "zone".to_owned(),
        "count".to_owned(),
        "kind".to_owned(),
        "exposure".to_owned(),
        "assembly".to_owned(),
        "counted".to_owned(),
        "reason".to_owned(),
        format!("gross ({area})"),
        format!("openings ({area})"),
        format!("members ({area})"),
        format!("bays ({area})"),
        format!("left out ({area})"),
        "framing fraction".to_owned(),
        format!("depth ({section})"),
        format!("volume ({})", units.volume_symbol()),
        format!("density ({})", units.density_symbol()),
        format!("mass ({})", units.mass_symbol()),
        "line of the order".to_owned(),
        "number of bays".to_owned(),
        "holes".to_owned(),
    ];
    let mut rows = vec![headings(names)];
    let with_row = book.takeoff.surfaces.iter().enumerate();
    rows.extend(with_row.map(|(index, surface)| row(book, index + 2, surface)));
    Sheet { name: SURFACES, frozen_rows: 1, rows }
}

fn row(book: &Book<'_>, row: usize, s: &SurfaceTakeoff) -> Vec<Cell> {
    let units = book.units;
    let area = |area_m2: f64| Cell::Number(units.area(area_m2), 2);
    let density = book.density_cell(s).zip(s.density_kg_m3);
    vec![
        Cell::text(&s.id),
        Cell::whole(s.part),
        Cell::text_or_none(s.name.as_deref()),
        Cell::text_or_none(s.r#type.as_deref()),
        Cell::text_or_none(s.storey.as_deref()),
        Cell::text_or_none(s.zone.as_deref()),
        Cell::whole(s.count),
        Cell::word(&s.kind),
        Cell::word(&s.exposure),
        Cell::text_or_none(s.assembly.as_deref()),
        Cell::text(if s.counted { "yes" } else { "no" }),
        Cell::text_or_none(s.reason.as_deref()),
        area(s.gross_area_m2),
        area(s.opening_area_m2),
        area(s.member_area_m2),
        area(s.bay_area_m2),
        area(s.left_out_area_m2),
        Cell::number(s.framing_fraction, 3),
        Cell::number(s.depth_m.map(|depth_m| book.section(depth_m)), 3),
        Cell::number(s.bay_volume_m3.map(|volume_m3| units.volume(volume_m3)), 2),
        density.map_or(Cell::Empty, |(cell, kg_m3)| Cell::Formula(format!("={cell}"), units.density(kg_m3), 2)),
        s.mass_kg.map_or(Cell::Empty, |kg| Cell::Formula(format!("={VOLUME}{row}*{DENSITY}{row}"), units.mass(kg), 2)),
        book.order_line(s).map_or(Cell::Empty, Cell::whole),
        if s.counted { Cell::whole(s.bays.len()) } else { Cell::Empty },
        s.holes.map_or(Cell::Empty, Cell::whole),
    ]
}
