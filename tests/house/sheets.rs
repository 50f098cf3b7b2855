//! The measured sheets of the sample house, read in the plainest way and apart from the program's own reading.

use crate::support::project_file;
use std::collections::HashMap;

/// A wall of the surfaces sheet.
pub struct SurfaceRow {
    pub id: String,
    pub storey: String,
    pub exposure: String,
    pub length_m: f64,
    pub height_m: f64,
    pub peak_m: Option<f64>,
}

/// A row of the openings sheet.
pub struct OpeningRow {
    pub surface: String,
    pub id: String,
    pub kind: String,
    pub width_m: f64,
    pub height_m: f64,
    pub sill_m: f64,
    pub offset_m: f64,
}

pub fn surfaces() -> Vec<SurfaceRow> {
    let walls = rows("samples/house-surfaces.csv").into_iter().filter(|row| row["kind"] == "wall");
    walls
        .map(|row| SurfaceRow {
            id: row["id"].clone(),
            storey: row["storey"].clone(),
            exposure: row["exposure"].clone(),
            length_m: metres(&row["length"]),
            height_m: metres(&row["height"]),
            peak_m: Some(&row["peak"]).filter(|cell| !cell.is_empty()).map(|cell| metres(cell)),
        })
        .collect()
}

pub fn openings() -> Vec<OpeningRow> {
    rows("samples/house-openings.csv")
        .into_iter()
        .map(|row| OpeningRow {
            surface: row["surface"].clone(),
            id: row["id"].clone(),
            kind: row["kind"].clone(),
            width_m: metres(&row["width"]),
            height_m: metres(&row["height"]),
            sill_m: metres(&row["sill"]),
            offset_m: metres(&row["offset"]),
        })
        .collect()
}

fn rows(path: &str) -> Vec<HashMap<String, String>> {
    let mut reader = csv::Reader::from_path(project_file(path)).expect("the sheet is there");
    reader.deserialize().map(|row| row.expect("the sheet is even")).collect()
}

/// `8'-1 1/8"` in metres: feet, then whole inches, then a fraction.
fn metres(cell: &str) -> f64 {
    let (feet, rest) = cell.split_once('\'').unwrap_or(("0", cell));
    let inches: f64 = rest.trim_matches(['-', '"', ' ']).split(' ').map(inches).sum();
    (feet.parse::<f64>().expect("whole feet") * 12.0 + inches) * 0.0254
}

fn inches(text: &str) -> f64 {
    let number = |text: &str| text.parse::<f64>().unwrap_or_else(|_| panic!("`{text}` is no number"));
    match text.split_once('/') {
        Some((over, under)) => number(over) / number(under),
        None => number(text),
    }
}

#[test]
fn cells_are_read_as_feet_inches_and_fractions() {
    assert!((metres("8'-1 1/8\"") - 97.125 * 0.0254).abs() < 1e-12);
    assert!((metres("0\"")).abs() < 1e-12);
    assert!((metres("24'-0\"") - 24.0 * 0.3048).abs() < 1e-12);
}
