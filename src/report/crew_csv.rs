//! The crew sheet as a table: what stays empty first, then bay by bay, with the marks where they stand.

use super::csv::text;
use crate::crew::{BayStep, CrewSheet, FirstMark, KeepEmpty, Mark, Stop, crew_sheet};
use crate::takeoff::{BayTakeoff, SurfaceTakeoff, Takeoff};
use crate::units::UnitSystem;
use std::io;

/// Columns, but for the units of those that end in an underscore.
const COLUMNS: [&str; 22] = [
    "stop",
    "do",
    "storey",
    "zone",
    "surface",
    "part",
    "name",
    "alike",
    "seen",
    "bay",
    "reason",
    "from_left_",
    "up_",
    "width_",
    "height_",
    "holes",
    "mass_",
    "bags",
    "bays_to_a_bag",
    "blown_",
    "bags_at_machine",
    "bags_at_most",
];

/// One row a step. Lengths and masses are in the units that people read, named in the headings.
///
/// # Errors
/// Those of the writer; writing to memory has none.
pub fn crew_csv(takeoff: &Takeoff, units: UnitSystem) -> io::Result<Vec<u8>> {
    let sheet = crew_sheet(takeoff);
    let mut writer = super::csv::writer();
    let heading = |column: &&str| match *column {
        "mass_" | "blown_" => format!("{column}{}", units.mass_symbol()),
        _ if column.ends_with('_') => format!("{column}{}", units.section_symbol()),
        _ => (*column).to_owned(),
    };
    writer.write_record(COLUMNS.iter().map(heading))?;
    for stop in &sheet.stops {
        let Some(surface) = takeoff.surfaces.get(stop.surface) else { continue };
        for row in (Rows { stop, surface, units }).all(&sheet) {
            writer.write_record(row)?;
        }
    }
    writer.into_inner().map_err(|error| io::Error::other(error.to_string()))
}

/// The rows of a stop.
struct Rows<'t> {
    stop: &'t Stop,
    surface: &'t SurfaceTakeoff,
    units: UnitSystem,
}

/// What tells a row from the others of its stop.
#[derive(Default)]
struct Step {
    does: &'static str,
    bay: String,
    reason: String,
    place: [Option<f64>; 4],
    holes: String,
    mass_kg: Option<f64>,
    bags: Option<f64>,
    to_a_bag: Option<f64>,
    mark: Option<Mark>,
}

impl Rows<'_> {
    fn all(&self, sheet: &CrewSheet) -> Vec<Vec<String>> {
        let first = self.stop.fill.and_then(|fill| sheet.fills.get(fill)?.first.as_ref());
        let first = first.filter(|first| first.stop == self.stop.number);
        let mut steps = Vec::new();
        if self.stop.is_to_survey {
            let reason = "bays not surveyed: look for bays that must stay empty before the first one is filled";
            steps.push(Step { does: "survey", reason: reason.to_owned(), ..Step::default() });
        }
        steps.extend(self.stop.keep_empty.iter().map(empty));
        for step in &self.stop.bays {
            let Some(bay) = self.surface.bays.get(step.bay) else { continue };
            steps.push(fill(step, bay));
            steps.extend(first.filter(|first| first.bay == bay.id).map(first_mark));
        }
        steps.extend(self.stop.end.map(|mark| Step { does: "mark", mark: Some(mark), ..Step::default() }));
        steps.into_iter().map(|step| self.row(step)).collect()
    }

    fn row(&self, step: Step) -> Vec<String> {
        let (surface, units) = (self.surface, self.units);
        let mass = |mass_kg: Option<f64>| decimals(mass_kg.map(|mass_kg| units.mass(mass_kg)), 2);
        let length = |length_m: &Option<f64>| decimals(length_m.map(|length_m| units.section(length_m)), 2);
        let mut row = vec![
            self.stop.number.to_string(),
            step.does.to_owned(),
            text(surface.storey.as_deref()),
            text(surface.zone.as_deref()),
            text(Some(&surface.id)),
            surface.part.to_string(),
            text(surface.name.as_deref()),
            surface.count.to_string(),
            self.stop.view.words().to_owned(),
            step.bay,
            text(Some(&step.reason)),
        ];
        row.extend(step.place.iter().map(length));
        row.push(step.holes);
        row.push(mass(step.mass_kg));
        row.push(decimals(step.bags, 2));
        row.push(decimals(step.to_a_bag, 1));
        row.push(mass(step.mark.map(|mark| mark.mass_kg)));
        row.push(decimals(step.mark.map(|mark| mark.opened_bags_exact), 1));
        row.push(decimals(step.mark.map(|mark| mark.most_bags_exact), 1));
        row
    }
}

fn empty(piece: &KeepEmpty) -> Step {
    let size = |edges: Option<[f64; 2]>| edges.map(|[from_m, to_m]| to_m - from_m);
    let start = |edges: Option<[f64; 2]>| edges.map(|[from_m, _]| from_m);
    Step {
        does: "keep empty",
        bay: piece.bay.clone().unwrap_or_default(),
        reason: piece.reason.clone(),
        place: [start(piece.across_m), start(piece.up_m), size(piece.across_m), size(piece.up_m)],
        ..Step::default()
    }
}

fn fill(step: &BayStep, bay: &BayTakeoff) -> Step {
    let low_m = bay.outline_m.bounds().map(|bounds| bounds.min_y);
    Step {
        does: "fill",
        bay: bay.id.clone(),
        place: [step.from_left_m, low_m, bay.width_m, bay.height_m],
        holes: bay.holes.map(|holes| holes.to_string()).unwrap_or_default(),
        mass_kg: Some(bay.mass_kg),
        bags: step.bags_exact,
        to_a_bag: step.to_a_bag_exact,
        ..Step::default()
    }
}

fn first_mark(first: &FirstMark) -> Step {
    Step { does: "first mark", bay: first.bay.clone(), mark: Some(first.mark), ..Step::default() }
}

fn decimals(value: Option<f64>, decimals: usize) -> String {
    value.map(|value| format!("{value:.decimals$}")).unwrap_or_default()
}
