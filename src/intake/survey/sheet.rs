//! A survey as a sheet: a row a test hole.

use super::words::{FINISHES, LEADS, MOISTURES, SIDINGS, Word, meaning};
use super::{Looked, Seen, Survey};
use crate::cells::{Misread, depth_is_likely, read_do_not_fill, read_existing, read_wiring};
use crate::intake::csv::table::{Column, Holds, Row, Table};
use crate::intake::selection::Selection;
use crate::model::DoNotFill;
use crate::refusal::Refusal;

/// Frictionless Table Schema (Data Package v2) of a survey.
pub const SURVEY_SCHEMA: &str = include_str!("../../../schemas/survey.table.json");

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Surface,
    Depth,
    Existing,
    Finish,
    Siding,
    Wiring,
    ReleasedBy,
    Moisture,
    Lead,
    Blocked,
    Access,
    Date,
    By,
    Note,
}

const fn text(key: Key, heading: &'static str, others: &'static [&'static str]) -> Column<Key> {
    Column { key, heading, others, holds: Holds::Text }
}

const COLUMNS: &[Column<Key>] = &[
    text(Key::Surface, "surface", &["id", "surfaces"]),
    Column { key: Key::Depth, heading: "depth", others: &["cavity depth"], holds: Holds::Length },
    text(Key::Existing, "existing", &["existing fill"]),
    text(Key::Finish, "finish", &[]),
    text(Key::Siding, "siding", &[]),
    text(Key::Wiring, "wiring", &[]),
    text(Key::ReleasedBy, "released by", &[]),
    text(Key::Moisture, "moisture", &[]),
    text(Key::Lead, "lead", &["lead paint"]),
    text(Key::Blocked, "blocked", &["do not fill"]),
    text(Key::Access, "access", &[]),
    text(Key::Date, "date", &["day"]),
    text(Key::By, "by", &["who"]),
    text(Key::Note, "note", &["notes"]),
];

const SURFACES: &str = "write an id or a name, or a pattern such as `G-*`; several stand apart by `;`";

/// Reads a survey.
///
/// # Errors
/// Every cell that cannot be read, with its line and column, and every row that names no surface.
pub fn read_survey_sheet(path: &str, bytes: &[u8]) -> Result<Survey, Vec<Refusal>> {
    let table = Table::open(path, bytes, COLUMNS, &[])?;
    if !table.has(Key::Surface) {
        return Err(vec![Refusal::new(table.heading_place(), "the survey has no column `surface`", SURFACES)]);
    }
    let help = "give a row a surface, or leave `--survey` out";
    let rows = table.read_rows(("survey", help), |row, _: &[Looked]| Some(read_row(row)))?;
    let input = table.input(bytes, "survey");
    Ok(Survey { input, rows, findings: table.findings.clone() })
}

fn read_row(row: &mut Row<'_, '_, Key>) -> Looked {
    let surfaces = row.text(Key::Surface).map(Selection::patterns).unwrap_or_default();
    if surfaces.is_empty() {
        row.fault(Key::Surface, "the row names no surface", SURFACES);
    }
    Looked {
        place: row.place(Key::Surface),
        surfaces,
        depth: read_depth(row),
        existing: cell(row, Key::Existing, |text| read_existing(text, None, false)),
        blocked: read_blocked(row),
        wiring: cell(row, Key::Wiring, read_wiring),
        released_by: cell(row, Key::ReleasedBy, |text| Ok(text.to_owned())),
        finish: word(row, Key::Finish, FINISHES),
        siding: word(row, Key::Siding, SIDINGS),
        moisture: word(row, Key::Moisture, MOISTURES),
        lead: word(row, Key::Lead, LEADS),
        access: cell(row, Key::Access, |text| Ok(text.to_owned())),
        date: row.date(Key::Date),
        by: row.text(Key::By).map(str::to_owned),
    }
}

/// Reads a cell as its words are; what cannot be read becomes a fault.
fn cell<T>(row: &mut Row<'_, '_, Key>, key: Key, read: impl FnOnce(&str) -> Result<T, Misread>) -> Option<Seen<T>> {
    let text = row.text(key)?.to_owned();
    match read(&text) {
        Ok(value) => Some(Seen { value, text, place: row.place(key) }),
        Err(fault) => {
            row.fault(key, fault.message, fault.help);
            None
        }
    }
}

fn read_depth(row: &mut Row<'_, '_, Key>) -> Option<Seen<f64>> {
    let written = row.measure(Key::Depth)?;
    if let Err(fault) = depth_is_likely(written.si) {
        row.fault(Key::Depth, fault.message, fault.help);
        return None;
    }
    Some(Seen { value: written.si, text: written.text, place: row.place(Key::Depth) })
}

/// What must stay empty; each part says where it is said.
fn read_blocked(row: &mut Row<'_, '_, Key>) -> Option<Seen<Vec<DoNotFill>>> {
    let mut seen = cell(row, Key::Blocked, |text| read_do_not_fill(text, None, false))?;
    let said_by = seen.place.clone().without_column().to_string();
    for part in &mut seen.value {
        part.said_by = Some(said_by.clone());
    }
    Some(seen)
}

/// One of the words of a column.
fn word<T: Copy>(row: &mut Row<'_, '_, Key>, key: Key, words: &[Word<T>]) -> Option<Seen<T>> {
    let text = row.text(key)?.to_owned();
    if let Some(value) = meaning(words, &text) {
        return Some(Seen { value, text, place: row.place(key) });
    }
    let known: Vec<String> = words.iter().map(|(word, _)| format!("`{word}`")).collect();
    row.fault(key, format!("`{text}` is not known here"), &format!("write {}", known.join(", ")));
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Wiring;
    use crate::units::INCH_M;

    fn refused(text: &str) -> String {
        let refusals = read_survey_sheet("survey.csv", text.as_bytes()).unwrap_err();
        refusals.iter().map(|refusal| format!("{refusal}; {}", refusal.help)).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn a_row_is_read_with_the_place_of_each_cell() {
        let text =
            "surface,depth (in),existing,wiring,blocked,moisture\nN; S,3 3/4,none,knob and tube,bays 2-2: duct,dry\n";
        let survey = read_survey_sheet("survey.csv", text.as_bytes()).unwrap();
        let row = &survey.rows[0];
        assert_eq!(row.surfaces.len(), 2);
        assert!((row.depth.as_ref().unwrap().value - 3.75 * INCH_M).abs() < 1e-12);
        assert_eq!(row.existing.as_ref().unwrap().value, None);
        assert_eq!(row.wiring.as_ref().unwrap().value, Wiring::KnobAndTube);
        assert_eq!(row.blocked.as_ref().unwrap().value[0].said_by.as_deref(), Some("survey.csv:2"));
    }

    #[test]
    fn each_slip_gets_its_place_and_what_to_write() {
        assert!(refused("surface,depth\nN,3.5\n").starts_with("survey.csv:2:3"));
        assert!(refused("surface,depth\nN,40 ft\n").contains("survey.csv:2:3"));
        assert!(refused("surface,wiring\nN,knob\n").contains("`knob-and-tube`"));
        assert!(refused("surface,siding\nN,asbetos\n").contains("`asbestos-cement`"));
        assert!(refused("surface,moisture\nN,moist\n").contains("`damp`"));
        assert!(refused("surface,blocked\nN,bay 2\n").contains("colon"));
        assert!(refused("surface,date\nN,12 May\n").contains("no date"));
        assert!(refused("surface,depth\n,3 in\n").contains("names no surface"));
        assert!(refused("depth\n3 in\n").contains("no column `surface`"));
        assert!(refused("surface,depth\n").contains("no rows"));
    }
}
