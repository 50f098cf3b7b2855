//! Measured sheets in comma- or semicolon-separated text.
//!
//! Sheets in, a building out: every row is a surface, an opening, or left out with its reason.
//! Invariant: knows the sheet's words and measures, and nothing of framing or fill.

mod assumed;
mod columns;
mod decode;
mod dialect;
mod every_row;
mod extent;
mod field;
mod junctions;
mod opening_row;
mod outline;
mod outline_text;
mod page;
mod place;
mod row;
mod sheet;
mod split;
mod suggest;
mod surface_row;
pub(in crate::intake) mod table;
mod written;

use crate::digest::sha256;
use crate::finding::{Code, Finding};
use crate::model::{Building, Input, InputKind};
use crate::refusal::Refusal;
use crate::source::Place;
use crate::tally::LeftOutElement;
use assumed::Assumed;
use field::Field;
use opening_row::{OpeningRow, read_opening};
use place::place_openings;
use row::Row;
use sheet::{Holds, Sheet};
use std::collections::BTreeMap;
use suggest::did_you_mean;
use surface_row::{SurfaceRow, read_surface};

pub use written::written;

/// Frictionless Table Schema (Data Package v2) of a sheet of surfaces.
pub const SURFACES_SCHEMA: &str = include_str!("../../../schemas/surfaces.table.json");
/// Frictionless Table Schema of a sheet of openings.
pub const OPENINGS_SCHEMA: &str = include_str!("../../../schemas/openings.table.json");
/// Frictionless Table Schema of a sheet that holds both.
pub const SURFACES_AND_OPENINGS_SCHEMA: &str = include_str!("../../../schemas/surfaces-and-openings.table.json");

/// Faults after which no surface is suggested any more.
const MOST_SUGGESTIONS: usize = 100;

/// A sheet as it was found.
pub struct SheetFile {
    /// Path, as it was given.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Reads surfaces and openings from one or several sheets, which may refer to each other.
///
/// Surfaces stand in the order of the rows, their openings too. With `keep_going`, a row that cannot
/// be used is left out: it becomes a finding and an entry of [`Building::left_out`], and so do the
/// openings of a surface that was left out.
///
/// # Errors
/// Every sheet that cannot be opened (not text, no headings), and, unless `keep_going`, every cell or row that cannot
/// be used, in the order of the sheets and their lines.
pub fn read(sheets: &[SheetFile], keep_going: bool) -> Result<Building, Vec<Refusal>> {
    let mut opened = Vec::new();
    let mut refusals = Vec::new();
    for file in sheets {
        match Sheet::open(file) {
            Ok(sheet) => opened.push(sheet),
            Err(found) => refusals.extend(found),
        }
    }
    if refusals.is_empty()
        && let Some(sheet) = opened.first().filter(|_| opened.iter().all(|sheet| sheet.holds == Holds::Openings))
    {
        let help = "give the sheet that has the surfaces too";
        refusals.push(Refusal::new(Place::input(sheet.path), "there are openings, and no sheet of surfaces", help));
    }
    let mut reading = Reading::default();
    let rows: Vec<Row<'_>> =
        opened.iter().flat_map(|sheet| sheet.rows.iter().map(move |record| Row { sheet, record })).collect();
    reading.read_surfaces(&rows);
    // Where a sheet could not be opened, a surface may be unknown only for that.
    reading.read_openings(&rows, refusals.is_empty());
    reading.place();
    let faults = reading.sorted_faults(&rows);
    if !refusals.is_empty() || (!keep_going && !faults.is_empty()) {
        refusals.extend(faults.into_iter().filter(|fault| !fault.is_consequence).flat_map(|fault| fault.refusals));
        return Err(refusals);
    }
    let inputs = sheets.iter().zip(&opened).map(|(file, sheet)| input_of(file, sheet)).collect();
    let sheet_findings = opened.iter().flat_map(|sheet| sheet.findings.iter().cloned()).collect();
    Ok(reading.into_building(inputs, sheet_findings, faults))
}

fn input_of(file: &SheetFile, sheet: &Sheet<'_>) -> Input {
    Input {
        path: file.path.clone(),
        sha256: sha256(&file.bytes),
        kind: InputKind::Csv,
        schema: Some(sheet.holds.words().to_owned()),
        length_unit: None,
    }
}

/// A row that cannot be used.
struct Fault<'s> {
    row: Row<'s>,
    refusals: Vec<Refusal>,
    /// Nothing is wrong with the row itself: its surface was left out.
    is_consequence: bool,
}

/// What has been read so far.
#[derive(Default)]
struct Reading<'s> {
    surfaces: Vec<SurfaceRow>,
    /// Index of each surface by its id; `None` for one that was left out.
    by_id: BTreeMap<String, Option<usize>>,
    /// Openings of each surface, in the order of the sheets.
    openings: Vec<Vec<OpeningRow<'s>>>,
    findings: Vec<Finding>,
    faults: Vec<Fault<'s>>,
    assumed: Assumed,
}

impl<'s> Reading<'s> {
    fn refuse(&mut self, row: Row<'s>, refusals: Vec<Refusal>) {
        self.faults.push(Fault { row, refusals, is_consequence: false });
    }

