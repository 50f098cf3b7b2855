//! Surfaces one by one, or by type and storey where there are many.

use super::WIDTH;
use super::columns::lines;
use super::summary::kind_word;
use crate::fill::FillMethod;
use crate::report::text::{shorten, shorten_middle};
use crate::takeoff::{GroupTakeoff, SurfaceTakeoff, Takeoff, group_by_type_and_storey};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// More surfaces than this are shown by type and storey.
const MOST: usize = 40;

pub(super) fn surfaces(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    if takeoff.surfaces.is_empty() {
        return vec!["No surface was read.".to_owned()];
    }
    if takeoff.surfaces.len() > MOST { groups(takeoff, units) } else { each(takeoff, units) }
}

/// Room that the names of surfaces and the framing get at least; below it the column of openings goes.
const LEAST_TEXT: usize = 24;
/// Room that they need at most.
const MOST_TEXT: usize = 36;

fn each(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let mut columns = figures(units);
    if takeoff.surfaces.iter().all(|surface| !surface.method.is_some_and(FillMethod::is_drilled)) {
        columns.retain(|column| column.name != "holes");
    }
    let rows = |columns: &[Column]| -> Vec<Vec<String>> {
        let row = |surface: &SurfaceTakeoff| columns.iter().map(|column| (column.of)(surface, units)).collect();
        takeoff.surfaces.iter().map(row).collect()
    };
    // Holes are in the JSON as well, and openings in the balance.
    for spare in ["holes", "open"] {
        if text_room(&columns, &rows(&columns)) < LEAST_TEXT {
            columns.retain(|column| column.name != spare);
        }
    }
    let figures = rows(&columns);
    let room = text_room(&columns, &figures).clamp(LEAST_TEXT, MOST_TEXT);
    let label_width = room * 2 / 5;
    let rows = takeoff.surfaces.iter().zip(figures).map(|(surface, figures)| {
        let kind = kind_word(surface.kind).to_owned();
        let texts = [label(surface, label_width), kind, words(surface, room - label_width)];
        texts.into_iter().chain(figures).collect()
    });
    let mut heading = vec!["surface", "kind", "framing"];
    heading.extend(columns.iter().map(|column| column.name));
    let mut all = vec!["Surfaces".to_owned()];
    all.extend(lines(&heading, 3, rows.collect()));
    all
}

/// A column of figures.
struct Column {
    name: &'static str,
    of: fn(&SurfaceTakeoff, UnitSystem) -> String,
}

fn figures(units: UnitSystem) -> Vec<Column> {
    let column = |name, of| Column { name, of };
    vec![
        column(units.area_symbol(), |s, units| area(s.gross_area_m2, units)),
        column("open", |s, units| area(s.opening_area_m2, units)),
        column("frame", |s, _| or_dash(s.framing_fraction.map(percent))),
        column("depth", |s, units| or_dash(s.depth_m.map(|depth_m| units.show_section(depth_m)))),
        column("bays", |s, _| if s.counted { s.bays.len().to_string() } else { or_dash(None) }),
        column("holes", |s, _| or_dash(s.holes.map(|holes| holes.to_string()))),
        column(units.volume_symbol(), |s, units| or_dash(s.bay_volume_m3.map(|m3| volume(m3, units)))),
        column(units.mass_symbol(), |s, units| or_dash(s.mass_kg.map(|kg| mass(kg, units)))),
    ]
}

fn or_dash(value: Option<String>) -> String {
    value.unwrap_or_else(|| "-".to_owned())
}

/// Columns that figures leave for the surface and its framing.
fn text_room(columns: &[Column], rows: &[Vec<String>]) -> usize {
    // The indent, two spaces behind each of three texts, and the longest word for a kind.
    const TAKEN: usize = 2 + 3 * 2 + 7;
    let width = |index: usize, column: &Column| {
        let cells = rows.iter().filter_map(|row| row.get(index)).map(|cell| cell.chars().count());
        cells.chain([column.name.chars().count()]).max().unwrap_or(0) + 1
    };
    let figures: usize = columns.iter().enumerate().map(|(index, column)| width(index, column)).sum();
    (WIDTH + 1).saturating_sub(TAKEN + figures)
}

fn label(s: &SurfaceTakeoff, width: usize) -> String {
    let part = if s.part > 0 { format!("/{}", s.part) } else { String::new() };
    let times = if s.count > 1 { format!(" x{}", s.count) } else { String::new() };
    let suffix = format!("{part}{times}");
    shorten(s.label(), width.saturating_sub(suffix.len())) + &suffix
}

/// The framing, or the reason against it.
fn words(s: &SurfaceTakeoff, width: usize) -> String {
    let words = if s.counted { s.assembly.as_deref() } else { s.reason.as_deref() };
    shorten(words.unwrap_or("-"), width)
}

fn groups(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let heading = [
        "type",
        "storey",
        "kind",
        "number",
        units.area_symbol(),
        "counted",
        units.volume_symbol(),
        units.mass_symbol(),
    ];
    let groups = group_by_type_and_storey(&takeoff.surfaces);
    // Sheets have no types: the room goes to the storeys.
    let (type_width, storey_width) = if groups.iter().all(|group| group.r#type.is_none()) { (1, 26) } else { (22, 9) };
    let row = |group: &GroupTakeoff| {
        vec![
            shorten_middle(group.r#type.as_deref().unwrap_or("-"), type_width),
            shorten(group.storey.as_deref().unwrap_or("-"), storey_width),
            kind_word(group.kind).to_owned(),
            group.count.to_string(),
            area(group.gross_area_m2, units),
            area(group.counted_area_m2, units),
            volume(group.volume_m3, units),
            mass(group.mass_kg, units),
        ]
    };
    let rows = groups.iter().map(row).collect();
    let mut all = vec![format!("Surfaces by type and storey ({} in all)", takeoff.surfaces.len())];
    all.extend(lines(&heading, 3, rows));
    all.push("  `--save surfaces.csv` lists each of them".to_owned());
    all
}

pub(super) fn area(area_m2: f64, units: UnitSystem) -> String {
    grouped(units.area(area_m2), usize::from(units == UnitSystem::Si))
}

fn volume(volume_m3: f64, units: UnitSystem) -> String {
    grouped(units.volume(volume_m3), if units == UnitSystem::Si { 2 } else { 1 })
}

fn mass(mass_kg: f64, units: UnitSystem) -> String {
    grouped(units.mass(mass_kg), usize::from(units == UnitSystem::Si))
}

pub(super) fn percent(fraction: f64) -> String {
    format!("{} %", grouped(fraction * 100.0, 1))
}
