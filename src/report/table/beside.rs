//! Several takeoffs side by side.

use super::columns::lines;
use super::summary::{amount, title, trimmed};
use super::{WIDTH, sections};
use crate::report::text::{shorten, wrap};
use crate::takeoff::{FillTakeoff, Takeoff};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Columns of a value that is set.
const VALUE: usize = 18;

/// A takeoff, and the values that tell it from the others.
pub struct Beside<'t> {
    /// The values, in the order of the keys.
    pub values: &'t [String],
    /// The takeoff.
    pub takeoff: &'t Takeoff,
}

/// One line a takeoff and fill. `keys` says what the values are of.
pub fn render_beside(keys: &[String], all: &[Beside<'_>], units: UnitSystem) -> String {
    let mut out: Vec<String> = all.first().map(|one| title(one.takeoff)).unwrap_or_default();
    out.push(String::new());
    out.extend(wrap(&format!("Side by side, by {}", keys.join(" and ")), WIDTH, "  "));
    let mut heading: Vec<&str> = keys.iter().map(|key| key.rsplit('.').next().unwrap_or(key)).collect();
    heading.extend(["fill", units.volume_symbol(), units.mass_symbol(), "bags", "range", "price"]);
    let rows: Vec<Vec<String>> =
        all.iter().flat_map(|one| one.takeoff.fills.iter().map(|fill| row(one, fill, units))).collect();
    out.extend(lines(&heading, keys.len() + 1, rows));
    out.push(String::new());
    out.extend(wrap("  One value alone gives the whole takeoff, and can be saved.", WIDTH, "    "));
    if let Some(one) = all.first() {
        out.push(String::new());
        out.extend(sections::cautions(one.takeoff));
    }
    let mut text = out.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n");
    text.push('\n');
    text
}

fn row(one: &Beside<'_>, fill: &FillTakeoff, units: UnitSystem) -> Vec<String> {
    let mut cells: Vec<String> = one.values.iter().map(|value| shorten(value, VALUE)).collect();
    let name = if fill.estimate.is_some() { format!("{} (open)", fill.name) } else { fill.name.clone() };
    cells.push(shorten(&name, VALUE));
    let dash = || "-".to_owned();
    cells.push(grouped(units.volume(fill.volume_m3), if units == UnitSystem::Us { 1 } else { 2 }));
    let decimals = usize::from(units == UnitSystem::Si);
    cells.push(match &fill.estimate {
        Some(estimate) => format!(
            "{}-{}",
            grouped(units.mass(estimate.least_kg), decimals),
            grouped(units.mass(estimate.most_kg), decimals)
        ),
        None => grouped(units.mass(fill.mass_kg), decimals),
    });
    cells.push(fill.bags_order.map_or_else(dash, |bags| bags.to_string()));
    let range = fill.range.as_ref().and_then(|range| {
        let share = trimmed(range.confidence_share * 100.0);
        Some(format!("{}-{} at {share} %", range.least_bags?, range.most_bags?))
    });
    cells.push(range.unwrap_or_else(dash));
    cells.push(fill.price.as_ref().map_or_else(dash, |price| format!("{} {}", amount(&price.total), price.currency)));
    cells
}