    fn read_surfaces(&mut self, rows: &[Row<'s>]) {
        let mut first_lines: BTreeMap<&str, Row<'s>> = BTreeMap::new();
        for &row in rows.iter().filter(|row| !row.is_opening()) {
            let id = row.word(Field::Id);
            if let Some(id) = id
                && let Some(first) = first_lines.get(id)
            {
                let message = format!("`{id}` is the second surface of that id; the first is at {}", first.source());
                let refusal = row.refuse(Field::Id, message, "give each surface an id of its own");
                self.refuse(row, vec![refusal]);
                continue;
            }
            if let Some(id) = id {
                first_lines.insert(id, row);
                self.by_id.insert(id.to_owned(), None);
            }
            match read_surface(row) {
                Ok(surface) => self.keep(surface),
                Err(refusals) => self.refuse(row, refusals),
            }
        }
    }

    fn keep(&mut self, mut surface: SurfaceRow) {
        let id = surface.surface.id.clone();
        if surface.has_default_exposure {
            self.assumed.common_practice("surface.exposure", "exterior", "", &id);
        }
        self.findings.append(&mut surface.findings);
        self.by_id.insert(id, Some(self.surfaces.len()));
        self.surfaces.push(surface);
        self.openings.push(Vec::new());
    }

    fn read_openings(&mut self, rows: &[Row<'s>], knows_all_surfaces: bool) {
        for &row in rows.iter().filter(|row| row.is_opening()) {
            let mut opening = match read_opening(row, &mut self.assumed) {
                Ok(opening) => opening,
                Err(refusals) => {
                    self.refuse(row, refusals);
                    continue;
                }
            };
            self.findings.append(&mut opening.findings);
            match self.by_id.get(opening.surface) {
                Some(Some(index)) => {
                    if let Some(openings) = self.openings.get_mut(*index) {
                        openings.push(opening);
                    }
                }
                Some(None) => {
                    let message = format!("its surface `{}` was left out", opening.surface);
                    let refusals = vec![row.refuse(Field::Surface, message, "mend the row of the surface")];
                    self.faults.push(Fault { row, refusals, is_consequence: true });
                }
                None => {
                    let help = self.suggest_surface(opening.surface);
                    let message = format!("there is no surface `{}`", opening.surface);
                    let refusals = vec![row.refuse(Field::Surface, message, &help)];
                    self.faults.push(Fault { row, refusals, is_consequence: !knows_all_surfaces });
                }
            }
        }
    }

    /// A suggestion compares with every id, which a sheet full of unknown ones cannot afford.
    fn suggest_surface(&self, id: &str) -> String {
        if self.faults.len() < MOST_SUGGESTIONS {
            did_you_mean(id, self.by_id.keys().map(String::as_str))
        } else {
            "name the surface as its own row does".to_owned()
        }
    }

    fn place(&mut self) {
        for (surface, rows) in self.surfaces.iter_mut().zip(&self.openings) {
            let mut placed = place_openings(surface, rows, &mut self.assumed);
            self.findings.append(&mut placed.findings);
            for (index, refusal) in placed.refused {
                let Some(opening) = rows.get(index) else { continue };
                self.faults.push(Fault { row: opening.row, refusals: vec![refusal], is_consequence: false });
            }
        }
    }

    /// The faults in the order of the sheets and their lines, one a row.
    fn sorted_faults(&mut self, rows: &[Row<'s>]) -> Vec<Fault<'s>> {
        let mut faults = std::mem::take(&mut self.faults);
        let order: BTreeMap<*const split::Record, usize> =
            rows.iter().enumerate().map(|(index, row)| (std::ptr::from_ref(row.record), index)).collect();
        faults.sort_by_key(|fault| order.get(&std::ptr::from_ref(fault.row.record)).copied().unwrap_or(usize::MAX));
        for fault in &mut faults {
            fault.refusals.sort_by_key(|refusal| (refusal.place.line, refusal.place.column));
        }
        faults
    }

    fn into_building(mut self, inputs: Vec<Input>, mut findings: Vec<Finding>, faults: Vec<Fault<'s>>) -> Building {
        findings.append(&mut self.findings);
        let mut left_out = Vec::new();
        for fault in faults {
            let reasons: Vec<String> = fault.refusals.iter().map(|refusal| refusal.message.clone()).collect();
            for refusal in &fault.refusals {
                let message = format!("the row was left out: {}; {}", refusal.message, refusal.help);
                findings.push(Finding::error(Code::RowLeftOut, &refusal.place, message));
            }
            let kind =
                fault.row.word(Field::Kind).unwrap_or(if fault.row.is_opening() { "opening" } else { "surface" });
            left_out.push(LeftOutElement {
                id: fault.row.word(Field::Id).unwrap_or_default().to_owned(),
                class: kind.to_lowercase(),
                name: fault.row.text(Field::Name),
                reason: reasons.join("; "),
                source: fault.row.source(),
            });
        }
        Building {
            inputs,
            surfaces: self.surfaces.into_iter().map(|row| row.surface).collect(),
            left_out,
            findings,
            assumptions: self.assumed.into_assumptions(),
        }
    }
}

#[cfg(test)]
mod tests;
