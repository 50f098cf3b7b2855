//! Cells of a row as they stand in the sheet, beside what was read of them.

use super::SheetFile;
use super::field::{Field, Measure};
use super::row::Row;
use super::sheet::Sheet;
use crate::intake::{Reading, WrittenCell};

/// The filled cells of known columns of some lines, in the order of the lines; none for a line that is no row, and none at
/// all of a sheet that cannot be opened.
pub fn written(file: &SheetFile, lines: &[u64]) -> Vec<Vec<WrittenCell>> {
    let Ok(sheet) = Sheet::open(file) else { return vec![Vec::new(); lines.len()] };
    let of_line = |line: &u64| {
        let record = sheet.rows.iter().find(|record| record.line == *line);
        record.map(|record| cells(Row { sheet: &sheet, record })).unwrap_or_default()
    };
    lines.iter().map(of_line).collect()
}

fn cells(row: Row<'_>) -> Vec<WrittenCell> {
    let of_field = |field: Field| {
        let text = row.word(field)?.to_owned();
        Some(WrittenCell { heading: field.heading().to_owned(), text, reading: reading(row, field) })
    };
    row.sheet.columns.fields().filter_map(of_field).collect()
}

fn reading(row: Row<'_>, field: Field) -> Option<Reading> {
    let mut reader = row.reader();
    match field.measure() {
        Measure::Length => reader.length_or_zero(field).map(Reading::LengthM),
        Measure::Area => reader.area(field).map(Reading::AreaM2),
        Measure::Pitch => reader.pitch().map(Reading::PitchDeg),
        Measure::Lengths | Measure::None => None,
    }
}
