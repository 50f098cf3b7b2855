//! One row a bay of one surface.

use super::Book;
use super::cell::{Cell, Sheet, headings};
use crate::takeoff::{BayTakeoff, SurfaceTakeoff};

/// Letters of the columns that formulas refer to.
const VOLUME: char = 'K';
const DENSITY: char = 'L';

pub(super) fn sheet(book: &Book<'_>) -> Sheet {
    let (section, units) = (book.section_symbol(), book.units);
    let names = [
        "surface".to_owned(),
        "part".to_owned(),
        "name".to_owned(),
        "storey".to_owned(),
        "surfaces alike".to_owned(),
        "bay".to_owned(),
        format!("width ({section})"),
        format!("height ({section})"),
        format!("area ({})", units.area_symbol()),
        format!("depth ({section})"),
        format!("volume ({})", units.volume_symbol()),
        format!("density ({})", units.density_symbol()),
        format!("mass ({})", units.mass_symbol()),
        "holes".to_owned(),
    ];
    let mut rows = vec![headings(names)];
    for surface in &book.takeoff.surfaces {
        let density = book.density_cell(surface);
        for bay in &surface.bays {
            rows.push(row(book, rows.len() + 1, (surface, bay), density.as_deref()));
        }
    }
    Sheet { name: "Bays", frozen_rows: 1, rows }
}

fn row(book: &Book<'_>, row: usize, (s, bay): (&SurfaceTakeoff, &BayTakeoff), density: Option<&str>) -> Vec<Cell> {
    let units = book.units;
    let section = |length_m: f64| book.section(length_m);
    let kg_m3 = units.density(bay.density_kg_m3);
    vec![
        Cell::text(&s.id),
        Cell::whole(s.part),
        Cell::text_or_none(s.name.as_deref()),
        Cell::text_or_none(s.storey.as_deref()),
        Cell::whole(s.count),
        bay.id.parse::<u32>().map_or_else(|_| Cell::text(&bay.id), Cell::whole),
        Cell::number(bay.width_m.map(section), 3),
        Cell::number(bay.height_m.map(section), 3),
        Cell::Number(units.area(bay.area_m2), 3),
        Cell::Number(section(bay.depth_m), 3),
        Cell::Number(units.volume(bay.volume_m3), 3),
        density.map_or(Cell::Number(kg_m3, 2), |cell| Cell::Formula(format!("={cell}"), kg_m3, 2)),
        Cell::Formula(format!("={VOLUME}{row}*{DENSITY}{row}"), units.mass(bay.mass_kg), 3),
        bay.holes.map_or(Cell::Empty, Cell::whole),
    ]
}
