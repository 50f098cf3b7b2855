//! Surfaces one by one, or by type and storey where there are many.

use super::columns::lines;
use super::summary::kind_word;
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

fn each(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let heading = [
        "surface",
        "framing",
        units.area_symbol(),
        "open",
        "framing",
        "depth",
        units.volume_symbol(),
        units.mass_symbol(),
    ];
    let mut all = vec!["Surfaces".to_owned()];
    all.extend(lines(&heading, 2, takeoff.surfaces.iter().map(|surface| row(surface, units)).collect()));
    all
}

fn row(s: &SurfaceTakeoff, units: UnitSystem) -> Vec<String> {
    let part = if s.part > 0 { format!("/{}", s.part) } else { String::new() };
    let times = if s.count > 1 { format!(" x{}", s.count) } else { String::new() };
    let suffix = format!("{part}{times}");
    let words = if s.counted { s.assembly.as_deref() } else { s.reason.as_deref() };
    let or_dash = |value: Option<String>| value.unwrap_or_else(|| "-".to_owned());
    vec![
        shorten(s.label(), 15_usize.saturating_sub(suffix.len())) + &suffix,
        shorten(words.unwrap_or("-"), 19),
        area(s.gross_area_m2, units),
        area(s.opening_area_m2, units),
        or_dash(s.framing_fraction.map(percent)),
        or_dash(s.depth_m.map(|depth_m| units.show_section(depth_m))),
        or_dash(s.bay_volume_m3.map(|volume_m3| volume(volume_m3, units))),
        or_dash(s.mass_kg.map(|mass_kg| mass(mass_kg, units))),
    ]
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
