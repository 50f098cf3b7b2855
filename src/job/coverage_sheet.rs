//! A label's coverage table as a sheet: comma- or semicolon-separated, a row a resistance.

use super::fill_file::CoverageRowFile;
use crate::digest::sha256;
use crate::model::FileRead;
use crate::refusal::Refusal;
use crate::source::Place;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// Largest sheet that is read, in bytes: a label has a dozen rows.
const LARGEST: u64 = 1 << 20;

/// Frictionless Table Schema (Data Package v2) of a coverage table.
pub const COVERAGE_SCHEMA: &str = include_str!("../../schemas/coverage.table.json");

/// A column, and the headings that people and regulations give it, without spaces and marks.
const COLUMNS: [(Column, &[&str]); 6] = [
    (Column::RValue, &["rvalue", "r", "thermalresistance", "resistance"]),
    (Column::Settled, &["settledthickness", "minimumsettledthickness", "minimumthickness", "depth", "cavitydepth"]),
    (Column::Initial, &["initialthickness", "initialinstalledthickness", "installedthickness"]),
    (Column::Coverage, &["coverage", "netcoverage", "maximumnetcoverage", "coverageperbag", "maximumnetcoveragearea"]),
    (Column::Bags, &["bagsper1000ft2", "bagsper1000sqft", "bagsper1000squarefeet", "numberofbagsper1000squarefeet"]),
    (
        Column::Mass,
        &[
            "massperarea",
            "minimummassperarea",
            "minimumweight",
            "weightperarea",
            "minimumweightpersquarefoot",
            "minimumweightperft2",
        ],
    ),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    RValue,
    Settled,
    Initial,
    Coverage,
    Bags,
    Mass,
}

/// Rows, each with its line.
pub(super) type Rows = Vec<(u64, CoverageRowFile)>;

/// Rows with their lines, and the sheet that they stand in. A cell without a unit takes that of its heading.
///
/// # Errors
/// A file that cannot be read, a heading that is missing or not known, and a number of bags that is none.
pub(super) fn read_rows(path: &Path) -> Result<(Rows, FileRead), Vec<Refusal>> {
    let name = path.to_string_lossy().into_owned();
    let refuse = |message: String, help: &str| vec![Refusal::new(Place::input(&name), message, help)];
    let mut text = String::new();
    File::open(path).and_then(|file| file.take(LARGEST + 1).read_to_string(&mut text)).map_err(|error| {
        refuse(format!("the coverage table cannot be read: {error}"), "its path is from the folder of the job file")
    })?;
    if text.len() as u64 > LARGEST {
        return Err(refuse("the coverage table holds more than 1 MiB".to_owned(), "a label has a dozen rows"));
    }
    let rows = read_text(&name, text.strip_prefix('\u{feff}').unwrap_or(&text))?;
    Ok((rows, FileRead { sha256: sha256(text.as_bytes()), path: name }))
}

fn read_text(name: &str, text: &str) -> Result<Rows, Vec<Refusal>> {
    let first = text.lines().next().unwrap_or_default();
    let delimiter = if first.contains(';') { b';' } else { b',' };
    let mut sheet =
        csv::ReaderBuilder::new().delimiter(delimiter).flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let at_line = |line: u64, message: String, help: &str| Refusal::new(Place::line(name, line), message, help);
    let headings = sheet.headers().map_err(|error| vec![at_line(1, error.to_string(), "")])?.clone();
    let mut refusals = Vec::new();
    let columns: Vec<Option<(Column, String)>> = headings
        .iter()
        .map(|heading| {
            let column = column_of(heading);
            if column.is_none() && !heading.trim().is_empty() {
                let help =
                    "known: r value, settled thickness, initial thickness, coverage, bags per 1000 ft2, mass per area";
                refusals.push(at_line(1, format!("the coverage table has an unknown heading `{heading}`"), help));
            }
            column
        })
        .collect();
    let mut rows = Vec::new();
    for record in sheet.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                refusals.push(at_line(error.position().map_or(1, csv::Position::line), error.to_string(), ""));
                break;
            }
        };
        let line = record.position().map_or(1, csv::Position::line);
        if record.iter().all(str::is_empty) {
            continue;
        }
        match read_record(&columns, &record) {
            Ok(row) => rows.push((line, row)),
            Err(message) => refusals.push(at_line(line, message, "write a number such as `19.1`")),
        }
    }
    if refusals.is_empty() { Ok(rows) } else { Err(refusals) }
}

fn read_record(columns: &[Option<(Column, String)>], record: &csv::StringRecord) -> Result<CoverageRowFile, String> {
    let mut row = CoverageRowFile::default();
    for (column, cell) in columns.iter().zip(record).filter(|(_, cell)| !cell.is_empty()) {
        let Some((column, unit)) = column else { continue };
        let is_bare = cell.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ' ' | '/'));
        let text = Some(if is_bare { format!("{cell} {unit}").trim().to_owned() } else { cell.to_owned() });
        match column {
            Column::RValue => row.r_value = text,
            Column::Settled => row.settled_thickness = text,
            Column::Initial => row.initial_thickness = text,
            Column::Coverage => row.coverage = text,
            Column::Mass => row.mass_per_area = text,
            Column::Bags => {
                let bags = cell.parse::<f64>().map_err(|_| format!("`{cell}` is no number of bags"))?;
                row.bags_per_1000_ft2 = Some(bags);
            }
        }
    }
    Ok(row)
}

/// The column of a heading and the unit that it names in brackets.
fn column_of(heading: &str) -> Option<(Column, String)> {
    let (name, unit) = match heading.split_once(['(', '[']) {
        Some((name, rest)) => (name, rest.trim_end().trim_end_matches([')', ']'])),
        None => (heading, ""),
    };
    let plain: String = name.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect();
    let found = COLUMNS.iter().find(|(_, names)| names.contains(&plain.as_str()))?;
    // `h ft2 F/Btu` may have brackets of its own.
    let unit = if unit.contains('(') && !unit.ends_with(')') { format!("{unit})") } else { unit.to_owned() };
    Some((found.0, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_takes_the_unit_of_its_heading() {
        let text = "R value,Settled thickness (in),Coverage (ft2),Bags per 1,000 ft2,Minimum weight (lb/ft2)\nR-38,14.5,52.5,19.1,0.591\n";
        let text = text.replace("Bags per 1,000 ft2", "\"Bags per 1,000 ft2\"");
        let rows = read_text("label.csv", &text).unwrap();
        let (line, row) = &rows[0];
        assert_eq!(
            (*line, row.r_value.as_deref(), row.settled_thickness.as_deref()),
            (2, Some("R-38"), Some("14.5 in"))
        );
        assert_eq!((row.coverage.as_deref(), row.mass_per_area.as_deref()), (Some("52.5 ft2"), Some("0.591 lb/ft2")));
        assert!((row.bags_per_1000_ft2.unwrap() - 19.1).abs() < 1e-12);
        assert_eq!(row.initial_thickness, None);
    }

    #[test]
    fn what_is_not_known_is_refused_at_its_line() {
        let refused = read_text("label.csv", "R value,Price\nR-38,3\n").unwrap_err();
        assert_eq!(refused[0].place.line, Some(1));
        let refused = read_text("label.csv", "r;bags per 1000 ft2\nR-38;many\n").unwrap_err();
        assert!(refused[0].message.contains("`many`") && refused[0].place.line == Some(2));
        let rows = read_text("label.csv", "R (h ft2 F/Btu)\n38\n\n").unwrap();
        assert_eq!(rows[0].1.r_value.as_deref(), Some("38 h ft2 F/Btu"));
    }
}
