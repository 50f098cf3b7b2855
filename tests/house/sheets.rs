//! The measured sheets of the sample house, read in the plainest way and apart from the program's own reading.

use crate::support::project_file;
use std::collections::HashMap;

/// A row of the surfaces sheet; what is drawn by its corners has no length and no height.
pub struct SurfaceRow {
    pub id: String,
    pub kind: String,
    pub storey: String,
    pub exposure: String,
    pub assembly: String,
    pub length_m: f64,
    pub height_m: f64,
    pub height_2_m: Option<f64>,
    pub peak_m: Option<f64>,
    pub outline_m: Vec<[f64; 2]>,
    /// Rise over run.
    pub slope: f64,
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
    pub flue: String,
}

pub fn surfaces() -> Vec<SurfaceRow> {
    let optional = |cell: &String| Some(cell).filter(|cell| !cell.is_empty()).map(|cell| metres(cell));
    let row = |row: HashMap<String, String>| SurfaceRow {
        id: row["id"].clone(),
        kind: row["kind"].clone(),
        storey: row["storey"].clone(),
        exposure: row["exposure"].clone(),
        assembly: row["assembly"].clone(),
        length_m: optional(&row["length"]).unwrap_or(0.0),
        height_m: optional(&row["height"]).unwrap_or(0.0),
        height_2_m: optional(&row["height_2"]),
        peak_m: optional(&row["peak"]),
        outline_m: corners(&row["outline"]),
        slope: if row["kind"] == "roof" { slope(&row["pitch"]) } else { 0.0 },
    };
    rows("samples/house-surfaces.csv").into_iter().map(row).collect()
}

/// `0:0; 4':0; …`.
fn corners(cell: &str) -> Vec<[f64; 2]> {
    let corner = |text: &str| {
        let (along, up) = text.split_once(':').expect("a corner has a colon");
        [metres(along.trim()), metres(up.trim())]
    };
    cell.split(';').filter(|text| !text.is_empty()).map(corner).collect()
}

/// `6:12`.
fn slope(cell: &str) -> f64 {
    let (rise, run) = cell.split_once(':').expect("a pitch has a colon");
    inches(rise) / inches(run)
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
            flue: row["flue"].clone(),
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
    let inches: f64 = rest.trim_matches(['-', '"', ' ']).split(' ').filter(|text| !text.is_empty()).map(inches).sum();
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
    assert!((metres("4'") - 4.0 * 0.3048).abs() < 1e-12);
    assert!((metres("24'-0\"") - 24.0 * 0.3048).abs() < 1e-12);
}
